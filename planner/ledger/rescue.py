"""A damaged ledger: say what is broken, keep a copy of it, bring back the last whole state.

The damaged file is never thrown away. What comes back is a copy made earlier, or every row that can still be
read: revisions whose sum over all rows is right, hand-outs of these, facts that can be read.
"""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planner.domain.fact_record import fact_of
from planner.domain.plain import RecordError
from planner.ledger.errors import LedgerDamaged, LedgerError, told
from planner.ledger.file import connect, ledger_path, reading, unguarded, writing
from planner.ledger.rows import PARTS, digest, seal_of

# In this order each row finds those it refers to.
TABLES = ("inputs", "revisions", *PARTS, "hand_outs", "facts", "rewritings", "seals")


@dataclass(frozen=True)
class Rescue:
    """What came back. `kept` is the copy of the damaged file; `lost` are numbers that are gone."""

    damage: str
    kept: Path
    revisions: tuple[int, ...]
    lost: tuple[int, ...]
    facts: tuple[int, ...]
    lost_facts: tuple[int, ...]


def damage(block_path: Path) -> str:
    """What is broken in the ledger of a block, in one sentence; '' when it is whole."""
    path = ledger_path(block_path)
    try:
        connection = connect(path, create=False)
    except LedgerDamaged as error:
        return str(error).splitlines()[0]
    try:
        with reading(connection) as db:
            broken = [n for n in _numbers(db, "revisions", "number") if not _is_whole(db, n)]
    finally:
        connection.close()
    return f"{path}: revision {', '.join(map(str, broken))} is not whole." if broken else ""


def rescue(block_path: Path, copy: Path | None = None) -> Rescue:
    """Set the damaged ledger aside and put a whole one in its place; nothing is thrown away.

    With `copy`, a copy made earlier takes its place; without, whatever can still be read. Raises LedgerError
    when the ledger is whole, LedgerDamaged when nothing of it (or of the copy) can be read.
    """
    path = ledger_path(block_path)
    what = damage(block_path)
    if not what:
        raise LedgerError(path, "the ledger is whole; nothing is to be brought back.", "leave it as it is.")
    with told(path):
        kept = _set_aside(path)
        part = path.with_name(f"{path.name}.part")
        part.unlink(missing_ok=True)
        try:
            if copy is not None:
                connect(copy, create=False).close()  # LedgerDamaged, LedgerTooNew
                shutil.copyfile(copy, part)
            else:
                _salvage(kept, part, path)
            found = _told(what, kept, part)
            path.with_name(f"{path.name}-journal").unlink(missing_ok=True)  # it is that of the damaged file
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    return found


def _set_aside(path: Path) -> Path:
    """A copy of the file as it is, and of the journal beside it, under a name that is still free."""
    n = 1
    while (kept := path.with_name(f"{path.name}.damaged-{n}")).exists():
        n += 1
    shutil.copyfile(path, kept)
    journal = path.with_name(f"{path.name}-journal")
    if journal.exists():
        shutil.copyfile(journal, kept.with_name(f"{kept.name}-journal"))
    return kept


