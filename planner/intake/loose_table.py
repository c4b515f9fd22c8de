"""One table that came from anywhere, CSV or workbook: a header row and rows of cells, each with its place."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

from planner.domain.finding import Line
from planner.intake.complaints import Reporter, quoted
from planner.intake.opening_files import WORKBOOK_ENDINGS, refuse
from planner.intake.raw import Cell
from planner.intake.spelling import squeezed
from planner.intake.workbook import SIDE_SHEETS, Sheet, blank, letters, sheets_of
from planner.review.cells import unescape_cell

MOST_BYTES = 5_000_000  # a season of one squad's days is a tenth of it
TABLE_ENDINGS = (".csv", ".txt", ".tsv")
SEPARATORS = (",", ";", "\t")

_At = Callable[[int, int], Line]  # (row, column from 1; 0 the row as a whole) -> where it stands


@dataclass(frozen=True)
class LooseRow:
    """One filled row: its cells by column as the header names it; empty cells are left out."""

    cells: Mapping[str, Cell]
    places: Mapping[str, Line]
    line: Line

    def at(self, column: str) -> Line:
        """Where a cell stands, with its column's name."""
        where = self.places.get(column, self.line)
        return Line(where.file, where.line, where.column, where.cell, column)


@dataclass(frozen=True)
class LooseTable:
    """`columns` as written, without empty ones; `head` is where the header stands."""

    columns: tuple[str, ...]
    rows: tuple[LooseRow, ...]
    head: Line
    typed: bool  # from a workbook, whose cells carry their own types


def read_loose(path: Path, report: Reporter) -> LooseTable:
    """The table of a CSV file (UTF-8; parted by ',', ';' or tabs) or the first sheet of a workbook.

    Raises BadFile when the file is neither; a doubled column or a cell without one goes to `report`.
    """
    data = _bytes(path)
    if path.suffix.casefold() in WORKBOOK_ENDINGS:
        sheets = [s for s in sheets_of(path, data) if not squeezed(s.name).startswith(SIDE_SHEETS)]
        if not sheets or not any(not blank(c) for row in sheets[0].rows for c in row):
            raise refuse(path, "an empty workbook", "a header row and filled rows", "another file is meant")
        return _from_sheet(path.name, sheets[0], report)
    return _from_text(path, data, report)


def _bytes(path: Path) -> bytes:
    endings = (*TABLE_ENDINGS, *WORKBOOK_ENDINGS)
    if path.suffix.casefold() not in endings:
        needed = f"a file that ends in {', '.join(endings)}"
        raise refuse(path, f"a file that ends in '{path.suffix}'", needed, "save it as CSV first")
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        found = f"a file that cannot be read ({error.strerror or error})"
        raise refuse(path, found, "a readable file", "the path is misspelt") from None
    if len(data) > MOST_BYTES:
        raise refuse(path, "a file of more than 5 MB", "at most 5 MB", "it is another kind of file")
    return data


def _from_text(path: Path, data: bytes, report: Reporter) -> LooseTable:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        remedy = "save it again from the spreadsheet as 'CSV UTF-8'"
        raise refuse(path, "letters that are not UTF-8", "a UTF-8 file", remedy, (line, 0)) from None
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(SEPARATORS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    found: list[tuple[int, list[str]]] = []
    begins = 1
    try:
        for cells in reader:
            if any(c.strip() for c in cells):
                found.append((begins, cells))
            begins = reader.line_num + 1
    except csv.Error as error:
        remedy = "a quotation mark was opened and not closed"
        raise refuse(path, str(error), "a row of a table", remedy, (begins, 0)) from None
    if not found:
        raise refuse(path, "an empty file", "a header row and filled rows", "another file is meant")

    def at(row: int, column: int) -> Line:
        return Line(path.name, found[row][0], column)

    return _made([[unescape_cell(c).strip() for c in cells] for _, cells in found], at, report, typed=False)


def _from_sheet(file: str, sheet: Sheet, report: Reporter) -> LooseTable:
    kept = [(n, row) for n, row in enumerate(sheet.rows, 1) if not all(blank(c) for c in row)]

    def at(row: int, column: int) -> Line:
        return Line(file, cell=f"{sheet.name}!{letters(column or 1)}{kept[row][0]}")

    rows: list[list[Cell]] = []
    for i, (_, cells) in enumerate(kept):
        rows.append([])
        for j, (value, kind) in enumerate(cells, 1):
            cell: Cell = None
            if blank((value, kind)):
                pass
            elif kind in "fe":
                report.error(at(i, j), "a formula", "the value itself", "paste the column as values")
            elif isinstance(value, (str, int, float, bool, date, time)):
                cell = unescape_cell(value).strip() if isinstance(value, str) else value
            else:
                found = "a cell of a kind that cannot be read"
                report.error(at(i, j), found, "text, a number or a date", "type it again")
            rows[-1].append(cell)
    return _made(rows, at, report, typed=True)


def _made(rows: Sequence[Sequence[Cell]], at: _At, report: Reporter, *, typed: bool) -> LooseTable:
    columns: dict[int, str] = {}
    for i, cell in enumerate(rows[0]):
        name = " ".join(str(cell).split()) if cell not in (None, "") else ""
        if name and squeezed(name) in map(squeezed, columns.values()):
            found = f"the column {quoted(name)} a second time"
            report.error(at(0, i + 1), found, "each column once", "delete one")
        elif name:
            columns[i] = name
    filled = []
    for n, row in enumerate(rows[1:], 1):
        cells = {columns[i]: c for i, c in enumerate(row) if i in columns and c not in (None, "")}
        places = {columns[i]: at(n, i + 1) for i in range(len(row)) if i in columns}
        for i, cell in enumerate(row):
            if i not in columns and cell not in (None, ""):
                report.error(
                    at(n, i + 1), f"{quoted(cell)} under no column name", "a name in the first row",
                    "a name holds the separator and needs quotation marks",
                )  # fmt: skip
        filled.append(LooseRow(cells, places, at(n, 0)))
    return LooseTable(tuple(columns.values()), tuple(filled), at(0, 0), typed)
