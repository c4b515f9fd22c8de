"""The athlete page as data: every word and number that stands on it, and nothing else."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True)
class UnitView:
    """One unit in a session. `bar_mm` is the load of this unit as a length; `cell` names it in reports."""

    cell: str
    look: str  # class of the plate and the bar
    letter: str
    family: str
    name: str
    tag: str  # 'key', 'lighter', 'if there is time' or ''
    amount: str
    amount_note: str  # beside the amount when it is short
    how: str  # else in the line below
    target: str
    recovery: str
    shoes: str
    stop: str
    lighter: str
    bar_mm: float
    fixed: bool = False


@dataclass(frozen=True)
class StopView:
    """Units done at one place, with one coach and the same partners; only what is new there is said."""

    time: str
    place: str
    coach: str
    partners: str
    units: tuple[UnitView, ...]


@dataclass(frozen=True)
class SessionView:
    """What an athlete does in one slot: the warm-up with its drills, then one place after the other."""

    cell: str
    warm_up: str
    facts: str  # minutes and load
    stops: tuple[StopView, ...]
    theme: tuple[str, ...] = ()  # last time at the pit, the cue that is due, today's aim


@dataclass(frozen=True)
class EventView:
    """Rest, competition, travel, exam, away: what the calendar says about a day."""

    kind: str  # rest, competition, arrival, departure, other
    title: str
    text: str
    look: str = ""
    letter: str = ""
    write: tuple[str, ...] = ()  # what to write in


@dataclass(frozen=True)
class DayView:
    cell: str
    weekday: str
    date: str
    events: tuple[EventView, ...]
    sessions: tuple[SessionView, ...]
    note: str = ""  # below the date: 'Camp day 3'


@dataclass(frozen=True)
class FactView:
    number: str
    label: str


@dataclass(frozen=True)
class WeekView:
    key: str
    number: int
    of: int
    phase: str
    dates: str
    kind: str
    foot: str  # name and week, for the foot of a loose page
    facts: tuple[FactView, ...]
    next_competition: str
    aims: tuple[str, ...]
    limits: tuple[str, ...]
    days: tuple[DayView, ...]
    note_lines: int  # empty lines to write on below the week
    tests: str = ""  # which tests would give the numbers that are missing


@dataclass(frozen=True)
class RevisionView:
    number: int
    changed: str  # when the content of this sheet last changed
    replaces: str
    draft: bool

    @property
    def foot(self) -> str:
        return f"Revision {self.number}, {self.changed}" + (", draft" if self.draft else "")


@dataclass(frozen=True)
class AthleteView:
    title: str
    name: str
    events: str
    squad: str
    contact: str
    revision: RevisionView
    weeks: tuple[WeekView, ...]
    caution: tuple[str, ...]
    foot_squad: str = ""  # squad and contact, short, for the foot
    unfit: tuple[str, ...] = ()  # cells that do not fit, told on the sheet itself

    def shortened(self) -> AthleteView:
        """No lines for notes, before a further sheet."""
        return replace(self, weeks=tuple(replace(w, note_lines=0) for w in self.weeks))
