"""The weeks of a block, and on which days an athlete is there at all.

Calendar weeks run from the block's week start. A week knows its days inside the block only.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from planner.domain.block import Away, Block, Slot

LONG_TRAVEL_HOURS = 6  # a travel day longer than this leaves no training; common practice, no source
LATE, LEAVING_EARLY = "late", "leaving early"  # kinds of `away` that cut a slot short
LEAST_SESSION_MINUTES = 45  # 25 of warm-up and 20 of work, else it is no session; common practice, no source
BOUND_KINDS = ("exam", "travel", "camp arrival", "camp departure")


@dataclass(frozen=True)
class Week:
    """A calendar week: its first date, and its days inside the block."""

    index: int
    begins: date
    days: tuple[date, ...]

    @property
    def middle(self) -> date:
        """The fourth day of the calendar week, which decides to which phase a week belongs."""
        return self.begins + timedelta(days=3)

    @property
    def last(self) -> date:
        return self.begins + timedelta(days=6)


def week_begins(day: date, week_start: int) -> date:
    """The first date of the calendar week of a day; `week_start` is 0 for Monday."""
    return day - timedelta(days=(day.weekday() - week_start) % 7)


def weeks_of(block: Block) -> tuple[Week, ...]:
    """The calendar weeks that touch the block, in order."""
    found: dict[date, list[date]] = {}
    for i in range((block.ends - block.begins).days + 1):
        day = block.begins + timedelta(days=i)
        found.setdefault(week_begins(day, block.week_start), []).append(day)
    return tuple(Week(i, begins, tuple(days)) for i, (begins, days) in enumerate(sorted(found.items())))


def whole_days(away: Away) -> bool:
    """Is the entry in dates (midnight to midnight or to the last minute) and not in clock times?"""
    return away.begins.time() == time(0) and (
        away.ends.time() == time(0) or away.ends.time() >= time(23, 59)
    )


def last_day(away: Away) -> date:
    """The last date an entry touches; midnight belongs to the day before."""
    if away.ends.time() == time(0) and away.ends > away.begins:
        return away.ends.date() - timedelta(days=1)
    return away.ends.date()


def touches(away: Away, day: date) -> bool:
    return away.begins.date() <= day <= last_day(away)


def hindrance(block: Block, athlete: str, begins: datetime, ends: datetime) -> Away | None:
    """The entry of `away` that keeps an athlete from a session, or None.

    An exam given in whole days keeps nobody from a short session (exam days have rules of their own), nor
    does a travel day of at most six hours (the travel rule caps what is done on it), nor coming late or
    leaving early when a short session is left.
    """
    for away in block.away:
        if away.athlete != athlete or not _overlap(away, begins, ends):
            continue
        if whole_days(away) and away.kind in BOUND_KINDS and not _whole_day_blocks(away, begins.date()):
            continue
        if away.kind in (LATE, LEAVING_EARLY) and _left(block, away, begins, ends) >= LEAST_SESSION_MINUTES:
            continue
        return away
    return None


def _left(block: Block, away: Away, begins: datetime, ends: datetime) -> int:
    """Minutes of a slot that are left when the athlete comes late and leaves early."""
    for other in block.away:
        if other.athlete != away.athlete or not _overlap(other, begins, ends):
            continue
        if other.kind == LATE:
            begins = max(begins, other.ends)
        elif other.kind == LEAVING_EARLY:
            ends = min(ends, other.begins)
    return int((ends - begins).total_seconds()) // 60


def _overlap(away: Away, begins: datetime, ends: datetime) -> bool:
    a = away.begins.replace(tzinfo=None)
    z = away.ends.replace(tzinfo=None)
    if z <= a:  # a single date
        z = a + timedelta(days=1)
    return a < ends and begins < z


def _whole_day_blocks(away: Away, day: date) -> bool:
    if away.kind == "exam":
        return False
    if away.overnight or away.travel_hours > LONG_TRAVEL_HOURS:
        return True
    if away.kind == "camp arrival":
        return day != last_day(away)
    if away.kind == "camp departure":
        return day != away.begins.date()
    return False


def slots_by_day(block: Block) -> dict[date, tuple[Slot, ...]]:
    found: dict[date, list[Slot]] = {}
    for slot in block.slots:
        found.setdefault(slot.day, []).append(slot)
    return {day: tuple(sorted(s, key=lambda x: (x.begins, x.name))) for day, s in found.items()}


def there_on(block: Block, athlete: str, day: date, slots: tuple[Slot, ...]) -> bool:
    """Is the athlete there for at least one slot of the day? A day without slots is judged at noon."""
    if not slots:
        noon = datetime.combine(day, time(12))
        return hindrance(block, athlete, noon, noon + timedelta(minutes=1)) is None
    return any(
        hindrance(block, athlete, datetime.combine(day, s.begins), datetime.combine(day, s.ends)) is None
        for s in slots
    )
