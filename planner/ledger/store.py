"""The ledger as the rest of the program sees it: record a revision, hand it out, read it back."""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any

from planner.domain.block import RuleSetting
from planner.domain.finding import TIERS, Finding, Tier
from planner.domain.plain import RecordError
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.record import (
    UnknownUnitError,
    canonical,
    finding_from,
    finding_record,
    placement_from,
    placement_record,
    setting_from,
    setting_record,
)
from planner.domain.revision import HandOut, Revision
from planner.domain.units import Unit
from planner.ledger.errors import LedgerDamaged, LedgerMoved, LedgerUnknown, LedgerUnwritable, told
from planner.ledger.file import WAIT_SECONDS, connect, ledger_path, reading, writing

HANDED_OUT = "handed out"
DRAFT = "draft"

_REVISION = "number, made_at, reason, replaces, inputs_hash, random_seed, budget, program"


@dataclass(frozen=True)
class StoredPlan:
    """A revision as it was recorded: the reviewed plan and the exceptions then in force."""

    revision: Revision
    outcome: Outcome
    exceptions: tuple[RuleSetting, ...] = ()

    @property
    def placements(self) -> tuple[Placement, ...]:
        return self.outcome.plan.placements


@dataclass(frozen=True)
class HistoryRow:
    """One line of the history: the revision, how much it holds, and when it was handed out."""

    revision: Revision
    placements: int
    findings: int
    handed_out: tuple[HandOut, ...]


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
        inputs_id = hashlib.sha256(text.encode("utf-8")).hexdigest()
        plan = outcome.plan
        status = {tier: [s.value, s.bound] for tier, s in plan.status.items()}
        with self._writing() as db:
            last = int(db.execute("SELECT coalesce(max(number), 0) FROM revisions").fetchone()[0])
            self._expect(after, last)
            made = replace(
                revision,
                number=last + 1,
                replaces=last,
                status=DRAFT,
                random_seed=plan.random_seed,
                budget=plan.budget,
            )
            db.execute("INSERT INTO inputs VALUES (?, ?) ON CONFLICT DO NOTHING", (inputs_id, text))
            db.execute(
                "INSERT INTO revisions VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    made.number, made.made_at.isoformat(), made.reason, made.replaces, made.inputs_hash,
                    inputs_id, made.random_seed, made.budget, int(plan.stopped_early), made.program,
                    canonical(status), canonical(outcome.score), canonical(outcome.not_judged),
                ),
            )  # fmt: skip
            db.executemany(
                "INSERT INTO placements VALUES (?, ?, ?, ?, ?, ?, ?)",
                [
                    (made.number, p.athlete, p.day.isoformat(), p.slot, p.unit.id, p.dose.word,
                     canonical(placement_record(p)))
                    for p in plan.placements
                ],
            )  # fmt: skip
            db.executemany("INSERT INTO findings VALUES (?, ?, ?, ?)", _rows(made.number, outcome.findings))
            db.executemany("INSERT INTO exceptions VALUES (?, ?, ?, ?)", _rows(made.number, exceptions))
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
                f"SELECT {_REVISION},"
                " (SELECT count(*) FROM placements WHERE revision = number),"
                " (SELECT count(*) FROM findings WHERE revision = number)"
                " FROM revisions ORDER BY number"
            ).fetchall()
            given = _hand_outs(db)
        return tuple(_history_row(row, given) for row in rows)

    def handed_out(self) -> tuple[HandOut, ...]:
        """What was given to athletes, oldest first."""
        with self._reading() as db:
            return _hand_outs(db)

    # --- inside --------------------------------------------------------------------------------------

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        with told(self.path), writing(self._connection) as db:
            yield db

    @contextmanager
    def _reading(self) -> Iterator[sqlite3.Connection]:
        with told(self.path), reading(self._connection) as db:
            yield db

    def _expect(self, after: int | None, last: int) -> None:
        if after is not None and after != last:
            raise LedgerMoved(
                self.path,
                f"the last revision is now {last}, this command began at {after}; nothing was recorded.",
                "run the command again, so that it starts from the newest plan.",
            )

    def _row(self, db: sqlite3.Connection, number: int) -> tuple[Any, ...]:
        row = db.execute(
            f"SELECT {_REVISION}, stopped_early, status, score, not_judged FROM revisions WHERE number = ?",
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
            return _stored_plan(db, row, units)
        except UnknownUnitError as error:
            raise LedgerUnknown(
                self.path, f"revision {number}: {error}", "put it back into the units table."
            ) from error
        except (RecordError, json.JSONDecodeError) as error:
            raise LedgerDamaged(
                self.path,
                f"revision {number} cannot be read ({error}); a whole ledger is needed.",
                "put back the last copy made with 'planner backup'.",
            ) from error


def _stored_plan(db: sqlite3.Connection, row: Sequence[Any], units: Mapping[str, Unit]) -> StoredPlan:
    revision = _revision(row, _hand_outs(db))
    stopped_early, status, score, not_judged = row[8], *(json.loads(text) for text in row[9:])
    placements = [placement_from(r, units) for r in _records(db, "placements", revision.number)]
    plan = Plan(
        tuple(sorted(placements, key=lambda p: p.key)),
        {tier: TierStatus(*status[tier]) for tier in TIERS if tier in status},
        revision.random_seed,
        revision.budget,
        bool(stopped_early),
    )
    findings = tuple(finding_from(r) for r in _records(db, "findings", revision.number))
    exceptions = tuple(setting_from(r) for r in _records(db, "exceptions", revision.number))
    by_tier: dict[Tier, dict[str, int]] = {tier: score[tier] for tier in TIERS if tier in score}
    return StoredPlan(revision, Outcome(plan, findings, by_tier, tuple(not_judged)), exceptions)


def _rows(number: int, items: Sequence[Finding | RuleSetting]) -> list[tuple[int, int, str, str]]:
    return [
        (number, i, x.athlete, canonical(finding_record(x) if isinstance(x, Finding) else setting_record(x)))
        for i, x in enumerate(items)
    ]


def _records(db: sqlite3.Connection, table: str, number: int) -> list[dict[str, Any]]:
    order = "athlete, day, slot, unit, word" if table == "placements" else "position"
    rows = db.execute(f"SELECT record FROM {table} WHERE revision = ? ORDER BY {order}", (number,))
    return [json.loads(row[0]) for row in rows]


def _hand_outs(db: sqlite3.Connection) -> tuple[HandOut, ...]:
    rows = db.execute("SELECT revision, handed_out_at, until FROM hand_outs ORDER BY id")
    return tuple(HandOut(number, datetime.fromisoformat(at), until) for number, at, until in rows)


def _revision(row: Sequence[Any], given: Sequence[HandOut]) -> Revision:
    number, made_at, reason, replaces, inputs_hash, random_seed, budget, program = row[:8]
    return Revision(
        number=number,
        made_at=datetime.fromisoformat(made_at),
        reason=reason,
        status=HANDED_OUT if any(h.revision == number for h in given) else DRAFT,
        replaces=replaces,
        inputs_hash=inputs_hash,
        random_seed=random_seed,
        budget=budget,
        program=program,
    )


def _history_row(row: Sequence[Any], given: Sequence[HandOut]) -> HistoryRow:
    own = tuple(h for h in given if h.revision == row[0])
    return HistoryRow(_revision(row, own), row[8], row[9], own)
