"""A plan as a table a person wrote: athlete, date, slot, unit, amount; order, place, coach, group if known.

The table may say what the program never would: an injured athlete at the pit, six units in a slot. That is
for the review to judge; only what cannot be understood is refused here, all of it at once.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

from planner.domain.dosing import dose_of
from planner.domain.finding import Line
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.units import Dose, Unit
from planner.review.amounts import AmountError, catalogue_doses, read_figure
from planner.review.cells import unescape_cell
from planner.review.complaint import BadTable, Complaint, folded, meant, shown

NEEDED = ("athlete", "date", "slot", "unit", "amount")
OPTIONAL = ("order", "place", "coach", "group")
MOST_BYTES = 5_000_000  # a plan of thirty athletes and a year is a tenth of it

_NO_ROWS = ("rest", "restday", "off", "competition", "meet", "travel", "exam")


def read_plan_table(path: Path, problem: Problem) -> tuple[Plan, frozenset[str]]:
    """The plan a table holds, and which of the optional columns it gives (with at least one cell filled).

    UTF-8, with or without its mark; cells parted by ',' or ';'. A row that is a candidate becomes that
    candidate; any other takes the week's dose of the unit, or the catalogue's when the week has none.
    Rows of one slot and unit with the same `group` train together. Units of a session follow in
    day-order; where `order` says otherwise they begin a minute after one another, just enough to show it.
    Raises BadTable with every problem found.
    """
    return _Reader(path.name, problem).read(_text(path))


def _text(path: Path) -> str:
    where = Line(path.name)
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= MOST_BYTES else b""
    except OSError as error:
        problem = Complaint(where, error.strerror or "no file", "a readable file", "the path is misspelt")
        raise BadTable([problem]) from error
    if size > MOST_BYTES:
        found, needed = f"{size} bytes", f"at most {MOST_BYTES} bytes"
        raise BadTable([Complaint(where, found, needed, "this is no plan table")])
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        remedy = "save it again from the spreadsheet as 'CSV UTF-8'"
        raise BadTable(
            [Complaint(Line(path.name, line), "letters that are not UTF-8", "a UTF-8 file", remedy)]
        ) from error


@dataclass(frozen=True)
class _Row:
    """One row: the line it begins on, and its cells by column."""

    line: int
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")


class _Reader:
    def __init__(self, file: str, problem: Problem) -> None:
        self.file = file
        self.problem = problem
        self.complaints: list[Complaint] = []
        self.columns: tuple[str, ...] = ()
        block = problem.block
        self.candidates = {p.key: p for p in (*problem.candidates, *problem.kept)}
        self.slots = tuple(dict.fromkeys(s.name for s in block.slots))
        at_venue = (place_name(o.place.venue, o.place.name) for o in block.openings)
        self.places = tuple(dict.fromkeys((*(o.place.name for o in block.openings), *at_venue)))
        self.coaches = tuple(dict.fromkeys(p.name for p in block.presences if p.coach is not None))
        self.units = _names_of_units(problem.units)

    def read(self, text: str) -> tuple[Plan, frozenset[str]]:
        rows = self._rows(text)
        found: dict[tuple[object, ...], tuple[_Row, Placement]] = {}
        for row in rows:
            made = self._placement(row)
            if made is None:
                continue
            first, _ = found.setdefault(made.key[:4], (row, made))
            if first is not row:
                what = f"{shown(row['unit'])} for {made.athlete} again, as in line {first.line}"
                needed, remedy = "one row for a unit in a slot", "the two amounts are to be added up"
                self._wrong(row, "unit", what, needed, remedy)
        if not rows and not self.complaints:
            self.complaints.append(Complaint(Line(self.file, 2), "no rows", "one row for each unit placed"))
        if self.complaints:
            raise BadTable(self.complaints)
        given = frozenset(c for c in OPTIONAL if any(row[c] for row in rows))
        return Plan.of(_in_order(_with_partners(found.values()))), given

    # --- the file ------------------------------------------------------------------------------------

    def _rows(self, text: str) -> list[_Row]:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text), strict=True)
        rows: list[_Row] = []
        begins = 1
        try:
            for cells in reader:
                if not self.columns and any(c.strip() for c in cells):
                    self._header(cells, begins)
                    if self.complaints:
                        raise BadTable(self.complaints)
                elif any(c.strip() for c in cells):
                    rows.append(self._row(cells, begins))
                begins = reader.line_num + 1
        except csv.Error as error:
            remedy = "a quotation mark was opened and not closed"
            self.complaints.append(Complaint(Line(self.file, begins), str(error), "a table row", remedy))
        if not self.columns and not self.complaints:
            first = ",".join(NEEDED)
            self.complaints.append(Complaint(Line(self.file, 1), "an empty file", f"a first line '{first}'"))
        return rows

    def _header(self, cells: Sequence[str], line: int) -> None:
        columns: list[str] = []
        for i, cell in enumerate(cells, start=1):
            name = cell.strip().casefold()
            where = Line(self.file, line, i)
            if name and name not in (*NEEDED, *OPTIONAL):
                known = (*NEEDED, *OPTIONAL)
                needed = "a column of " + ", ".join(known)
                self.complaints.append(Complaint(where, shown(cell), needed, meant(cell, known)))
            elif name and name in columns:
                self.complaints.append(Complaint(where, f"column {shown(cell)} twice", "each column once"))
            columns.append(name)
        missing = [c for c in NEEDED if c not in columns]
        if missing:
            found, needed = "no column " + ", ".join(missing), "the columns " + ", ".join(NEEDED)
            self.complaints.append(Complaint(Line(self.file, line), found, needed))
        self.columns = tuple(columns)

    def _row(self, cells: Sequence[str], line: int) -> _Row:
        row = _Row(line, {c: unescape_cell(v) for c, v in zip(self.columns, cells, strict=False) if c})
        beyond = [c for c in cells[len(self.columns) :] if c.strip()]
        if beyond:
            remedy = "a name holds the separator and needs quotation marks"
            self._wrong(row, "", f"{shown(beyond[0])} behind the last column", "no more cells", remedy)
        return row

    def _wrong(self, row: _Row, column: str, found: str, needed: str, maybe: str = "") -> None:
        at = self.columns.index(column) + 1 if column in self.columns else 0
        self.complaints.append(Complaint(Line(self.file, row.line, at, key=column), found, needed, maybe))

    # --- one row -------------------------------------------------------------------------------------

    def _placement(self, row: _Row) -> Placement | None:
        """The placement of a row, or None after a complaint about every cell of it that is wrong."""
        before = len(self.complaints)
        athlete = self._word(row, "athlete", self.problem.athletes, "an athlete of the block")
        day = self._day(row)
        slot = self._word(row, "slot", self.slots, "a slot of the block")
        unit = self._unit(row)
        place = self._word(row, "place", self.places, "a place of the block") if row["place"].strip() else ""
        coach = self._word(row, "coach", self.coaches, "a coach of the block") if row["coach"].strip() else ""
        order = row["order"].strip()
        if order and not re.fullmatch(r"[0-9]{1,3}", order):
            self._wrong(row, "order", shown(order), "a whole number, 1 for what comes first")
        dose = self._dose(row, athlete, day, unit) if unit else None
        if len(self.complaints) > before:
            return None
        assert athlete and day and slot and unit and dose and place is not None and coach is not None
        made = self._made(athlete, day, slot, unit, dose)
        if place:
            made = self._at(made, place)
        return replace(made, coach=coach) if coach else made

    def _word(self, row: _Row, column: str, known: Sequence[str], needed: str) -> str | None:
        """The known name a cell holds, as it stands or apart from case, blanks and hyphens."""
        cell = row[column]
        if cell in known:
            return cell
        alike = [k for k in known if folded(k) == folded(cell)]
        if len(alike) == 1 and cell.strip():
            return alike[0]
        self._wrong(row, column, shown(cell) if cell.strip() else "an empty cell", needed, meant(cell, known))
        return None

    def _day(self, row: _Row) -> date | None:
        cell = row["date"].strip()
        first, last = self.problem.block.begins, self.problem.block.ends
        try:
            if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", cell):
                raise ValueError(cell)
            day = date.fromisoformat(cell)
        except ValueError:
            remedy = f"the column is to be kept as text in the spreadsheet, as in '{first.isoformat()}'"
            self._wrong(row, "date", shown(cell), "a real date, written year-month-day", remedy)
            return None
        if first <= day <= last:
            return day
        self._wrong(row, "date", shown(cell), f"a day of the block, {first} to {last}")
        return None

    def _unit(self, row: _Row) -> Unit | None:
        cell = row["unit"]
        unit = self.units.get(folded(cell))
        if unit is not None and not unit.preparation:
            return unit
        if unit is not None:
            found, needed = f"{shown(cell)}, which comes with its session", "a unit placed by itself"
            self._wrong(row, "unit", found, needed, "this row is to be left out")
        elif folded(cell) in _NO_ROWS:
            remedy = "this row is to be left out: rest is a day without rows, the rest is in the block file"
            self._wrong(row, "unit", shown(cell), "a unit of the catalogue or the block's own", remedy)
        else:
            placed = [u for u in self.problem.units.values() if not u.preparation]
            near = meant(cell, [u.id for u in placed] + [u.name for u in placed]) if cell.strip() else ""
            found = shown(cell) if cell.strip() else "an empty cell"
            self._wrong(row, "unit", found, "a unit of the catalogue or the block's own", near)
        return None

    def _dose(self, row: _Row, athlete: str | None, day: date | None, unit: Unit) -> Dose | None:
        text = row["amount"].strip()
        word = text.casefold()
        try:
            figure = None if word in ("full", "lighter") else read_figure(text, unit)
        except AmountError as error:
            found, remedy = (shown(text), error.maybe) if text else ("an empty cell", "'full'")
            self._wrong(row, "amount", found, str(error), f"{remedy} is meant")
            return None
        if athlete is None or day is None:
            return None
        full, lighter = week_doses(self.problem, athlete, day, unit)
        if figure is None:
            return full if word == "full" else lighter
        return dose_of(figure, unit, full, lighter)

    # --- where it stands -----------------------------------------------------------------------------

    def _made(self, athlete: str, day: date, slot: str, unit: Unit, dose: Dose) -> Placement:
        candidate = self.candidates.get((athlete, day, slot, unit.id, dose.word))
        if candidate is not None:
            return candidate if candidate.dose == dose else replace(candidate, dose=dose)
        week = self.problem.week_of(athlete, day)
        importance = week.importance.get(unit.family, "supporting") if week else "supporting"
        made = Placement(athlete, day, slot, unit, dose, self._slot_begins(day, slot), importance=importance)
        openings = self.problem.openings_in(day, slot)
        for kind in unit.place_kinds:
            for o in openings:
                if kind in (o.place.kind, "anywhere"):
                    begins = datetime.combine(day, o.begins)
                    return replace(made, place=o.place.name, venue=o.place.venue, begins=begins)
        return made

    def _slot_begins(self, day: date, name: str) -> datetime:
        """When the slot begins on that day; on a day that lacks it, when it begins on the nearest other."""
        of_name = [s for s in self.problem.block.slots if s.name == name]
        nearest = min(of_name, key=lambda s: (abs((s.day - day).days), s.day))
        return datetime.combine(day, nearest.begins)

    def _at(self, made: Placement, place: str) -> Placement:
        """The placement at a named place; a place that is closed in that slot is for the review to judge."""
        if place in (made.place, place_name(made.venue, made.place)):
            return made
        for o in self.problem.openings_in(made.day, made.slot):
            if place in (o.place.name, place_name(o.place.venue, o.place.name)):
                begins = datetime.combine(made.day, o.begins)
                return replace(made, place=o.place.name, venue=o.place.venue, begins=begins)
        found = next(
            o.place
            for o in self.problem.block.openings
            if place in (o.place.name, place_name(o.place.venue, o.place.name))
        )
        begins = self._slot_begins(made.day, made.slot)
        return replace(made, place=found.name, venue=found.venue, begins=begins)


def place_name(venue: str, place: str) -> str:
    """A place with its venue, for squads that train at several: 'town stadium / pit'."""
    return f"{venue} / {place}" if venue else place


def week_doses(problem: Problem, athlete: str, day: date, unit: Unit) -> tuple[Dose, Dose]:
    """Full and lighter dose of a unit on a day: the week's, else the nearest week's, else the catalogue's."""
    weeks = [w for w in problem.weeks.get(athlete, ()) if unit.id in w.doses]
    if weeks:
        nearest = min(weeks, key=lambda w: (day not in w.days, abs((w.begins - day).days), w.begins))
        return nearest.doses[unit.id]
    return catalogue_doses(unit, problem.block.athlete(athlete))


