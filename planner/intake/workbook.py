"""A workbook to tables of cells: one sheet a table, names of columns in the first row."""

from __future__ import annotations

import io
import struct
import warnings
import zipfile
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from planner.domain.finding import Line
from planner.intake.complaints import Reporter, quoted
from planner.intake.opening_files import refuse
from planner.intake.raw import RawFile, RawTable, Row
from planner.intake.spelling import find, squeezed, suggestion
from planner.intake.tables import TABLES, columns, needed_columns

MOST_UNPACKED = 40_000_000  # bytes; a packed file may hold a thousand times its size
MOST_ROWS = 5_000  # of a sheet, empty ones included
MOST_COLUMNS = 200
SIDE_SHEETS = ("notes", "readme", "lists")  # kept for the coach's own words and for drop-downs

# what a broken package or broken XML inside it makes the reader raise
BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    EOFError,
    LookupError,
    ValueError,
    TypeError,
    AttributeError,
    SyntaxError,
    NotImplementedError,
    RuntimeError,
    OSError,
    OverflowError,
    AssertionError,
)


@dataclass(frozen=True)
class Sheet:
    name: str
    rows: tuple[tuple[tuple[object, str], ...], ...]  # value and kind of each cell


def read_workbook(path: Path, data: bytes, report: Reporter) -> RawFile:
    """The tables of a workbook. Raises BadFile when it is none; lesser slips go to `report`."""
    raw = RawFile(path.name, workbook=True, line=Line(path.name))
    for sheet in sheets_of(path, data):
        if squeezed(sheet.name).startswith(SIDE_SHEETS):
            continue
        table = find(sheet.name, TABLES)
        at = Line(path.name, cell=f"{sheet.name}!A1")
        if table is None:
            report.error(
                at,
                f"the unknown sheet {quoted(sheet.name)}",
                "a table this file can have",
                suggestion(sheet.name, TABLES, else_say="call it 'notes': then it is left alone"),
            )
        elif table in raw.tables:
            report.error(at, f"the sheet '{table}' a second time", "each table once", "join the two")
        else:
            found = _table(path, sheet, table, report)
            if found.rows or found.broken or table in ("slots", "athletes", "block"):
                raw.tables[table] = found
    return raw


def sheets_of(path: Path, data: bytes) -> list[Sheet]:
    needed = "a workbook saved as .xlsx"
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            size = sum(entry.file_size for entry in packed.infolist())
    except BROKEN:
        raise refuse(
            path, "a file that is no workbook", needed, "save it again as .xlsx, without password"
        ) from None
    if size > MOST_UNPACKED:
        raise refuse(
            path,
            f"a workbook of {size // 1_000_000} MB when unpacked",
            "at most 40 MB",
            "it holds pictures or thousands of empty rows: copy the tables into a new one",
        )
    try:
        return _unpacked(data)
    except BROKEN as error:
        what = type(error).__name__
        raise refuse(
            path, f"a workbook that is damaged ({what})", needed, "open it and save it again"
        ) from None
    except RecursionError:
        raise refuse(path, "a workbook nested too deep", needed, "open it and save it again") from None


def _unpacked(data: bytes) -> list[Sheet]:
    import openpyxl

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the reader warns of drop-downs and styles it does not know
        book: Any = openpyxl.load_workbook(io.BytesIO(data), read_only=True, keep_links=False)
        found = []
        for sheet in book.worksheets:
            sheet.reset_dimensions()  # what a file says of its own size cannot be trusted
            rows = []
            for i, row in enumerate(sheet.iter_rows()):
                if i > MOST_ROWS:
                    break
                rows.append(tuple((c.value, str(c.data_type)) for c in row[:MOST_COLUMNS]))
            found.append(Sheet(str(sheet.title), tuple(rows)))
        book.close()
    return found


def letters(column: int) -> str:
    """1 -> A, 27 -> AA."""
    text = ""
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text


def blank(cell: tuple[object, str]) -> bool:
    value = cell[0]
    return value is None or (isinstance(value, str) and not value.strip())


def _header(path: Path, sheet: Sheet, table: str, report: Reporter) -> dict[int, str]:
    """Place of each known column. Unknown, doubled and missing names are complaints."""
    known = columns(table)
    found: dict[int, str] = {}
    for i, cell in enumerate(sheet.rows[0] if sheet.rows else ()):
        if blank(cell):
            continue
        at = Line(path.name, cell=f"{sheet.name}!{letters(i + 1)}1")
        column = find(str(cell[0]), known)
        if column is None:
            report.error(
                at,
                f"the unknown column {quoted(cell[0])}",
                f"a column of '{table}'",
                suggestion(str(cell[0]), known, else_say="write notes into a sheet called 'notes'"),
            )
        elif column in found.values():
            report.error(at, f"the column '{column}' a second time", "each column once", "join the two")
        else:
            found[i] = column
    return found


def _table(path: Path, sheet: Sheet, table: str, report: Reporter) -> RawTable:
    made = RawTable([], Line(path.name, cell=f"{sheet.name}!A1"))
    header = _header(path, sheet, table, report)
    if len(sheet.rows) > MOST_ROWS:
        report.error(
            made.line, f"more than {MOST_ROWS} rows", f"at most {MOST_ROWS}", "delete the empty rows"
        )
    filled = [(n, row) for n, row in enumerate(sheet.rows[1:], 2) if not all(blank(c) for c in row)]
    if not filled:
        return made
    for column in needed_columns(table):
        if column not in header.values():
            report.error(
                made.line,
                f"no column '{column}'",
                f"'{column}' in the first row",
                "its name was changed or deleted",
            )
            made.broken = True
    reader = _Reader(path.name, sheet, header, report)
    made.rows.extend(reader.row(number, cells) for number, cells in filled)
    return made


@dataclass(frozen=True)
class _Reader:
    """Fills rows of one sheet whose header is known."""

    file: str
    sheet: Sheet
    header: dict[int, str]
    report: Reporter

    def row(self, number: int, cells: Sequence[tuple[object, str]]) -> Row:
        row = Row({}, {}, Line(self.file, cell=f"{self.sheet.name}!A{number}"))
        for i, cell in enumerate(cells):
            if blank(cell):
                continue
            at = Line(
                self.file, cell=f"{self.sheet.name}!{letters(i + 1)}{number}", key=self.header.get(i, "")
            )
            if i in self.header:
                self._fill(row, at, *cell)
            elif i >= len(self.sheet.rows[0]) or blank(self.sheet.rows[0][i]):
                self.report.error(
                    at,
                    f"{quoted(cell[0])} under no column name",
                    "a name in the first row",
                    "write notes into a sheet called 'notes'",
                )
        return row

    def _fill(self, row: Row, at: Line, value: object, kind: str) -> None:
        column = at.key
        row.lines[column] = at
        if kind == "f":
            self.report.error(at, "a formula", "the value itself", "copy the column and paste it as values")
        elif kind == "e":
            self.report.error(at, f"{quoted(value)}, a formula that failed", "a value", "type the value")
        elif isinstance(value, timedelta) and timedelta(0) <= value < timedelta(days=1):
            row.values[column] = (datetime.min + value).time()
        elif isinstance(value, (str, int, float, bool, date, time)):
            row.values[column] = value
        else:
            self.report.error(
                at, "a cell of a kind that cannot be read", "text, a number or a date", "type it again"
            )
        if column not in row.values:
            row.spoilt.add(column)
