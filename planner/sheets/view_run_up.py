"""The run-up card as data: four panels of a sheet that folds twice to A6, one page for each run-up."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class MarkView:
    """A mark beside the runway, as it lies from the pit: what, how far from the board, and how sure."""

    name: str
    metres: str
    said: str
    start: bool = False


@dataclass(frozen=True)
class WindRowView:
    """One row of the wind table. `here` is today's wind."""

    wind: str
    shift: str
    shoes: str
    mark: str
    still: bool = False
    here: bool = False


@dataclass(frozen=True)
class ShortView:
    steps: str
    mark: str
    said: str


@dataclass(frozen=True)
class ReadingView:
    """One session's runs in figures, and what they came to ('' when they are few)."""

    day: str
    runs: str
    board: str
    spread: str
    wind: str
    rest: str
    said: str


@dataclass(frozen=True)
class PhaseView:
    """Marks for one target: where hop and step land from the board, each a little either way."""

    steps: str
    total: str
    hop: str
    step: str
    either: str
    said: str


@dataclass(frozen=True)
class RunUpPage:
    key: str
    name: str
    event: str
    steps: str
    shoe: str  # which shoe the card is for, where that has to be said
    leg: str
    facts: tuple[str, ...]  # foot in front, how it is counted, shoe
    care: tuple[str, ...]  # first estimate, old mark
    still: str
    still_said: str
    today: str  # '' while today's wind is not known
    today_said: str
    marks: tuple[MarkView, ...]
    wind: tuple[WindRowView, ...]
    wind_said: str
    miss_said: str
    shorts: tuple[ShortView, ...]
    short_says: tuple[str, ...]  # what short jumps say of the full one, by own pairs
    readings: tuple[ReadingView, ...]
    reading_lines: int  # empty rows to write on
    phases: tuple[PhaseView, ...]
    phases_head: str
    phases_said: tuple[str, ...]
    target_lines: int  # empty rows for other targets, where phases stand
    run_lines: int  # empty rows for today's runs, where no phases stand
    foot: str


@dataclass(frozen=True)
class RunUpView:
    title: str
    name: str
    pages: tuple[RunUpPage, ...]
    caution: str
    revision: RevisionView
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
