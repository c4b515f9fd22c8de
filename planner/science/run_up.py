"""The run-up: step lengths, start and check marks, foot parity, shoe lengths, and what wind does to it.

Plan in steps, not in metres: the metres follow from the athlete. Metres or centimetres as the names say; wind
in metres per second, a tail wind above zero. Where nothing else is said: common practice, no source.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planner.science.errors import above, within
from planner.science.wind import believable

GROWTH_STEPS = 4.0  # steps in which the lengthening of steps falls to 37 %; derived model, no source
MOST_STEPS = 24  # steps of the longest run-up seen
WIND_PERCENT = Fraction(1, 4)  # percent of the run-up's length for each metre per second; derived
WIND_RANGE_CM = (6, 18)  # centimetres for each metre per second that are believable; derived
# The last step but four: where steering begins on average, each athlete having an own place. Source:
# Hay JG 1988, Approach strategies in the long jump, International Journal of Sport Biomechanics 4:114-129.
STEERING_STEP = 5
LEAST_WIND_RUNS = 8  # runs before an athlete's own wind slope is believed
LEAST_WIND_SPREAD_MPS = 2.0  # metres per second between the least and the most wind of them


@dataclass(frozen=True)
class Steps:
    """How long the steps of a run-up are: s(k) = full - (full - first) x exp(-(k - 1) / 4), in metres.

    A first estimate only (derived, no source): measured marks replace it after the first session. OutOfReach
    for steps outside 0.4 to 3 m or a full step below the first one.
    """

    first_m: float
    full_m: float

    def __post_init__(self) -> None:
        within(self.first_m, 0.4, 2, "the first step is", "m", "centimetres were meant.")
        within(self.full_m, self.first_m, 3, "the full step is", "m", "the two changed places.")

    def length_m(self, step: int) -> float:
        """Length of one step in metres, the first being 1."""
        within(step, 1, 40, "the step is number")
        return self.full_m - (self.full_m - self.first_m) * math.exp(-(step - 1) / GROWTH_STEPS)

    def distance_m(self, steps: int) -> float:
        """Metres from the start mark after so many steps; 0 before the first."""
        within(steps, 0, 40, "the steps are")
        keep = math.exp(-1 / GROWTH_STEPS)
        return self.full_m * steps - (self.full_m - self.first_m) * (1 - keep**steps) / (1 - keep)

    def scaled(self, factor: float) -> Steps:
        """The same rhythm with every step longer by a factor."""
        within(factor, 0.5, 2, "the factor is")
        return Steps(self.first_m * factor, self.full_m * factor)


CLASSES: dict[str, Steps] = {  # metres; derived, no source
    "under 13": Steps(0.85, 1.60),
    "under 15": Steps(0.95, 1.75),
    "under 18 girl, novice woman": Steps(1.00, 1.90),
    "under 18 boy, woman": Steps(1.05, 2.05),
    "advanced woman, developing man": Steps(1.10, 2.15),
    "advanced man": Steps(1.15, 2.30),
}


def _steps(steps: int) -> int:
    return int(within(steps, 2, MOST_STEPS, "the steps of the run-up are", "", "one foot was counted."))


def start_mark_m(steps: int, model: Steps) -> float:
    """Metres from the take-off line to the start mark for a run-up of so many steps; a first estimate."""
    return model.distance_m(_steps(steps))


def own_steps(steps: int, measured_m: float, like: Steps) -> Steps:
    """The step lengths of an athlete whose start mark for one run-up was measured, in the rhythm of a class.

    For estimates of the athlete's other run-ups. OutOfReach when the mark is far from any such run-up.
    """
    guess = start_mark_m(steps, like)
    within(
        measured_m, 0.6 * guess, 1.5 * guess, f"the start mark for {steps} steps is", "m",
        "the steps were counted by one foot, or the mark belongs to another run-up.",
    )  # fmt: skip
    return like.scaled(measured_m / guess)


@dataclass(frozen=True)
class CheckMark:
    """A mark beside the runway: after which step it lies, how far from start and from take-off line."""

    after_step: int
    from_start_m: float
    from_line_m: float


def check_mark(steps: int, after_step: int, model: Steps) -> CheckMark:
    """Where a foot lands after so many steps of a run-up. OutOfReach outside the run-up."""
    within(after_step, 1, _steps(steps) - 1, "the check mark is after step", "", "count from the start.")
    from_start = model.distance_m(after_step)
    return CheckMark(after_step, from_start, model.distance_m(steps) - from_start)


def coach_mark(steps: int, from_board: int, model: Steps) -> CheckMark:
    """Where the foot lands so many steps before the take-off: what the coach watches, 4 or 6 steps out."""
    within(from_board, 1, _steps(steps) - 1, "the coach's mark is this many steps before the board:")
    return check_mark(steps, steps - from_board, model)


def first_check_steps(steps: int) -> tuple[int, ...]:
    """After which steps the first check mark may lie: the take-off foot lands there, near the start."""
    return (2, 4, 6) if _steps(steps) % 2 == 0 else (3, 5)


Foot = Literal["left", "right"]


def front_foot(steps: int, take_off: Foot) -> Foot:
    """The foot that stands on the mark at the start: the take-off foot for an even number of steps."""
    other: Foot = "left" if take_off == "right" else "right"
    return take_off if _steps(steps) % 2 == 0 else other


def take_off_foot(steps: int, front: Foot) -> Foot:
    """The foot that takes off after so many steps from a standing start with one foot in front."""
    return front_foot(steps, front)  # the same swap either way


def counted_by_one_foot(steps: int) -> int:
    """How many times the take-off foot lands in a run-up: how coaches count it ('six lefts' are 12 or 11)."""
    return (_steps(steps) + 1) // 2


# Better jumpers of each age (years): steps of the long-jump run-up; the triple jump has slightly fewer.
# Techniques magazine of the United States track and field and cross country coaches' association, as
# restated.
BETTER_JUMPERS_STEPS: tuple[tuple[tuple[int, int], tuple[int, int]], ...] = (
    ((8, 12), (12, 14)),
    ((13, 15), (14, 16)),
    ((16, 18), (16, 18)),
)
SEEN_STEPS = (12, 22)  # steps, same source
MATURE_RUN_UP_M = (30, 45)  # metres of a mature jumper's run-up; Track Coach magazine 2019, as restated


def steps_by_age(years: int) -> tuple[int, int]:
    """Fewest and most steps of a run-up for the young: the age, two more or less; up to 14 years.

    Source: Track Coach magazine 2019, as restated. OutOfReach outside 7 to 14 years.
    """
    within(years, 7, 14, "the age is", "years", "older athletes go by what they can carry to the board.")
    return years - 2, years + 2


def shoe_length_cm(eu_size: float) -> float:
    """Outer length of a spike in centimetres from its European size: size x 0.667 + 1.2; better measured."""
    within(eu_size, 28, 52, "the shoe size is", "(European)", "a British or American size was given.")
    return eu_size * 0.667 + 1.2


def in_shoes(cm: float, shoe_cm: float) -> Fraction:
    """A shift in centimetres as whole and half shoe lengths, the nearest (half-way to the smaller shift).

    Less than a quarter of a shoe comes to 0: it is left alone. The sign stays: + back, - forward.
    """
    within(shoe_cm, 18, 36, "the shoe is", "cm", "its size was given.")
    within(cm, -300, 300, "the shift is", "cm", "it is a distance, not a shift.")
    halves = math.ceil(Fraction(abs(cm)) * 2 / Fraction(shoe_cm) - Fraction(1, 2))
    return Fraction(max(0, halves), 2) * (1 if cm >= 0 else -1)


def by_shoes_m(shoes: float, shoe_cm: float) -> float:
    """Metres stepped off heel to toe. Half a centimetre of error a shoe is half a metre in a hundred."""
    within(shoe_cm, 18, 36, "the shoe is", "cm", "its size was given.")
    within(shoes, 0, 250, "the shoe lengths are")
    return shoes * shoe_cm / 100


def wind_shift_cm(run_up_m: float, wind_mps: float, *, slope_cm: float | None = None) -> float:
    """Centimetres to move the start mark in a wind: + back (tail wind), - forward (head wind); an estimate.

    0.25 % of the run-up for each metre per second, the same both ways: 10 cm on 40 m. `slope_cm` is the
    athlete's own figure, centimetres for each metre per second. Derived from Linthorne NP 1994, Journal of
    Applied Biomechanics 10(2):110-131; old textbooks disagree on which side shifts more.
    """
    within(run_up_m, 3, 60, "the run-up is", "m", "centimetres or steps were given.")
    believable(wind_mps)
    if slope_cm is None:
        return float(WIND_PERCENT) * run_up_m * wind_mps
    return within(slope_cm, -5, 40, "the athlete's own shift for 1 m/s is", "cm") * wind_mps


@dataclass(frozen=True)
class WindRow:
    """One row of the card's table: wind in m/s, whole centimetres and half shoes, + back."""

    wind_mps: int
    shift_cm: int
    shoes: Fraction


