"""The sheet for the parents of a young athlete as data: when, where, what to bring; nothing of the body."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class ParentsRow:
    """A session, or a competition (`what`); `until` is when to come and fetch the child, '' when not known."""

    day: str
    begins: str
    until: str
    where: str
    bring: str
    what: str = ""


@dataclass(frozen=True)
class ParentsWeek:
    title: str
    hours: str  # of training here, and with other sport
    rows: tuple[ParentsRow, ...]


@dataclass(frozen=True)
class ParentsView:
    title: str
    name: str
    sub: str
    squad: str
    revision: RevisionView
    adults: str  # who is there
    contact: str
    weeks: tuple[ParentsWeek, ...]
    caution: tuple[str, ...]
    foot: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
