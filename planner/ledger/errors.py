"""What can go wrong with the ledger, each said in one sentence with a remedy."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planner.domain.errors import Told

RESCUE = (  # the remedy of a damaged ledger; a copy of it is kept whatever comes of it
    "bring back what is whole with 'planner restore FILE --rescue', or an earlier copy with "
    "'planner restore FILE --rescue --copy COPY'."
)


class LedgerError(Told):
    """The ledger could not be used: where, what was found, what is needed, 'Maybe ...'."""

    def __init__(self, where: Path | str, found: str, maybe: str) -> None:
        super().__init__(f"{where}: {found}\nMaybe {maybe}")


class LedgerMissing(LedgerError):
    """Nothing has been recorded for this block yet."""


class LedgerBusy(LedgerError):
    """Another command is writing, and did not end in time."""


class LedgerTooNew(LedgerError):
    """The ledger was written by a newer version of this program."""


class LedgerDamaged(LedgerError):
    """The file is no ledger, or its bytes are broken."""


class LedgerUnwritable(LedgerError):
    """Read-only file or folder, full disk, or a failing one. Nothing was recorded."""

    exit_code = 5


class LedgerUnknown(LedgerError):
    """A revision or unit that the ledger or the block does not know."""


class LedgerMoved(LedgerError):
    """Somebody else recorded a revision since this command read the ledger."""


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what SQLite reports into an error of the tree above; the database's own words stay behind it."""
    try:
        yield
    except sqlite3.Error as error:
        raise _as_ledger_error(path, error) from error


def _as_ledger_error(path: Path, error: sqlite3.Error) -> LedgerError:
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return LedgerBusy(
            path,
            "another command is writing; it must end first. Nothing was recorded by this one.",
            "wait a moment and run the command again.",
        )
    if name.startswith(("SQLITE_NOTADB", "SQLITE_CORRUPT")):
        return LedgerDamaged(
            path,
            f"the file is damaged or no ledger ({error}); a whole one is needed.",
            RESCUE,
        )
    if name.startswith("SQLITE_FULL"):
        return LedgerUnwritable(
            path, "the disk is full; nothing was recorded.", "free some space and run the command again."
        )
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM", "SQLITE_IOERR", "SQLITE_AUTH")):
        return LedgerUnwritable(
            path,
            f"cannot be written ({error}); a writable file in a writable folder is needed. "
            "Nothing was recorded.",
            "copy the block folder to a place of your own, or change its permissions.",
        )
    return LedgerError(path, f"unexpected database answer: {error}.", "report this, it is our mistake.")
