"""The JSON Schema (2020-12) of a block file, made from the models of its rows."""

from __future__ import annotations

from typing import Any

from planner.intake.tables import NEEDED_TABLES, TABLES

DIALECT = "https://json-schema.org/draft/2020-12/schema"
NEVER_EMPTY = ("slots", "athletes")


def _row(table: str) -> dict[str, Any]:
    found: dict[str, Any] = TABLES[table].model_json_schema(by_alias=True)
    found.pop("title", None)
    found.pop("$defs", None)
    for column in found["properties"].values():
        column.pop("title", None)
        column.pop("default", None)  # said in the description, in a coach's words
    return found


def block_schema() -> dict[str, Any]:
    """The schema of the whole file: tables by name; only `block` and `athletes` must be there."""
    tables: dict[str, Any] = {}
    for table in TABLES:
        row = _row(table)
        description = row.pop("description", "")
        if table == "block":
            tables[table] = {"description": description, **row}
            continue
        tables[table] = {"description": description, "type": "array", "items": row}
        if table in NEVER_EMPTY:
            tables[table]["minItems"] = 1
    return {
        "$schema": DIALECT,
        "title": "Block file of a training block",
        "type": "object",
        "properties": tables,
        "required": list(NEEDED_TABLES),
        "additionalProperties": False,
    }
