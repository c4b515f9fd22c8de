"""The ledger as the rest of the program sees it: record a revision, hand it out, read it back."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any

from planner.domain.block import RuleSetting
from planner.domain.facts import Fact, in_force
from planner.domain.plain import RecordError
from planner.domain.plan import Outcome
from planner.domain.record import UnknownUnitError, canonical
from planner.domain.revision import HandOut, Revision
from planner.domain.units import Unit
from planner.ledger.errors import RESCUE, LedgerDamaged, LedgerMoved, LedgerUnknown, LedgerUnwritable, told
from planner.ledger.fact_rows import add_fact, all_facts
from planner.ledger.file import WAIT_SECONDS, connect, ledger_path, reading, writing
from planner.ledger.forgetting import Rewriting, forget, rewritings
from planner.ledger.rows import (
    DRAFT,
    REVISION,
    HistoryRow,
    StoredPlan,
    add_revision,
    copy_revision,
    hand_outs,
    history_row,
    last_changes,
    revision_of,
    stored_plan,
)


class Ledger:
    """The open ledger of one block. Every write is one transaction: recorded whole, or not at all."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self._connection = connection

    @classmethod
    def open(cls, block_path: Path, *, create: bool, wait_seconds: float = WAIT_SECONDS) -> Ledger:
        """The ledger beside a block file, brought to the present schema; use it in a `with` statement.

        `wait_seconds` is how long a write waits for another command. Raises LedgerMissing when nothing
        was recorded yet and not `create`, else LedgerTooNew, LedgerDamaged, LedgerBusy, LedgerUnwritable.
        """
        path = ledger_path(block_path)
        return cls(path, connect(path, create=create, wait_seconds=wait_seconds))

    def close(self) -> None:
        self._connection.close()

    def __enter__(self) -> Ledger:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    # --- writing -------------------------------------------------------------------------------------

    def record_revision(
        self,
        revision: Revision,
        outcome: Outcome,
        inputs: Mapping[str, object],
        exceptions: Sequence[RuleSetting] = (),
        *,
        after: int | None = None,
    ) -> Revision:
        """Record a reviewed plan as the next draft; returns the revision with its number.

        The number, what it replaces and its status are set here, inside the transaction; random seed and
        budget are the plan's. `inputs` are the resolved inputs as plain data (`block_record`). With
        `after`, the last revision must still be that one (0: none), else LedgerMoved.
        """
        text = canonical(inputs)
        plan = outcome.plan
        with self._writing() as db:
            last = self._last(db, after)
            made = replace(
                revision,
                number=last + 1,
                replaces=last,
                status=DRAFT,
                random_seed=plan.random_seed,
                budget=plan.budget,
            )
            add_revision(db, made, outcome, text, exceptions)
        return made

    def hand_out(self, revision_number: int, at: datetime, until: date | None = None) -> HandOut:
        """Record that a revision was given to athletes, whole or up to a date; LedgerUnknown without one."""
        made = HandOut(revision_number, at, until.isoformat() if until else "")
        with self._writing() as db:
            self._row(db, revision_number)
            db.execute(
                "INSERT INTO hand_outs (revision, handed_out_at, until) VALUES (?, ?, ?)",
                (made.revision, made.handed_out_at.isoformat(), made.until),
            )
        return made

    def backup(self, path: Path) -> Path:
        """A whole copy of the ledger, also while others write. Appears at `path` complete or not at all.

        An older copy there is replaced. Raises LedgerUnwritable when `path` cannot be written.
        """
        if path.exists() and path.samefile(self.path):
            raise LedgerUnwritable(path, "that is the ledger itself; another file is needed.", "name a copy.")
        part = path.with_name(f"{path.name}.part")
        try:
            with told(path):
                target = sqlite3.connect(part)
                try:
                    self._connection.backup(target)
                finally:
                    target.close()
            os.replace(part, path)
        except OSError as error:
            raise LedgerUnwritable(
                path, f"cannot be written ({error.strerror}).", "name a folder of your own."
            ) from error
        finally:
            part.unlink(missing_ok=True)
        return path

    # --- reading -------------------------------------------------------------------------------------

    def current(self, units: Mapping[str, Unit]) -> StoredPlan | None:
        """The last revision; None when there is none. `units` are the catalogue and the block's own."""
        with self._reading() as db:
            last = db.execute("SELECT max(number) FROM revisions").fetchone()[0]
            return None if last is None else self._stored(db, int(last), units)

    def revision(self, number: int, units: Mapping[str, Unit]) -> StoredPlan:
        """A revision by its number. LedgerUnknown when there is none, or a unit of it is not in `units`."""
        with self._reading() as db:
            return self._stored(db, number, units)

    def inputs(self, number: int) -> dict[str, Any]:
        """The resolved inputs a revision was made from, as plain data; LedgerUnknown when there is none."""
        with self._reading() as db:
            self._row(db, number)
            sql = "SELECT record FROM inputs WHERE id = (SELECT inputs FROM revisions WHERE number = ?)"
            found: dict[str, Any] = json.loads(db.execute(sql, (number,)).fetchone()[0])
            return found

    def history(self) -> tuple[HistoryRow, ...]:
        """All revisions, oldest first."""
        with self._reading() as db:
            rows = db.execute(
                f"SELECT {REVISION},"
                " (SELECT count(*) FROM placements WHERE revision = number),"
                " (SELECT count(*) FROM findings WHERE revision = number)"
                " FROM revisions ORDER BY number"
            ).fetchall()
            given = hand_outs(db)
        return tuple(history_row(row, given) for row in rows)

    def last_changes(self) -> dict[str, int]:
        """For every athlete who was ever planned, the last revision that differs from the one before for them."""
        with self._reading() as db:
            return last_changes(db)

    def record_fact(self, fact: Fact) -> int:
        """Record one fact; its number. An undoing must name a recorded fact that counts (LedgerUnknown)."""
        return self.record_facts((fact,))[0]

    def record_facts(self, facts: Sequence[Fact]) -> tuple[int, ...]:
        """Record several facts, all or none; their numbers in order.

        Raises ValueError for a moment without a time zone, LedgerUnknown for an undoing of nothing.
        """
        with self._writing() as db:
            return tuple(add_fact(db, fact, self.path) for fact in facts)

    def facts(self, *, include_undone: bool = False, without: str = "") -> tuple[Fact, ...]:
        """The facts that count, by the moment of recording; with `include_undone` every row, by number.

        `without` is a kind that is not asked for.
        """
        with self._reading() as db:
            found = all_facts(db, self.path, without=without)
        return found if include_undone else in_force(found)

    def restore(self, number: int, at: datetime, *, after: int | None = None) -> Revision:
        """Add a draft revision equal to an earlier one; nothing is deleted. LedgerUnknown, LedgerMoved."""
        with self._writing() as db:
            last = self._last(db, after)
            earlier = revision_of(self._row(db, number), ())
            made = replace(
                earlier, number=last + 1, made_at=at, reason=f"as revision {number}", replaces=last
            )
            copy_revision(db, number, made)
        return made

    def forget(self, athlete: str, at: datetime) -> Rewriting:
        """Blank one person's name and health in every row, for good: the only rewriting there is.

        What was trained stays, under words that name nobody. LedgerUnknown when no row names the person.
        Copies made before, the coach's file and printed sheets are not reached.
        """
        with self._writing() as db:
            return forget(db, athlete, at, self.path)

    def rewritings(self) -> tuple[Rewriting, ...]:
        """Who was forgotten, without a name: when, and how many rows that touched."""
        with self._reading() as db:
            return rewritings(db)

    def handed_out(self) -> tuple[HandOut, ...]:
        """What was given to athletes, oldest first."""
        with self._reading() as db:
            return hand_outs(db)

    # --- inside --------------------------------------------------------------------------------------

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        with told(self.path), writing(self._connection) as db:
            yield db

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        with told(self.path), reading(self._connection) as db:
            yield db

    def _last(self, db: sqlite3.Connection, after: int | None) -> int:
        """The last revision's number; LedgerMoved when it is not the one a command began at."""
        last = int(db.execute("SELECT coalesce(max(number), 0) FROM revisions").fetchone()[0])
        if after is not None and after != last:
            raise LedgerMoved(
                self.path,
                f"the last revision is now {last}, this command began at {after}; nothing was recorded.",
                "run the command again, so that it starts from the newest plan.",
            )
        return last

    def _row(self, db: sqlite3.Connection, number: int) -> tuple[Any, ...]:
        row = db.execute(
            f"SELECT {REVISION}, stopped_early, status, score, not_judged, remarks"
            " FROM revisions WHERE number = ?",
            (number,),
        ).fetchone()
        if row is None:
            known = db.execute("SELECT count(*) FROM revisions").fetchone()[0]
            has = f"it has 1 to {known}" if known else "it has none yet"
            raise LedgerUnknown(
                self.path, f"there is no revision {number}; {has}.", "look with 'planner history'."
            )
        found: tuple[Any, ...] = row
        return found

    def _stored(self, db: sqlite3.Connection, number: int, units: Mapping[str, Unit]) -> StoredPlan:
        row = self._row(db, number)
        try:
            return stored_plan(db, row, units)
        except UnknownUnitError as error:
            raise LedgerUnknown(
                self.path, f"revision {number}: {error}", "put it back into the units table."
            ) from error
        except (RecordError, json.JSONDecodeError) as error:
            raise LedgerDamaged(
                self.path,
                f"revision {number} cannot be read ({error}); a whole ledger is needed.",
                RESCUE,
            ) from error
