"""The next block's file: the earlier one with its comments, and in it what has changed since.

A YAML file keeps its rows and comments; of a workbook a YAML file is made. Rows that speak only of days that are
over are left out; a table left empty goes.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import partial
from pathlib import Path
from typing import Any

from planner.domain.block import NOWHERE, Competition, Limit, Mark, RunUp
from planner.domain.following import Following, mark_words
from planner.intake.blank import NAME, put_new, refuse_if_there
from planner.intake.complaints import Reporter
from planner.intake.opening_files import WORKBOOK_ENDINGS, read_bytes
from planner.intake.spelling import find
from planner.intake.tables import TABLES, columns
from planner.intake.values import weekdays

DATED = ("slots", "openings", "away", "themes", "phases", "fixed", "wishes", "exceptions", "weather")
DATE_COLUMNS = ("date", "from", "until", "first_day", "last_day")
ATTENDING = ("coaches", "helpers")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
WIDTH = 112  # columns of the comment at the head
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
ABOVE = {  # what stands above a table that was written anew
    "run_ups": "Start marks as they stand now, for still wind.",
    "competitions": "What is still to come, as far as it is known.",
    "limits": "As persons entered them last; only a person changes a stage.",
}


def write(folder: Path, source: Path, following: Following) -> Path:
    """Write `block.yaml` into a folder; its path. Raises BadFile when one is there, OSError when it cannot."""
    target = folder / f"{NAME}.yaml"
    refuse_if_there(target)
    text = next_text(source, following)
    folder.mkdir(parents=True, exist_ok=True)
    put_new(target, text.encode("utf-8"))
    return target


def next_text(source: Path, following: Following) -> str:
    """The text of the next block's file."""
    yaml = _yaml()
    doc = _document(source, yaml)
    _Editor(doc, following).edit()
    out = io.StringIO()
    yaml.dump(doc, out)
    head = "\n".join(f"# {line}".rstrip() for line in _head(following))
    return f"{head}\n\n{out.getvalue()}"


def _yaml() -> Any:
    from ruamel.yaml import YAML

    yaml = YAML(typ="rt")
    yaml.preserve_quotes = True
    yaml.width = 4096  # a row stays on its line
    yaml.representer.ignore_aliases = lambda *_: True
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _document(source: Path, yaml: Any) -> Any:
    """The earlier file as ruamel holds it, without the comment at its head: that spoke of the earlier block."""
    data = read_bytes(source)
    if source.suffix.casefold() not in WORKBOOK_ENDINGS:
        from planner.intake.yaml_file import decoded

        doc = yaml.load(decoded(source, data))
        doc.ca.comment = None
        return doc
    from planner.intake.workbook import read_workbook

    raw = read_workbook(source, data, Reporter())
    doc = _plain_map({})
    for name, table in raw.tables.items():
        rows = [_flow({k: _text(v) for k, v in row.values.items() if v is not None}) for row in table.rows]
        if rows:
            doc[name] = _plain_map(dict(rows[0])) if name == "block" else rows
    return doc


def _text(cell: object) -> object:
    """A workbook's cell as a YAML file would hold it."""
    if isinstance(cell, datetime):
        return cell.date() if cell.time() == time(0) else cell.isoformat(" ", "minutes")
    return f"{cell:%H:%M}" if isinstance(cell, time) else cell


def _plain_map(values: Mapping[str, object]) -> Any:
    from ruamel.yaml.comments import CommentedMap

    return CommentedMap(values)


def _flow(values: Mapping[str, object]) -> Any:
    """A row on one line, without empty cells."""
    made = _plain_map({k: v for k, v in values.items() if v not in (None, "", [], 0)})
    made.fa.set_flow_style()
    return made


def _head(following: Following) -> list[str]:
    """What stands at the head of the file: where it comes from and what was changed."""
    import textwrap

    lines = ["The next block, started from what was done. Look at it, change it, then: planner check", ""]
    for remark in following.remarks:
        lines += textwrap.wrap(remark, WIDTH - 6, initial_indent="- ", subsequent_indent="  ")
    return lines