def _salvage(kept: Path, part: Path, path: Path) -> None:
    old = sqlite3.connect(f"{kept.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
    new = connect(part, create=True)
    try:
        with writing(new) as db, unguarded(db):
            db.execute("PRAGMA defer_foreign_keys = ON")  # rows whose revision is gone go below
            for table in TABLES:
                _copy(old, db, table)
            for number in _everything_of(db):
                if not _is_whole(db, number):
                    _leave_out(db, number)
            _leave_out_facts(db)
            saved = _numbers(db, "revisions", "number") + _numbers(db, "facts", "id")
        if not saved:
            raise LedgerDamaged(
                path,
                f"nothing in it can be read any more; a copy of it is kept as '{kept.name}'.",
                "put back the last copy made with 'planner backup'.",
            )
    finally:
        new.close()
        old.close()


def _copy(old: sqlite3.Connection, new: sqlite3.Connection, table: str) -> None:
    """Every row of a table that can be read and fits the present schema."""
    names = ""
    for row in _readable(old, table):
        if not names:
            found = old.execute(f"SELECT * FROM {table} LIMIT 0").description
            names = ", ".join(column[0] for column in found)
        holes = ", ".join("?" * len(row))
        new.execute(f"INSERT OR IGNORE INTO {table} ({names}) VALUES ({holes})", row)


def _readable(db: sqlite3.Connection, table: str) -> Iterator[tuple[object, ...]]:
    """Rows from both ends up to the damage, then one by one what lies between."""
    sql = f"SELECT rowid, * FROM {table} NOT INDEXED"
    first, last = 0, 0
    done = True
    for row in _until_damage(db, f"{sql} ORDER BY rowid"):
        done = row is not None
        if row is None:
            break
        first = row[0]
        yield row[1:]
    if done:
        return
    behind: list[tuple[object, ...]] = []
    for row in _until_damage(db, f"{sql} WHERE rowid > {first} ORDER BY rowid DESC"):
        if row is None:
            break
        last = row[0]
        behind.append(row[1:])
    for number in range(first + 1, last):
        yield from (r[1:] for r in _until_damage(db, f"{sql} WHERE rowid = {number}") if r is not None)
    yield from reversed(behind)


def _until_damage(db: sqlite3.Connection, sql: str) -> Iterator[tuple[int, *tuple[object, ...]] | None]:
    """Rows in order; None as the last one when the reading broke off."""
    try:
        yield from db.execute(sql)
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        yield None


def _numbers(db: sqlite3.Connection, table: str, column: str) -> list[int]:
    return [row[0] for row in db.execute(f"SELECT DISTINCT {column} FROM {table} ORDER BY 1")]


def _everything_of(db: sqlite3.Connection) -> list[int]:
    """Every revision of which at least one row came over."""
    found = set(_numbers(db, "revisions", "number"))
    for table in (*PARTS, "hand_outs", "seals"):
        found.update(_numbers(db, table, "revision"))
    return sorted(found)


def _is_whole(db: sqlite3.Connection, number: int) -> bool:
    """Is everything there that the revision was sealed with? One from before the seals: are its inputs?"""
    sql = "SELECT r.inputs, i.record FROM revisions r JOIN inputs i ON i.id = r.inputs WHERE r.number = ?"
    row = db.execute(sql, (number,)).fetchone()
    if row is None:
        return False
    seal = db.execute("SELECT sha256 FROM seals WHERE revision = ?", (number,)).fetchone()
    return bool(seal_of(db, number) == seal[0] if seal else digest(row[1]) == row[0])


def _leave_out(db: sqlite3.Connection, number: int) -> None:
    for table in (*PARTS, "hand_outs", "seals"):
        db.execute(f"DELETE FROM {table} WHERE revision = ?", (number,))
    db.execute("DELETE FROM revisions WHERE number = ?", (number,))


def _leave_out_facts(db: sqlite3.Connection) -> None:
    """Facts whose record is broken, and undoings of facts that are gone."""
    for number, record in db.execute("SELECT id, record FROM facts ORDER BY id").fetchall():
        try:
            fact_of(json.loads(record), number)
        except (RecordError, ValueError):
            db.execute("DELETE FROM facts WHERE id = ?", (number,))
    db.execute("DELETE FROM facts WHERE undoes NOT NULL AND undoes NOT IN (SELECT id FROM facts)")


def _told(what: str, kept: Path, part: Path) -> Rescue:
    connection = connect(part, create=False)
    try:
        with reading(connection) as db:
            revisions, facts = _numbers(db, "revisions", "number"), _numbers(db, "facts", "id")
    finally:
        connection.close()
    before = _highest(kept)
    return Rescue(
        what,
        kept,
        tuple(revisions),
        tuple(n for n in range(1, max([before[0], *revisions]) + 1) if n not in revisions),
        tuple(facts),
        tuple(n for n in range(1, max([before[1], *facts]) + 1) if n not in facts),
    )


def _highest(kept: Path) -> tuple[int, int]:
    """The highest number of a revision and of a fact that the damaged file still shows; 0 where none."""
    db = sqlite3.connect(f"{kept.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
    found = []
    try:
        for table in ("revisions", "facts"):
            rows = list(_until_damage(db, f"SELECT max(rowid) FROM {table} NOT INDEXED"))
            found.append(int(rows[0][0] or 0) if rows and rows[0] is not None else 0)
    finally:
        db.close()
    return found[0], found[1]
