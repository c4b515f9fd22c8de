"""The one door to SciPy: least squares with bounds and standard errors. Loaded when something is fitted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

AT_EDGE = 1e-6  # share of a parameter's range; nearer to a bound than this is no answer but a wall


class NotFound(Exception):
    """No minimum inside the bounds."""


@dataclass(frozen=True)
class Fitted:
    """Parameters, their covariance, residuals (measured less fitted) and the residual standard error."""

    values: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    residuals: tuple[float, ...]
    residual_error: float


def fit(
    model: Callable[[float, Sequence[float]], float],
    points: Sequence[tuple[float, float]],
    start: Sequence[float],
    bounds: Sequence[tuple[float, float]],
) -> Fitted:
    """Least squares of model(x, parameters) to (x, y) points; NotFound when it ends at a bound or nowhere.

    The covariance is residual variance x inverse of J'J, with points - parameters degrees of freedom.
    """
    import numpy
    from scipy.optimize import least_squares

    def residuals(values: Sequence[float]) -> list[float]:
        return [y - model(x, values) for x, y in points]

    lows, highs = zip(*bounds, strict=True)
    found = least_squares(
        residuals, start, jac="3-point", bounds=(lows, highs), x_scale=[max(abs(v), 0.1) for v in start],
        ftol=1e-14, xtol=1e-14, gtol=1e-14, max_nfev=2000,
    )  # fmt: skip
    values = tuple(float(value) for value in found.x)
    at_wall = any(
        min(value - low, high - value) <= AT_EDGE * (high - low)
        for value, (low, high) in zip(values, bounds, strict=True)
    )
    if not found.success or at_wall:
        raise NotFound
    freedom = len(points) - len(values)
    variance = float(found.fun @ found.fun) / freedom
    normal = found.jac.T @ found.jac
    if numpy.linalg.cond(normal) > 1e14:
        raise NotFound
    covariance = numpy.linalg.inv(normal) * variance
    return Fitted(
        values=values,
        covariance=tuple(tuple(float(cell) for cell in row) for row in covariance),
        residuals=tuple(float(rest) for rest in found.fun),
        residual_error=variance**0.5,
    )