class _Editor:
    """Changes one document in place; keys are found as a coach may have spelt them."""

    def __init__(self, doc: Any, following: Following) -> None:
        self.doc = doc
        self.following = following

    def edit(self) -> None:
        self._block()
        self._legs()
        self._weekly_slots()
        for table in DATED:
            self._keep(table, partial(self._still_speaks, table))
        self._known_slots()
        for table in ATTENDING:
            self._attendance(table)
        self._drop("before")
        self._marks()
        f = self.following
        self._replace("run_ups", [_run_up_row(r) for r in f.run_ups])
        self._replace("competitions", _competition_rows(f.competitions))
        self._replace("limits", [_limit_row(x) for x in f.limits])

    # --- tables ----------------------------------------------------------------------------------------

    def _table(self, name: str) -> str | None:
        """The key under which a table stands in this file."""
        return next((k for k in self.doc if find(str(k), TABLES) == name), None)

    def _drop(self, name: str) -> None:
        key = self._table(name)
        if key is not None:
            del self.doc[key]

    def _replace(self, name: str, rows: list[Any]) -> None:
        key = self._table(name)
        if not rows:
            self._drop(name)
        elif key is None:
            self.doc[name] = rows
        else:
            self.doc[key] = rows
        if rows:
            self.doc.yaml_set_comment_before_after_key(key or name, before="\n" + ABOVE[name])

    def _keep(self, name: str, wanted: Callable[[Any], bool]) -> None:
        """Only the rows that are wanted; the table goes when none is left."""
        key = self._table(name)
        if key is None or not isinstance(self.doc[key], list):
            return
        rows = self.doc[key]
        for i in reversed(range(len(rows))):
            if not wanted(rows[i]):
                del rows[i]
        if not rows:
            del self.doc[key]

    def _still_speaks(self, table: str, row: Any) -> bool:
        """Does a row name no date, or one in the new block or after it?"""
        dates = [d for column in DATE_COLUMNS for d in _dates(_cell(row, table, column))]
        return not dates or max(dates) >= self.following.begins

    # --- what is changed -------------------------------------------------------------------------------

    def _block(self) -> None:
        f, row = self.following, self.doc[self._table("block")]
        for column in ("kind", "camp_from", "camp_until"):
            if (key := _key(row, "block", column)) is not None:
                del row[key]
        for column, value in (("name", f.name), ("from", f.begins), ("until", f.ends), ("previous", f.previous)):
            row[_key(row, "block", column) or column] = value

    def _legs(self) -> None:
        key = self._table("athletes")
        for row in self.doc[key] if key else ():
            leg = self.following.legs.get(str(_cell(row, "athletes", "name")))
            if leg is not None:
                row[_key(row, "athletes", "take_off_leg") or "take_off_leg"] = leg

    def _weekly_slots(self) -> None:
        """Slots that stood on dates only become slots on weekdays: each weekday as it was the last time.

        A table that names weekdays already needs none of it.
        """
        key = self._table("slots")
        rows = list(self.doc[key]) if key else []
        every = [(row, _every_day(_cell(row, "slots", "date"))) for row in rows if not _closed(row)]
        if not rows or any(not days or max(days) >= self.following.begins for _, days in every):
            return
        last: dict[int, date] = {}
        for _, days in every:
            for day in days:
                last[day.weekday()] = max(day, last.get(day.weekday(), day))
        for row, days in every:
            held = [n for n, day in sorted(last.items()) if day in days]
            if held:
                named = {"name": name} if (name := _cell(row, "slots", "name")) else {}
                hours = {column: _cell(row, "slots", column) for column in ("from", "until")}
                self.doc[key].append(_flow({**named, "days": _several([WEEKDAYS[n] for n in held]), **hours}))

    def _known_slots(self) -> None:
        """Openings name only slots that are still there, on a weekday of their own."""
        key, slots = self._table("openings"), self._table("slots")
        held: dict[str, set[int]] = {}
        for r in self.doc[slots] if slots else ():
            held.setdefault(str(_cell(r, "slots", "name") or "training"), set()).update(_weekdays(r, "slots"))

        def stays(row: Any) -> bool:
            column = _key(row, "openings", "slot")
            if column is None:
                return True
            cell = row[column]
            named = [str(x).strip() for x in (cell.split(";") if isinstance(cell, str) else cell)]
            kept = [x for x in named if held.get(x, set()) & _weekdays(row, "openings")]
            if kept and kept != named:
                row[column] = _several(kept)
            return bool(kept)

        if key is not None:
            self._keep("openings", stays)

    def _attendance(self, table: str) -> None:
        """Coaches and helpers without the days away that are over, and without who was there on such days only."""

        def stays(row: Any) -> bool:
            dates = _dates(_cell(row, table, "date"))
            return not dates or max(dates) >= self.following.begins

        self._keep(table, stays)
        key = self._table(table)
        for row in self.doc[key] if key else ():
            away = _key(row, table, "away")
            dates = _dates(row[away]) if away is not None else []
            if dates and max(dates) < self.following.begins:
                del row[away]

    def _marks(self) -> None:
        rows = [_mark_row(m) for m in self.following.marks]
        key = self._table("marks")
        if rows and key is None:
            self.doc["marks"] = rows
        elif rows:
            self.doc[key].extend(rows)


