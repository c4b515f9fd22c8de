"""From a view to HTML and PDF, in this process or in two: shorten by rule, then mark what does not fit.

Drawing is most of the time that printing takes. Workers are started afresh (no state of the caller goes
with them) and the results come back in the order of the sheets, so the bytes are the same either way.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path

from planner.sheets.assets import assets
from planner.sheets.engine import Engine, Laid, Missing, collected_once_a_sheet, opened
from planner.sheets.fonts import uncovered
from planner.sheets.overflow import Spill
from planner.sheets.pages import Pages, View
from planner.sheets.paper import Paper
from planner.sheets.view_athlete import AthleteView
from planner.sheets.view_measuring import MeasuringView
from planner.sheets.workers import Worker

MANY = 4  # more sheets than this are worth a second process, which takes about a second to start
SIGNS_NAMED = 6


@dataclass(frozen=True)
class Sheet:
    """One document to print, an athlete's or the squad's, with the stem of its files."""

    name: str
    stem: str
    paper: Paper
    view: View


@dataclass(frozen=True)
class Drawn:
    """A sheet as HTML and PDF (b'' when the engine is missing, and why), with what to tell the coach."""

    html: str
    pdf: bytes = b""
    pages: int = 0
    spills: tuple[Spill, ...] = ()
    warnings: tuple[str, ...] = ()
    missing: str = ""


def draw_all(
    sheets: Sequence[Sheet], processes: int | None = None, stop: Callable[[], bool] | None = None
) -> list[Drawn | None]:
    """Every sheet drawn, in order; None for those left when `stop` says so, which is asked between sheets.

    `processes` None takes two when there is work and a core for both. A process that cannot be had, or is
    killed from outside, changes no byte: its sheets are drawn here.
    """
    if processes is None:
        processes = 2 if len(sheets) > MANY and (os.cpu_count() or 1) > 1 else 1
    halt = stop or _never
    # the heaviest go first, dealt out in turn; each hand is one visit, so fonts are opened once a worker
    order = sorted(range(len(sheets)), key=lambda i: -len(repr(sheets[i].view)))
    hands = [order[k::processes] for k in range(min(processes, len(sheets)))] if processes > 1 else [order]
    found: dict[int, Drawn] = {}
    workers = list(_started([[sheets[i] for i in hand] for hand in hands[1:]]))
    try:
        found.update(zip(hands[0], draw([sheets[i] for i in hands[0]], halt), strict=False))
        for hand, worker in zip(hands[1:], workers, strict=False):
            found.update(zip(hand, worker.result(halt) or (), strict=False))
    finally:
        for worker in workers:
            worker.end()
    left = [i for i in range(len(sheets)) if i not in found]
    if left and not halt():
        found.update(zip(left, draw([sheets[i] for i in left], halt), strict=False))
    return [found.get(i) for i in range(len(sheets))]


def _never() -> bool:
    return False


def _started(hands: Sequence[Sequence[Sheet]]) -> Iterator[Worker[Sheet, Drawn]]:
    """A worker for each hand, as far as this machine has processes left."""
    for hand in hands:
        try:
            yield Worker(draw, hand)
        except OSError:
            return


def draw(sheets: Sequence[Sheet], stop: Callable[[], bool] = _never) -> list[Drawn]:
    """Sheets drawn here, with templates and fonts opened once; fewer when `stop` says so between two."""
    found: list[Drawn] = []
    if not sheets or stop():
        return found
    pages = Pages(assets())
    with opened(pages.folder, pages.addresses) as engine, collected_once_a_sheet() as collect:
        for sheet in sheets:
            if stop():
                break
            if found:
                collect()
            found.append(_draw(sheet, pages, engine))
    return found


def _draw(sheet: Sheet, pages: Pages, engine: Engine | Missing) -> Drawn:
    text = pages.html(sheet.view, sheet.paper)
    if isinstance(engine, Missing):
        return Drawn(text, missing=engine.reason)
    text, laid, spilt = _fitted(sheet, text, pages, engine)
    warnings = [f"{reason}, and was left out." for reason in laid.refused]
    warnings += _missing_signs(sheet.view, pages.folder / "fonts")
    return Drawn(text, engine.pdf(laid, _identifier(text)), laid.pages, spilt, tuple(warnings))


def _fitted(sheet: Sheet, text: str, pages: Pages, engine: Engine) -> tuple[str, Laid, tuple[Spill, ...]]:
    """Shorten by rule when that saves a page; mark the sheet when something still does not fit."""
    view = sheet.view
    laid = engine.lay_out(text)
    if _may_save_a_page(view, laid) and isinstance(view, AthleteView | MeasuringView):
        short = pages.html(view.shortened(), sheet.paper)
        tried = engine.lay_out(short)
        if tried.pages < laid.pages:
            view, text, laid = view.shortened(), short, tried
    spilt = laid.spills
    if spilt:
        marked = replace(view, unfit=tuple(dict.fromkeys(s.cell for s in spilt)))
        text = pages.html(marked, sheet.paper)
        laid = engine.lay_out(text)
    return text, laid, spilt


def _may_save_a_page(view: View, laid: Laid) -> bool:
    """Laying out a second time takes as long as the first: not where shortening cannot save a page.

    An athlete's lines for notes end a week: leaving them out saves a page that holds nothing else, and no other.
    """
    if isinstance(view, AthleteView):
        return laid.spare and laid.pages > len(view.weeks)
    return isinstance(view, MeasuringView) and laid.pages > 1 and view.shortened() != view


def _identifier(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32].encode("ascii")


def _missing_signs(view: object, fonts: Path) -> list[str]:
    """A warning when a sign of the sheet's words would print as an empty box."""
    signs = uncovered(words_of(view), fonts)
    if not signs:
        return []
    shown = ", ".join(f"'{c}' (U+{ord(c):04X})" for c in signs[:SIGNS_NAMED])
    return [
        f"no font on this machine has {shown}; it prints as an empty box. "
        "Maybe install a font for that script, such as one of the Noto family."
    ]


def words_of(view: object) -> str:
    """All words of a view, run together."""
    if isinstance(view, str):
        return view
    if isinstance(view, tuple):
        return " ".join(words_of(v) for v in view)
    if is_dataclass(view):
        return " ".join(words_of(getattr(view, f.name)) for f in fields(view))
    return ""
