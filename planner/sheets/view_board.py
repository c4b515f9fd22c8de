"""The squad board as data: every word and number that stands on it, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from planner.sheets.view_athlete import RevisionView

ARRIVES, LEAVES = TURNS = ("arrives", "leaves")


@dataclass(frozen=True)
class BoardUnit:
    look: str
    letter: str
    name: str
    amount: str
    lighter: bool = False
    where: str = ""  # place and coach, only when the lane's head does not give them for this letter


@dataclass(frozen=True)
class BarPart:
    look: str
    width_mm: float


@dataclass(frozen=True)
class SaidView:
    """What the calendar says: competition, travel, exam, away. `turn`: arrives or leaves, drawn as a triangle."""

    text: str
    turn: str = ""


@dataclass(frozen=True)
class BoardCell:
    """One athlete in one lane. `group` is the letter of those who train together, '' alone."""

    cell: str
    units: tuple[BoardUnit, ...] = ()
    bars: tuple[BarPart, ...] = ()
    said: tuple[SaidView, ...] = ()
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
class BoardDay:
    weekday: str
    date: str
    lanes: int


@dataclass(frozen=True)
class StopHead:
    """Time, place and coach, and the letters of what is done there."""

    text: str
    letters: str


@dataclass(frozen=True)
class BoardLane:
    weekday: str
    date: str
    name: str
    here: str  # '6 here'
    opens_day: bool
    quiet: bool = False
    stops: tuple[StopHead, ...] = ()
    also: str = ""  # coaches who are there and tied to no place
    notes: tuple[str, ...] = ()  # of the day and the slot: 'camp day 3', 'WBGT 28.5 °C'
    width_mm: float = 0.0

    @property
    def title(self) -> str:
        return ", ".join(x for x in (self.name, self.here) if x)

    @property
    def texts(self) -> tuple[str, ...]:
        """The lines below the title."""
        lines = tuple(f"{s.text}: {s.letters}" if s.letters else s.text for s in self.stops)
        return (*self.notes, *lines, self.also) if self.also else (*self.notes, *lines)


@dataclass(frozen=True)
class KeyView:
    look: str
    letter: str
    name: str


@dataclass(frozen=True)
class BoardPage:
    """A week, or the part of a week whose lanes and athletes fit the paper."""

    key: str
    title: str
    sub: str
    foot: str
    lanes: tuple[BoardLane, ...]
    rows: tuple[BoardRow, ...]
    keys: tuple[KeyView, ...]
    sure: str
    findings: tuple[str, ...] = ()  # the coach's own copy only
    cannot: tuple[str, ...] = ()
    exceptions: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()

    @property
    def turns(self) -> tuple[str, ...]:
        """Which triangles stand on the page: arrives, leaves."""
        seen = {said.turn for row in self.rows for cell in row.cells for said in cell.said}
        return tuple(turn for turn in TURNS if turn in seen)

    @property
    def days(self) -> tuple[BoardDay, ...]:
        """The days of the lanes, each with how many lanes it spans."""
        runs = groupby(self.lanes, key=lambda lane: (lane.weekday, lane.date))
        return tuple(BoardDay(weekday, date, len(list(run))) for (weekday, date), run in runs)


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
