"""The file under the ledger: opening, numbered migrations, one transaction at a time.

Journal mode. Measured on a Linux machine with a virtual disk, 200 rows of 0.9 kB a transaction, 30
transactions: DELETE 1.4 ms, TRUNCATE and PERSIST 1.2 ms, WAL 0.7 ms (median). Under a millisecond a command
is nothing beside what the modes leave lying about: WAL keeps the newest rows in a second file and needs a
third to be read at all, so a plain copy of the ledger may miss what was recorded and a read-only folder may
refuse to show it, and it is not made for shared network folders. TRUNCATE and PERSIST leave an empty journal
behind. DELETE leaves one file whenever no command runs. After a killed command the journal stays beside the
ledger and the next command rolls back with it; whoever copies the folder at that moment copies both.
`synchronous` is EXTRA (FULL and the folder's own entry): a hand-out that was confirmed survives a power cut.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from pathlib import Path

from planner import __version__
from planner.ledger.errors import RESCUE, LedgerDamaged, LedgerMissing, LedgerTooNew, told

APPLICATION_ID = 0x54424C50  # 'TBLP' in the file's header: this is a ledger and not some other database
WAIT_SECONDS = 5.0  # how long a command waits for another one; a write takes milliseconds


def ledger_path(block_path: Path) -> Path:
    """'<stem>.ledger' beside the block file."""
    return block_path.parent / f"{block_path.stem}.ledger"


def connect(path: Path, *, create: bool, wait_seconds: float = WAIT_SECONDS) -> sqlite3.Connection:
    """Open a ledger file, whole and at the present schema.

    Raises LedgerMissing (no file, or an empty one, and not `create`), LedgerTooNew, LedgerDamaged,
    LedgerBusy, LedgerUnwritable.
    """
    if not create and not (path.is_file() and path.stat().st_size):
        raise LedgerMissing(
            path, "nothing has been recorded for this block; a plan is needed first.", "run 'planner build'."
        )
    with told(path):
        mode = "rwc" if create else "rw"
        connection = sqlite3.connect(
            f"{path.absolute().as_uri()}?mode={mode}", uri=True, timeout=wait_seconds, isolation_level=None
        )
    try:
        with told(path):
            connection.execute("PRAGMA foreign_keys = ON")
            connection.execute("PRAGMA recursive_triggers = ON")  # INSERT OR REPLACE meets the triggers too
            connection.execute("PRAGMA journal_mode = DELETE")
            connection.execute("PRAGMA synchronous = EXTRA")
            connection.execute("PRAGMA secure_delete = ON")  # what is forgotten leaves no bytes behind
            _check(connection, path)
            _migrate(connection, path)
    except BaseException:
        connection.close()
        raise
    return connection


@contextmanager
def writing(connection: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """One transaction that has the right to write from its first statement on; whole or not at all."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield connection
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


@contextmanager
def unguarded(connection: sqlite3.Connection) -> Iterator[None]:
    """Inside a transaction: without the triggers that forbid changing and deleting, which then come back."""
    sql = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name"
    triggers = connection.execute(sql).fetchall()
    for name, _ in triggers:
        connection.execute(f"DROP TRIGGER {name}")
    yield  # an error rolls the whole transaction back, triggers included
    for _, made in triggers:
        connection.execute(made)


@contextmanager
def reading(connection: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """Several reads of one and the same state."""
    connection.execute("BEGIN")
    try:
        yield connection
    finally:
        if connection.in_transaction:
            connection.execute("ROLLBACK")


def _migrations() -> list[tuple[int, str, str]]:
    """(number, name, SQL) of every schema file, in order."""
    found = []
    for entry in resources.files("planner.ledger").joinpath("schema").iterdir():
        if match := re.fullmatch(r"(\d{3})_(\w+)\.sql", entry.name):
            found.append((int(match[1]), match[2], entry.read_text(encoding="utf-8")))
    return sorted(found)


def _statements(script: str) -> Iterator[str]:
    """Cut a script into statements (executescript would commit before it begins)."""
    piece = ""
    for line in script.splitlines(keepends=True):
        piece += line
        if sqlite3.complete_statement(piece):
            yield piece
            piece = ""


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def _check(connection: sqlite3.Connection, path: Path) -> None:
    with reading(connection):
        version, owner = _number(connection, "user_version"), _number(connection, "application_id")
        tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        faults = [row[0] for row in connection.execute("PRAGMA quick_check(1)")]
    if tables and owner != APPLICATION_ID:
        raise LedgerDamaged(
            path,
            "a database of some other program; a ledger of this one is needed.",
            "move that file away, or rename the block file.",
        )
    if faults != ["ok"]:
        raise LedgerDamaged(
            path,
            f"the file is damaged ({faults[0]}); a whole one is needed.",
            RESCUE,
        )
    newest = _migrations()[-1][0]
    if version > newest:
        raise LedgerTooNew(
            path,
            f"written by a newer version of this program (schema {version}; this one knows up to {newest}).",
            "install the newer version; nothing was changed.",
        )


def _migrate(connection: sqlite3.Connection, path: Path) -> None:
    migrations = _migrations()
    if _number(connection, "user_version") == migrations[-1][0]:
        return
    with writing(connection):
        now_at = _number(connection, "user_version")  # another command may have been quicker
        for number, name, script in migrations:
            if number <= now_at:
                continue
            for statement in _statements(script):
                connection.execute(statement)
            connection.execute("INSERT INTO migrations VALUES (?, ?, ?)", (number, name, __version__))
            connection.execute(f"PRAGMA user_version = {number}")
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
