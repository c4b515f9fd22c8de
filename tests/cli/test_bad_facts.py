"""Facts that cannot be and ledgers that cannot be used: a clear sentence, the right exit code, nothing lost."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from commands import here

from planner.domain.facts import Ill, VenueClosed
from planner.ledger import Ledger

NOW = ("--now", "2027-03-02 21:00")
ADA = "athlete=Ada Lindmoor"
HURT = ("hurt", ADA, "day=2027-03-01", "region=hamstring", "side=left", "stage=1", "entered_by=Dr Holm")
DONE = ("done", ADA, "slot=training", "unit=mobility")


def facts(folder: Path) -> int:
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        return len(ledger.facts(include_undone=True))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("ill", "athlete=Ada Lindmor", "begins=2027-03-02"), "an athlete of the squad"),
        (("ill", ADA, "begins=2027-13-02"), "a date like"),
        (("ill", ADA, "begins=2037-03-02"), "a date near the block"),
        ((*DONE, "day=2027-03-05"), "a day up to today"),
        ((*DONE, "day=2027-03-02", "remark=missed", "amount=4"), "of a missed unit"),
        ((*HURT[:-1],), "stages are set by people only"),
        (("venue-closed", "venue=moon", "begins=2027-03-02", "ends=2027-03-03"), "a venue of the block"),
    ],
    ids=["unknown person", "no date", "another year", "to come", "missed and done", "nobody", "unknown venue"],
)
def test_a_fact_that_cannot_be(given: Path, words: tuple[str, ...], said: str) -> None:
    ran = here("log", given, *words, *NOW)
    assert ran.code == 2 and said in ran.err and "Maybe" in ran.err and "bug" not in ran.err, ran.said
    assert facts(given) == 0


def test_a_date_alone_closes_a_venue_for_the_whole_day(given: Path) -> None:
    ran = here("log", given, "venue-closed", "venue=track", "begins=2027-03-04", "ends=2027-03-04", *NOW)
    assert ran.code == 0, ran.said
    with Ledger.open(given / "block.yaml", create=False) as ledger:
        (closed,) = (f for f in ledger.facts() if isinstance(f, VenueClosed))
    assert (f"{closed.begins:%d %H:%M}", f"{closed.ends:%d %H:%M}") == ("04 00:00", "04 23:59")


def test_the_beginning_of_a_name_is_recorded_in_full(given: Path) -> None:
    ran = here("log", given, "ill", "athlete=ada", "begins=2027-03-02", *NOW)
    assert ran.code == 0 and "ill, athlete Ada Lindmoor, begins 2027-03-02." in ran.out, ran.said
    assert "to last through the day after it" in " ".join(ran.out.split())
    with Ledger.open(given / "block.yaml", create=False) as ledger:
        assert [f.athlete for f in ledger.facts() if isinstance(f, Ill)] == ["Ada Lindmoor"]


def test_the_kinds_are_listed_with_what_their_fields_hold(given: Path) -> None:
    said = " ".join(here("log", given).out.split())
    assert "region=hamstring [side=left] entered_by='the physio'" in said  # no fact of the body without it
    assert "shoe in millimetres" in said and "athlete='some words'" not in said


def test_done_and_missed_of_the_same_unit(given: Path) -> None:
    assert here("log", given, *DONE, "day=2027-03-01", *NOW).code == 0
    ran = here("log", given, *DONE, "day=2027-03-01", "remark=missed", *NOW)
    assert ran.code == 2 and "undo fact 1 first" in ran.err and facts(given) == 1, ran.said


def test_a_return_stage_jumps_only_with_a_persons_note(given: Path) -> None:
    assert here("log", given, *HURT, *NOW).code == 0
    change = ("stage-changed", *HURT[1:5], "stage=4", "entered_by=Dr Holm")
    ran = here("log", given, *change, *NOW)
    assert ran.code == 2 and "a step from stage 1 to 4" in ran.err and facts(given) == 1, ran.said
    assert here("log", given, *change, "note=scan is clear, says Dr Holm", *NOW).code == 0


def test_a_ledger_of_a_newer_version(given: Path) -> None:
    db = sqlite3.connect(given / "block.ledger")
    db.execute("PRAGMA user_version = 99")
    db.close()
    before = (given / "block.ledger").read_bytes()
    rain = ("log", given, "weather", "day=2027-03-02", "rain=yes", *NOW)
    for words in (("show", given), rain, ("history", given)):
        ran = here(*words)
        assert ran.code == 2 and "newer version" in ran.err and "Maybe install" in ran.err, ran.said
    assert (given / "block.ledger").read_bytes() == before


@pytest.mark.parametrize("how", ["no ledger", "cut short", "overwritten"])
def test_a_damaged_ledger(given: Path, how: str) -> None:
    path = given / "block.ledger"
    whole = path.read_bytes()
    broken = {
        "no ledger": b"notes of mine, no ledger at all\n" * 40,
        "cut short": whole[: len(whole) // 2],
        "overwritten": whole[:4096] + os.urandom(8192) + whole[12288:],
    }[how]
    path.write_bytes(broken)
    for words in (("show", given), ("replan", given, *NOW), ("hand-out", given, *NOW)):
        ran = here(*words)
        assert ran.code == 2 and "block.ledger" in ran.err and "Maybe" in ran.err, ran.said
        assert "bug" not in ran.err
    assert path.read_bytes() == broken  # nothing was made worse


@pytest.mark.skipif(os.geteuid() == 0 and shutil.which("setpriv") is None, reason="needs setpriv to be no root")
def test_a_read_only_folder(given: Path) -> None:
    """As root nothing is read-only, so that right is given up for the command."""
    for path in (given / "block.ledger", given):
        path.chmod(0o555)
    caps = "-dac_override,-dac_read_search"
    as_anybody = ["setpriv", f"--bounding-set={caps}", f"--inh-caps={caps}"] if os.geteuid() == 0 else []
    words = ["log", str(given), "weather", "day=2027-03-02", "rain=yes", *NOW]
    try:
        ran = subprocess.run(
            [*as_anybody, sys.executable, "-c", "from planner.cli import main; main()", *words],
            capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2],
        )  # fmt: skip
        assert ran.returncode == 5 and "cannot be written" in ran.stderr and "Maybe" in ran.stderr, ran.stderr
    finally:
        given.chmod(0o755)
    assert facts(given) == 0


def test_a_copy_or_an_export_that_cannot_be_written(given: Path) -> None:
    ran = here("backup", given, given / "nowhere" / "copy.ledger")
    assert ran.code == 5 and "Maybe" in ran.err and "bug" not in ran.err, ran.said
    ran = here("export", given, "--csv", "--to", given / "nowhere" / "plan.csv")
    assert ran.code == 5 and "Maybe" in ran.err and "bug" not in ran.err, ran.said
