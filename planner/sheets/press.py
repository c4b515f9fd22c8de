"""Prints the sheets: every view drawn, each file written whole or not at all, every fault reported."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.revision import Revision
from planner.numbers import TrainBy, train_by
from planner.numbers.look_back import LookBack
from planner.review.changes import Change
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.build_board import board_view
from planner.sheets.build_look_back import own_view, squad_view
from planner.sheets.build_notice import notice_view
from planner.sheets.drawing import Drawn, Sheet, draw_all, unchanged
from planner.sheets.filenames import file_stems
from planner.sheets.paper import BOARDS, PAGE_FOR, PAGES
from planner.sheets.report import NotWritten, Overflow, PrintReport
from planner.sheets.selection import BOARD, select
from planner.sheets.singles import Beside, Source, single_sheets

OWN_BOARD = "squad board, coach's own copy"
BOARD_STEM = "squad-board"
ENGINE = "PDF sheets"  # what is named when none of them can be drawn
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
    processes: int | None = None,
    stop: Callable[[], bool] | None = None,
    beside: Beside | None = None,
    by: TrainBy | None = None,
    fresh: bool = False,
) -> PrintReport:
    """Write the squad board (wall and coach's own copy) and one document per athlete, as HTML and PDF.

    `paper` is A4, Letter or A3 (boards on A3, all others on A4). `names` picks athletes, 'squad board' ('board'
    will do) or single sheets by kind, athlete, day and slot; empty means all. Single sheets need `beside`.
    `page_revisions` gives, by athlete or 'squad board',
    the revision at which that sheet's content last changed (default `revision`), so an untouched sheet
    stays the same bytes. `remarks` are 'cannot be had, because' lines for the coach's own copy.
    `by` holds the numbers to train by (default: from the plan and the marks alone).
    `processes` (default: two for many sheets on two cores or more) changes no byte. Nothing is raised for
    a missing library, a full disk or text that does not fit: the report says it and `complete` is False.
    So it does for the sheets that were not drawn when `stop`, asked between two sheets, said so.
    What stands in the folder just as it would be written again is left alone, unless `fresh`.
    """
    run = _Run(folder)
    if paper not in BOARDS:
        run.fail("sheets", f"paper '{paper}' is not known; needed is one of {', '.join(sorted(BOARDS))}.")
        return run.report()
    asked = select(names, problem, *((beside.whole_set, beside.today) if beside else ((),)))
    for name, why in asked.wrong:
        run.fail(name, why)
    wanted = list(asked.pages)
    for name in [n for n in wanted if n != BOARD and not problem.weeks.get(n)]:
        run.fail(name, "there is no week of this athlete in the block.")
        wanted.remove(name)
    if not (wanted or asked.kinds) or not run.ready():
        return run.report()
    stems = file_stems(problem.athletes)
    by = by or train_by(outcome.plan, problem)
    sheets: list[Sheet] = []
    for name in wanted:
        said = revision_view((page_revisions or {}).get(name, revision), draft)
        if name == BOARD:
            for own, title, stem in ((None, BOARD, BOARD_STEM), (remarks, OWN_BOARD, OWN_STEM)):
                board = board_view(outcome, problem, said, BOARDS[paper], own)
                sheets.append(Sheet(title, f"{stem}-{paper}", BOARDS[paper], board))
        else:
            page = PAGES[PAGE_FOR[paper]]
            view = athlete_view(problem.block.athlete(name), outcome, problem, said, by)
            sheets.append(Sheet(name, f"athlete-{stems[name]}-{page.name}", page, view))
    if beside:
        last = {name: revision_view(r, draft) for name, r in (page_revisions or {}).items()}
        source = Source(outcome, by.problem, by.lines, revision_view(revision, draft), last)
        for found in single_sheets(asked, source, beside, paper):
            sheets += [found] if isinstance(found, Sheet) else []
            run.failed += [found] if isinstance(found, NotWritten) else []
    run.print(sheets, fresh=fresh, processes=processes, stop=stop)
    return run.report()


def print_notice(  # noqa: PLR0913  # what changed, for whom, and where it goes
    changes: Sequence[Change],
    unchanged: Sequence[str],
    reasons: Sequence[str],
    problem: Problem,
    revision: Revision,
    folder: Path,
    *,
    paper: str = "A4",
) -> PrintReport:
    """Write the change notice of a re-plan, as HTML and PDF; reports as `print_sheets` does."""
    run = _Run(folder)
    if run.ready():
        page = PAGES[PAGE_FOR.get(paper, "A4")]
        said = revision_view(revision, revision.status == "draft")
        view = notice_view(changes, unchanged, reasons, problem, said)
        sheet = Sheet("change notice", f"change-notice-{revision.number}-{page.name}", page, view)
        run.print([sheet])
    return run.report()


def print_look_back(  # what is looked back on, for whom, and where it goes
    found: LookBack,
    problem: Problem,
    day: date,
    folder: Path,
    *,
    paper: str = "A4",
    names: tuple[str, ...] = (),
) -> PrintReport:
    """Write the look back: a page for each athlete (or those named) and, when nobody is named, the squad's."""
    run = _Run(folder)
    for name in names:
        if name not in problem.athletes:
            run.fail(name, f"there is no athlete of this name. Maybe one of: {', '.join(problem.athletes)}.")
    if not run.ready():
        return run.report()
    page = PAGES[PAGE_FOR.get(paper, "A4")]
    stems = file_stems(problem.athletes)
    when = f"{found.first}-to-{found.last}-{page.name}"
    sheets = [
        Sheet(f"look back, {own.athlete}", f"look-back-{stems[own.athlete]}-{when}", page,
              own_view(own, found, problem.block, day))
        for own in found.own if not names or own.athlete in names
    ]  # fmt: skip
    if not names:
        view = squad_view(found, problem.block, day)
        sheets.append(Sheet("look back, the squad", f"look-back-squad-{when}", page, view))
    run.print(sheets)
    return run.report()


@dataclass
class _Run:
    """What has been written so far, and what went wrong."""

    folder: Path
    written: list[Path] = field(default_factory=list)
    failed: list[NotWritten] = field(default_factory=list)
    overflow: list[Overflow] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    unchanged: list[Path] = field(default_factory=list)

    def report(self) -> PrintReport:
        return PrintReport(
            tuple(self.written), tuple(self.failed), tuple(self.overflow), tuple(self.warnings),
            tuple(self.unchanged),
        )  # fmt: skip

    def print(
        self,
        sheets: Sequence[Sheet],
        *,
        fresh: bool = False,
        processes: int | None = None,
        stop: Callable[[], bool] | None = None,
    ) -> None:
        """Draw what is not there already, write each sheet as soon as it is drawn, report them in their order."""
        there = frozenset() if fresh else unchanged(sheets, self.folder)
        self.unchanged += [self.folder / f"{sheets[i].stem}.{e}" for i in sorted(there) for e in ("pdf", "html")]
        todo = [sheet for i, sheet in enumerate(sheets) if i not in there]
        kept: dict[int, _Run] = {}
        with closing(draw_all(todo, processes, stop)) as drawing:
            for number, drawn in drawing:
                kept[number] = _Run(self.folder)
                kept[number].keep(todo[number], drawn)
        for number, sheet in enumerate(todo):
            if number in kept:
                self.take(kept[number])
            else:
                self.fail(sheet.name, "interrupted before it was drawn. Maybe print it with 'planner print'.")

    def take(self, other: _Run) -> None:
        """What another run came to; the same failure of the PDF engine is said once."""
        self.written += other.written
        self.failed += [f for f in other.failed if f.sheet != ENGINE or f not in self.failed]
        self.overflow += other.overflow
        self.warnings += other.warnings

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

    def keep(self, sheet: Sheet, drawn: Drawn) -> None:
        """Write one sheet as HTML and, when it was drawn, as PDF; say what went wrong with it."""
        if drawn.missing:
            self.fail(ENGINE, drawn.missing)
        self.overflow += [Overflow(sheet.name, s.page, s.cell, s.text, s.beyond_mm) for s in drawn.spills]
        self.warnings += [f"{sheet.name}: {warning}" for warning in drawn.warnings]
        if drawn.pdf:
            self.write(sheet.name, self.folder / f"{sheet.stem}.pdf", drawn.pdf)
        self.write(sheet.name, self.folder / f"{sheet.stem}.html", drawn.html.encode("utf-8"))

    def write(self, sheet: str, path: Path, content: bytes) -> None:
        """The whole file or none of it."""
        scratch: Path | None = None
        try:
            handle, name = tempfile.mkstemp(dir=self.folder, prefix=".planner-", suffix=path.suffix)
            scratch = Path(name)
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            scratch.chmod(0o644)
            os.replace(scratch, path)
        except OSError as error:
            self.fail(sheet, f"could not be written ({error.strerror or error}). Maybe free some space.", path)
            return
        finally:
            if scratch is not None:
                with contextlib.suppress(OSError):  # gone already when it took its place
                    scratch.unlink()
        self.written.append(path)
