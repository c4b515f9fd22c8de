"""Tables to a workbook: one sheet a table, a header row with notes, drop-downs, real date cells."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

from planner.intake.fields import Kind
from planner.intake.raw import Cell, RawFile, Row
from planner.intake.tables import TABLES, columns, description_of, kind_of, needed_columns

LAST_ROW = 500  # drop-downs reach down to here
LONGEST_INLINE = 250  # signs of a drop-down's own list; a longer one stands on the sheet 'lists'
LISTS = "lists"
FORMATS = {"date": "yyyy-mm-dd", "moment": "yyyy-mm-dd hh:mm", "clock": "hh:mm"}
PLAIN_SLOT = {"name": "training", "days": "Mon-Sat", "from": "17:00", "until": "19:00"}
NO_DATE = (1980, 1, 1, 0, 0, 0)  # the packed parts carry no date, so the same tables give the same bytes
NAMED_IN = {"athlete": ("athletes", "name"), "place": ("venues", "place"), "slot": ("slots", "name")}


def workbook_bytes(raw: RawFile) -> bytes:
    """A workbook with every table as a sheet, filled with the rows of `raw`; it reads back the same."""
    import openpyxl

    book: Any = openpyxl.Workbook()
    book.remove(book.active)
    lists = _Lists()
    for table in TABLES:
        rows = raw.tables[table].rows if table in raw.tables else []
        if table == "slots" and not rows:
            rows = [Row(dict(PLAIN_SLOT), {}, raw.line)]
        _sheet(book, table, rows, lists)
    lists.write(book)
    stream = io.BytesIO()
    book.save(stream)
    return without_dates(stream.getvalue())


class _Lists:
    """Long lists of words for drop-downs, a column each on a sheet of their own."""

    def __init__(self) -> None:
        self.columns: list[tuple[str, ...]] = []

    def reference(self, words: tuple[str, ...]) -> str:
        inline = ",".join(words)
        if len(inline) <= LONGEST_INLINE:
            return f'"{inline}"'
        if words not in self.columns:
            self.columns.append(words)
        letter = chr(65 + self.columns.index(words))
        return f"={LISTS}!${letter}$1:${letter}${len(words)}"

    def write(self, book: Any) -> None:
        sheet = book.create_sheet(LISTS)
        sheet.sheet_state = "hidden"
        for i, words in enumerate(self.columns, 1):
            for j, word in enumerate(words, 1):
                sheet.cell(j, i, word)


def _sheet(book: Any, table: str, rows: Sequence[Row], lists: _Lists) -> None:
    from openpyxl.comments import Comment
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    sheet = book.create_sheet(table)
    sheet.freeze_panes = "A2"
    needed = needed_columns(table)
    for i, column in enumerate(columns(table), 1):
        kind = kind_of(table, column)
        head = sheet.cell(1, i, column)
        head.font = Font(bold=True, underline="single" if column in needed else None)
        head.comment = Comment(_note(table, column, kind, column in needed), "planner", height=90, width=260)
        letter = get_column_letter(i)
        sheet.column_dimensions[letter].width = max(11, len(column) + 3)
        if kind.word in FORMATS:
            sheet.column_dimensions[letter].number_format = FORMATS[kind.word]
        _drop_down(sheet, letter, column, kind, lists)
        for j, row in enumerate(rows, 2):
            value = row.values.get(column)
            if value is not None:
                _write(sheet.cell(j, i), kind, value)


def _note(table: str, column: str, kind: Kind, needed: bool) -> str:
    text = description_of(table, column) + (". Must be there" if needed else "")
    many = "Several are parted by ';'. " if kind.word == "list" else ""
    words = ", ".join(kind.options) if 0 < len(kind.options) <= 20 else ""
    return f"{text}. {many}{words}".strip()


def _drop_down(sheet: Any, letter: str, column: str, kind: Kind, lists: _Lists) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    if kind.word in ("choice", "yes/no"):
        source = lists.reference(kind.options)
    elif column in NAMED_IN and sheet.title != NAMED_IN[column][0]:
        table, named = NAMED_IN[column]
        place = chr(65 + columns(table).index(named))
        source = f"={table}!${place}$2:${place}${LAST_ROW}"
    else:
        return
    # a warning only: several names parted by ';' and groups are allowed where the drop-down knows singles
    rule = DataValidation(type="list", formula1=source, allow_blank=True, showErrorMessage=False)
    rule.add(f"{letter}2:{letter}{LAST_ROW}")
    sheet.add_data_validation(rule)


def _write(place: Any, kind: Kind, value: Cell) -> None:
    cell = _as_cell(kind, value)
    place.value = cell
    if isinstance(cell, str):
        place.data_type = "s"  # never a formula, whatever the text begins with
    if kind.word in FORMATS:
        place.number_format = FORMATS[kind.word]


def _as_cell(kind: Kind, value: Cell) -> str | int | date | datetime | time:
    if kind.word in FORMATS:
        found: Any = kind.read(value)
        return found  # type: ignore[no-any-return]  # these kinds read dates, moments and clock times
    if isinstance(value, Mapping):
        return "; ".join(f"{k}: {_text(v)}" for k, v in value.items())
    text = _text(value)
    if kind.word == "number" and re.fullmatch(r"-?\d{1,9}", text):
        return int(text)
    return text


def _text(value: Cell) -> str:
    if isinstance(value, (list, tuple)):
        return "; ".join(_text(v) for v in value)
    return str(value)


def without_dates(data: bytes) -> bytes:
    """The same package without the moment at which it was written."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            content = old.read(entry.filename)
            if entry.filename == "docProps/core.xml":
                content = re.sub(rb"<dcterms:(created|modified)[^>]*>[^<]*</dcterms:\1>", b"", content)
            new.writestr(zipfile.ZipInfo(entry.filename, NO_DATE), content, zipfile.ZIP_DEFLATED)
    return made.getvalue()
