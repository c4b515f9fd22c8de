"""The sheet for the parents of a young athlete as data: when, where, what to bring; nothing of the body."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class ParentsRow:
    """A session, or a competition (`what`) with `arrive`; `until` is when to fetch the child, '' when not known.

    `minutes` are those from `begins` to `until`, 0 for a competition.
    """

    day: str
    begins: str
    until: str
    where: str
    bring: str
    what: str = ""
    arrive: str = ""  # 'arrive 09:20', or whom to ask
    minutes: int = 0


@dataclass(frozen=True)
class ParentsWeek:
    title: str
    hours: str  # of the rows, and with other sport
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
