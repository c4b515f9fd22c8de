"""The competition-day card as data: one sheet folded to A6 for each event of an athlete."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_run_up import WindRowView


@dataclass(frozen=True)
class TimeRow:
    """`clock` is '' where the start is not known: it is written in by hand, the minutes stand beside.

    `before` is '' where lines of several events stand below each other, each with its own start.
    """

    clock: str
    before: str
    said: str
    start: bool = False


@dataclass(frozen=True)
class StartView:
    """A start mark in still wind, and today's where the wind is known. `shoe` is '' for the only one."""

    shoe: str
    still: str
    still_said: str
    today: str
    today_said: str


@dataclass(frozen=True)
class CompetitionPage:
    key: str
    event: str
    times: tuple[TimeRow, ...]
    times_said: str
    starts: tuple[StartView, ...]  # one for each shoe; () without a run-up
    wind: tuple[tuple[WindRowView, ...], ...]  # a row for each wind, in it a cell for each shoe
    notes: int  # lines to write on where no wind table stands
    row_word: str
    columns: tuple[str, ...]
    rows: int
    warm_up: tuple[str, ...]
    foot: str


@dataclass(frozen=True)
class CompetitionView:
    title: str
    name: str
    meeting: str
    day: str
    importance: str
    cues: tuple[str, ...]
    cue_lines: int
    care: tuple[str, ...]
    caution: tuple[str, ...]
    pages: tuple[CompetitionPage, ...]
    revision: RevisionView
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
