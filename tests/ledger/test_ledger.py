"""The ledger keeps what was recorded, as it was recorded, and says plainly what it cannot do."""

from __future__ import annotations

import dataclasses
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from datetime import date, timedelta
from pathlib import Path

import ledger_made
import pytest
from ledger_made import record

from planner.domain.finding import Finding
from planner.domain.plan import Placement
from planner.ledger import (
    Ledger,
    LedgerBusy,
    LedgerDamaged,
    LedgerMissing,
    LedgerMoved,
    LedgerTooNew,
    LedgerUnknown,
    LedgerUnwritable,
    ledger_path,
)

TABLES = ("migrations", "inputs", "revisions", "placements", "findings", "exceptions", "hand_outs")


@pytest.fixture
def block(tmp_path: Path) -> Path:
    return tmp_path / "spring camp.yaml"


def whole(p: Placement) -> dict[str, object]:
    return {f.name: getattr(p, f.name) for f in dataclasses.fields(p)}


def test_a_recorded_plan_comes_back_as_it_was(block: Path) -> None:
    made = ledger_made.world()
    outcome = ledger_made.outcome(made)
    record(block)
    with Ledger.open(block, create=False) as ledger:
        stored = ledger.current(made.units)
        assert stored is not None
        assert ledger.inputs(1) == ledger_made.inputs(made)
    assert [whole(p) for p in stored.placements] == [whole(p) for p in outcome.plan.placements]
    assert stored.outcome == outcome
    assert dict(stored.outcome.findings[0].facts) == dict(outcome.findings[0].facts)  # left out of ==
    assert stored.exceptions == (ledger_made.EXCEPTION,)
    assert stored.revision == dataclasses.replace(
        ledger_made.revision(made), number=1, random_seed=3, budget="quick"
    )
    assert stored.revision.made_at.isoformat() == "2027-03-01T18:30:00+01:00"


def test_revisions_number_themselves_and_the_last_is_current(block: Path) -> None:
    record(block)
    record(block, "rain on Tuesday")
    with Ledger.open(block, create=False) as ledger:
        rows = ledger.history()
        current = ledger.current(ledger_made.world().units)
        first = ledger.revision(1, ledger_made.world().units)
    assert [(r.revision.number, r.revision.replaces, r.revision.reason) for r in rows] == [
        (1, 0, "first plan"),
        (2, 1, "rain on Tuesday"),
    ]
    assert [(r.placements, r.findings) for r in rows] == [(4, 1), (4, 1)]
    assert current is not None and current.revision.number == 2
    assert first.revision.number == 1


def test_a_hand_out_is_remembered_and_marks_its_revision_only(block: Path) -> None:
    record(block)
    record(block, "second")
    at = ledger_made.NOW + timedelta(hours=2)
    with Ledger.open(block, create=False) as ledger:
        assert ledger.handed_out() == ()
        given = ledger.hand_out(1, at, date(2027, 3, 7))
        assert given.until == "2027-03-07"
        assert ledger.handed_out() == (given,)
        assert [r.revision.status for r in ledger.history()] == ["handed out", "draft"]
        assert [r.handed_out for r in ledger.history()] == [(given,), ()]


def test_a_hand_out_of_no_revision_is_refused(block: Path) -> None:
    record(block)
    with Ledger.open(block, create=False) as ledger:
        with pytest.raises(LedgerUnknown, match=r"no revision 7; it has 1 to 1\.\nMaybe look"):
            ledger.hand_out(7, ledger_made.NOW)
        assert ledger.handed_out() == ()


def test_nothing_recorded_yet_is_said(block: Path) -> None:
    with pytest.raises(LedgerMissing, match=r"nothing has been recorded.*\nMaybe run 'planner build'"):
        Ledger.open(block, create=False)
    assert not ledger_path(block).exists()
    with Ledger.open(block, create=True) as ledger:
        assert ledger.current({}) is None
        assert ledger.history() == ()


def test_a_newer_plan_by_somebody_else_is_noticed(block: Path) -> None:
    record(block, after=0)
    with pytest.raises(LedgerMoved, match="last revision is now 1, this command began at 0"):
        record(block, after=0)
    record(block, after=1)


