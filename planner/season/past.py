"""What came before the block: last dates as placements, the highest completed week, time missed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta

from planner.catalogue import amount_after_gap
from planner.domain.block import Block
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek
from planner.domain.units import Unit
from planner.season.weeks import Week, last_day, whole_days

LOOK_BACK_WEEKS = 4
HISTORY_SLOT = "before"
HISTORY_HOUR = 17  # o'clock, when the file gives a date only
AFTER_LONGEST_GAP = 50  # percent; common practice, no source
LATE_DAYS = 2  # back on the last days of a week counts for the next one too


def history_of(
    block: Block, units: Mapping[str, Unit], weeks: Mapping[str, tuple[AthleteWeek, ...]]
) -> tuple[Placement, ...]:
    """A placement, at the first week's full dose, for each last date the file names before the block."""
    found: dict[tuple[str, date, str], Placement] = {}
    for done in block.last_done:
        own = weeks.get(done.athlete, ())
        doses = own[0].doses.get(done.unit) if own else None
        if doses is None or done.day >= block.begins:
            continue
        begins = datetime.combine(done.day, time(HISTORY_HOUR))
        unit = units[done.unit]
        found[done.athlete, done.day, done.unit] = Placement(
            done.athlete, done.day, HISTORY_SLOT, unit, doses[0], begins, fixed=True
        )
    return tuple(sorted(found.values(), key=lambda p: p.key))


def reference_of(block: Block, athlete: str) -> tuple[dict[str, int], bool]:
    """Highest amount of a week by counter among the last four before the block, and whether any is known."""
    earliest = block.begins - timedelta(weeks=LOOK_BACK_WEEKS, days=6)
    found: dict[str, int] = {}
    known = False
    for week in block.before:
        if week.athlete == athlete and earliest <= week.week_begins < block.begins:
            known = True
            for counter, amount in week.counters.items():
                found[counter] = max(found.get(counter, 0), amount)
    return dict(sorted(found.items())), known


def return_percent(block: Block, athlete: str, week: Week) -> int:
    """Percent of the planned amounts in the week of coming back; 100 when nothing was missed.

    Time away counts as missed for reasons other than the body; illness and weeks before the block in which
    nothing was done as missed because of it. Travel, arrivals and exams are not time without training.
    """
    percents = (
        amount_after_gap(missed_days(_away(block, athlete), week), of_body=False),
        amount_after_gap(missed_days(_ill(block, athlete) | _idle(block, athlete), week)),
    )
    return min(AFTER_LONGEST_GAP if p is None else p for p in percents)


def missed_days(gone: set[date], week: Week) -> int:
    """The longest run of days missed from which an athlete is back in this week, 0 if none."""
    best = 0
    for last in sorted(gone):
        back = last + timedelta(days=1)
        if back in gone or back > week.days[-1] or (week.begins - last).days > LATE_DAYS:
            continue
        first = last
        while first - timedelta(days=1) in gone:
            first -= timedelta(days=1)
        best = max(best, (last - first).days + 1)
    return best


def _away(block: Block, athlete: str) -> set[date]:
    return {
        day
        for away in block.away
        if away.athlete == athlete and away.kind == "away" and whole_days(away)
        for day in _days(away.begins.date(), last_day(away))
    }


def _ill(block: Block, athlete: str) -> set[date]:
    return {
        day
        for x in block.limits
        if x.athlete == athlete and x.region == "illness" and x.stage <= 1 and x.begins and x.ends
        for day in _days(x.begins, x.ends)
    }


def _idle(block: Block, athlete: str) -> set[date]:
    """Days of the last weeks before the block, back to the first in which something was done."""
    own = sorted((w for w in block.before if w.athlete == athlete), key=lambda w: w.week_begins)
    found: set[date] = set()
    for before in reversed(own):
        if not before.counters or any(before.counters.values()):
            break
        found.update(d for d in _days(before.week_begins, before.week_begins + timedelta(days=6)))
    return {d for d in found if d < block.begins}


def _days(first: date, last: date) -> Iterable[date]:
    return (first + timedelta(days=i) for i in range((last - first).days + 1))
