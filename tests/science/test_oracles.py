"""The same figures by other people's libraries: SciPy, pandas, statistics, zoneinfo."""

from __future__ import annotations

import math
import statistics
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy
import pandas
import pytest
from scipy.optimize import curve_fit, linprog
from scipy.special import lambertw

from planner.science import load, response, run_up, sprint, travel
from planner.science.sprint import Split, Sprint
from tests.science.test_sprint_rows import FINAL, GATES, TIMES, splits

LOADS = [float((13 * day * day + 5 * day) % 700) for day in range(90)]


@pytest.mark.parametrize("days", [2, 7, 28, 42])
def test_exponential_means_are_those_of_pandas(days: int) -> None:
    theirs = pandas.Series(LOADS).ewm(span=days, adjust=False).mean().tolist()
    assert load.exponential_means(LOADS, days) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("days", [3, 7, 28])
def test_rolling_means_are_those_of_pandas(days: int) -> None:
    theirs = pandas.Series(LOADS).rolling(days).mean().tolist()
    ours = [load.rolling_mean(LOADS[: end + 1], days) for end in range(days - 1, len(LOADS))]
    assert ours == pytest.approx(theirs[days - 1 :], rel=1e-12)


def test_both_standard_deviations_are_those_of_statistics_and_numpy() -> None:
    week = LOADS[10:17]
    mean = statistics.fmean(week)
    assert load.monotony(week) == pytest.approx(mean / statistics.pstdev(week), rel=1e-12)
    assert load.monotony(week) == pytest.approx(mean / numpy.std(week), rel=1e-12)
    assert load.monotony(week, spread="sample") == pytest.approx(mean / statistics.stdev(week), rel=1e-12)
    assert load.monotony(week, spread="sample") == pytest.approx(mean / numpy.std(week, ddof=1), rel=1e-12)


@pytest.mark.parametrize(("top", "tau"), [(10, 1.0), (12, 1.2), (7, 0.6), (9, 9 / 7), (5, 2.5)])
def test_times_are_those_of_the_lambert_function(top: float, tau: float) -> None:
    for metres in (0.1, 1, 5, 20, 60, 150):
        theirs = tau * lambertw(-math.exp(-metres / (top * tau) - 1)).real + metres / top + tau
        assert sprint.time_at(Sprint(top, tau), metres) == pytest.approx(theirs, rel=1e-9)


def _by_curve_fit(metres: tuple[float, ...], times: tuple[float, ...]) -> tuple[list[float], list[float]]:
    def closed(d: numpy.ndarray, top: float, first: float) -> numpy.ndarray:
        tau = top / first
        return tau * lambertw(-numpy.exp(-d / (top * tau) - 1)).real + d / top + tau

    values, covariance = curve_fit(closed, numpy.array(metres, dtype=float), numpy.array(times), p0=(8, 8))
    return list(values), list(numpy.sqrt(numpy.diag(covariance)))


@pytest.mark.parametrize(
    ("metres", "times"),
    [
        (tuple(float(d) for d in GATES), TIMES),
        ((10.0, 20.0, 30.0, 40.0), (1.90, 3.05, 4.09, 5.13)),
        (tuple(10.0 * n for n in range(1, 7)), tuple(t - 0.146 for t in FINAL[:6])),
    ],
)
def test_fits_and_standard_errors_are_those_of_curve_fit(
    metres: tuple[float, ...], times: tuple[float, ...]
) -> None:
    values, errors = _by_curve_fit(metres, times)
    found = sprint.fit(splits(metres, times))
    assert [found.sprint.top_mps, found.sprint.first_mps2] == pytest.approx(values, rel=1e-5)
    assert [found.top_error_mps, found.first_error_mps2] == pytest.approx(errors, rel=1e-3)


@pytest.mark.parametrize("metres", [10.0, 40.0, 60.0])
def test_the_doubt_of_a_time_is_that_of_the_closed_form(metres: float) -> None:
    """Gradient of t(d) by symbolic means: dt/dtop and dt/dfirst from d(t) held constant."""
    found = sprint.fit(splits(GATES, TIMES))
    top, first = found.sprint.top_mps, found.sprint.first_mps2
    t = sprint.time_at(found.sprint, metres)
    tau, left = top / first, math.exp(-t * first / top)
    speed = top * (1 - left)
    # d = top t - top^2/first (1 - exp(-t first/top)): partial derivatives, then the implicit function theorem
    by_top = t - 2 * tau * (1 - left) + t * left
    by_first = tau**2 * (1 - left) - t * tau * left
    gradient = numpy.array([-by_top / speed, -by_first / speed])
    theirs = math.sqrt(gradient @ numpy.array(found.covariance) @ gradient)
    assert sprint.time_doubt_s(found, metres) == pytest.approx(theirs, rel=1e-5)


