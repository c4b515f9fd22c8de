"""The sprint from a standing start as one curve: speed nears a top speed, first quickly, then slowly.

    v(t) = top x (1 - exp(-t / tau)),  d(t) = top x (t - tau x (1 - exp(-t / tau)))

Source: Furusawa K, Hill AV, Parkinson JL 1927, The dynamics of "sprint" running, Proceedings of the Royal
Society B 102(713):29-42 (from memory); Samozino P and others 2016, A simple method for measuring power,
force, velocity properties, and mechanical effectiveness in sprint running, Scandinavian Journal of Medicine
and Science in Sports 26(6):648-658. The curve has no slowing down, so it says nothing beyond some 60 to 80
m.

Metres, seconds, metres per second. Everything here is arithmetic except `fit`, which loads SciPy.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.science.errors import OutOfReach, within

MOST_SPEED_MPS = 14.0  # metres per second; nobody has run faster than 12.5
MOST_METRES = 400.0  # metres; a longer way is no sprint

Timing = Literal["gates", "hand"]
Free = Literal["nothing", "time shift", "flying distance"]


@dataclass(frozen=True)
class Sprint:
    """One athlete's curve: top speed in metres per second, time constant tau in seconds.

    OutOfReach for a top speed outside 1 to 14 m/s or a tau outside 0.1 to 5 s.
    """

    top_mps: float
    tau_s: float

    def __post_init__(self) -> None:
        within(self.top_mps, 1, MOST_SPEED_MPS, "the top speed is", "m/s", "kilometres per hour were meant.")
        within(self.tau_s, 0.1, 5, "the time constant is", "s")

    @property
    def first_mps2(self) -> float:
        """Acceleration at the very start, in metres per second squared: top / tau."""
        return self.top_mps / self.tau_s

    @property
    def power_w_per_kg(self) -> float:
        """Highest horizontal power per kilogram without air drag, in watts: first acceleration x top / 4."""
        return self.first_mps2 * self.top_mps / 4


def _curve_time_s(top_mps: float, tau_s: float, metres: float) -> float:
    """Solve u - 1 + exp(-u) = metres / (top x tau) for u = t / tau, by Newton from above: it is convex."""
    way = metres / (top_mps * tau_s)
    if way <= 0:
        return 0.0
    u = math.sqrt(3 * way) if way < 1 / 3 else way + 1
    for _ in range(60):
        step = (u + math.expm1(-u) - way) / -math.expm1(-u)
        u -= step
        if abs(step) <= 1e-15 * u:
            break
    return u * tau_s


def time_at(sprint: Sprint, metres: float) -> float:
    """Seconds from the first movement to a distance. OutOfReach outside 0 to 400 m."""
    within(metres, 0, MOST_METRES, "the distance is", "m", "centimetres were meant.")
    return _curve_time_s(sprint.top_mps, sprint.tau_s, metres)


def distance_at(sprint: Sprint, seconds: float) -> float:
    """Metres covered so many seconds after the first movement."""
    within(seconds, 0, 120, "the time is", "s")
    return sprint.top_mps * (seconds + sprint.tau_s * math.expm1(-seconds / sprint.tau_s))


def speed_at_time(sprint: Sprint, seconds: float) -> float:
    """Speed in metres per second so many seconds after the first movement."""
    within(seconds, 0, 120, "the time is", "s")
    return -sprint.top_mps * math.expm1(-seconds / sprint.tau_s)


def speed_at_distance(sprint: Sprint, metres: float) -> float:
    """Speed in metres per second at a distance from the start."""
    return -sprint.top_mps * math.expm1(-time_at(sprint, metres) / sprint.tau_s)


def acceleration_at(sprint: Sprint, seconds: float) -> float:
    """Acceleration in metres per second squared so many seconds after the first movement."""
    within(seconds, 0, 120, "the time is", "s")
    return sprint.first_mps2 * math.exp(-seconds / sprint.tau_s)


def time_of_speed(sprint: Sprint, share: float) -> float:
    """Seconds until a share (0-1) of top speed is reached: -tau x ln(1 - share); derived."""
    within(share, 0, 0.9999, "the share of top speed is", "", "percent was meant: divide by 100.")
    return -sprint.tau_s * math.log1p(-share)


def distance_of_speed(sprint: Sprint, share: float) -> float:
    """Metres until a share (0-1) of top speed is reached: top x tau x (-ln(1 - share) - share); derived.

    Acceleration has fallen to 1 - share there.
    """
    return sprint.top_mps * (time_of_speed(sprint, share) - sprint.tau_s * share)


def flying_time(sprint: Sprint, run_in_m: float, zone_m: float) -> float:
    """Seconds over a zone after a run-in from a standing start at full effort."""
    return time_at(sprint, run_in_m + zone_m) - time_at(sprint, run_in_m)


def speed_over(metres: float, seconds: float) -> float:
    """Mean speed in metres per second; OutOfReach when nobody could run it."""
    within(metres, 0.5, 10_000, "the distance is", "m")
    within(seconds, metres / MOST_SPEED_MPS, 36_000, "the time is", "s", "one of the two is another run's.")
    return metres / seconds


def mean_step_m(metres: float, steps: float) -> float:
    """Mean step length in metres from a counted number of steps (parts of a step allowed)."""
    within(metres, 1, 10_000, "the distance is", "m")
    within(steps, metres / 3.5, metres / 0.2, "the steps are", "", "every second step was counted.")
    return metres / steps


@dataclass(frozen=True)
class Split:
    """One reading: metres from the start line, seconds since the clock began, and who stopped it."""

    metres: float
    seconds: float
    timing: Timing = "gates"


@dataclass(frozen=True)
class SprintFit:
    """A fitted curve and its doubt.

    `shift_s` is what is added to every reading so that the clock begins with the athlete; `flying_m` is how
    far the athlete stood behind the first gate. The standard errors come from the splits of this one run:
    another day differs by more. `residuals_s` are measured less fitted.
    """

    sprint: Sprint
    top_error_mps: float
    first_error_mps2: float
    residuals_s: tuple[float, ...]
    residual_error_s: float
    covariance: tuple[tuple[float, float], tuple[float, float]]  # of top speed and first acceleration
    shift_s: float = 0.0
    flying_m: float = 0.0
    free_error: float = 0.0  # standard error of the shift (s) or the flying distance (m), if one was fitted


def _checked(splits: Sequence[Split], parameters: int) -> None:
    if len(splits) <= parameters:
        raise OutOfReach(
            f"there are {len(splits)} splits, needed {parameters + 1} or more to fit {parameters} figures "
            "and their doubt. Maybe fit without a time shift, or set one more gate."
        )
    if len({split.timing for split in splits}) > 1:
        raise OutOfReach(
            "the splits mix hand and gate times, needed one kind. Maybe leave the hand times out."
        )
    for split in splits:
        within(split.metres, 0.5, MOST_METRES, "a split's distance is", "m")
        within(split.seconds, 0.05, 120, "a split's time is", "s", "a decimal point is missing.")
    for one, two in itertools.pairwise(splits):
        if two.metres <= one.metres or two.seconds <= one.seconds:
            raise OutOfReach(
                f"the split at {two.metres:g} m, {two.seconds:g} s follows {one.metres:g} m, "
                f"{one.seconds:g} s, "
                "needed distances and times that both grow. Maybe interval times were written instead of "
                "times since the start."
            )
        speed = (two.metres - one.metres) / (two.seconds - one.seconds)
        within(
            speed, 0.5, MOST_SPEED_MPS, f"between {one.metres:g} and {two.metres:g} m the speed is", "m/s",
            "a figure was misread.",
        )  # fmt: skip


def fit(splits: Sequence[Split], *, free: Free = "nothing", shift_s: float = 0.0) -> SprintFit:
    """The curve that fits the splits best in time (least squares), with standard errors.

    `free`: fit one figure more, the time shift or the flying distance; both cost precision. `shift_s` is a
    known shift added to every reading (reaction to the gun is a negative one) and goes with 'nothing' or
    'flying distance'. OutOfReach when splits do not grow, are too few, mix timings, or no curve fits.
    """
    from planner.science import _fit

    _checked(splits, 2 if free == "nothing" else 3)
    within(shift_s, -2, 2, "the time shift is", "s")
    if free == "time shift" and shift_s:
        raise OutOfReach("a time shift is both given and to be fitted, needed one of the two.")
    points = [(split.metres, split.seconds + shift_s) for split in splits]
    if points[0][1] <= 0:
        raise OutOfReach(
            f"with the shift of {shift_s:g} s the first split comes before the start, needed times above 0."
        )

    def model(metres: float, values: Sequence[float]) -> float:
        top, first = values[0], values[1]
        if free == "time shift":
            return _curve_time_s(top, top / first, metres) - values[2]
        if free == "flying distance":
            flown = values[2]
            return _curve_time_s(top, top / first, metres + flown) - _curve_time_s(top, top / first, flown)
        return _curve_time_s(top, top / first, metres)

    quickest = max((b[0] - a[0]) / (b[1] - a[1]) for a, b in itertools.pairwise([(0.0, 0.0), *points]))
    top = min(quickest, MOST_SPEED_MPS - 1)
    start, bounds = [top, top / 1.1], [(1.0, MOST_SPEED_MPS), (1.0, 40.0)]
    if free == "time shift":
        start, bounds = [*start, 0.1], [*bounds, (-2.0, 2.0)]
    if free == "flying distance":
        start, bounds = [*start, 0.3], [*bounds, (0.0, 10.0)]
    try:
        found = _fit.fit(model, points, start, bounds)
        sprint = Sprint(found.values[0], found.values[0] / found.values[1])
    except (_fit.NotFound, OutOfReach):
        raise OutOfReach(
            "no sprint curve fits these splits, needed a standing start, quick acceleration and no slowing. "
            "Maybe leave out what lies beyond 60 m, or say that the clock began late."
        ) from None
    errors = [math.sqrt(max(0.0, found.covariance[i][i])) for i in range(len(found.values))]
    extra = found.values[2] if free != "nothing" else 0.0
    return SprintFit(
        sprint=sprint,
        top_error_mps=errors[0],
        first_error_mps2=errors[1],
        residuals_s=found.residuals,
        residual_error_s=found.residual_error,
        covariance=(
            (found.covariance[0][0], found.covariance[0][1]),
            (found.covariance[1][0], found.covariance[1][1]),
        ),
        shift_s=extra if free == "time shift" else shift_s,
        flying_m=extra if free == "flying distance" else 0.0,
        free_error=errors[2] if free != "nothing" else 0.0,
    )


def time_doubt_s(fitted: SprintFit, metres: float) -> float:
    """Standard error, in seconds, of the fitted curve's time at a distance from the start.

    From the splits of this one run, by the slope of time on both figures; derived. Beyond the last gate it
    grows, and the curve itself no longer holds.
    """
    within(metres, 0.5, MOST_METRES, "the distance is", "m", "centimetres were meant.")
    top, first = fitted.sprint.top_mps, fitted.sprint.first_mps2

    def time(more_top: float, more_first: float) -> float:
        return _curve_time_s(top + more_top, (top + more_top) / (first + more_first), metres)

    step = 1e-5
    slopes = (
        (time(step, 0) - time(-step, 0)) / (2 * step),
        (time(0, step) - time(0, -step)) / (2 * step),
    )
    variance = sum(
        slopes[i] * slopes[j] * fitted.covariance[i][j] for i, j in itertools.product(range(2), repeat=2)
    )
    return math.sqrt(max(0.0, variance))
