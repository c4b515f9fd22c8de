"""Timing files: times of runs from any gate, by a table of columns that the coach writes once.

The table, '<stem>.timing.csv' beside the block file, says what each column of the gate's file means:
`means,column` with one row each for `athlete`, for `date` (or the command names the day), and either for
`event` and `time` or for the distances themselves ('30 m', 'flying 10 m'). `wind` may be there too.
Times are seconds ('4.12', '4,12', '1:02.35'), or thousandths of a second where the table says `unit,ms`.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from planner.domain.attempt import Attempt
from planner.domain.facts import Result
from planner.domain.finding import Line
from planner.domain.problem import Problem
from planner.intake import values
from planner.intake.blank import put_over
from planner.intake.complaints import Reporter, quoted
from planner.intake.loose_table import LooseRow, LooseTable, read_loose
from planner.intake.opening_files import refuse
from planner.intake.reach import REACH
from planner.intake.spelling import find, squeezed, suggestion

TIMED = tuple(event for event, reach in REACH.items() if reach.unit == "hundredths")
PLAIN = ("athlete", "date", "event", "time", "wind", "unit")
MEANINGS = (*PLAIN, *TIMED)
UNITS: Mapping[str, Decimal] = {"s": Decimal(100), "ms": Decimal("0.1")}  # -> hundredths of a second
LONGEST = Decimal(360_000)  # hundredths: an hour; nobody times a longer run at a gate
EXAMPLE = "say it so: --columns 'athlete=Name; 30 m=Time'"


@dataclass(frozen=True)
class Timed:
    """Results of a timing file, each with the place of its first run, and everything that is wrong."""

    facts: tuple[tuple[Line, Result], ...]
    wrong: tuple[str, ...]


@dataclass(frozen=True)
class Columns:
    """Which column means what; `unit` is that of the times, s or ms."""

    means: tuple[tuple[str, str], ...]
    unit: str = "s"

    def of(self, meaning: str) -> str:
        return dict(self.means).get(meaning, "")

    @property
    def distances(self) -> tuple[tuple[str, str], ...]:
        """(event, column) of columns that hold the times of one distance."""
        return tuple((m, c) for m, c in self.means if m in TIMED)


def columns_path(block_path: Path) -> Path:
    """'<stem>.timing.csv' beside the block file."""
    return block_path.parent / f"{block_path.stem}.timing.csv"


def columns_from(text: str, where: Path | str) -> Columns:
    """'athlete=Name; 30 m=Time; unit=ms' as columns; BadFile with all that is wrong."""
    pairs = [tuple(p.strip() for p in piece.partition("=")[::2]) for piece in text.split(";") if piece.strip()]
    return _judged([(m, c, Line(str(where))) for m, c in pairs])


def read_columns(path: Path) -> Columns:
    """The table the coach wrote once; BadFile when it is missing or does not fit."""
    if not path.is_file():
        raise refuse(
            path, "no such file", "which column of the timing file means what", EXAMPLE
        )
    report = Reporter()
    table = read_loose(path, report)
    if tuple(map(squeezed, table.columns)) != ("means", "column"):
        report.error(table.head, f"the header {', '.join(table.columns)}", "the header means,column", EXAMPLE)
    report.stop_if_bad()
    means, column = table.columns

    def word(row: LooseRow, name: str) -> str:
        return values.text_of(row.cells.get(name, ""))

    return _judged([(word(row, means), word(row, column), row.line) for row in table.rows])


def write_columns(path: Path, columns: Columns) -> None:
    """Keep the table for the next file, in place of an older one."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerows([("means", "column"), *columns.means])
    if columns.unit != "s":
        writer.writerow(("unit", columns.unit))
    put_over(path, written.getvalue().encode("utf-8"))


def _judged(rows: Sequence[tuple[str, str, Line]]) -> Columns:
    report = Reporter()
    means: dict[str, str] = {}
    unit = "s"
    for meaning, column, line in rows:
        known = find(meaning, MEANINGS)
        if known is None:
            needed = f"one of {', '.join(PLAIN)}, or a distance such as 30 m"
            report.error(line, quoted(meaning), needed, suggestion(meaning, MEANINGS))
        elif not column:
            report.error(line, f"'{known}' without a column", "the name of a column of the timing file", EXAMPLE)
        elif known in means:
            report.error(line, f"'{known}' a second time", "each meaning once", "leave one out")
        elif known == "unit":
            unit = find(column, UNITS) or ""
            if not unit:
                report.error(line, f"the unit {quoted(column)}", "s (seconds) or ms (thousandths)", "leave it out")
        else:
            means[known] = column
    at = rows[0][2] if rows else Line()
    if "athlete" not in means:
        report.error(at, "no column that means athlete", "one with the names", EXAMPLE)
    distances = [m for m in means if m in TIMED]
    if not distances and not {"event", "time"} <= set(means):
        report.error(at, "no column with times", "a distance, or 'event' and 'time'", EXAMPLE)
    if distances and {"event", "time"} & set(means):
        report.error(at, "distances beside 'event' or 'time'", "one of the two ways", EXAMPLE)
    report.stop_if_bad()
    return Columns(tuple(means.items()), unit)