def test_a_unit_that_is_gone_is_named(block: Path) -> None:
    record(block)
    units = {k: u for k, u in ledger_made.world().units.items() if k != "flying-sprints"}
    with Ledger.open(block, create=False) as ledger, pytest.raises(LedgerUnknown, match="flying-sprints"):
        ledger.current(units)


@pytest.mark.parametrize("table", TABLES)
def test_nothing_is_changed_or_deleted_by_anybody(block: Path, table: str) -> None:
    record(block)
    with Ledger.open(block, create=False) as ledger:
        ledger.hand_out(1, ledger_made.NOW)
    outside = sqlite3.connect(ledger_path(block))
    try:
        column = outside.execute(f"SELECT name FROM pragma_table_info('{table}')").fetchone()[0]
        assert outside.execute(f"SELECT count(*) FROM {table}").fetchone()[0] > 0
        for sql in (f"UPDATE {table} SET {column} = {column}", f"DELETE FROM {table}"):
            with pytest.raises(sqlite3.IntegrityError, match=f"only grows: {table}"):
                outside.execute(sql)
    finally:
        outside.close()


def test_a_failing_write_leaves_nothing(block: Path) -> None:
    """A fact that cannot be stored stops the write after the revision's row and before its findings."""
    made = ledger_made.world()
    outcome = ledger_made.outcome(made)
    odd = Finding("spread", "prefer", 1, facts={"placement": outcome.plan.placements[0]})
    with Ledger.open(block, create=True) as ledger:
        with pytest.raises(TypeError, match="a fact of kind Placement"):
            ledger.record_revision(
                ledger_made.revision(made),
                dataclasses.replace(outcome, findings=(odd,)),
                ledger_made.inputs(made),
            )
        assert ledger.history() == ()


def test_a_newer_ledger_is_refused_and_left_alone(block: Path) -> None:
    record(block)
    outside = sqlite3.connect(ledger_path(block))
    outside.execute("PRAGMA user_version = 99")
    outside.close()
    before = ledger_path(block).read_bytes()
    for create in (True, False):
        with pytest.raises(LedgerTooNew, match=r"newer version of this program \(schema 99;"):
            Ledger.open(block, create=create)
    assert ledger_path(block).read_bytes() == before


@pytest.mark.parametrize("how", ["text", "other database", "cut", "scribbled"])
def test_a_damaged_ledger_is_told(block: Path, how: str) -> None:
    path = ledger_path(block)
    if how == "text":
        path.write_text("not a ledger at all\n" * 100)
    elif how == "other database":
        other = sqlite3.connect(path)
        other.execute("CREATE TABLE songs (name)")
        other.close()
    else:
        record(block)
        data = path.read_bytes()
        half = len(data) // 2 // 4096 * 4096
        path.write_bytes(data[:half] if how == "cut" else data[:4096] + b"\xa5" * 12288 + data[16384:])
    with pytest.raises(LedgerDamaged, match="Maybe"):
        Ledger.open(block, create=False)


