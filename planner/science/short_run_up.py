"""Jumps from a short run-up as evidence about the full one: only by the athlete's own pairs.

No conversion from a short to a full run-up is published, so none is offered. Effective distances (toe to
landing) in whole centimetres. The usual bands are common practice, no source: orientation, never a
forecast.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planner.science.errors import OutOfReach, within
from planner.science.jumps import LONGEST_CM, DistanceRange

LEAST_PAIRS = 3  # pairs before anything is said; common practice, no source
MOST_DAYS_APART = 21  # days between the two jumps of a pair; common practice, no source

Jump = Literal["long jump", "triple jump"]
Place = Literal["above the usual band", "in the usual band", "below the usual band"]

# Steps -> percent of the best from the full run-up, low and high; common practice, no source.
USUAL_PERCENT: dict[Jump, dict[int, tuple[int, int]]] = {
    "long jump": {
        2: (60, 68), 4: (70, 77), 6: (77, 83), 8: (82, 87),
        10: (86, 91), 12: (90, 94), 14: (93, 96), 16: (96, 99),
    },
    "triple jump": {
        2: (72, 78), 4: (78, 83), 6: (83, 87), 8: (87, 90),
        10: (90, 93), 12: (93, 96), 14: (95, 98), 16: (97, 100),
    },
}  # fmt: skip


@dataclass(frozen=True)
class Pair:
    """One athlete's jumps from a short and from the full run-up, and the days between them (0 or more)."""

    short_cm: int
    full_cm: int
    days_apart: int

    def __post_init__(self) -> None:
        within(self.full_cm, 100, LONGEST_CM, "the full jump is", "cm", "it was given in metres.")
        within(
            self.short_cm, 0.4 * self.full_cm, 1.1 * self.full_cm, "the jump from the short run-up is", "cm",
            "the two jumps are of different events.",
        )  # fmt: skip
        within(self.days_apart, 0, 3660, "the days between the jumps are", "", "a minus slipped in.")


def suggests(short_cm: int, pairs: Sequence[Pair]) -> tuple[DistanceRange, int] | None:
    """What a short jump suggests for the full run-up, as a range, and by how many of the athlete's own pairs.

    Only pairs within 21 days of each other count, from the same number of steps and the same leg. None with
    fewer than three: then no figure is given. The range spans the ratios of all of them; never stored as a
    mark. Derived.
    """
    within(short_cm, 50, LONGEST_CM, "the short jump is", "cm", "it was given in metres.")
    ratios = [Fraction(pair.full_cm, pair.short_cm) for pair in pairs if pair.days_apart <= MOST_DAYS_APART]
    if len(ratios) < LEAST_PAIRS:
        return None
    return DistanceRange(round(short_cm * min(ratios)), round(short_cm * max(ratios))), len(ratios)


def place_of(event: Jump, steps: int, short_cm: int, best_full_cm: int) -> Place:
    """Where a short jump stands against the usual band of that run-up; odd steps have the band between.

    'Above' means that the best may be due, with no figure. Common practice, no source. OutOfReach outside 2
    to 16 steps or for another event.
    """
    if event not in USUAL_PERCENT:
        raise OutOfReach(f"no usual band is known for {event}, needed the long or the triple jump.")
    within(steps, 2, 16, "the steps are", "", "this is a full run-up.")
    pair = Pair(short_cm, best_full_cm, 0)
    table = USUAL_PERCENT[event]
    under, over = table[steps // 2 * 2], table[min(16, (steps + 1) // 2 * 2)]
    low, high = Fraction(under[0] + over[0], 2), Fraction(under[1] + over[1], 2)
    percent = Fraction(100 * pair.short_cm, pair.full_cm)
    if percent > high:
        return "above the usual band"
    return "below the usual band" if percent < low else "in the usual band"
