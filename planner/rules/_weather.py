"""What the file says of the weather, and which placements stand under the open sky: read by both faces.

A row for a slot wins over one for the whole day; what no row says is not known, and not judged.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

from planner.domain.block import Place, Weather
from planner.domain.camp import camp_stay
from planner.domain.plan import Placement
from planner.domain.problem import Problem

MINOR = 18  # years
HOT = 279  # tenths of a degree WBGT: a day this hot begins to make an athlete used to heat


def said(problem: Problem, day: date, slot: str, of: Callable[[Weather], object]) -> Weather | None:
    """The row of `weather` that says this of a slot (later rows win); None when none does."""
    best: Weather | None = None
    for row in problem.block.weather:
        what = of(row)  # 0 degrees, or no wind, is something said
        speaks = row.day == day and row.slot in ("", slot) and what is not None and what is not False
        if speaks and (best is None or row.slot or not best.slot):
            best = row
    return best


def heat(problem: Problem, day: date, slot: str) -> Weather | None:
    """The row with the WBGT (tenths of a degree Celsius) of a slot."""
    return said(problem, day, slot, lambda w: w.wbgt)


def place_of(problem: Problem, p: Placement) -> Place | None:
    opening = problem.opening_of(p)
    return None if opening is None else opening.place


def outdoors(problem: Problem, p: Placement) -> bool:
    """Does the placement stand in the open air? A place the file does not know is taken to."""
    place = place_of(problem, p)
    return place is None or place.outdoor


def hot_since(problem: Problem, athlete: str) -> date | None:
    """From when an athlete trains in the heat: the own arrival at the camp, else the first hot day."""
    hot = sorted(w.day for w in problem.block.weather if w.wbgt is not None and w.wbgt >= HOT)
    stay = camp_stay(problem, athlete)
    if stay is not None and any(stay.first <= d <= stay.last for d in hot):
        return stay.first
    return hot[0] if hot else None


def used_to_heat(problem: Problem, athlete: str, day: date, days: int) -> bool:
    """Has the athlete been in the heat for so many days before this one?"""
    since = hot_since(problem, athlete)
    return days == 0 or (since is not None and day - since >= timedelta(days=days))


def is_minor(problem: Problem, athlete: str, day: date) -> bool:
    age = problem.block.athlete(athlete).age_on(day)
    return age is not None and age < MINOR
