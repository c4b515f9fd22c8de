"""Killed at any instant, the next run finds the last whole state; two at once, none is lost."""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

import ledger_made
import pytest
from killing import in_a_child, killed_at, killed_by
from ledger_made import record

from planner.ledger import Ledger

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork and SIGKILL")

PLACEMENTS = len(ledger_made.outcome(ledger_made.world()).plan.placements)


def whole_revisions(block: Path) -> list[int]:
    """The numbers of all revisions; every one of them must be complete and readable."""
    made = ledger_made.world()
    with Ledger.open(block, create=True) as ledger:
        rows = ledger.history()
        for row in rows:
            stored = ledger.revision(row.revision.number, made.units)
            assert (len(stored.placements), row.findings, len(stored.exceptions)) == (PLACEMENTS, 1, 1)
            assert ledger.inputs(row.revision.number) == ledger_made.inputs(made)
    return [row.revision.number for row in rows]


@pytest.mark.parametrize("already", [0, 1], ids=["while it is created", "while a revision is added"])
def test_killed_before_every_single_statement(tmp_path: Path, already: int) -> None:
    kills = 0
    for n in range(1, 200):
        block = tmp_path / f"block{n}.yaml"
        for _ in range(already):
            record(block)
        if not killed_at(n, lambda block=block: record(block)):  # type: ignore[misc]
            assert whole_revisions(block) == list(range(1, already + 2))
            break
        kills += 1
        assert whole_revisions(block) == list(range(1, already + 1))
        assert record(block) == already + 1  # and the next command goes on as if nothing had been
    assert kills >= 15


def test_killed_at_any_moment_no_confirmed_revision_is_lost(tmp_path: Path) -> None:
    block = tmp_path / "block.yaml"
    chance = random.Random(7)
    began = time.monotonic()
    kills, confirmed_ever = 0, record(block)
    usual = time.monotonic() - began
    while kills < 25 or confirmed_ever <= 5:  # a busy machine may need some more
        read_end, write_end = os.pipe()

        def work(write_end: int = write_end) -> None:
            for _ in range(40):
                os.write(write_end, b"%d " % record(block))

        child = in_a_child(work)
        os.close(write_end)
        time.sleep(chance.uniform(0.0, 4 * usual))
        os.kill(child, signal.SIGKILL)
        kills += killed_by(child) == signal.SIGKILL
        with os.fdopen(read_end, "rb") as pipe:
            confirmed = [int(word) for word in pipe.read().split()]
        there = whole_numbers(block)
        assert there == list(range(1, len(there) + 1))
        assert set(confirmed) <= set(there)
        assert len(there) - max([confirmed_ever, *confirmed]) <= 1  # at most one written and not yet told
        confirmed_ever = len(there)
    assert whole_revisions(block) == list(range(1, confirmed_ever + 1))


def whole_numbers(block: Path) -> list[int]:
    with Ledger.open(block, create=True) as ledger:
        rows = ledger.history()
    assert all((row.placements, row.findings) == (PLACEMENTS, 1) for row in rows)
    return [row.revision.number for row in rows]


def test_three_writers_at_once_number_their_revisions_without_gap_or_loss(tmp_path: Path) -> None:
    """They also meet while the file is being created."""
    block = tmp_path / "block.yaml"
    start_read, start_write = os.pipe()

    def work() -> None:
        os.read(start_read, 1)
        for _ in range(8):
            record(block, f"by {os.getpid()}", wait_seconds=30)

    children = [in_a_child(work) for _ in range(3)]
    os.write(start_write, b"xxx")
    assert [killed_by(child) for child in children] == [0, 0, 0]
    os.close(start_read)
    os.close(start_write)
    assert whole_revisions(block) == list(range(1, 25))
    with Ledger.open(block, create=False) as ledger:
        by = [row.revision.reason for row in ledger.history()]
        assert [row.revision.replaces for row in ledger.history()] == list(range(24))
    assert sorted(by) == sorted(f"by {child}" for child in children for _ in range(8))