def test_a_fit_with_noise_lies_within_its_own_doubt() -> None:
    """Gates read to a hundredth: the generator lies within four standard errors of the fit."""
    runner = Sprint(8.7, 1.15)
    found = sprint.fit([Split(d, round(sprint.time_at(runner, d), 2)) for d in (5, 10, 20, 30, 40, 50, 60)])
    assert abs(found.sprint.top_mps - 8.7) < 4 * found.top_error_mps < 1
    assert abs(found.sprint.first_mps2 - 8.7 / 1.15) < 4 * found.first_error_mps2 < 1


@pytest.mark.parametrize("parameters", [response.CLASSIC, response.OFTEN_QUOTED,
    response.Response(38, 19, 1, 1.6)])
@pytest.mark.parametrize("days", [14, 28, 56])
@pytest.mark.parametrize("bounds", ["free", "total", "weeks", "both", "least", "least and weeks"])
def test_the_best_loads_are_those_of_a_linear_program(
    parameters: response.Response, days: int, bounds: str
) -> None:
    total = 0.4 * days if bounds in ("total", "both") else math.inf
    weekly = 4.5 if bounds in ("weeks", "both", "least and weeks") else math.inf
    least = [0.1 + (day % 2) / 5 if bounds.startswith("least") else 0.0 for day in range(days)]
    most = [1.0 + (day % 3) / 4 for day in range(days)]
    ours = response.best_loads(parameters, least, most, total=total, week_total=weekly)
    weights = [response.influence(parameters, days - day) for day in range(days)]
    rows, limits = [[1.0] * days], [total]
    for start in range(0, days, 7):
        rows.append([1.0 if start <= day < start + 7 else 0.0 for day in range(days)])
        limits.append(weekly)
    kept = [at for at, limit in enumerate(limits) if math.isfinite(limit)]
    found = linprog(
        [-weight for weight in weights],
        A_ub=[rows[at] for at in kept] or None,
        b_ub=[limits[at] for at in kept] or None,
        bounds=list(zip(least, most, strict=True)),
    )
    assert found.success
    assert response.form(ours, parameters)[-1] == pytest.approx(-found.fun, rel=1e-9)
    assert all(low <= w <= high for low, w, high in zip(least, ours, most, strict=True))
    assert sum(ours) <= total + 1e-9
    assert all(sum(ours[start : start + 7]) <= weekly + 1e-9 for start in range(0, days, 7))


@pytest.mark.parametrize(
    ("parameters", "days", "best"),
    [
        (response.CLASSIC, 56, 9.0871), (response.OFTEN_QUOTED, 56, 19.5329),
        (response.CLASSIC, 28, 1.8142), (response.OFTEN_QUOTED, 28, 9.3990),
    ],
)  # fmt: skip
def test_a_linear_program_and_our_own_code_hit_the_exact_best(
    parameters: response.Response, days: int, best: float
) -> None:
    """Rows 4.6 and 4.7: all loads from 0 to 1, nothing else; derived from the sign of the influence."""
    found = linprog([-response.influence(parameters, days - day) for day in range(days)], bounds=(0, 1))
    ours = response.best_loads(parameters, [0.0] * days, [1.0] * days)
    assert -found.fun == pytest.approx(best, abs=5e-5)
    assert response.form(ours, parameters)[-1] == pytest.approx(best, abs=5e-5)
    assert list(found.x) == pytest.approx(ours, abs=1e-9)


def test_the_wind_slope_is_that_of_numpy() -> None:
    winds = [-2.0, -1.1, -0.4, 0.0, 0.6, 1.3, 1.9, 2.4, 3.0]
    readings = [-21.0, -8.0, -9.0, 3.0, 4.0, 15.0, 12.0, 27.0, 24.0]
    found = run_up.own_wind_slope(list(zip(winds, readings, strict=True)))
    assert found is not None
    (slope, _), covariance = numpy.polyfit(winds, readings, 1, cov=True)
    assert found.cm_per_mps == pytest.approx(slope, rel=1e-9)
    assert found.error_cm == pytest.approx(math.sqrt(covariance[0][0]), rel=1e-9)


def test_zones_are_those_of_zoneinfo_on_both_sides_of_a_clock_change() -> None:
    for month, day in ((3, 28), (3, 30), (10, 24), (10, 26)):
        noon = datetime(2026, month, day, 12, tzinfo=UTC)
        london = noon.astimezone(ZoneInfo("Europe/London")).utcoffset()
        york = noon.astimezone(ZoneInfo("America/New_York")).utcoffset()
        assert london is not None and york is not None
        hours = (york - london).total_seconds() / 3600
        assert travel.zones_east("Europe/London", "America/New_York", noon.date()) == hours
