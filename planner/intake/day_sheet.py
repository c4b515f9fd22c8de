"""The sheet of a day: what was planned, with room for what was done; written blank, read back filled in.

Any table with these columns will do, so the plan's own export with a column 'done' added is one as well. A
row says of one unit of one athlete what came of it; empty cells mean 'as planned'.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any, get_args

from planner.domain.facts import Done, Remark
from planner.domain.finding import Line
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import Unit, counted
from planner.intake import values
from planner.intake.blank import put_new, refuse_if_there
from planner.intake.complaints import Reporter, quoted
from planner.intake.loose_table import LooseRow, LooseTable, read_loose
from planner.intake.opening_files import WORKBOOK_ENDINGS, refuse
from planner.intake.spelling import find, squeezed, suggestion
from planner.review.cells import escape_cell

NEEDED = ("athlete", "date", "slot", "unit")
TELLING = ("done", "remark")  # at least one of them, or nothing can be said but 'as planned'
MORE = ("effort", "minutes", "felt", "note")
BLANK = (*NEEDED, "planned", "done", "remark", "effort", "felt", "note")
SIDE = ("planned", "amount", "order", "place", "coach", "group")  # of the plan; read past
COLUMNS = (*NEEDED, *TELLING, *MORE, *SIDE)
REMARKS: tuple[Remark, ...] = get_args(Remark)
SHEET_ENDINGS = (".csv", *WORKBOOK_ENDINGS)


@dataclass(frozen=True)
class Filled:
    """What a filled-in sheet says, each fact with its place, and everything that is wrong with it."""

    facts: tuple[tuple[Line, Done], ...]
    wrong: tuple[str, ...]


# --- writing -----------------------------------------------------------------------------------------------


def write_day_sheet(path: Path, placements: Sequence[Placement], problem: Problem) -> Path:
    """Write the blank sheet of these placements as CSV or workbook; never over a file that is there.

    Raises BadFile for another ending or a file of that name, OSError when it cannot be written.
    """
    if path.suffix.casefold() not in SHEET_ENDINGS:
        needed = f"a name that ends in {' or '.join(SHEET_ENDINGS)}"
        raise refuse(path, f"a name that ends in '{path.suffix}'", needed, "name it day.csv")
    refuse_if_there(path)
    rows = [_blank_row(p, problem) for p in sorted(placements, key=lambda p: p.key)]
    if path.suffix.casefold() in WORKBOOK_ENDINGS:
        put_new(path, _workbook(rows))
    else:
        written = io.StringIO()
        writer = csv.writer(written, lineterminator="\n")
        writer.writerow(BLANK)
        writer.writerows([[escape_cell(_as_text(c)) for c in row] for row in rows])
        put_new(path, written.getvalue().encode("utf-8"))
    return path


def _blank_row(p: Placement, problem: Problem) -> list[str | date]:
    named = _names_of(problem.units)
    unit = p.unit.name if named.get(squeezed(p.unit.name)) == p.unit else p.unit.id
    lighter = ", lighter" if p.dose.word == "lighter" else ""
    planned = f"{counted(p.dose.amount, p.dose.measure)}{lighter}"
    if p.name != p.unit.name:
        planned = f"{planned}: {p.name[:1].lower()}{p.name[1:]}"
    return [p.athlete, p.day, p.slot, unit, planned, "", "", "", "", ""]


def _as_text(cell: str | date) -> str:
    return cell.isoformat() if isinstance(cell, date) else cell


def _workbook(rows: Sequence[Sequence[str | date]]) -> bytes:
    import openpyxl
    from openpyxl.styles import Font
    from openpyxl.worksheet.datavalidation import DataValidation

    from planner.intake.workbook_writer import FORMATS, without_dates

    book: Any = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "day"
    sheet.freeze_panes = "A2"
    for i, column in enumerate(BLANK, 1):
        sheet.cell(1, i, column).font = Font(bold=True)
        sheet.column_dimensions[chr(64 + i)].width = max([11, *(len(_as_text(r[i - 1])) + 2 for r in rows)])
        for j, row in enumerate(rows, 2):
            cell = sheet.cell(j, i, row[i - 1] or None)
            if isinstance(row[i - 1], date):
                cell.number_format = FORMATS["date"]
            elif row[i - 1]:
                cell.data_type = "s"  # never a formula, whatever the text begins with
    choices = DataValidation(type="list", formula1=f'"{",".join(REMARKS)}"', allow_blank=True)
    letter = chr(65 + BLANK.index("remark"))
    choices.add(f"{letter}2:{letter}{len(rows) + 1}")
    sheet.add_data_validation(choices)
    stream = io.BytesIO()
    book.save(stream)
    return without_dates(stream.getvalue())


# --- reading -----------------------------------------------------------------------------------------------


def read_day_sheet(
    path: Path, placements: Sequence[Placement], problem: Problem, now: datetime, on: date | None = None
) -> Filled:
    """What a filled-in sheet says of these placements, recorded at `now`; with `on`, only that day may stand.

    Raises BadFile when the file cannot be read as a table at all or its header does not fit; everything else
    that is wrong comes back beside the facts that are right.
    """
    report = Reporter()
    table = read_loose(path, report)
    names = _header(table, report)
    report.stop_if_bad()
    reader = _Reader(_Asked(problem, now, on), placements, names, report)
    found = [(row, made) for row in table.rows if (made := reader.fact(row)) is not None]
    if not table.rows:
        report.error(table.head, "no filled row", "a row for each unit that was planned", "the sheet is blank")
    return Filled(
        tuple((row.line, made) for row, made in found),
        tuple(str(c) for c in report.complaints if not c.warning),
    )


def _header(table: LooseTable, report: Reporter) -> dict[str, str]:
    """Our column -> the column as the file names it; complaints for unknown and missing ones."""
    found: dict[str, str] = {}
    for written in table.columns:
        column = find(written, COLUMNS)
        if column is None:
            report.error(
                table.head, f"the unknown column {quoted(written)}", "a column of " + ", ".join(COLUMNS),
                suggestion(written, COLUMNS, else_say="leave it out"),
            )  # fmt: skip
        else:
            found[column] = written
    missing = [c for c in NEEDED if c not in found]
    if missing:
        report.error(
            table.head, f"no column {', '.join(missing)}", "the columns " + ", ".join(NEEDED),
            "begin with the sheet that 'planner day FILE --blank day.csv' writes",
        )  # fmt: skip
    if not any(c in found for c in TELLING):
        report.error(
            table.head, "neither a column 'done' nor 'remark'", "at least one of them",
            "add a column 'done' to the plan's table",
        )  # fmt: skip
    return found


def _names_of(units: Mapping[str, Unit]) -> dict[str, Unit]:
    """Units by name and by id, as they are compared; an id goes before a name."""
    by_name = {squeezed(u.name): u for _, u in sorted(units.items())}
    return {**by_name, **{squeezed(u.id): u for _, u in sorted(units.items())}}


@dataclass(frozen=True)
class _Asked:
    """For which block, at which moment, and for which day alone (None: any)."""

    problem: Problem
    now: datetime
    on: date | None


class _Reader:
    """Reads row after row; what is wrong with one goes to the report."""

    def __init__(
        self, asked: _Asked, placements: Sequence[Placement], names: Mapping[str, str], report: Reporter
    ) -> None:
        self.problem, self.now, self.on = asked.problem, asked.now, asked.on
        self.names, self.report = names, report
        self.units = _names_of(self.problem.units)
        self.slots = tuple(dict.fromkeys(s.name for s in self.problem.block.slots))
        self.planned = {p.key[:4]: p for p in placements}
        self.seen: dict[tuple[object, ...], Line] = {}

    def fact(self, row: LooseRow) -> Done | None:
        """The fact of one row, None after a complaint about every cell of it that is wrong."""
        before = len(self.report.complaints)
        empty = [c for c in NEEDED if self.names[c] not in row.cells]
        if empty:
            self._wrong(
                row, empty[0], f"a half-filled row: no {', '.join(empty)}", "all of " + ", ".join(NEEDED),
                "fill it in, or empty the whole row",
            )  # fmt: skip
        athlete = self._word(row, "athlete", self.problem.athletes, "an athlete of the block")
        day = self._day(row)
        slot = self._word(row, "slot", self.slots, "a slot of the block")
        unit = self._unit(row)
        told = self._told(row)
        if len(self.report.complaints) > before or None in (athlete, day, slot, unit):
            return None
        assert athlete and day and slot and unit
        p = self._placed(row, (athlete, day, slot, unit.id))
        if p is None:
            return None
        return Done(
            recorded_at=self.now, athlete=athlete, day=day, slot=slot, unit=unit.id, word=p.dose.word, **told
        )

    def _placed(self, row: LooseRow, key: tuple[str, date, str, str]) -> Placement | None:
        p = self.planned.get(key)
        first = self.seen.setdefault(key, row.line)
        if p is None:
            there = [q.unit.name for k, q in self.planned.items() if k[:3] == key[:3]]
            self._wrong(
                row, "unit", f"{quoted(row.cells[self.names['unit']])}, which was not planned there",
                f"a unit of that session ({', '.join(there) or 'there is none'})",
                "record it with 'planner log FILE load-elsewhere'",
            )  # fmt: skip
        elif first != row.line:
            found = f"the same unit a second time (first: {first})"
            self._wrong(row, "unit", found, "one row for a unit", "delete one of the two")
            return None
        return p

    # --- cells ---------------------------------------------------------------------------------------

    def _wrong(self, row: LooseRow, column: str, found: str, needed: str, maybe: str = "") -> None:
        self.report.error(row.at(self.names.get(column, "")), found, needed, maybe)

    def _text(self, row: LooseRow, column: str) -> str:
        cell = row.cells.get(self.names.get(column, ""))
        return "" if cell is None else values.text_of(cell)

    def _word(self, row: LooseRow, column: str, known: Sequence[str], needed: str) -> str | None:
        text = self._text(row, column)
        found = text if text in known else find(text, known)
        if text and found is None:
            self._wrong(row, column, quoted(text), needed, suggestion(text, known))
        return found

    def _day(self, row: LooseRow) -> date | None:
        cell = row.cells.get(self.names["date"])
        if cell is None:
            return None
        try:
            day = values.day(cell, workbook=False)
        except values.Misfit as misfit:
            self._wrong(row, "date", quoted(self._text(row, "date")), misfit.needed, misfit.maybe)
            return None
        if self.on is not None and day != self.on:
            needed = f"the day asked for, {self.on}"
            self._wrong(row, "date", str(day), needed, "leave the date out of the command")
        elif not self.problem.block.begins <= day <= self.problem.block.ends:
            stretch = f"{self.problem.block.begins} to {self.problem.block.ends}"
            self._wrong(row, "date", str(day), f"a day of the block, {stretch}", "a digit is wrong")
        return day

    def _unit(self, row: LooseRow) -> Unit | None:
        text = self._text(row, "unit")
        unit = self.units.get(squeezed(text))
        if text and unit is None:
            known = [u.name for u in self.problem.units.values() if not u.preparation]
            self._wrong(row, "unit", quoted(text), "a unit of the catalogue or the block", suggestion(text, known))
        return unit

    def _told(self, row: LooseRow) -> dict[str, Any]:
        """What a row says beyond who, when and what: amount, remark, effort, minutes, felt, note."""
        told: dict[str, Any] = {}
        for column in (*TELLING, "effort", "minutes", "felt", "note"):
            text = self._text(row, column)
            if not text:
                continue
            try:
                said = self._said(column, text)
            except values.Misfit as misfit:
                self._wrong(row, column, quoted(text), misfit.needed, misfit.maybe)
                continue
            if "remark" in said and told.get("remark", said["remark"]) != said["remark"]:
                both = f"'{said['remark']}' beside '{told['remark']}'"
                self._wrong(row, column, both, "one of the two", "empty a cell")
            told.update(said)
        return told

    def _said(self, column: str, text: str) -> dict[str, Any]:
        if column == "remark":
            return {"remark": values.choice(text, REMARKS, "one of " + ", ".join(REMARKS))}
        if column in ("felt", "note"):
            return {column: values.own_words(text)}
        if column == "effort":
            return {"effort": values.whole(text, 0, 10, "effort")}
        if column == "minutes":
            return {"minutes": values.whole(text, 0, 600, "minutes", unit="min")}
        if (word := find(text, REMARKS)) is not None:
            return {"remark": word}
        amount = re.fullmatch(r"(\d{1,6})(?:\s*(?:of|/)\s*\d{1,6})?(?:\s+[^\W\d].*)?", text)
        if amount is None:
            needed = "how much was done, such as 4 or '4 of 6', or missed"
            raise values.Misfit(needed, "leave it empty: as planned")
        return {"amount": int(amount[1])}
