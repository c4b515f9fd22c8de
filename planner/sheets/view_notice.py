"""The change notice as data: what moved, for whom, and who may leave the old page where it is."""

from __future__ import annotations

from dataclasses import dataclass

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class NoticeRow:
    """One change. `first` opens an athlete's rows; `was` is struck through on paper, `now` is bold."""

    athlete: str
    first: bool
    when: str
    was: str
    now: str


@dataclass(frozen=True)
class NoticeView:
    title: str
    sub: str
    squad: str
    revision: RevisionView
    reasons: tuple[str, ...]  # in words that may be shared: 'away', 'limited', 'venue closed'; never a cause
    rows: tuple[NoticeRow, ...]
    unchanged: str  # names; '' when nobody is left alone
    caution: str
    foot: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
