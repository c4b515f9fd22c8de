"""Kilograms: estimates of the best single lift, what a number of repetitions is worth, and loads for the bar.

Weights are whole half kilograms where they go on a bar. Sources stand beside each formula. Estimates differ
by lift and athlete: for ten repetitions of 100 kg the published formulas run from 125 to 135 kg.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from planner.science.errors import OutOfReach, within

MOST_REPETITIONS = 12  # repetitions; beyond it the formulas were not made and part widely
BAR_STEP = 5  # half kilograms between two loads of a bar with 1.25 kg plates

FORMULAS: dict[str, Callable[[float, int], float]] = {
    # Epley B 1985, Poundage chart, Boyd Epley Workout, University of Nebraska (restated in many texts)
    "Epley 1985": lambda kg, n: kg * (1 + n / 30),
    # Brzycki M 1993, Strength testing: predicting a one-rep max from reps-to-fatigue, Journal of Physical
    # Education, Recreation and Dance 64(1):88-90
    "Brzycki 1993": lambda kg, n: kg * 36 / (37 - n),
    # Lombardi VP 1989, Beginning weight training (from memory)
    "Lombardi 1989": lambda kg, n: kg * n**0.10,
    # O'Conner B, Simmons J, O'Shea P 1989, Weight training today (from memory)
    "O'Conner 1989": lambda kg, n: kg * (1 + 0.025 * n),
    # Mayhew JL and others 1992, Journal of Applied Sport Science Research 6(4):200-206 (from memory)
    "Mayhew 1992": lambda kg, n: 100 * kg / (52.2 + 41.9 * math.exp(-0.055 * n)),
    # Wathan D 1994, Load assignment, in Essentials of strength training and conditioning (from memory)
    "Wathan 1994": lambda kg, n: 100 * kg / (48.8 + 53.8 * math.exp(-0.075 * n)),
    # Lander J 1985, Maximum based on reps, NSCA Journal 6(6):60-61 (from memory)
    "Lander 1985": lambda kg, n: 100 * kg / (101.3 - 2.67123 * n),
}

# Percent of the best single lift for 1, 2, 3 ... repetitions. National Strength and Conditioning Association,
# Essentials of Strength Training and Conditioning, load chart; 1 to 10 as restated, 11 and 12 from memory
# (copies disagree: 73 and 70 are printed too).
PERCENT_FOR_REPETITIONS: tuple[int, ...] = (100, 95, 93, 90, 87, 85, 83, 80, 77, 75, 70, 67)


def _checked(kilograms: float, repetitions: int) -> None:
    within(kilograms, 0.5, 600, "the weight is", "kg", "pounds were meant: times 0.454.")
    within(
        repetitions, 1, MOST_REPETITIONS, "the repetitions are", "",
        "take a set of 3 to 8 that was nearly the last one possible.",
    )  # fmt: skip


def best_single_by(formula: str, kilograms: float, repetitions: int) -> float:
    """Estimate of the best single lift in kilograms by one formula, as published.

    Some give more than the weight itself at one repetition; `best_single` does not. OutOfReach outside 1 to
    12 repetitions or for a formula that is not among FORMULAS.
    """
    _checked(kilograms, repetitions)
    if formula not in FORMULAS:
        raise OutOfReach(f"no formula is called {formula!r}, needed one of: {', '.join(FORMULAS)}.")
    return FORMULAS[formula](kilograms, repetitions)


@dataclass(frozen=True)
class BestSingle:
    """Lowest, middle and highest estimate over the published formulas, in kilograms."""

    low_kg: float
    middle_kg: float
    high_kg: float


def best_single(kilograms: float, repetitions: int) -> BestSingle:
    """The best single lift as a range over all formulas; a lift done once is itself, with no range.

    For sets that were nearly the last one possible. Novices are not tested for it.
    """
    _checked(kilograms, repetitions)
    if repetitions == 1:
        return BestSingle(kilograms, kilograms, kilograms)
    found = [formula(kilograms, repetitions) for formula in FORMULAS.values()]
    return BestSingle(min(found), statistics.median(found), max(found))


def percent_for(repetitions: int) -> int:
    """Percent of the best single lift that so many repetitions are usually worth; a chart, not a person."""
    within(repetitions, 1, MOST_REPETITIONS, "the repetitions are", "", "count one set only.")
    return PERCENT_FOR_REPETITIONS[repetitions - 1]


def percent_by_epley(repetitions: int) -> float:
    """Percent of the best single lift by Epley's formula, capped at 100 for one repetition."""
    within(repetitions, 1, MOST_REPETITIONS, "the repetitions are", "", "count one set only.")
    return 100.0 if repetitions == 1 else 100 / (1 + repetitions / 30)


def on_the_bar(kilograms: float | Fraction, *, step: int = BAR_STEP) -> int:
    """The weight in half kilograms, to the nearest step a bar can carry; half-way goes to the lighter one."""
    within(float(kilograms), 0, 600, "the weight is", "kg", "pounds were meant: times 0.454.")
    within(step, 1, 40, "the step of the bar is", "half kilograms")
    steps = Fraction(kilograms) * 2 / step
    down = math.floor(steps)
    return step * (down + (1 if steps - down > Fraction(1, 2) else 0))


def load_at(best_half_kg: int, percent: int, *, step: int = BAR_STEP) -> int:
    """Half kilograms on the bar at a percentage of the best single lift; OutOfReach outside 20 to 110 %."""
    within(best_half_kg, 1, 1200, "the best lift is", "half kilograms", "whole kilograms were given.")
    within(percent, 20, 110, "the share of the best lift is", "%", "a share was meant: times 100.")
    return on_the_bar(Fraction(best_half_kg, 2) * percent / 100, step=step)


@dataclass(frozen=True)
class Total:
    """How many repetitions of one lift a session holds: repetitions a set, usual total, total from and to."""

    a_set: tuple[int, int]
    usual: int
    total: tuple[int, int]


# From weightlifters' logs of the 1970s in the handbooks that restate Prilepin AS; the first Russian source
# was not seen. It sums up elite weightlifters and is no prescription for sprinters or jumpers.
TOTALS: tuple[tuple[int, Total], ...] = (
    (90, Total((1, 2), 7, (4, 10))),
    (80, Total((2, 4), 15, (10, 20))),
    (70, Total((3, 6), 18, (12, 24))),
    (55, Total((3, 6), 24, (18, 30))),
)


def total_for(percent: int) -> Total:
    """Repetitions of one lift in a session at a percentage of the best single, 55 to 100."""
    within(percent, 55, 100, "the share of the best lift is", "%", "lighter lifts have no table.")
    return next(total for low, total in TOTALS if percent >= low)
