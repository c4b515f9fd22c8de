"""What travel leaves of a day: facts from the `away` table, read by both faces of the rules about travel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from planner.domain.block import Away
from planner.domain.plan import Placement
from planner.domain.problem import Problem

TRAVEL_KINDS = ("travel", "camp arrival", "camp departure")
WARM_UP = timedelta(minutes=25)  # once per session; common practice, no source


@dataclass(frozen=True)
class Trip:
    """A journey of an athlete: the dates it touches, and how hard it is."""

    away: Away
    days: tuple[date, ...]

    @property
    def long(self) -> bool:
        """More than six hours, or overnight."""
        return self.away.travel_hours > 6 or self.away.overnight

    @property
    def arrives(self) -> date:
        return self.days[-1]


def trips(problem: Problem, athlete: str) -> tuple[Trip, ...]:
    """The journeys of an athlete: an arrival touches its last date, a departure its first, others all."""
    found = []
    for away in problem.away_of(athlete, *TRAVEL_KINDS):
        first, last = away.begins.date(), last_date(away)
        if away.kind == "camp arrival":
            first = last
        if away.kind == "camp departure":
            last = first
        days = tuple(first + timedelta(days=i) for i in range((last - first).days + 1))
        found.append(Trip(away, days))
    return tuple(found)


def last_date(away: Away) -> date:
    """The last date an entry touches; midnight belongs to the day before."""
    if away.ends.time() == time(0) and away.ends > away.begins:
        return away.ends.date() - timedelta(days=1)
    return away.ends.date()


def plain(moment: datetime) -> datetime:
    """The wall-clock time, as the slots have it."""
    return moment.replace(tzinfo=None)


def ends_at(placement: Placement) -> datetime:
    """When a unit done first after the warm-up is over."""
    return placement.begins + WARM_UP + timedelta(minutes=placement.dose.minutes)
