"""The coach's session page as data: one slot, a line for every five minutes, a column for every place."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class EntryView:
    """Something that begins in a cell: a group at a place, or where a coach goes."""

    look: str
    letter: str
    what: str
    who: str  # in the order at a pit
    until: str
    strong: bool = False  # full attention


@dataclass(frozen=True)
class CellView:
    cell: str
    entries: tuple[EntryView, ...]
    busy: bool  # something goes on here in these five minutes


@dataclass(frozen=True)
class LineView:
    """Five minutes, or a stretch in which nobody does anything (`gap`)."""

    clock: str
    cells: tuple[CellView, ...]
    opens: bool = False  # something begins
    gap: str = ""


@dataclass(frozen=True)
class ColumnView:
    title: str
    coach: bool
    width_mm: float


@dataclass(frozen=True)
class BehindView:
    """What stands behind a unit: amounts and aims by athlete, rest, stop rule, lighter, wet or windy."""

    look: str
    letter: str
    name: str
    people: tuple[str, ...]
    rest: str
    stop: str
    lighter: str
    wet: str


@dataclass(frozen=True)
class JobView:
    who: str
    task: str
    when: str


@dataclass(frozen=True)
class CoachView:
    title: str
    heading: str
    sub: str
    warning: str  # why there is no timetable; '' when there is one
    columns: tuple[ColumnView, ...]
    lines: tuple[LineView, ...]
    jobs: tuple[JobView, ...]
    limits: tuple[str, ...]
    weather: tuple[str, ...]
    behind: tuple[BehindView, ...]
    people: tuple[str, ...]  # to tick afterwards
    revision: RevisionView
    foot: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
