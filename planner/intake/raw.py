"""What stands in a file before it is judged: tables of rows of cells, each with its place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time

from planner.domain.finding import Line

Cell = str | int | float | bool | date | datetime | time | Sequence["Cell"] | Mapping[str, "Cell"] | None


@dataclass
class Row:
    """One row: column name -> cell, and where each cell stands."""

    values: dict[str, Cell]
    lines: dict[str, Line]
    line: Line
    spoilt: set[str] = field(default_factory=set)  # columns whose cell was complained of already

    def at(self, column: str) -> Line:
        """Where a cell stands; the row itself when the cell is not given."""
        return self.lines.get(column, self.line)


@dataclass
class RawTable:
    """`broken`: complained of already as a whole; its rows are not judged."""

    rows: list[Row]
    line: Line
    broken: bool = False


@dataclass
class RawFile:
    """All tables of a file under their proper names. `workbook` tells that cells carry their own types."""

    name: str
    workbook: bool
    tables: dict[str, RawTable] = field(default_factory=dict)
    line: Line = field(default_factory=Line)
