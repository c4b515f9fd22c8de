"""A damaged ledger: the error names the command that brings back what is whole, and nothing is thrown away."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from commands import planner


@pytest.fixture
def hit(built: Path, tmp_path: Path) -> Path:
    """A built block whose ledger's bytes are broken in a page of its rows; a copy from before lies beside it."""
    folder = tmp_path / "hit"
    shutil.copytree(built, folder)
    ledger = folder / "block.ledger"
    shutil.copyfile(ledger, folder / "earlier.ledger")
    data = bytearray(ledger.read_bytes())
    data[100:4096] = b"\x5a" * 3996  # the table of contents: nothing can be read
    ledger.write_bytes(bytes(data))
    return folder


def test_the_error_names_the_command_and_an_earlier_copy_takes_its_place(hit: Path) -> None:
    broken = (hit / "block.ledger").read_bytes()
    said = planner("history", str(hit))
    assert said.code == 2 and "planner restore FILE --rescue" in " ".join(said.err.split())
    nothing = planner("restore", str(hit), "--rescue")
    assert nothing.code == 2 and "block.ledger.damaged-1" in nothing.err
    assert (hit / "block.ledger").read_bytes() == broken, "left as it was"
    back = planner("restore", str(hit), "--rescue", "--copy", str(hit / "earlier.ledger"))
    assert back.code == 0, back.said
    assert "block.ledger.damaged-2" in back.out and "1 revision brought back" in back.out
    assert (hit / "block.ledger.damaged-2").read_bytes() == broken
    assert planner("show", str(hit)).code == 0


def test_a_whole_ledger_is_left_alone_and_half_an_order_is_refused(built: Path) -> None:
    whole = planner("restore", str(built), "--rescue")
    assert whole.code == 2 and "is whole" in whole.err
    for words in ((), ("1", "--rescue"), ("1", "--copy", "x")):
        half = planner("restore", str(built), *words)
        assert half.code == 2 and "needed the number of a revision, or --rescue" in half.err