def wind_table(
    run_up_m: float, shoe_cm: float, *, most_mps: int = 4, slope_cm: float | None = None
) -> tuple[WindRow, ...]:
    """The shifts from the strongest head wind to the strongest tail wind, a row for each 1 m/s."""
    within(most_mps, 1, 10, "the strongest wind is", "m/s")
    rows = []
    for wind in range(-most_mps, most_mps + 1):
        shift = round(wind_shift_cm(run_up_m, wind, slope_cm=slope_cm))
        rows.append(WindRow(wind, shift, in_shoes(shift, shoe_cm)))
    return tuple(rows)


@dataclass(frozen=True)
class WindSlope:
    """An athlete's own shift, centimetres at the board for each metre per second, and its standard error."""

    cm_per_mps: float
    error_cm: float
    runs: int


def own_wind_slope(runs: Sequence[tuple[float, float]]) -> WindSlope | None:
    """Slope of readings at the board (cm, + past the line) on wind (m/s), by least squares.

    `runs` are (wind, reading) with the start mark brought to one place first. None with fewer than eight runs
    or less than 2 m/s between the winds: then the default stands. OutOfReach for an impossible run.
    """
    for wind, reading in runs:
        believable(wind)
        within(reading, -300, 300, "a reading at the board is", "cm", "it belongs to another run.")
    winds = [wind for wind, _ in runs]
    if len(runs) < LEAST_WIND_RUNS or max(winds) - min(winds) < LEAST_WIND_SPREAD_MPS:
        return None
    slope, start = statistics.linear_regression(winds, [reading for _, reading in runs])
    middle = statistics.fmean(winds)
    rest = sum((reading - start - slope * wind) ** 2 for wind, reading in runs) / (len(runs) - 2)
    return WindSlope(slope, math.sqrt(rest / sum((wind - middle) ** 2 for wind in winds)), len(runs))


def explained_by_wind_cm(
    run_up_m: float, wind_mps: float, reading_cm: float, *, slope_cm: float | None = None
) -> tuple[float, float]:
    """A reading at the board (cm, + past the line) parted into what the wind explains and what it does not.

    For a run from the still-wind mark: a tail wind of 1 m/s on 40 m explains 10 cm past the line.
    """
    within(reading_cm, -300, 300, "the reading at the board is", "cm", "it belongs to another run.")
    explained = wind_shift_cm(run_up_m, wind_mps, slope_cm=slope_cm)
    return explained, reading_cm - explained


def half_step_cm(run_up_m: float, steps: int) -> float:
    """Half a mean step of this run-up, in cm: a larger miss is a miscount or a wrong stance."""
    above(run_up_m, 3, "the run-up is", "m", "steps were given.")
    return 100 * run_up_m / _steps(steps) / 2
