"""Forgetting one person: the only rewriting of the ledger, recorded as such.

Name and health go; what was trained stays, under words that name nobody, for the sums of the squad. Left out
altogether: limits, findings and private facts of the person, sentences that name them. Blanked: birth date,
sex, growth, other sport, needs, notes, aims and reasons. The sum of the inputs stays; it tells no name.
"""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from planner.domain.fact_record import fact_of, recorded_fact
from planner.domain.facts import OF_HEALTH, Forgotten, people_of
from planner.domain.record import canonical
from planner.ledger.errors import LedgerUnknown
from planner.ledger.file import unguarded
from planner.ledger.rows import digest, seal_of

# fields of free text
OWN_WORDS = ("note", "felt", "reason", "aim", "measure", "text", "test", "cue", "shoe_name", "gap_accepted")
BLANK_PERSON: Mapping[str, object] = {
    "born": None,
    "sex": "",
    "training_years": None,
    "growth_cm_per_year": 0,
    "sound_landing": False,
    "other_sport_minutes": {},
    "needs": [],
}
REASON_GONE = "reason forgotten with the person"


@dataclass(frozen=True)
class Rewriting:
    """One forgetting: when, the words that stand where the name stood, how many rows it touched."""

    made_at: datetime
    stands_now: str
    rows: int


@dataclass(frozen=True)
class _Blanker:
    """Finds a person's name in plain data and puts other words there.

    In free text also a part of the name that nobody else of the squad bears, in capitals or not.
    """

    name: str
    stands_now: str
    whole: re.Pattern[str]
    parts: re.Pattern[str]

    @staticmethod
    def of(name: str, stands_now: str, others: set[str]) -> _Blanker:
        borne = {part.casefold() for other in others for part in other.split()}
        own = [p for p in name.split() if len(p) > 1 and p.casefold() not in borne]
        whole = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)")
        either = "|".join(re.escape(p) for p in sorted({name, *own}, key=lambda p: (-len(p), p)))
        return _Blanker(name, stands_now, whole, re.compile(rf"(?<!\w)(?:{either})(?!\w)", re.IGNORECASE))

    def names(self, text: str) -> bool:
        return bool(self.parts.search(text))

    def text(self, text: str) -> str:
        """Free text without the name."""
        return self.parts.sub(self.stands_now, text)

    def data(self, found: Any, key: str = "") -> Any:
        """Plain data without the name, keys of mappings included."""
        if isinstance(found, str):
            return self.text(found) if key in OWN_WORDS else self.whole.sub(self.stands_now, found)
        if isinstance(found, list):
            return [self.data(v, key) for v in found]
        if isinstance(found, dict):
            return {self.data(k): self.data(v, k) for k, v in found.items()}
        return found


def forget(db: sqlite3.Connection, athlete: str, at: datetime, path: Path) -> Rewriting:
    """Rewrite every row that names a person or holds their health; inside one transaction."""
    number = db.execute("SELECT count(*) FROM rewritings").fetchone()[0] + 1
    blank = _Blanker.of(athlete, f"forgotten {number}", _everybody(db) - {athlete})
    with unguarded(db):
        rows = _facts(db, blank) + _inputs(db, blank) + _revisions(db, blank) + _parts(db, blank)
        if not rows:
            raise LedgerUnknown(path, f"no row names '{athlete}'.", "the name is spelt otherwise.")
        for (revision,) in db.execute("SELECT revision FROM seals ORDER BY revision").fetchall():
            db.execute("UPDATE seals SET sha256 = ? WHERE revision = ?", (seal_of(db, revision), revision))
    db.execute(
        "INSERT INTO rewritings (made_at, stands_now, rows) VALUES (?, ?, ?)",
        (at.isoformat(), blank.stands_now, rows),
    )
    return Rewriting(at, blank.stands_now, rows)


def rewritings(db: sqlite3.Connection) -> tuple[Rewriting, ...]:
    rows = db.execute("SELECT made_at, stands_now, rows FROM rewritings ORDER BY id")
    return tuple(Rewriting(datetime.fromisoformat(at), stands, n) for at, stands, n in rows)


def _everybody(db: sqlite3.Connection) -> set[str]:
    """The athletes of all inputs and plans."""
    found = {row[0] for row in db.execute("SELECT DISTINCT athlete FROM placements")}
    for (record,) in db.execute("SELECT record FROM inputs"):
        found.update(a["name"] for a in json.loads(record).get("athletes", ()))
    return found


