"""From a view to HTML and PDF, in this process or in two: shorten by rule, then mark what does not fit.

Drawing is most of the time that printing takes. Workers are started afresh (no state of the caller goes
with them), so the bytes are the same whoever draws a sheet. One that stands in the folder is not drawn again.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from pathlib import Path

from planner import __version__
from planner.sheets.assets import assets
from planner.sheets.engine import Engine, Laid, Missing, collected_once_a_sheet, engine_versions, opened
from planner.sheets.fonts import uncovered
from planner.sheets.overflow import Spill
from planner.sheets.pages import Pages, View
from planner.sheets.paper import Paper
from planner.sheets.stamp import content_sum, stamped, stands
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
    """A sheet as HTML and PDF (b'' when the engine is missing, and why), with what to tell the coach.

    The PDF of a sheet of which there is nothing to tell carries the sum of what it was made from.
    """

    html: str
    pdf: bytes = b""
    pages: int = 0
    spills: tuple[Spill, ...] = ()
    warnings: tuple[str, ...] = ()
    missing: str = ""


def draw_all(
    sheets: Sequence[Sheet], processes: int | None = None, stop: Callable[[], bool] | None = None
) -> Generator[tuple[int, Drawn], None, None]:
    """Every sheet drawn, with its number, as soon as it is; fewer when `stop`, asked between sheets, says so.

    `processes` None takes two when there is work and a core for both. A process that cannot be had, or is
    killed from outside, changes no byte: its sheets are drawn here.
    """
    if processes is None:
        processes = 2 if len(sheets) > MANY and (os.cpu_count() or 1) > 1 else 1
    halt = stop or _never
    own, *others = _dealt(sheets, processes)
    workers = list(_started(sheets, others))
    left = set(range(len(sheets)))
    try:
        for number, drawn in _as_they_come(sheets, own, workers, halt):
            left.discard(number)
            yield number, drawn
    finally:
        for _, worker in workers:
            worker.end()
    if left and not halt():
        again = sorted(left)
        yield from zip(again, draw([sheets[i] for i in again], halt), strict=False)


def _never() -> bool:
    return False


def _dealt(sheets: Sequence[Sheet], processes: int) -> list[list[int]]:
    """Numbers of sheets for each process: dealt out in turn from the heaviest, drawn from the lightest.

    Each hand is one visit, so templates and fonts are opened once a process, and the first sheet is there soon.
    """
    order = sorted(range(len(sheets)), key=lambda i: (-_weight(sheets[i].view), i))
    return [order[k::processes][::-1] for k in range(min(processes, len(sheets)))] or [[]]


def _weight(view: object) -> int:
    """About how much there is to lay out: the words of a view, counted."""
    if isinstance(view, tuple):
        return sum(map(_weight, view))
    return sum(_weight(v) for v in vars(view).values()) if is_dataclass(view) else 1


def _as_they_come(
    sheets: Sequence[Sheet],
    own: Sequence[int],
    workers: Sequence[tuple[Iterator[int], Worker[Sheet, Drawn]]],
    stop: Callable[[], bool],
) -> Iterator[tuple[int, Drawn]]:
    """The sheets drawn here, between two of them what workers have drawn meanwhile, then the rest of theirs."""
    for number, drawn in zip(own, draw([sheets[i] for i in own], stop), strict=False):
        yield number, drawn
        for numbers, worker in workers:
            yield from _numbered(numbers, worker.so_far())
    for numbers, worker in workers:
        yield from _numbered(numbers, worker.rest(stop))


def _numbered(numbers: Iterator[int], drawn: Iterator[Drawn]) -> Iterator[tuple[int, Drawn]]:
    for one in drawn:
        yield next(numbers), one


def _started(
    sheets: Sequence[Sheet], hands: Sequence[Sequence[int]]
) -> Iterator[tuple[Iterator[int], Worker[Sheet, Drawn]]]:
    """A worker for each hand, as far as this machine has processes left, with the numbers of its sheets."""
    for hand in hands:
        try:
            yield iter(hand), Worker(draw, [sheets[i] for i in hand])
        except OSError:
            return


def draw(sheets: Sequence[Sheet], stop: Callable[[], bool] = _never) -> Iterator[Drawn]:
    """Sheets drawn here, with templates and fonts opened once; fewer when `stop` says so between two."""
    if not sheets or stop():
        return
    pages = Pages(assets())
    with opened(pages.folder, pages.addresses) as engine, collected_once_a_sheet() as collect:
        for number, sheet in enumerate(sheets):
            if stop():
                return
            if number:
                collect()
            yield _draw(sheet, pages, engine)


def unchanged(sheets: Sequence[Sheet], folder: Path) -> frozenset[int]:
    """Numbers of the sheets whose files in the folder are whole and what drawing them would give again."""
    there = [i for i, sheet in enumerate(sheets) if (folder / f"{sheet.stem}.pdf").is_file()]
    if not there:
        return frozenset()
    pages, found = Pages(assets()), set()
    for i in there:
        sheet = sheets[i]
        content = content_sum(pages.html(sheet.view, sheet.paper), _made_with(pages))
        if stands(folder / f"{sheet.stem}.pdf", folder / f"{sheet.stem}.html", content):
            found.add(i)
    return frozenset(found)


def _made_with(pages: Pages) -> str:
    return f"{__version__} {engine_versions()} {pages.assets_sum}"


def _draw(sheet: Sheet, pages: Pages, engine: Engine | Missing) -> Drawn:
    text = first = pages.html(sheet.view, sheet.paper)
    if isinstance(engine, Missing):
        return Drawn(text, missing=engine.reason)
    text, laid, spilt = _fitted(sheet, text, pages, engine)
    warnings = [f"{reason}, and was left out." for reason in laid.refused]
    warnings += _missing_signs(sheet.view, pages.folder / "fonts")
    pdf = engine.pdf(laid, _identifier(text))
    if not spilt and not warnings:  # what must be told every time is drawn every time
        pdf = stamped(pdf, content_sum(first, _made_with(pages)), text.encode("utf-8"))
    return Drawn(text, pdf, laid.pages, spilt, tuple(warnings))


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