def _key(row: Any, table: str, column: str) -> str | None:
    return next((k for k in row if find(str(k), columns(table)) == column), None)


def _cell(row: Any, table: str, column: str) -> object:
    key = _key(row, table, column) if isinstance(row, Mapping) else None
    return None if key is None else row[key]


def _weekdays(row: Any, table: str) -> set[int]:
    """The weekdays a row names; all seven when it names none, or a date."""
    cell: Any = _cell(row, table, "days")
    return set(range(7)) if cell is None else set(weekdays(cell))


def _closed(row: Any) -> bool:
    return str(_cell(row, "slots", "closed") or "no").casefold() in ("yes", "true")


def _dates(cell: object) -> list[date]:
    """Every date that stands in a cell."""
    if isinstance(cell, datetime):
        return [cell.date()]
    if isinstance(cell, date):
        return [cell]
    if isinstance(cell, Iterable) and not isinstance(cell, str | Mapping):
        return [d for part in cell for d in _dates(part)]
    return [date.fromisoformat(text) for text in _DATE.findall(str(cell or ""))]


def _every_day(cell: object) -> list[date]:
    """Every date of a cell, those inside 'first..last' included."""
    if not isinstance(cell, str):
        return _dates(cell)
    found = []
    for part in cell.split(";"):
        ends = _dates(part)
        if ends:
            found += [ends[0] + timedelta(days=i) for i in range((ends[-1] - ends[0]).days + 1)]
    return found


# --- rows ----------------------------------------------------------------------------------------------


def _length(cm: int | None) -> str:
    return f"{cm / 100:.2f} m" if cm else ""


def _mark_row(m: Mark) -> Any:
    row = _flow({"athlete": m.athlete, "event": m.event, "mark": mark_words(m), "date": m.day})
    if m.wind is not None:
        row["wind"] = m.wind / 10
    return row


def _run_up_row(r: RunUp) -> Any:
    return _flow({
        "athlete": r.athlete, "event": r.event, "steps": r.steps, "start_mark": _length(r.start_mark),
        "check_steps": r.check_steps, "check_mark": _length(r.check_mark), "coach_mark": _length(r.coach_mark),
        "shoe": str(r.worn) if r.worn.said else "", "board": _length(r.board), "leg": r.leg, "date": r.day,
    })  # fmt: skip


def _competition_rows(competitions: Iterable[Competition]) -> list[Any]:
    """One row for everybody who is entered in the same events of one competition."""
    found: dict[Competition, list[str]] = {}
    for c in competitions:
        found.setdefault(replace(c, athlete="", line=NOWHERE), []).append(c.athlete)
    return [
        _flow({
            "name": c.name, "date": c.first_day, "until": c.last_day if c.last_day != c.first_day else None,
            "athletes": _several(athletes), "events": _several(list(c.events)), "importance": c.importance,
            "start": f"{c.start:%H:%M}" if c.start and not c.starts else "",
            "starts": _several([f"{x.event} {x.at:%H:%M}" for x in c.starts]), "gap_accepted": c.gap_accepted,
        })
        for c, athletes in found.items()
    ]  # fmt: skip


def _several(words: list[str]) -> str:
    return "; ".join(words)


def _limit_row(x: Limit) -> Any:
    held = {"kind": "hold back"} if x.hold_back else {"region": x.region, "side": x.side}
    row = _flow({
        "athlete": x.athlete, **held, "from": x.begins, "until": x.ends, "days_between": x.days_between,
        "run_up_steps": x.run_up_steps, "speed_percent": x.speed_percent, "banned": _several(list(x.banned)),
    })  # fmt: skip
    row.insert(2 if x.hold_back else 3, "stage", x.stage)  # 0 is a stage, and a cap of none is a cap
    for column in ("contacts_a_week", "hard_contacts_a_week", "landings_a_session"):
        if (value := getattr(x, column)) is not None:
            row[column] = value
    return row
