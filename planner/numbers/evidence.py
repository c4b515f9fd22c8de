"""What a short run-up says, by the athlete's own pairs only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.domain.units import Side
from planner.numbers.errors import NoNumber
from planner.numbers.lines import metres
from planner.science.short_run_up import LEAST_PAIRS, MOST_DAYS_APART, Jump, Pair, place_of, suggests


@dataclass(frozen=True)
class Jumped:
    """An effective distance (toe to landing) in centimetres, from a number of steps, by one leg, on a day."""

    day: date
    cm: int
    steps: int
    leg: Side


@dataclass(frozen=True)
class ShortEvidence:
    """What is said of a short jump; `low` and `high` are 0 without enough pairs. Never stored as a mark."""

    words: str
    low: int
    high: int
    pairs: int
    place: str


def own_pairs(shorts: Sequence[Jumped], fulls: Sequence[Jumped]) -> tuple[Pair, ...]:
    """Short and full jumps of one leg and one number of short steps, nearest in time first, each used once."""
    if len({(j.leg, j.steps) for j in shorts}) > 1 or len({j.leg for j in (*shorts, *fulls)}) > 1:
        raise NoNumber("the short jumps are of different steps or legs, needed one kind. Maybe choose the steps.")
    distances = sorted(
        (abs((a.day - b.day).days), i, k) for i, a in enumerate(shorts) for k, b in enumerate(fulls)
    )
    used_short: set[int] = set()
    used_full: set[int] = set()
    found = []
    for days, i, k in distances:
        if days <= MOST_DAYS_APART and i not in used_short and k not in used_full:
            used_short.add(i)
            used_full.add(k)
            found.append(Pair(shorts[i].cm, fulls[k].cm, days))
    return tuple(found)


def short_evidence(
    event: Jump, steps: int, short_cm: int, pairs: Sequence[Pair], best_full_cm: int | None = None
) -> ShortEvidence:
    """'suggests 6.10-6.35 m (4 pairs)' from three own pairs or more, else no figure.

    A jump above the usual band of that run-up is said to be so: the best may be due, with no figure.
    """
    found = suggests(short_cm, pairs)
    place = "" if best_full_cm is None else place_of(event, steps, short_cm, best_full_cm)
    if found is not None:
        span, count = found
        words = f"suggests {metres(span.low)}-{metres(span.high)} m ({count} pairs)"
        low, high = span.low, span.high
    else:
        count = sum(p.days_apart <= MOST_DAYS_APART for p in pairs)
        low = high = 0
        words = f"no figure: {count} own pairs within {MOST_DAYS_APART} days, {LEAST_PAIRS} are needed"
    if place == "above the usual band":
        words += f"; from {steps} steps it stands above the usual band: the best may be due"
    return ShortEvidence(words, low, high, count, place)
