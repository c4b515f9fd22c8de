"""Killed before every single statement of telling, restoring and forgetting: all of it is there, or none."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

import ledger_made
import pytest
from killing import in_a_child, killed_at, killed_by
from ledger_made import NOW, record

from planner.domain.facts import Done, Fact, Ill, Undone
from planner.ledger import Ledger, damage, ledger_path

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork and SIGKILL")

DAY = NOW.date()
ILL = Ill(recorded_at=NOW, athlete="Ada", begins=DAY, fever=True, note="Ada coughs")
DONE = tuple(
    Done(recorded_at=NOW, athlete=who, day=DAY, slot="evening", unit="flying-sprints", note=f"by {who}")
    for who in ("Ada", "Bo")
)


def told(block: Path) -> tuple[Fact, ...]:
    with Ledger.open(block, create=False) as ledger:
        return ledger.facts(include_undone=True)


def tell_two(block: Path) -> None:
    with Ledger.open(block, create=False) as ledger:
        ledger.record_facts(DONE)


def undo_one(block: Path) -> None:
    with Ledger.open(block, create=False) as ledger:
        ledger.record_fact(Undone(recorded_at=NOW, fact=1))


def restore_first(block: Path) -> None:
    with Ledger.open(block, create=False) as ledger:
        ledger.restore(1, NOW)


def forget_ada(block: Path) -> None:
    with Ledger.open(block, create=False) as ledger:
        ledger.forget("Ada", NOW)


@pytest.fixture
def template(tmp_path: Path) -> Path:
    """Two revisions and a fact."""
    block = tmp_path / "template.yaml"
    record(block)
    record(block, "second")
    with Ledger.open(block, create=False) as ledger:
        ledger.record_fact(ILL)
    return ledger_path(block)


def everything(block: Path) -> tuple[object, ...]:
    """What a reader sees; the ledger must be whole, and guarded by all its triggers."""
    assert damage(block) == ""
    made = ledger_made.world()
    with Ledger.open(block, create=False) as ledger:
        plans = [ledger.revision(row.revision.number, made.units) for row in ledger.history()]
        athletes = [[p.athlete for p in s.placements] for s in plans]
        triggers = ledger._connection.execute(
            "SELECT count(*) FROM sqlite_master WHERE type = 'trigger'"
        ).fetchone()[0]
        return (
            [(s.revision, s.outcome.findings, s.exceptions) for s in plans],
            athletes,
            ledger.facts(include_undone=True),
            ledger.rewritings(),
            [ledger.inputs(s.revision.number) for s in plans],
            triggers,
        )


@pytest.mark.parametrize("work", [tell_two, undo_one, restore_first, forget_ada], ids=lambda w: w.__name__)
def test_all_or_nothing(tmp_path: Path, template: Path, work: Callable[[Path], None]) -> None:
    block = tmp_path / "block.yaml"

    def anew() -> None:
        shutil.copyfile(template, ledger_path(block))

    anew()
    before = everything(block)
    work(block)
    after = everything(block)
    assert before != after and before[-1] == after[-1]
    kills, seen = 0, []
    for n in range(1, 400):
        anew()
        if not killed_at(n, lambda: work(block)):
            break
        kills += 1
        there = everything(block)
        assert there in (before, after)
        seen.append(there == after)
        if there == before:
            work(block)  # and the next command does it, as if nothing had been
            assert everything(block) == after
    assert kills >= 12
    assert seen == sorted(seen) and not seen[0]  # once it is there, it stays


def test_killed_at_any_moment_no_confirmed_fact_is_lost(tmp_path: Path) -> None:
    block = tmp_path / "block.yaml"
    record(block)
    began = time.monotonic()
    tell_two(block)
    usual = time.monotonic() - began
    chance = random.Random(11)
    kills, before = 0, 2
    while kills < 25 or before <= 10:  # a busy machine may need some more
        read_end, write_end = os.pipe()

        def work(write_end: int = write_end) -> None:
            for fact in DONE * 20:
                with Ledger.open(block, create=False) as ledger:
                    number = ledger.record_fact(fact)
                os.write(write_end, b"%d " % number)

        child = in_a_child(work)
        os.close(write_end)
        time.sleep(chance.uniform(0.0, 4 * usual))
        os.kill(child, signal.SIGKILL)
        kills += killed_by(child) == signal.SIGKILL
        with os.fdopen(read_end, "rb") as pipe:
            confirmed = [int(word) for word in pipe.read().split()]
        there = [fact.id for fact in told(block)]
        assert there == list(range(1, len(there) + 1))
        assert set(confirmed) <= set(there)
        assert len(there) - max([before, *confirmed]) <= 1  # at most one written and not yet told
        before = len(there)
    assert damage(block) == ""


def test_three_tellers_at_once_lose_no_fact(tmp_path: Path) -> None:
    block = tmp_path / "block.yaml"
    record(block)

    def work(who: int) -> None:
        for i in range(8):
            with Ledger.open(block, create=False, wait_seconds=30) as ledger:
                ledger.record_fact(
                    Done(
                        recorded_at=NOW, athlete="Ada", day=DAY, slot="evening", unit="mobility",
                        note=f"{who} {i}",
                    )
                )  # fmt: skip

    children = [in_a_child(lambda who=who: work(who)) for who in range(3)]  # type: ignore[misc]
    assert [killed_by(child) for child in children] == [0, 0, 0]
    facts = told(block)
    assert [x.id for x in facts] == list(range(1, 25))
    notes = sorted(x.note for x in facts if isinstance(x, Done))
    assert notes == sorted(f"{who} {i}" for who in range(3) for i in range(8))
    assert damage(block) == ""
