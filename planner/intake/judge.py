"""Rows judged by their models. Every slip becomes a complaint that names the cell and a remedy."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from pydantic import ValidationError

from planner.domain.finding import Line
from planner.intake.complaints import Reporter, quoted
from planner.intake.raw import Cell, RawFile, RawTable, Row
from planner.intake.row_model import RowModel
from planner.intake.tables import NEEDED_TABLES, TABLES
from planner.intake.values import Misfit

Model_co = TypeVar("Model_co", bound=RowModel, covariant=True)


@dataclass(frozen=True)
class Read(Generic[Model_co]):
    """A row that fits its model, and where its cells stand."""

    it: Model_co
    row: Row

    @property
    def line(self) -> Line:
        return self.row.line

    def at(self, column: str) -> Line:
        return self.row.at(column)


@dataclass(frozen=True)
class Sheets:
    """All rows that fit, by table; `given` are the tables the file has."""

    rows: Mapping[str, tuple[Read[Any], ...]]
    given: frozenset[str]
    lines: Mapping[str, Line]
    raw: Mapping[str, RawTable]

    def rows_of(self, table: str) -> tuple[Row, ...]:
        """All rows of a table, those that did not fit included."""
        return tuple(self.raw[table].rows) if table in self.raw else ()

    def broken(self, table: str) -> bool:
        return table in self.raw and self.raw[table].broken

    def empty(self, table: str) -> bool:
        """Is the table there, and nothing in it?"""
        return table in self.raw and not self.raw[table].rows and not self.raw[table].broken

    def of(self, table: str) -> tuple[Read[Any], ...]:
        return self.rows.get(table, ())


def shown(cell: Cell) -> str:
    if isinstance(cell, Mapping):
        return quoted("; ".join(f"{k}: {v}" for k, v in cell.items()))
    if isinstance(cell, list):
        return quoted("; ".join(str(c) for c in cell))
    return quoted(cell)


def _complain(error: ValidationError, table: str, row: Row, report: Reporter) -> None:
    for problem in error.errors(include_url=False):
        column = str(problem["loc"][0]) if problem["loc"] else ""
        if column in row.spoilt:
            continue
        at = row.at(column)
        if problem["type"] == "missing":
            at = Line(
                at.file, at.line, at.column, at.cell, f"{row.line.key}.{column}" if not at.cell else column
            )
            info = next(i for k, i in TABLES[table].model_fields.items() if (i.alias or k) == column)
            report.error(
                at, f"no '{column}'", f"'{column}': {info.description}", f"add '{column}' to this row"
            )
            continue
        cause = problem.get("ctx", {}).get("error")
        needed, maybe = (cause.needed, cause.maybe) if isinstance(cause, Misfit) else (problem["msg"], "")
        report.error(at, shown(row.values.get(column)), needed, maybe)


def judge(raw: RawFile, report: Reporter) -> Sheets:
    """All rows of a file through their models. Slips go to `report`; rows that do not fit are left out."""
    rows: dict[str, tuple[Read[Any], ...]] = {}
    for table in NEEDED_TABLES:
        if table not in raw.tables:
            report.error(
                raw.line, f"no table '{table}'", f"the table '{table}'", f"add '{table}:' and its rows"
            )
        elif not raw.tables[table].rows and not raw.tables[table].broken:
            what = "no athlete" if table == "athletes" else f"an empty table '{table}'"
            report.error(raw.tables[table].line, what, "at least one row", "the rows were deleted by mistake")
    for table, found in raw.tables.items():
        model = TABLES[table]
        good: list[Read[Any]] = []
        for row in () if found.broken else found.rows:
            cells = {k: v for k, v in row.values.items() if v is not None and v != ""}
            try:
                good.append(Read(model.model_validate(cells, context=raw.workbook), row))
            except ValidationError as error:
                _complain(error, table, row, report)
        rows[table] = tuple(good)
    return Sheets(rows, frozenset(raw.tables), {t: x.line for t, x in raw.tables.items()}, raw.tables)
