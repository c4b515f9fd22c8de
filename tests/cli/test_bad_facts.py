"""Facts that cannot be and ledgers that cannot be used: a clear sentence, the right exit code, nothing lost."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from commands import here

from planner.catalogue import return_test
from planner.catalogue import units as all_units
from planner.domain.facts import Done, Fact, Ill, Setback, StageChanged, VenueClosed
from planner.ledger import Ledger
from planner.rules._tiny import World, problem
from planner.season.stage_raised import raised_soon

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
    assert "shoe is its name, its length, or both" in said
    assert "[shoe='spikes 26.2 cm']" in said and "shoe_name" not in said and "athlete='some words'" not in said


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


def test_a_stage_raised_soon_is_recorded_and_said(given: Path) -> None:
    """Fewer than five days, or training recorded on fewer than two of them: a person may go on, and is told.

    The shipped catalogue asks for these: common practice, no source.
    """
    of_leg = (ADA, "region=hamstring", "side=left", "entered_by=Dr Holm")

    def log(day: int, *words: str) -> str:
        ran = here("log", given, *words, f"day=2027-03-{day:02}", "--now", f"2027-03-{day:02} 21:00")
        assert ran.code == 0, ran.said
        return " ".join(ran.out.split())

    def trained(day: int, unit: str, *more: str) -> None:
        log(day, "done", ADA, "slot=training", f"unit={unit}", *more)

    assert "are usual" not in log(1, "hurt", *of_leg, "stage=1")
    trained(1, "mobility")  # the day it happened is no day of the stage
    said = log(2, "stage-changed", *of_leg, "stage=2", "note=scan is clear")
    assert "Dr Holm raises Ada Lindmoor to stage 2 on day 2 of stage 1 (since Mon 1 Mar)" in said
    assert "recorded on 0 days: 5 whole days, 2 of them trained without a setback, are usual" in said
    assert "are usual. Maybe wait. " in said and "in a note" not in said, "why was said already"
    with Ledger.open(given / "block.yaml", create=False) as ledger:
        assert [f.note for f in ledger.facts() if isinstance(f, StageChanged)] == ["scan is clear"]
    trained(3, "extensive-tempo")
    trained(4, "upper-body")  # loads no hamstring
    trained(5, "extensive-tempo", "remark=missed")
    said = log(7, "stage-changed", *of_leg, "stage=3")
    trained_once = "day 6 of stage 2 (since Tue 2 Mar), with training in it recorded on 1 day:"
    assert trained_once in said, "five days, and trained once"
    assert f"The return test of this stage: {return_test('hamstring', 2)}. Maybe wait;" in said
    assert "whoever goes on may say why in a note." in said
    log(7, "setback", *of_leg, "stage=2")
    assert "are usual" not in log(7, "stage-changed", *of_leg, "stage=1"), "down is never too soon"


def test_a_stage_of_five_days_and_two_of_training_is_raised_without_a_word() -> None:
    """A setback begins it anew, and where a side is behind the other, its days count."""

    def told(*facts: Fact) -> str:
        raised = StageChanged(recorded_at=at, athlete="Ada", day=date(2027, 3, 8), region="knee", side="both",
                              stage=4, entered_by="Dr Holm")  # fmt: skip
        return raised_soon(raised, made, tuple(replace(f, id=i + 1) for i, f in enumerate(facts)))

    at, made = datetime(2027, 3, 8, 21, tzinfo=UTC), problem(World(("extensive-tempo",)))
    knee = {"recorded_at": at, "athlete": "Ada", "region": "knee", "entered_by": "Dr Holm", "stage": 3}
    begun = StageChanged(**knee, day=date(2027, 3, 3))  # type: ignore[arg-type]
    twice = [Done(recorded_at=at, athlete="Ada", day=date(2027, 3, d), slot="evening", unit="extensive-tempo")
             for d in (3, 6)]  # fmt: skip
    assert told(begun, *twice) == ""
    assert "recorded on 1 day:" in told(begun, twice[0], replace(twice[1], day=date(2027, 3, 3), slot="morning"))
    assert "on day 5 of stage 3" in told(replace(begun, day=date(2027, 3, 4)), *twice)
    setback = Setback(**knee, day=date(2027, 3, 6), side="left")  # type: ignore[arg-type]
    said = told(begun, *twice, setback)
    assert "day 3 of stage 3 (since Sat 6 Mar), with training in it recorded on 0 days" in said


def test_hurt_again_is_no_way_to_raise_a_stage(given: Path) -> None:
    assert here("log", given, *HURT, *NOW).code == 0
    again = ("hurt", ADA, "day=2027-03-02", *HURT[3:5], "entered_by=Dr Holm")
    for stage in (2, 5):
        ran = here("log", given, *again, f"stage={stage}", *NOW)
        assert ran.code == 2 and "a stage up to 1" in ran.err and "stage-changed" in ran.err, ran.said
    assert facts(given) == 1
    assert here("log", given, *again, "stage=0", *NOW).code == 0


@pytest.mark.parametrize(
    ("words", "typed", "said"),
    [
        (("2027-03-04",), "", "a day up to today"),
        (("2027-03-01",), "Bo: missed", "needed one athlete of that day"),
        (("2027-03-01",), "Ada: pole vault 2 of 3", "needed one unit of Ada Lindmoor that day"),
        (("1st of March",), "", "a date like"),
        (("2031-03-01",), "", "Nothing is planned"),
    ],
    ids=["to come", "unknown person", "unknown unit", "no date", "another year"],
)
def test_a_day_that_cannot_be(given: Path, words: tuple[str, ...], typed: str, said: str) -> None:
    (given / "typed.txt").write_text(typed, encoding="utf-8")
    ran = here("day", given, *words, "--from", given / "typed.txt", *NOW)
    nothing = said == "Nothing is planned"
    assert ran.code == (0 if nothing else 2) and said in " ".join(ran.said.split()) and facts(given) == 0, ran.said
    assert nothing or "Maybe" in ran.err


def test_done_then_the_whole_day_as_planned(given: Path) -> None:
    """What was recorded of one unit contradicts the day as a whole: nothing of the day is recorded beside it."""
    with Ledger.open(given / "block.yaml", create=False) as ledger:
        rows = [p for p in ledger.current(all_units()).placements if str(p.day) == "2027-03-01"]  # type: ignore[union-attr]
    missed = ("done", ADA, "day=2027-03-01", f"slot={rows[0].slot}", f"unit={rows[0].unit.id}", "remark=missed")
    assert here("log", given, *missed, *NOW).code == 0
    (given / "typed.txt").write_text("", encoding="utf-8")
    ran = here("day", given, "2027-03-01", "--from", given / "typed.txt", *NOW)
    assert ran.code == 2 and "beside 'missed' (fact 1)" in ran.err and "undo fact 1 first" in ran.err, ran.said
    assert facts(given) == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("undo", "7"), "planner history FILE --facts"),
        (("undo", "seven"), "planner history FILE --facts"),
        (("undo",), "the number of one fact"),
    ],
    ids=["no such fact", "no number", "nothing"],
)
def test_an_undoing_of_nothing(given: Path, words: tuple[str, ...], said: str) -> None:
    ran = here("log", given, *words, *NOW)
    assert ran.code == 2 and said in " ".join(ran.err.split()) and facts(given) == 0, ran.said


def test_recorded_facts_are_listed_with_the_numbers_that_undo_asks_for(given: Path) -> None:
    assert here("log", given, *HURT, "note=felt it in the third run of the second set, stopped", *NOW).code == 0
    assert here("log", given, "undo", "1", *NOW).code == 0
    ran = here("history", given, "--facts")
    assert ran.code == 0 and max(map(len, ran.out.splitlines())) <= 80
    first, second = (" ".join(part.split()) for part in re.split(r"(?m)^ +(?=\d+ )", ran.out)[1:])
    assert first.startswith("1 Tue 02 Mar 21:00 hurt: Ada Lindmoor, 2027-03-01, hamstring, left")
    assert "third run" in first and first.endswith("(does not count)") and second.endswith("undone: fact 1")
    listed = json.loads(here("history", given, "--facts", "--json").out)
    assert [(x["number"], x["kind"], x["counts"]) for x in listed] == [(1, "hurt", False), (2, "undone", False)]


def test_a_ledger_of_a_newer_version(given: Path) -> None:
    db = sqlite3.connect(given / "block.ledger")
    db.execute("PRAGMA user_version = 99")
    db.close()
    before = (given / "block.ledger").read_bytes()
    rain = ("log", given, "weather", "day=2027-03-02", "rain=yes", *NOW)
    day = ("day", given, "2027-03-02", "--show", *NOW)
    forget = ("forget", given, "Ada Lindmoor", "--sure", *NOW)
    replan = ("replan", given, *NOW)
    for words in (("show", given), rain, ("history", given), day, replan, forget, ("check", given)):
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


def test_the_last_whole_state_of_a_damaged_ledger_comes_back_and_a_copy_is_kept(given: Path) -> None:
    path = given / "block.ledger"
    assert here("log", given, *DONE, "day=2027-03-01", *NOW).code == 0
    assert here("restore", given, "1", *NOW).code == 0
    db = sqlite3.connect(path)  # one row of the last revision is broken behind the program's back
    db.execute("DROP TRIGGER placements_stay")
    db.execute("UPDATE placements SET record = replace(record, 'Ada', 'Eve') WHERE revision = 2")
    db.commit()
    db.close()
    broken = path.read_bytes()
    ran = here("restore", given, "--rescue")
    assert ran.code == 0 and "revision 2 is not whole" in ran.out and "the last is revision 1" in ran.out, ran.said
    assert "lost: 2" in ran.out and "1 fact brought back" in ran.out
    assert (given / "block.ledger.damaged-1").read_bytes() == broken
    assert here("show", given).code == 0 and facts(given) == 1


@pytest.mark.skipif(os.geteuid() == 0 and shutil.which("setpriv") is None, reason="needs setpriv to be no root")
def test_a_read_only_folder(given: Path) -> None:
    """As root nothing is read-only, so that right is given up for the command."""
    for path in (given / "block.ledger", given):
        path.chmod(0o555)
    caps = "-dac_override,-dac_read_search"
    as_anybody = ["setpriv", f"--bounding-set={caps}", f"--inh-caps={caps}"] if os.geteuid() == 0 else []
    python = [*as_anybody, sys.executable, "-c", "from planner.cli import main; main()"]
    try:
        for words in (
            ("log", str(given), "weather", "day=2027-03-02", "rain=yes", *NOW),
            ("hand-out", str(given), *NOW),
            ("restore", str(given), "1", *NOW),
            ("forget", str(given), "Ada Lindmoor", "--sure", *NOW),
            ("show", str(given)),
        ):
            ran = subprocess.run(
                [*python, *words],
                capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2],
            )  # fmt: skip
            if words[0] == "show":  # looking needs no right to write
                assert ran.returncode == 0 and "First week" in ran.stdout, ran.stderr
            else:
                said = " ".join(ran.stderr.split())
                assert ran.returncode == 5 and "cannot be written" in said, ran.stderr
                assert "Maybe" in ran.stderr and "bug" not in ran.stderr
    finally:
        given.chmod(0o755)
    assert facts(given) == 0


def test_a_copy_or_an_export_that_cannot_be_written(given: Path) -> None:
    ran = here("backup", given, given / "nowhere" / "copy.ledger")
    assert ran.code == 5 and "Maybe" in ran.err and "bug" not in ran.err, ran.said
    ran = here("export", given, "--csv", "--to", given / "nowhere" / "plan.csv")
    assert ran.code == 5 and "Maybe" in ran.err and "bug" not in ran.err, ran.said
