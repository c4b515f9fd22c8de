"""The look-back page as data: aims, planned beside done, marks, evidence, and room to write."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class BarView:
    """Planned and done side by side: an outlined bar and in it a filled one, in millimetres, and both in words."""

    what: str
    planned: str
    done: str
    planned_mm: float
    done_mm: float


@dataclass(frozen=True)
class MarkView:
    event: str
    before: str
    after: str


@dataclass(frozen=True)
class LookBackView:
    title: str
    sub: str
    squad: str
    looked: str  # 'looked back on Mon 22 Mar 2027'
    aims: tuple[str, ...]
    load_head: str
    weeks: tuple[BarView, ...]
    units_head: str
    units: tuple[BarView, ...]
    marks: tuple[MarkView, ...]
    said: tuple[str, ...]
    keep: tuple[str, ...]  # one written line each, with the words that open it
    caution: str
    foot: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()
