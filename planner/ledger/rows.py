"""Rows of the ledger and the domain's records: how one becomes the other."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from planner.domain.block import RuleSetting
from planner.domain.finding import TIERS, Finding, Tier
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.record import (
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

HANDED_OUT = "handed out"
DRAFT = "draft"

REVISION = "number, made_at, reason, replaces, inputs_hash, random_seed, budget, program"
PARTS = ("placements", "findings", "exceptions")  # tables whose rows belong to one revision
_ORDER = {"placements": "athlete, day, slot, unit, word", "findings": "position", "exceptions": "position"}


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


def add_revision(
    db: sqlite3.Connection, made: Revision, outcome: Outcome, inputs: str, exceptions: Sequence[RuleSetting]
) -> None:
    """Insert everything a revision consists of, and seal it. `inputs` is canonical JSON."""
    inputs_id = digest(inputs)
    plan = outcome.plan
    status = {tier: [s.value, s.bound] for tier, s in plan.status.items()}
    db.execute("INSERT INTO inputs VALUES (?, ?) ON CONFLICT DO NOTHING", (inputs_id, inputs))
    db.execute(
        f"INSERT INTO revisions ({REVISION}, inputs, stopped_early, status, score, not_judged, remarks)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            made.number, made.made_at.isoformat(), made.reason, made.replaces, made.inputs_hash,
            made.random_seed, made.budget, made.program, inputs_id, int(plan.stopped_early),
            canonical(status), canonical(outcome.score), canonical(outcome.not_judged),
            canonical(outcome.remarks),
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
    db.execute("INSERT INTO seals VALUES (?, ?)", (made.number, seal_of(db, made.number)))


def copy_revision(db: sqlite3.Connection, source: int, made: Revision) -> None:
    """Insert a revision that equals an earlier one in all but number, moment, reason and what it replaces."""
    own = ("number", "made_at", "reason", "replaces")
    same = ", ".join(c for c in columns(db, "revisions") if c not in own)
    db.execute(
        f"INSERT INTO revisions ({', '.join(own)}, {same})"
        f" SELECT ?, ?, ?, ?, {same} FROM revisions WHERE number = ?",
        (made.number, made.made_at.isoformat(), made.reason, made.replaces, source),
    )
    for table in PARTS:
        rest = ", ".join(columns(db, table)[1:])
        db.execute(
            f"INSERT INTO {table} (revision, {rest}) SELECT ?, {rest} FROM {table} WHERE revision = ?",
            (made.number, source),
        )
    db.execute("INSERT INTO seals VALUES (?, ?)", (made.number, seal_of(db, made.number)))


def columns(db: sqlite3.Connection, table: str) -> list[str]:
    """The column names of a table, in order."""
    return [row[0] for row in db.execute("SELECT name FROM pragma_table_info(?)", (table,))]


def digest(text: str) -> str:
    """SHA-256, hexadecimal."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def seal_of(db: sqlite3.Connection, number: int) -> str:
    """SHA-256 over every row a revision consists of, its inputs included."""
    found = hashlib.sha256()
    sqls = [
        "SELECT * FROM revisions WHERE number = ?",
        "SELECT record FROM inputs WHERE id = (SELECT inputs FROM revisions WHERE number = ?)",
        *(f"SELECT * FROM {t} WHERE revision = ? ORDER BY {_ORDER[t]}" for t in PARTS),
    ]
    for sql in sqls:
        for row in db.execute(sql, (number,)):
            found.update(canonical(list(row)).encode("utf-8"))
    return found.hexdigest()


def stored_plan(db: sqlite3.Connection, row: Sequence[Any], units: Mapping[str, Unit]) -> StoredPlan:
    revision = revision_of(row, hand_outs(db))
    stopped_early, status, score, not_judged, remarks = row[8], *(json.loads(text) for text in row[9:])
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
    outcome = Outcome(plan, findings, by_tier, tuple(not_judged), tuple(remarks))
    return StoredPlan(revision, outcome, exceptions)


def _rows(number: int, items: Sequence[Finding | RuleSetting]) -> list[tuple[int, int, str, str]]:
    return [
        (number, i, x.athlete, canonical(finding_record(x) if isinstance(x, Finding) else setting_record(x)))
        for i, x in enumerate(items)
    ]


def _records(db: sqlite3.Connection, table: str, number: int) -> list[dict[str, Any]]:
    rows = db.execute(f"SELECT record FROM {table} WHERE revision = ? ORDER BY {_ORDER[table]}", (number,))
    return [json.loads(row[0]) for row in rows]


def last_changes(db: sqlite3.Connection) -> dict[str, int]:
    """For every athlete, the last revision whose placements of theirs are not those of the one before.

    The rows are compared as they stand, without making plans of them: a ledger may hold a hundred thousand.
    """
    found: dict[str, int] = {}
    before: dict[str, str] = {}
    for (number,) in db.execute("SELECT number FROM revisions ORDER BY number").fetchall():
        sums: dict[str, Any] = {}
        sql = f"SELECT athlete, record FROM placements WHERE revision = ? ORDER BY {_ORDER['placements']}"
        for athlete, record in db.execute(sql, (number,)):
            sums.setdefault(athlete, hashlib.sha256()).update(record.encode("utf-8"))
        now = {athlete: own.hexdigest() for athlete, own in sums.items()}
        changed = (a for a in {**before, **now} if before.get(a) != now.get(a))
        found.update((athlete, number) for athlete in changed)
        before = now
    return found


def hand_outs(db: sqlite3.Connection) -> tuple[HandOut, ...]:
    rows = db.execute("SELECT revision, handed_out_at, until FROM hand_outs ORDER BY id")
    return tuple(HandOut(number, datetime.fromisoformat(at), until) for number, at, until in rows)


def revision_of(row: Sequence[Any], given: Sequence[HandOut]) -> Revision:
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


def history_row(row: Sequence[Any], given: Sequence[HandOut]) -> HistoryRow:
    own = tuple(h for h in given if h.revision == row[0])
    return HistoryRow(revision_of(row, own), row[8], row[9], own)
