"""A person is forgotten: no byte of the name is left in the ledger, and the command says what it did not touch."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from commands import here

from planner.domain.facts import Fact
from planner.ledger import Ledger, damage

NAME = "Ada Lindmoor"
NOW = ("--now", "2027-03-02 21:00")
HURT = ("hurt", f"athlete={NAME}", "day=2027-03-01", "region=hamstring", "side=left", "stage=1", "entered_by=Holm")


@pytest.fixture
def told(given: Path, built: Path) -> Path:
    """The block with facts of the body, a second revision, its sheets, and a copy made before."""
    shutil.copytree(built / "sheets", given / "sheets")
    words = ("log", given, *HURT, "note=Ada felt it, says LINDMOOR herself", *NOW)
    for ran in (here(*words), here("restore", given, "1", *NOW), here("backup", given)):
        assert ran.code == 0, ran.said
    return given


def test_no_byte_of_the_name_or_of_the_body_is_left(told: Path) -> None:
    ledger = told / "block.ledger"
    before = ledger.read_bytes()
    assert NAME.encode() in before and b"hamstring" in before and b"LINDMOOR" in before
    ran = here("forget", told, NAME, "--sure", *NOW)
    assert ran.code == 0 and "no longer knows" in ran.out, ran.said
    after = ledger.read_bytes().lower()
    for word in ("lindmoor", "holm", "felt it"):
        assert word.encode() not in after, word
    # 'hamstring' stays as a region that a unit loads; no fact and no limit of anybody names it
    assert [f.kind for f in _facts(told)] == ["forgotten"]
    assert sorted(p.name for p in told.glob("block.ledger*")) == ["block.ledger"], "no journal is left"
    assert damage(told / "block.yaml") == ""
    assert here("show", told).code == 0 and "Lindmoor" not in here("history", told).out


def test_what_still_holds_the_name_is_named(told: Path) -> None:
    (told / "notes.txt").write_text("nobody stands here", encoding="utf-8")
    said = here("forget", told, NAME, "--sure", *NOW).out
    said = " ".join(said.split())
    assert "block.copy.ledger, block.yaml" in said and "sheets" in said and "notes.txt" not in said
    assert "other blocks' files and ledgers" in said and "paper" in said


def test_a_copy_made_before_still_opens_and_knows_the_name(told: Path) -> None:
    assert here("forget", told, NAME, "--sure", *NOW).code == 0
    shutil.copyfile(told / "block.copy.ledger", told / "block.ledger")
    assert [f.kind for f in _facts(told)] == ["hurt"]


@pytest.mark.parametrize(
    ("words", "said"),
    [((NAME,), "needed --sure"), (("Ada Lindmor", "--sure"), "no row names 'Ada Lindmor'")],
    ids=["not sure", "nobody"],
)
def test_half_an_order_forgets_nothing(told: Path, words: tuple[str, ...], said: str) -> None:
    before = (told / "block.ledger").read_bytes()
    ran = here("forget", told, *words, *NOW)
    assert ran.code == 2 and said in ran.err and "Maybe" in ran.err, ran.said
    assert (told / "block.ledger").read_bytes() == before


def _facts(folder: Path) -> list[Fact]:
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        return list(ledger.facts(include_undone=True))
