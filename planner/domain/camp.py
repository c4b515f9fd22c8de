"""Whose camp it is, and which day of it: each athlete counts from their own arrival.

A block of kind camp is a camp from its first to its last day; another block may hold one ('camp_from' and
'camp_until' of the block's table).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time, timedelta

from planner.domain.block import Away, Block
from planner.domain.problem import Problem

MOST_OF_A_WEEK = 4  # own camp days that make a calendar week a camp week


@dataclass(frozen=True)
class CampStay:
    """An athlete's own camp: the date of the arrival (day 1) to that of the departure."""

    first: date
    last: date

    @property
    def days(self) -> tuple[date, ...]:
        return tuple(self.first + timedelta(days=i) for i in range((self.last - self.first).days + 1))


def camp_dates(block: Block) -> tuple[date, date] | None:
    """First and last day of the block's camp; None when it holds none."""
    if block.camp_begins is not None and block.camp_ends is not None:
        return block.camp_begins, block.camp_ends
    return (block.begins, block.ends) if block.kind == "camp" else None


def camp_stay(problem: Problem, athlete: str) -> CampStay | None:
    """The athlete's own stay: from arrival to departure where the file names them; None without a camp."""
    dates = camp_dates(problem.block)
    if dates is None:
        return None
    first, last = dates
    for away in problem.away_of(athlete, "camp arrival"):
        if dates[0] <= _last_date(away) <= dates[1]:
            first = max(first, _last_date(away))
    for away in problem.away_of(athlete, "camp departure"):
        if first <= away.begins.date() <= dates[1]:
            last = min(last, away.begins.date())
    return CampStay(first, last)


def camp_day(problem: Problem, athlete: str, day: date) -> int | None:
    """Which day of the camp a date is for an athlete: 1 on the day of arrival; None outside the stay."""
    stay = camp_stay(problem, athlete)
    if stay is None or not stay.first <= day <= stay.last:
        return None
    return (day - stay.first).days + 1


def _last_date(away: Away) -> date:
    """The last date an entry touches; midnight belongs to the day before."""
    if away.ends.time() == time(0) and away.ends > away.begins:
        return away.ends.date() - timedelta(days=1)
    return away.ends.date()