def test_two_commands_at_once_one_is_told(block: Path) -> None:
    record(block)
    other = sqlite3.connect(ledger_path(block), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with Ledger.open(block, create=False, wait_seconds=0.05) as ledger:
            assert len(ledger.history()) == 1  # reading goes on
            with pytest.raises(LedgerBusy, match="another command is writing"):
                ledger.hand_out(1, ledger_made.NOW)
    finally:
        other.close()


def test_a_full_disk_is_told_and_nothing_recorded(block: Path) -> None:
    """The file may not grow by a page more; SQLite answers as it does on a full disk."""
    record(block)
    made = ledger_made.world()
    before = ledger_path(block).read_bytes()
    with Ledger.open(block, create=False) as ledger:
        pages = ledger._connection.execute("PRAGMA page_count").fetchone()[0]
        ledger._connection.execute(f"PRAGMA max_page_count = {pages}")
        outcome = ledger_made.outcome(made)
        with pytest.raises(LedgerUnwritable, match="the disk is full; nothing was recorded"):
            for _ in range(50):
                ledger.record_revision(ledger_made.revision(made), outcome, ledger_made.inputs(made))
        recorded = len(ledger.history())
    with Ledger.open(block, create=False) as ledger:
        assert len(ledger.history()) == recorded < 50
        assert all(row.placements == 4 for row in ledger.history())
    assert len(ledger_path(block).read_bytes()) == len(before)


_AS_SOMEBODY_ELSE = """
import os, sys
from pathlib import Path
from planner.catalogue import units
from planner.ledger import Ledger, LedgerUnwritable
import ledger_made
with Ledger.open(Path(sys.argv[1]), create=False) as ledger:  # imports what another user may not read
    ledger.current(units())
if os.geteuid() == 0:
    os.setuid(65534)
with Ledger.open(Path(sys.argv[1]), create=False) as ledger:
    assert ledger.current(units()).revision.number == 1
    try:
        ledger.hand_out(1, ledger_made.NOW)
    except LedgerUnwritable as error:
        print(error)
"""


def test_a_read_only_folder_can_be_read_and_says_that_it_cannot_be_written() -> None:
    folder = Path(tempfile.mkdtemp())  # not pytest's own folder: another user must be able to enter it
    try:
        block = folder / "block.yaml"
        record(block)
        ledger_path(block).chmod(0o444)
        folder.chmod(0o555)
        run = subprocess.run(
            [sys.executable, "-c", _AS_SOMEBODY_ELSE, str(block)],
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
        )
        assert "cannot be written" in run.stdout and "\nMaybe copy the block folder" in run.stdout
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)


def test_no_folder_no_ledger(tmp_path: Path) -> None:
    with pytest.raises(LedgerUnwritable, match="cannot be written"):
        Ledger.open(tmp_path / "nowhere" / "block.yaml", create=True)


def test_a_backup_and_a_plain_copy_restore_everything(block: Path, tmp_path: Path) -> None:
    record(block)
    with Ledger.open(block, create=False) as ledger:
        ledger.hand_out(1, ledger_made.NOW)
        ledger.backup(tmp_path / "kept.ledger")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["kept.ledger", "spring camp.ledger"]
    shutil.copy(ledger_path(block), tmp_path / "plain.ledger")
    for name in ("kept", "plain"):
        with Ledger.open(tmp_path / f"{name}.yaml", create=False) as copy:
            stored = copy.current(ledger_made.world().units)
            assert stored is not None and stored.revision.status == "handed out"
            assert stored.outcome == ledger_made.outcome(ledger_made.world())


def test_a_backup_is_whole_while_somebody_writes(block: Path, tmp_path: Path) -> None:
    record(block)
    writer = sqlite3.connect(ledger_path(block), isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    writer.execute("INSERT INTO hand_outs (revision, handed_out_at, until) VALUES (1, '2027-03-01', '')")
    try:
        with Ledger.open(block, create=False) as ledger:
            ledger.backup(tmp_path / "kept.ledger")
    finally:
        writer.close()
    with Ledger.open(tmp_path / "kept.yaml", create=False) as copy:
        assert copy.handed_out() == ()
        assert len(copy.history()) == 1


def test_a_backup_never_lands_on_the_ledger_itself(block: Path) -> None:
    record(block)
    with Ledger.open(block, create=False) as ledger:
        with pytest.raises(LedgerUnwritable, match="the ledger itself"):
            ledger.backup(ledger_path(block))
        with pytest.raises(LedgerUnwritable):
            ledger.backup(block.parent / "nowhere" / "kept.ledger")
        assert len(ledger.history()) == 1


def test_the_same_inputs_are_kept_once(block: Path) -> None:
    record(block)
    record(block, "again")
    outside = sqlite3.connect(ledger_path(block))
    try:
        assert outside.execute("SELECT count(*) FROM inputs").fetchone() == (1,)
        assert outside.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    finally:
        outside.close()
    assert [p for p in os.listdir(block.parent) if p != "spring camp.ledger"] == []
