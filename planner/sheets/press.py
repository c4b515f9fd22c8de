"""Prints the sheets: views to HTML to PDF, each file whole or not at all, every fault reported."""

from __future__ import annotations

import contextlib
import hashlib
import os
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.revision import Revision
from planner.sheets.assets import assets
from planner.sheets.build_athlete import athlete_view
from planner.sheets.build_board import board_view
from planner.sheets.engine import Engine, Missing, Printed, opened
from planner.sheets.filenames import file_stems
from planner.sheets.fonts import uncovered
from planner.sheets.pages import Pages
from planner.sheets.paper import BOARDS, PAGE_FOR, PAGES
from planner.sheets.report import NotWritten, Overflow, PrintReport
from planner.sheets.view_athlete import AthleteView
from planner.sheets.view_board import BoardView

BOARD = "squad board"
OWN_BOARD = "squad board, coach's own copy"
View = TypeVar("View", AthleteView, BoardView)


def print_sheets(
    outcome: Outcome,
    problem: Problem,
    revision: Revision,
    folder: Path,
    *,
    paper: str = "A4",
    names: tuple[str, ...] = (),
    draft: bool = True,
    page_revisions: Mapping[str, Revision] | None = None,
    remarks: tuple[str, ...] = (),
) -> PrintReport:
    """Write the squad board (wall and coach's own copy) and one document per athlete, as HTML and PDF.

    `paper` is A4, Letter or A3 (boards on A3, athlete pages on A4). `names` picks athletes or
    'squad board'; empty means all. `page_revisions` gives, by athlete or 'squad board', the revision at
    which that sheet's content last changed (default `revision`), so an untouched sheet stays the same
    bytes. `remarks` are 'cannot be had, because' lines for the coach's own copy. Nothing is raised for a
    missing library, a full disk or text that does not fit: the report says it and `complete` is False.
    """
    run = _Run(folder)
    if paper not in BOARDS:
        run.fail("sheets", f"paper '{paper}' is not known; needed is one of {', '.join(sorted(BOARDS))}.")
        return run.report()
    known = (BOARD, *problem.athletes)
    for name in names:
        if name not in known:
            run.fail(name, f"there is no sheet of this name. Maybe one of: {', '.join(known)}.")
    wanted = [n for n in known if not names or n in names]
    if not wanted or not run.ready():
        return run.report()
    pages = Pages(assets())
    with opened(pages.folder, pages.addresses) as engine:
        if isinstance(engine, Missing):
            run.fail("PDF sheets", engine.reason)
        stems = file_stems(problem.athletes)
        changed = page_revisions or {}
        for name in wanted:
            at = changed.get(name, revision)
            if name == BOARD:
                for title, own in ((BOARD, None), (OWN_BOARD, remarks)):
                    board = board_view(outcome, problem, at, BOARDS[paper], draft, own)
                    stem = f"{title.replace(',', '').replace(chr(39), '').replace(' ', '-')}-{paper}"
                    run.sheet(title, stem, board, lambda v: pages.board(v, BOARDS[paper]), engine, pages)
            else:
                size = PAGE_FOR[paper]
                view = athlete_view(problem.block.athlete(name), outcome, problem, at, draft)
                stem = f"athlete-{stems[name]}-{size}"
                run.sheet(name, stem, view, lambda v, s=size: pages.athlete(v, PAGES[s]), engine, pages)  # type: ignore[misc]
    return run.report()


@dataclass
class _Run:
    """What has been written so far, and what went wrong."""

    folder: Path
    written: list[Path] = field(default_factory=list)
    failed: list[NotWritten] = field(default_factory=list)
    overflow: list[Overflow] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def report(self) -> PrintReport:
        return PrintReport(tuple(self.written), tuple(self.failed), tuple(self.overflow), tuple(self.warnings))

    def fail(self, sheet: str, reason: str, path: Path | None = None) -> None:
        self.failed.append(NotWritten(sheet, reason, path))

    def ready(self) -> bool:
        """Makes the folder; False, reported, when it cannot be made."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            self.fail("sheets", f"the folder cannot be made ({error.strerror or error}).", self.folder)
            return False
        return True

    def sheet(
        self, name: str, stem: str, view: View, html: Callable[[View], str], engine: Engine | Missing, pages: Pages
    ) -> None:
        """One sheet as HTML and, with the engine there, as PDF."""
        text = html(view)
        if isinstance(engine, Engine):
            text, printed = _fitted(name, view, html, text, engine)
            self.overflow += [Overflow(name, s.page, s.cell, s.text, s.beyond_mm) for s in printed.spills]
            self.warnings += [f"{name}: {reason}, and was left out." for reason in printed.refused]
            self.warnings += _missing_signs(name, view, pages.folder / "fonts")
            self.write(name, self.folder / f"{stem}.pdf", printed.pdf)
        self.write(name, self.folder / f"{stem}.html", text.encode("utf-8"))

    def write(self, sheet: str, path: Path, content: bytes) -> None:
        """The whole file or none of it."""
        scratch = ""
        try:
            handle, scratch = tempfile.mkstemp(dir=self.folder, prefix=".planner-", suffix=path.suffix)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(scratch).chmod(0o644)
            os.replace(scratch, path)
        except OSError as error:
            with contextlib.suppress(OSError):
                Path(scratch).unlink()
            self.fail(sheet, f"could not be written ({error.strerror or error}). Maybe free some space.", path)
            return
        self.written.append(path)


def _fitted(
    name: str, view: View, html: Callable[[View], str], text: str, engine: Engine
) -> tuple[str, Printed]:
    """Shorten by rule when that saves a sheet; mark the sheet when something still does not fit."""
    printed = engine.print(text, _identifier(text))
    if isinstance(view, AthleteView) and printed.pages > len(view.weeks):
        lean = replace(view, weeks=tuple(replace(w, note_lines=0) for w in view.weeks))
        lean_text = html(lean)  # type: ignore[arg-type]  # a lean athlete view is an athlete view
        lean_print = engine.print(lean_text, _identifier(lean_text))
        if lean_print.pages < printed.pages:
            view, text, printed = lean, lean_text, lean_print  # type: ignore[assignment]
    if printed.spills:
        cells = tuple(dict.fromkeys(s.cell for s in printed.spills))
        text = html(replace(view, unfit=cells))
        marked = engine.print(text, _identifier(text))
        printed = replace(marked, spills=printed.spills)
    return text, printed


def _identifier(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32].encode("ascii")


def _missing_signs(name: str, view: AthleteView | BoardView, fonts: Path) -> list[str]:
    """A warning when a sign of the sheet's words would print as an empty box."""
    signs = uncovered(repr_words(view), fonts)
    if not signs:
        return []
    shown = ", ".join(f"'{c}' (U+{ord(c):04X})" for c in signs[:6])
    return [
        f"{name}: no font on this machine has {shown}; it prints as an empty box. "
        "Maybe install a font for that script, such as one of the Noto family."
    ]


def repr_words(view: object) -> str:
    """All words of a view, run together."""
    if isinstance(view, str):
        return view
    if isinstance(view, tuple):
        return " ".join(repr_words(v) for v in view)
    if hasattr(view, "__dataclass_fields__"):
        return " ".join(repr_words(getattr(view, f)) for f in view.__dataclass_fields__)
    return ""
