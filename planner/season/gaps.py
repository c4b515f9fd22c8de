"""After more than two weeks in which no pit or bed could be had, jumps begin again with less.

Only the calendar is looked at: the days on which a place for the unit is open in a slot the athlete is there
for. A hall that shuts before the runway outside is ready makes such a gap for everybody. What an athlete missed
is a matter of `past.py`, and how far the run-up goes after a gap in the plan itself one of the ladders. Before
the first such day of the block nothing is known, and no gap is counted. The figures stand with the ladders:
common practice, no source.
"""

from __future__ import annotations

from datetime import date, datetime
from itertools import pairwise

from planner.catalogue import ladder_rules
from planner.domain.block import Block
from planner.domain.units import Unit
from planner.season.weeks import Week, hindrance

JUMPS = ("technical-jumps", "full-jumps")
ANYWHERE = "anywhere"
SMALL = 70  # percent of the peak week: a week that asks for no more than this is small enough as it is


class Gaps:
    """The days of one athlete's block on which each kind of place could be had."""

    def __init__(self, block: Block, athlete: str) -> None:
        self._days: dict[str, set[date]] = {}
        for o in block.openings:
            begins, ends = datetime.combine(o.day, o.begins), datetime.combine(o.day, o.ends)
            days = self._days.setdefault(o.place.kind, set())
            if o.day not in days and hindrance(block, athlete, begins, ends) is None:
                days.add(o.day)
        self._again: dict[tuple[str, ...], frozenset[date]] = {}

    def percent(self, unit: Unit, week: Week, share: int) -> int:
        """Percent of a jumping unit's amount in a week of that share; 100 where there is no gap before it."""
        if unit.family not in JUMPS or ANYWHERE in unit.place_kinds or share <= SMALL:
            return 100
        again = self._first_days_after(unit.place_kinds)
        return ladder_rules().restart_percent if any(day in again for day in week.days) else 100

    def _first_days_after(self, kinds: tuple[str, ...]) -> frozenset[date]:
        if kinds not in self._again:
            longest = ladder_rules().restart_after_days
            days = sorted(set().union(*(self._days.get(k, ()) for k in kinds)))
            late = (day for before, day in pairwise(days) if (day - before).days > longest)
            self._again[kinds] = frozenset(late)
        return self._again[kinds]
