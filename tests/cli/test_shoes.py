"""Which shoe a reading counts for, as it is typed: said where it is assumed, asked for where it is not clear."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commands import here

from planner.domain.pit_facts import RunUpReadings, StartMark
from planner.domain.shoe import Shoe
from planner.ledger import Ledger

NOW = ("--now", "2027-03-05 21:00")
ADA = "Ada Lindmoor"
MARK = "  - {{athlete: Ada Lindmoor, event: long jump, steps: 16, start_mark: {0}, date: 2027-02-20{1}}}\n"
SPIKES, FLATS = MARK.format("30.40 m", ", shoe: spikes 25.5 cm"), MARK.format("30.05 m", ", shoe: flats 26.3 cm")


def with_marks(folder: Path, *rows: str) -> Path:
    file = folder / "block.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "run_ups:\n" + "".join(rows), encoding="utf-8")
    return folder


def readings(folder: Path, day: int, *more: str) -> object:
    told = (f"athlete={ADA}", f"day=2027-03-0{day}", "event=long jump", "runs=14 wind=0;15 wind=0;16 wind=0")
    return here("log", folder, "run-up-readings", *told, *more, *NOW)


def worn(folder: Path) -> list[Shoe]:
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        return [f.worn for f in ledger.facts() if isinstance(f, RunUpReadings | StartMark)]


def still_cm(folder: Path, *more: str) -> int:
    said = here("numbers", "run-up", "--file", folder, "--athlete", ADA, "--steps", "16", "--json", *more, *NOW)
    assert said.code == 0, said.said
    found = json.loads(said.out)
    return int(found["data"]["still_cm"])


def test_the_only_shoe_is_taken_and_said(given: Path) -> None:
    folder = with_marks(given, SPIKES)
    ran = readings(folder, 1)
    assert "No shoe was given: taken for the only one of Ada Lindmoor, spikes 25.5 cm." in ran.out, ran.said
    assert f"sheets:\n  planner print {folder / 'block.yaml'} '{ADA}'" in ran.out, "a command on a line of its own"
    assert "shoe spikes 25.5 cm" in " ".join(ran.out.split()) and worn(folder) == [Shoe("spikes", 255)]


def test_of_two_shoes_one_must_be_named_and_only_its_mark_moves(given: Path) -> None:
    """Still air, 15 cm past the board in flats on two days: 30.05 becomes 30.20 m; spikes stay at 30.40 m."""
    folder = with_marks(given, SPIKES, FLATS)
    ran = readings(folder, 1)
    assert ran.code == 2 and worn(folder) == []
    said = " ".join(ran.err.split())
    assert "shoe: found no shoe where Ada Lindmoor has 2; needed one of them: spikes 25.5 cm, flats" in said
    assert "Maybe shoe='spikes'" in said
    for day in (1, 3):
        assert readings(folder, day, "shoe=flats").code == 0
    assert worn(folder) == [Shoe("flats", 263)] * 2
    told = " ".join(here("history", folder, "--facts").out.split())
    assert told.count("shoe flats 26.3 cm") == 2 and "shoe name" not in told
    assert (still_cm(folder, "--shoe", "flats"), still_cm(folder, "--shoe", "spikes")) == (3020, 3040)
    mark = here("log", folder, "start-mark", f"athlete={ADA}", "day=2027-03-04", "event=long jump", "steps=16",
                "start_mark=30.60 m", "shoe=25.5 cm", *NOW)  # fmt: skip
    assert mark.code == 0, mark.said
    assert (still_cm(folder, "--shoe", "flats"), still_cm(folder, "--shoe", "spikes")) == (3020, 3060)


def test_a_new_shoe_is_typed_with_its_length_and_moves_nothing(given: Path) -> None:
    folder = with_marks(given, SPIKES)
    ran = readings(folder, 1, "shoe=flats")
    said = " ".join(ran.err.split())
    assert ran.code == 2 and "or a new one with its length. Maybe shoe='flats 26.2 cm'" in said
    for day in (1, 3):
        ran = readings(folder, day, "shoe=flats 26.3 cm")
        assert ran.code == 0, ran.said
    assert still_cm(folder) == 3040
    with_size = readings(folder, 4, "shoe=EU 40")
    assert with_size.code == 2 and "a size is no length" in with_size.err


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ((), "found no shoe, needed one of Ada Lindmoor's shoes: spikes 25.5 cm, flats 26.3 cm"),
        (("--shoe", "boots"), "found 'boots', needed one of Ada Lindmoor's shoes"),
        (("--shoe", "EU 40"), "a size is no length"),
    ],
)
def test_numbers_ask_for_the_shoe_too(given: Path, more: tuple[str, ...], said: str) -> None:
    folder = with_marks(given, SPIKES, FLATS)
    ran = here("numbers", "run-up", "--file", folder, "--athlete", ADA, *more)
    assert ran.code == 2 and said in ran.err and "Maybe" in ran.err, ran.said


def test_numbers_name_the_shoe_and_its_length(given: Path) -> None:
    """Half a shoe is the step of a shift: 30.05 m x 0.25 % x 4 m/s = 30 cm, 30 / 26.3 = 1.14, so one flat back."""
    folder = with_marks(given, SPIKES, FLATS)
    ran = here("numbers", "run-up", "--file", folder, "--athlete", ADA, "--shoe", "26.3", "--json")
    found = json.loads(ran.out)
    assert found["rows"]["shoe"] == "flats, 26.3 cm"
    assert found["data"]["shoe"] == {"name": "flats", "length_cm": 26.3}
    assert found["data"]["table"][-1] == [4, 30, 1.0]
    bare = json.loads(here("numbers", "run-up", "--mark", "33.20 m", "--steps", "18", "--json").out)
    assert bare["rows"]["shoe"] == "not named, 27.9 cm: usual, not measured"
    assert bare["data"]["shoe"] == {"name": "", "length_cm": None}
