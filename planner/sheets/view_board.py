"""The squad board as data: every word and number that stands on it, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class BoardUnit:
    look: str
    letter: str
    name: str
    amount: str
    tag: str  # 'lighter' or ''


@dataclass(frozen=True)
class BarPart:
    look: str
    width_mm: float


@dataclass(frozen=True)
class BoardCell:
    """One athlete in one lane. `group` is the letter of those who train together, '' alone."""

    cell: str
    units: tuple[BoardUnit, ...] = ()
    bars: tuple[BarPart, ...] = ()
    where: str = ""  # time, place, coach; '' when the group's line in the head says it
    said: tuple[str, ...] = ()  # competition, travel, exam, away
    competition: bool = False
    group: str = ""
    rest: bool = False


@dataclass(frozen=True)
class BoardRow:
    name: str
    events: str
    care: str  # 'limited', 'lighter' or ''
    cells: tuple[BoardCell, ...]
    load: str
    hours: str
    fast: str
    opens_group: bool


@dataclass(frozen=True)
class CoachCell:
    lines: tuple[str, ...]


@dataclass(frozen=True)
class CoachRow:
    name: str
    cells: tuple[CoachCell, ...]


@dataclass(frozen=True)
class BoardDay:
    weekday: str
    date: str
    lanes: int


@dataclass(frozen=True)
class GroupView:
    """Who trains together in a lane: the letter in their cells, and when, where and with whom."""

    letter: str
    where: str


@dataclass(frozen=True)
class BoardLane:
    name: str
    here: str  # '6 here'
    opens_day: bool
    narrow: bool = False
    groups: tuple[GroupView, ...] = ()


@dataclass(frozen=True)
class KeyView:
    look: str
    letter: str
    name: str


@dataclass(frozen=True)
class BoardPage:
    """A week, or the part of a week whose lanes fit the paper."""

    key: str
    title: str
    sub: str
    foot: str
    days: tuple[BoardDay, ...]
    lanes: tuple[BoardLane, ...]
    rows: tuple[BoardRow, ...]
    coaches: tuple[CoachRow, ...]
    keys: tuple[KeyView, ...]
    sure: str
    findings: tuple[str, ...]  # the coach's own copy only
    cannot: tuple[str, ...]
    exceptions: tuple[str, ...]
    limits: tuple[str, ...]


@dataclass(frozen=True)
class BoardView:
    title: str
    squad: str
    contact: str
    revision: RevisionView
    own_copy: bool
    pages: tuple[BoardPage, ...]
    bar_words: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
