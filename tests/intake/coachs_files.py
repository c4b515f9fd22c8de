"""The same tables as a YAML file or a workbook, so that one test holds for both."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from planner.domain.finding import Line
from planner.intake import BadFile, read_block

Tables = dict[str, Any]
KINDS = ("yaml", "xlsx")

SMALL: Tables = {
    "block": {
        "name": "Spring",
        "from": date(2027, 3, 22),
        "until": date(2027, 4, 4),
        "time_zone": "Europe/Oslo",
    },
    "slots": [{"name": "evening", "days": "Mon-Sat", "from": "17:00", "until": "19:00"}],
    "coaches": [{"name": "Reidun"}],
    "athletes": [
        {
            "name": "Tove Marn",
            "born": date(2006, 5, 1),
            "sex": "female",
            "events": "long jump",
            "level": "advanced",
            "take_off_leg": "left",
        },
        {
            "name": "Mirel Ost",
            "born": date(2005, 1, 9),
            "sex": "female",
            "events": "400 m",
            "level": "novice",
        },
    ],
}


def small(**tables: Any) -> Tables:
    """The small file with some tables added or replaced."""
    return {**copy.deepcopy(SMALL), **tables}


def edited(edit: Callable[[Tables], object]) -> Tables:
    tables = copy.deepcopy(SMALL)
    edit(tables)
    return tables


def setting(table: str, row: int, **cells: Any) -> Callable[[Tables], object]:
    def edit(tables: Tables) -> None:
        (tables[table] if table == "block" else tables[table][row]).update(cells)

    return edit


def complaints(path: Path) -> list[str]:
    with pytest.raises(BadFile) as caught:
        read_block(path)
    assert caught.value.exit_code == 2
    return [str(c) for c in caught.value.complaints]


def _scalar(value: Any) -> str:
    if isinstance(value, datetime):
        return value.isoformat(sep=" ", timespec="minutes")
    return value.isoformat() if isinstance(value, date) else json.dumps(value, ensure_ascii=False)


def yaml_text(tables: Tables) -> str:
    lines = []
    for table, rows in tables.items():
        if table == "block":
            lines += ["block:", *(f"  {k}: {_scalar(v)}" for k, v in rows.items())]
        elif not rows:
            lines.append(f"{table}: []")
        else:
            flows = ("{" + ", ".join(f"{k}: {_scalar(v)}" for k, v in row.items()) + "}" for row in rows)
            lines += [f"{table}:", *(f"  - {flow}" for flow in flows)]
    return "\n".join(lines) + "\n"


def write(kind: str, folder: Path, tables: Tables) -> Path:
    path = folder / f"block.{kind}"
    if kind == "yaml":
        path.write_text(yaml_text(tables), encoding="utf-8")
        return path
    book = openpyxl.Workbook()
    book.remove(book.active)
    for table, rows in tables.items():
        sheet = book.create_sheet(table)
        listed = [rows] if isinstance(rows, dict) else rows
        header = list(dict.fromkeys(k for row in listed for k in row))
        sheet.append(header)
        for i, row in enumerate(listed, 2):
            for j, column in enumerate(header, 1):
                cell = sheet.cell(i, j, row.get(column))
                if isinstance(row.get(column), str):
                    cell.data_type = "s"
    book.save(path)
    return path


def without_lines(value: Any) -> Any:
    """A record with every place in the file blanked, for comparing what two kinds of file say."""
    if isinstance(value, Line):
        return Line()
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{f.name: without_lines(getattr(value, f.name)) for f in fields(value)})
    if isinstance(value, tuple):
        return tuple(without_lines(v) for v in value)
    if isinstance(value, Mapping):
        return {k: without_lines(v) for k, v in value.items()}
    return value