def read_timing(path: Path, columns: Columns, problem: Problem, now: datetime, day: date) -> Timed:
    """The runs of a timing file as results, one for an athlete, day and event; `day` where no column says it.

    Raises BadFile when the file is no table or lacks the columns.
    """
    report = Reporter()
    table = read_loose(path, report)
    names = _columns_there(table, columns, report)
    report.stop_if_bad()
    found: dict[tuple[str, date, str], tuple[Line, list[Attempt]]] = {}
    reader = _Reader(columns, names, problem, day, report)
    for row in table.rows:
        for key, attempt in reader.runs(row):
            found.setdefault(key, (row.line, []))[1].append(attempt)
    if not table.rows:
        report.error(table.head, "no row", "a row for each run", "the file was saved before anybody ran")
    facts = [
        (line, Result(recorded_at=now, athlete=who, day=when, event=event, attempts=tuple(attempts)))
        for (who, when, event), (line, attempts) in found.items()
    ]
    return Timed(tuple(facts), tuple(str(c) for c in report.complaints if not c.warning))


def _columns_there(table: LooseTable, columns: Columns, report: Reporter) -> dict[str, str]:
    """Meaning -> the file's own column; a complaint for each that the file does not have."""
    found = {}
    for meaning, wanted in columns.means:
        column = find(wanted, table.columns)
        if column is None:
            report.error(
                table.head, f"no column {quoted(wanted)} for '{meaning}'",
                "the columns named once for timing files: " + ", ".join(c for _, c in columns.means),
                suggestion(wanted, table.columns, else_say=EXAMPLE),
            )  # fmt: skip
        else:
            found[meaning] = column
    return found


@dataclass(frozen=True)
class _Reader:
    columns: Columns
    names: Mapping[str, str]
    problem: Problem
    day: date
    report: Reporter

    def runs(self, row: LooseRow) -> list[tuple[tuple[str, date, str], Attempt]]:
        """(athlete, day, event) and attempt of every time in a row; complaints for what cannot be read."""
        who, when, wind = self._athlete(row), self._day(row), self._wind(row)
        timed = self.columns.distances or ((self._event(row), "time"),)
        made = []
        for event, meaning in timed:
            column = self.names["time" if meaning == "time" else event]
            value = self._time(row, event, column) if column in row.cells else None
            if value is not None and who and when and event:
                made.append(((who, when, event), Attempt("mark", value, "hundredths", wind)))
        columns = [self.names["time" if m == "time" else e] for e, m in timed]
        if not any(c in row.cells for c in columns):
            needed = "a time, or no row"
            self._wrong(row, columns[0], "a half-filled row: no time", needed, "empty the row when nobody ran")
        return made

    def _wrong(self, row: LooseRow, column: str, found: str, needed: str, maybe: str = "") -> None:
        self.report.error(row.at(column), found, needed, maybe)

    def _athlete(self, row: LooseRow) -> str | None:
        column = self.names["athlete"]
        text = values.text_of(row.cells.get(column, ""))
        family, comma, first = text.partition(",")
        spellings = (text, f"{first.strip()} {family.strip()}" if comma else text)
        known = self.problem.athletes
        for spelling in spellings:
            if (found := find(spelling, known)) is not None:
                return found
        shown = quoted(text) if text else "a half-filled row: no athlete"
        self._wrong(row, column, shown, "an athlete of the block", suggestion(spellings[-1], known))
        return None

    def _day(self, row: LooseRow) -> date | None:
        column = self.names.get("date")
        if column is None:
            return self.day
        cell = row.cells.get(column, "")
        try:
            when = values.moment(cell)
        except values.Misfit as misfit:
            self._wrong(row, column, quoted(cell), misfit.needed, misfit.maybe)
            return None
        return when.date() if isinstance(when, datetime) else when

    def _event(self, row: LooseRow) -> str:
        column = self.names["event"]
        text = values.text_of(row.cells.get(column, ""))
        spelt = f"{text} m" if re.fullmatch(r"\d{1,5}", text) else text
        found = find(spelt, TIMED)
        if found is None:
            shown = quoted(text) if text else "a half-filled row: no distance"
            self._wrong(row, column, shown, "a distance that is timed, such as 30 m", suggestion(text, TIMED))
        return found or ""

    def _time(self, row: LooseRow, event: str, column: str) -> int | None:
        """Hundredths of a second, to the nearest."""
        text = values.text_of(row.cells[column]).replace(",", ".").removesuffix("s").strip()
        found = re.fullmatch(r"(?:(\d{1,2}):)?(\d{1,7}(?:\.\d{1,6})?)", text)
        if found is None:
            self._wrong(row, column, quoted(row.cells[column]), "a time such as 4.12 or 1:02.35", "leave it empty")
            return None
        exact = Decimal(found[2]) * UNITS[self.columns.unit] + int(found[1] or 0) * 6000
        value = int(exact.to_integral_value(ROUND_HALF_UP))
        reach = REACH.get(event)
        who = next((a for a in self.problem.block.athletes if a.name == self._name(row)), None)
        if exact > LONGEST or (reach and reach.beyond(value, who.sex if who else "")):
            what = f"{event or 'a run'} in {value / 100:.2f} s"
            self._wrong(row, column, what, "a time that somebody can run", "the unit or the distance is another")
            return None
        return value

    def _name(self, row: LooseRow) -> str:
        return find(values.text_of(row.cells.get(self.names["athlete"], "")), self.problem.athletes) or ""

    def _wind(self, row: LooseRow) -> int | None:
        column = self.names.get("wind", "")
        if column not in row.cells:
            return None
        needed = "wind such as +0.8 (metres per second)"
        try:
            return int((values.decimal(row.cells[column], needed) * 10).to_integral_value(ROUND_HALF_UP))
        except values.Misfit as misfit:
            self._wrong(row, column, quoted(row.cells[column]), misfit.needed, misfit.maybe)
            return None
