"""Facts in the ledger: one row each, corrections too."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

from planner.domain.fact_record import fact_of, recorded_fact
from planner.domain.facts import Fact, Undone, day_of
from planner.domain.plain import RecordError
from planner.domain.record import canonical
from planner.ledger.errors import RESCUE, LedgerDamaged, LedgerUnknown


def add_fact(db: sqlite3.Connection, fact: Fact, path: Path) -> int:
    """Insert a fact; its number."""
    if fact.recorded_at.tzinfo is None:
        raise ValueError(f"recorded_at {fact.recorded_at}: a moment with a time zone is needed")
    undoes = None
    if isinstance(fact, Undone):
        undoes = fact.fact
        _counts(db, undoes, path)
    day = day_of(fact)
    cursor = db.execute(
        "INSERT INTO facts (kind, day, recorded_at, undoes, record) VALUES (?, ?, ?, ?, ?)",
        (
            fact.kind,
            day.isoformat() if day else "",
            fact.recorded_at.isoformat(),
            undoes,
            canonical(recorded_fact(fact)),
        ),
    )
    return int(cursor.lastrowid or 0)


def _counts(db: sqlite3.Connection, number: int, path: Path) -> None:
    """A fact can be undone that stands there and is not undone already."""
    if db.execute("SELECT 1 FROM facts WHERE id = ?", (number,)).fetchone() is None:
        raise LedgerUnknown(
            path, f"there is no fact {number} to undo.", "look for its number with 'planner history FILE --facts'."
        )
    undone: set[int] = set()
    for own, undoes in db.execute("SELECT id, undoes FROM facts WHERE undoes NOT NULL ORDER BY id DESC"):
        if own not in undone:
            undone.add(undoes)
    if number in undone:
        raise LedgerUnknown(path, f"fact {number} is undone already.", "nothing is left to do.")


def all_facts(db: sqlite3.Connection, path: Path, *, without: str = "") -> tuple[Fact, ...]:
    """Every fact ever recorded, undoings included, by number; but for one kind, where it is named."""
    found = []
    sql = "SELECT id, record FROM facts WHERE kind != ? ORDER BY id"
    for number, record in db.execute(sql, (without,)).fetchall():
        try:
            found.append(fact_of(json.loads(record), number))
        except (RecordError, json.JSONDecodeError) as error:
            raise LedgerDamaged(
                path,
                f"fact {number} cannot be read ({error}); a whole ledger is needed.",
                RESCUE,
            ) from error
    return tuple(found)
