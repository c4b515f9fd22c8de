"""What came before the block: last dates as placements, the highest completed week, time missed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta

from planner.domain.block import Block
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek
from planner.domain.units import Unit
from planner.season import tables
from planner.season.weeks import Week, last_day

LOOK_BACK_WEEKS = 4
HISTORY_SLOT = "before"
HISTORY_HOUR = 17  # o'clock, when the file gives a date only
JOIN_DAYS = 2  # a gap between two absences that does not count as being back


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


def missed_days(block: Block, athlete: str, week: Week) -> int:
    """Days of training missed in a row up to a day on which the athlete comes back in this week, 0 if none.

    Counts days away (not travel, arrivals or exams, which are not time without training), days of an
    illness, and weeks before the block in which nothing was done.
    """
    gone = sorted(_gone(block, athlete))
    best = 0
    run_begins: date | None = None
    run_ends: date | None = None
    for day in [*gone, None]:
        if day is not None and run_ends is not None and (day - run_ends).days <= 1:
            run_ends = day
            continue
        if run_begins is not None and run_ends is not None:
            back = run_ends + timedelta(days=1)
            if any(back <= d for d in week.days) and (week.begins - run_ends).days <= JOIN_DAYS:
                best = max(best, (run_ends - run_begins).days + 1)
        run_begins = run_ends = day
    return best


def _gone(block: Block, athlete: str) -> set[date]:
    gone: set[date] = set()
    for away in block.away:
        if away.athlete == athlete and away.kind == "away":
            gone.update(_days(away.begins.date(), last_day(away)))
    for limit in block.limits:
        ill = limit.region == "illness" and limit.stage <= 1
        if limit.athlete == athlete and ill and limit.begins and limit.ends:
            gone.update(_days(limit.begins, limit.ends))
    own = sorted((w for w in block.before if w.athlete == athlete), key=lambda w: w.week_begins)
    for before in reversed(own):
        if not before.counters or any(before.counters.values()):
            break
        gone.update(_days(before.week_begins, before.week_begins + timedelta(days=6)))
    return gone


def _days(first: date, last: date) -> Iterable[date]:
    return (first + timedelta(days=i) for i in range((last - first).days + 1))


def return_percent(block: Block, athlete: str, week: Week) -> int:
    """Percent of the planned amounts in the week of coming back; 100 when nothing was missed."""
    return tables.return_percent(missed_days(block, athlete, week))