def _separator(text: str) -> str:
    """',' or ';': the one by which the first line falls into more of the known columns."""
    first = next((line for line in text.splitlines() if line.strip()), "")

    def known(separator: str) -> int:
        cells = (c.strip().strip('"').strip().casefold() for c in first.split(separator))
        return sum(c in (*NEEDED, *OPTIONAL) for c in cells)

    return max((",", ";"), key=known)


def _names_of_units(units: Mapping[str, Unit]) -> dict[str, Unit]:
    by_name = {folded(u.name): u for _, u in sorted(units.items())}
    return {**by_name, **{folded(u.id): u for _, u in sorted(units.items())}}


def _with_partners(rows: Iterable[tuple[_Row, Placement]]) -> list[tuple[_Row, Placement]]:
    """Rows of one slot and unit under the same group name train together."""
    rows = list(rows)
    groups: dict[tuple[date, str, str, str], list[str]] = {}
    for row, p in rows:
        if row["group"].strip():
            groups.setdefault((p.day, p.slot, p.unit.id, row["group"].strip()), []).append(p.athlete)
    made = []
    for row, p in rows:
        together = groups.get((p.day, p.slot, p.unit.id, row["group"].strip()))
        if together is None:
            made.append((row, p))
        else:
            made.append((row, replace(p, partners=tuple(sorted(a for a in together if a != p.athlete)))))
    return made


def _in_order(rows: Iterable[tuple[_Row, Placement]]) -> list[Placement]:
    """Sessions whose `order` departs from the units' day-order are spread so that their starts show it."""
    sessions: dict[tuple[str, date, str], list[tuple[_Row, Placement]]] = {}
    for row, p in rows:
        sessions.setdefault((p.athlete, p.day, p.slot), []).append((row, p))
    made: list[Placement] = []
    for session in sessions.values():
        numbered = all(row["order"].strip() for row, _ in session)
        if numbered:
            session.sort(key=lambda rp: (int(rp[0]["order"]), rp[1].unit.order, rp[1].unit.id))
        placements = [p for _, p in session]
        if numbered and any(b.unit.order < a.unit.order for a, b in pairwise(placements)):
            for i in range(1, len(placements)):
                least = placements[i - 1].begins + timedelta(minutes=1)
                placements[i] = replace(placements[i], begins=max(least, placements[i].begins))
        made.extend(placements)
    return made
