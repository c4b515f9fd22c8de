"""Two processes that write for a while, and copies made meanwhile: none lost, none corrupt, every copy opens.

Five seconds in the usual run; PLANNER_WRITING_SECONDS=60 for more.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

import ledger_made
import pytest
from killing import in_a_child, killed_by
from ledger_made import NOW, record

from planner.domain.facts import Done
from planner.ledger import Ledger, damage, ledger_path

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork")

SECONDS = float(os.environ.get("PLANNER_WRITING_SECONDS", "5"))


def fact(note: str) -> Done:
    return Done(
        recorded_at=NOW, athlete="Ada", day=NOW.date(), slot="evening", unit="mobility", note=note
    )


def test_two_writers_and_copies_at_any_moment(tmp_path: Path) -> None:
    block = tmp_path / "block.yaml"
    record(block)
    ends = time.monotonic() + SECONDS

    def write(who: int, told: int) -> None:
        n = 0
        while time.monotonic() < ends or n < 3:  # three at least, on however slow a machine
            with Ledger.open(block, create=False, wait_seconds=60) as ledger:
                ledger.record_fact(fact(f"{who} {n}"))
            if n % 10 == 0:
                record(block, f"by {who}", wait_seconds=60)
            os.write(told, b"%d " % n)
            n += 1

    pipes = [os.pipe() for _ in range(2)]
    children = []
    for who, (_, told) in enumerate(pipes):
        children.append(in_a_child(lambda who=who, told=told: write(who, told)))  # type: ignore[misc]
        os.close(told)
    copies: list[Path] = []
    while time.monotonic() < ends or not copies:
        copy = ledger_path(tmp_path / f"copy{len(copies)}.yaml")
        with Ledger.open(block, create=False, wait_seconds=60) as ledger:
            copies.append(ledger.backup(copy))
        time.sleep(SECONDS / 20)
    confirmed = []
    for read_end, _ in pipes:
        with os.fdopen(read_end, "rb") as pipe:
            confirmed.append([int(word) for word in pipe.read().split()])
    assert [killed_by(child) for child in children] == [0, 0]

    assert damage(block) == ""
    with Ledger.open(block, create=False) as ledger:
        found = [f.note for f in ledger.facts() if isinstance(f, Done)]
        assert [f.id for f in ledger.facts()] == list(range(1, len(found) + 1))
        numbers = [row.revision.number for row in ledger.history()]
    assert numbers == list(range(1, len(numbers) + 1))
    assert sorted(found) == sorted(f"{who} {n}" for who in (0, 1) for n in confirmed[who])
    units = ledger_made.world().units
    for copy in copies:
        as_block = copy.with_suffix(".yaml")
        assert damage(as_block) == ""
        with Ledger.open(as_block, create=False) as ledger:
            there = [f.note for f in ledger.facts() if isinstance(f, Done)]
            assert there == found[: len(there)] and ledger.current(units) is not None
