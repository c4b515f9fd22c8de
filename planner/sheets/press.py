"""Prints the sheets: views to HTML to PDF, each file whole or not at all, every fault reported."""

from __future__ import annotations

import contextlib
import hashlib
import os
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from pathlib import Path

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.revision import Revision
from planner.sheets.assets import assets
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.build_board import board_view
from planner.sheets.engine import Engine, Laid, Missing, opened
from planner.sheets.filenames import file_stems
from planner.sheets.fonts import uncovered
from planner.sheets.overflow import Spill
from planner.sheets.pages import Pages
from planner.sheets.paper import BOARDS, PAGE_FOR, PAGES
from planner.sheets.report import NotWritten, Overflow, PrintReport

BOARD = "squad board"
OWN_BOARD = "squad board, coach's own copy"
OWN_STEM = "squad-board-coachs-own-copy"


def print_sheets(  # noqa: PLR0913  # each is a choice of the coach; all but four have defaults
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
    for name in [n for n in wanted if n != BOARD and not problem.weeks.get(n)]:
        run.fail(name, "there is no week of this athlete in the block.")
        wanted.remove(name)
    if not wanted or not run.ready():
        return run.report()
    pages = Pages(assets())
    job = _Job(outcome, problem, draft, paper, remarks, pages)
    stems = file_stems(problem.athletes)
    with opened(pages.folder, pages.addresses) as engine:
        if isinstance(engine, Missing):
            run.fail("PDF sheets", engine.reason)
        for name in wanted:
            at = (page_revisions or {}).get(name, revision)
            sheets = job.boards(at) if name == BOARD else (job.athlete(name, stems[name], at),)
            for sheet in sheets:
                run.sheet(sheet, engine, pages.folder / "fonts")
    return run.report()


@dataclass(frozen=True)
class _Sheet:
    """One document to print. `html` takes 'shorten it' and the cells that do not fit."""

    name: str
    stem: str
    view: object
    least_pages: int | None  # None: shortening would not help
    html: Callable[[bool, tuple[str, ...]], str]


@dataclass(frozen=True)
class _Job:
    """What all documents of a run share."""

    outcome: Outcome
    problem: Problem
    draft: bool
    paper: str
    remarks: tuple[str, ...]
    pages: Pages

    def boards(self, at: Revision) -> tuple[_Sheet, ...]:
        """The wall's copy and the coach's own."""
        return (
            self._board(BOARD, "squad-board", at, None),
            self._board(OWN_BOARD, OWN_STEM, at, self.remarks),
        )

    def _board(self, name: str, stem: str, at: Revision, remarks: tuple[str, ...] | None) -> _Sheet:
        paper = BOARDS[self.paper]
        view = board_view(self.outcome, self.problem, revision_view(at, self.draft), paper, remarks)

        def html(shorten: bool, unfit: tuple[str, ...]) -> str:
            return self.pages.board(replace(view, unfit=unfit), paper)

        return _Sheet(name, f"{stem}-{self.paper}", view, None, html)

    def athlete(self, name: str, stem: str, at: Revision) -> _Sheet:
        """All weeks of one athlete."""
        paper = PAGES[PAGE_FOR[self.paper]]
        view = athlete_view(
            self.problem.block.athlete(name), self.outcome, self.problem, revision_view(at, self.draft)
        )

        def html(shorten: bool, unfit: tuple[str, ...]) -> str:
            return self.pages.athlete(replace(view.shortened() if shorten else view, unfit=unfit), paper)

        return _Sheet(name, f"athlete-{stem}-{paper.name}", view, len(view.weeks), html)


@dataclass
class _Run:
    """What has been written so far, and what went wrong."""

    folder: Path
    written: list[Path] = field(default_factory=list)
    failed: list[NotWritten] = field(default_factory=list)
    overflow: list[Overflow] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)

    def report(self) -> PrintReport:
        return PrintReport(
            tuple(self.written), tuple(self.failed), tuple(self.overflow), tuple(self.warnings)
        )

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

    def sheet(self, sheet: _Sheet, engine: Engine | Missing, fonts: Path) -> None:
        """One sheet as HTML and, with the engine there, as PDF."""
        text = sheet.html(False, ())
        if isinstance(engine, Engine):
            text, laid, spilt = _fitted(sheet, text, engine)
            self.overflow += [Overflow(sheet.name, s.page, s.cell, s.text, s.beyond_mm) for s in spilt]
            self.warnings += [f"{sheet.name}: {reason}, and was left out." for reason in laid.refused]
            self.warnings += _missing_signs(sheet, fonts)
            self.write(sheet.name, self.folder / f"{sheet.stem}.pdf", engine.pdf(laid, _identifier(text)))
        self.write(sheet.name, self.folder / f"{sheet.stem}.html", text.encode("utf-8"))

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
            self.fail(
                sheet, f"could not be written ({error.strerror or error}). Maybe free some space.", path
            )
            return
        self.written.append(path)


def _fitted(sheet: _Sheet, text: str, engine: Engine) -> tuple[str, Laid, tuple[Spill, ...]]:
    """Shorten by rule when that saves a page; mark the sheet when something still does not fit."""
    laid = engine.lay_out(text)
    shorten = False
    if sheet.least_pages is not None and laid.pages > sheet.least_pages:
        short = sheet.html(True, ())
        tried = engine.lay_out(short)
        if tried.pages < laid.pages:
            shorten, text, laid = True, short, tried
    spilt = laid.spills
    if spilt:
        text = sheet.html(shorten, tuple(dict.fromkeys(s.cell for s in spilt)))
        laid = engine.lay_out(text)
    return text, laid, spilt


def _identifier(text: str) -> bytes:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:32].encode("ascii")


def _missing_signs(sheet: _Sheet, fonts: Path) -> list[str]:
    """A warning when a sign of the sheet's words would print as an empty box."""
    signs = uncovered(words_of(sheet.view), fonts)
    if not signs:
        return []
    shown = ", ".join(f"'{c}' (U+{ord(c):04X})" for c in signs[:6])
    return [
        f"{sheet.name}: no font on this machine has {shown}; it prints as an empty box. "
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
