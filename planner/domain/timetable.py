"""The clock times inside a slot: who does what when and where, whom each coach watches, what helpers do."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from planner.domain.plan import Placement

GRID = 5  # minutes; the lines of a coach's page
FULL_ATTENTION = 2  # coach's eyes 0-2
NEARBY = 1
NEARBY_GROUPS = 2  # groups that one coach can keep within sight; common practice, no source
NEARBY_BESIDE = 1  # of these, beside a group that has the coach's full attention; common practice, no source
MOST_WAITING = 30  # minutes that sharing a pit may add to a unit; a longer wait cools; common practice
UNRAKED = (3, 4)  # of a pit's rate when nobody rakes: 30 jumps an hour in place of 40; common practice
UNMEASURED = (11, 8)  # of it when it is raked and nothing measured: 55 in place of 40; common practice

WARM_UP = "warm-up"
DRILLS = "drills"
UNIT = "unit"

RUN_UPS = ("run-ups",)  # families: in one session run-ups without a jump come before jumps where nothing
JUMPS = ("technical-jumps", "full-jumps")  # speaks against it: the eye for the mark is fresh; common practice


def run_up_before_jump(one: Placement, other: Placement) -> bool:
    """Are these a run-up without a jump and a jump of one athlete, so that the first is wanted earlier?"""
    same = one.athlete == other.athlete and one.unit.order == other.unit.order
    return same and one.unit.family in RUN_UPS and other.unit.family in JUMPS


@dataclass(frozen=True)
class TimetableLine:
    """One stretch of an athlete's session. `part` is warm-up, drills or unit.

    `unit` is a unit's id ('' for the warm-up and the drills after it), `place` is '' where any free spot
    will do. `coach` gives full attention or is nearby; '' where nobody has to be. `turn` is the place in
    the order at a pit (1 first, 0: no order is needed), `waiting` the minutes that sharing it adds.
    """

    athlete: str
    part: str
    begins: datetime
    ends: datetime
    unit: str = ""
    amount: str = ""  # full or lighter
    venue: str = ""
    place: str = ""
    coach: str = ""
    eyes: int = 0
    turn: int = 0
    waiting: int = 0

    @property
    def minutes(self) -> int:
        return int((self.ends - self.begins) / timedelta(minutes=1))


@dataclass(frozen=True, order=True)
class Watched:
    """A group: who does one unit at one place at a time; `full` when it has the coach's full attention."""

    unit: str
    place: str
    athletes: tuple[str, ...]
    full: bool = False


@dataclass(frozen=True)
class Station:
    """Where a coach stands from when until when, and which groups they watch from there."""

    coach: str
    begins: datetime
    ends: datetime
    venue: str
    place: str
    watches: tuple[Watched, ...] = ()


@dataclass(frozen=True)
class HelperTask:
    """What a helper does at a place for a while. `task` is rake, measure, time or film."""

    helper: str
    task: str
    begins: datetime
    ends: datetime
    venue: str
    place: str


@dataclass(frozen=True)
class SlotTimetable:
    """A slot's clock times: lines by athlete and time, stations by coach and time, tasks by helper and time.

    `proved` when no timetable of this slot is better by its own measure (sessions end early, little
    waiting, groups start together, coaches walk little).
    """

    day: date
    slot: str
    lines: tuple[TimetableLine, ...]
    stations: tuple[Station, ...] = ()
    helpers: tuple[HelperTask, ...] = ()
    proved: bool = False

    def of(self, athlete: str) -> tuple[TimetableLine, ...]:
        """An athlete's session in time order."""
        return tuple(x for x in self.lines if x.athlete == athlete)

    def line_of(self, placement: Placement) -> TimetableLine | None:
        """The line of a placement; None when it stands elsewhere."""
        for x in self.lines:
            if (x.athlete, x.unit) == (placement.athlete, placement.unit.id) and x.part == UNIT:
                return x
        return None


@dataclass(frozen=True)
class Clash:
    """Why placements of a slot have no timetable together.

    `placements` is a smallest set that collides: without any one of them the others have a timetable (or it
    could not soon be ruled out that they have one).
    `reason` and `choices` are whole sentences. `decided` False: no timetable was found within the budget,
    and none was ruled out.
    """

    day: date
    slot: str
    placements: tuple[Placement, ...]
    reason: str
    choices: tuple[str, ...] = ()
    decided: bool = True

    @property
    def sentence(self) -> str:
        """Place, fact and remedies in one."""
        return " ".join((f"{self.day:%a %d %b}, {self.slot}: {self.reason}", *self.choices))


Timetables = dict[tuple[date, str], SlotTimetable]