def _rewrite(db: sqlite3.Connection, table: str, key: str, change: Callable[[Any], Any]) -> int:
    """Put changed JSON into the column `record` of every row where it differs; how many."""
    changed = 0
    for row_id, text in db.execute(f"SELECT {key}, record FROM {table} ORDER BY {key}").fetchall():
        made = canonical(change(json.loads(text)))
        if made != text:
            db.execute(f"UPDATE {table} SET record = ? WHERE {key} = ?", (made, row_id))
            changed += 1
    return changed


def _facts(db: sqlite3.Connection, blank: _Blanker) -> int:
    changed = 0
    own: set[int] = set()
    for number, text, undoes in db.execute("SELECT id, record, undoes FROM facts ORDER BY id").fetchall():
        record = json.loads(text)
        fact = fact_of(record, number)
        named = blank.name in people_of(fact) or getattr(fact, "name", "") == blank.name
        concerned = named or undoes in own
        if concerned:
            own.add(number)
        if concerned and isinstance(fact, OF_HEALTH):
            made, day = recorded_fact(Forgotten(recorded_at=fact.recorded_at)), "''"
        else:
            made, day = blank.data(record), "day"
            made |= {w: "" for w in OWN_WORDS if concerned and w in made}
        if canonical(made) != text:
            sql = f"UPDATE facts SET kind = ?, day = {day}, record = ? WHERE id = ?"
            db.execute(sql, (made["kind"], canonical(made), number))
            changed += 1
    return changed


def _inputs(db: sqlite3.Connection, blank: _Blanker) -> int:
    """Inputs are named by their sum, so a rewritten one is a new row, and its revisions point there."""
    changed = 0
    for old, text in db.execute("SELECT id, record FROM inputs ORDER BY id").fetchall():
        made = canonical(_block(json.loads(text), blank))
        if made == text:
            continue
        new = digest(made)
        db.execute("INSERT INTO inputs VALUES (?, ?) ON CONFLICT DO NOTHING", (new, made))
        db.execute("UPDATE revisions SET inputs = ? WHERE inputs = ?", (new, old))
        db.execute("DELETE FROM inputs WHERE id = ?", (old,))
        changed += 1
    return changed


def _block(record: dict[str, Any], blank: _Blanker) -> Any:
    name = blank.name
    for athlete in record.get("athletes", ()):
        if athlete.get("name") == name:
            athlete.update({k: v for k, v in BLANK_PERSON.items() if k in athlete})
    record["limits"] = [x for x in record.get("limits", ()) if x.get("athlete") != name]
    for theme in record.get("themes", ()):
        if theme.get("athlete") == name:
            theme.update(aim="", measure="")
    for meet in record.get("competitions", ()):
        if meet.get("athlete") == name and meet.get("gap_accepted"):
            meet["gap_accepted"] = REASON_GONE
    for setting in record.get("settings", ()):
        _reason_gone(setting, name)
    return blank.data(record)


def _reason_gone(setting: dict[str, Any], name: str) -> dict[str, Any]:
    if setting.get("athlete") == name and setting.get("reason"):
        setting["reason"] = REASON_GONE
    return setting


def _revisions(db: sqlite3.Connection, blank: _Blanker) -> int:
    changed = 0
    sql = "SELECT number, reason, not_judged, remarks FROM revisions ORDER BY number"
    for number, reason, *sentences in db.execute(sql).fetchall():
        kept = [canonical([s for s in json.loads(text) if not blank.names(s)]) for text in sentences]
        made = (REASON_GONE if blank.names(reason) else reason, *kept)
        if made != (reason, *sentences):
            update = "UPDATE revisions SET reason = ?, not_judged = ?, remarks = ? WHERE number = ?"
            db.execute(update, (*made, number))
            changed += 1
    return changed


def _parts(db: sqlite3.Connection, blank: _Blanker) -> int:
    """Placements keep what was trained; findings of the person go: what a rule found may tell of the body."""
    changed = db.execute("DELETE FROM findings WHERE athlete = ?", (blank.name,)).rowcount
    changed += _rewrite(db, "placements", "rowid", blank.data)
    changed += _rewrite(db, "findings", "rowid", blank.data)
    changed += _rewrite(db, "exceptions", "rowid", lambda r: blank.data(_reason_gone(r, blank.name)))
    for table in ("placements", "exceptions"):
        db.execute(f"UPDATE {table} SET athlete = ? WHERE athlete = ?", (blank.stands_now, blank.name))
    return changed
