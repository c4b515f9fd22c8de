"""Marks that tell start, timing, surface, shoes and run-up apart; what cannot be one mark or is not believed."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from coachs_files import KINDS, Tables, complaints, small, write

from planner.domain.mark_names import run_of
from planner.intake import check_block, read_block, schema

DAY = date(2027, 3, 20)


def marks(*rows: dict[str, object]) -> Tables:
    return small(marks=[{"athlete": "Tove Marn", **row} for row in rows])


# what the coach wrote -> the one name of it
NAMES: tuple[tuple[dict[str, object], str], ...] = (
    ({"event": "30 m", "mark": "4.42 s"}, "30 m"),
    ({"event": "30 m standing", "mark": "4.42 s"}, "30 m"),
    ({"event": "30 m blocks", "mark": "4.55 s"}, "30 m blocks"),
    ({"event": "30 M  Hand", "mark": "4.2 s"}, "30 m hand"),
    ({"event": "30 m hand blocks", "mark": "4.3 s"}, "30 m blocks hand"),
    ({"event": "60 m standing", "mark": "7.90 s"}, "60 m standing"),
    ({"event": "30 m flying", "mark": "3.40 s"}, "flying 30 m"),
    ({"event": "flying 20 m gates", "mark": "2.30 s"}, "flying 20 m"),
    ({"event": "30 m", "mark": "4.70 s", "surface": "grass", "shoes": "flats"}, "30 m grass flats"),
    ({"event": "30 m", "mark": "4.3 s", "start": "blocks", "timing": "hand"}, "30 m blocks hand"),
    ({"event": "20 m", "mark": "2.30 s", "start": "flying"}, "flying 20 m"),
    ({"event": "60 m", "mark": "7.60 s", "start": "race", "timing": "gates"}, "60 m"),
    ({"event": "long jump 8 steps", "mark": "5.02 m", "wind": "0.3"}, "long jump 8 steps"),
    ({"event": "long jump from 8 steps", "mark": "5.02 m"}, "long jump 8 steps"),
    ({"event": "triple jump", "mark": "10.20 m", "steps": 10}, "triple jump 10 steps"),
    ({"event": "squat", "mark": "92.5 kg"}, "squat"),
)


@pytest.mark.parametrize("kind", KINDS)
def test_a_mark_has_one_name_however_it_is_written(kind: str, tmp_path: Path) -> None:
    rows = [{**row, "date": date(2027, 3, 1 + i)} for i, (row, _) in enumerate(NAMES)]
    block = read_block(write(kind, tmp_path, marks(*rows)))
    assert [m.event for m in block.marks] == [name for _, name in NAMES]
    assert {m.wind for m in block.marks} == {None, 3}


def test_the_name_of_a_run_reads_back_as_itself() -> None:
    for row, name in NAMES:
        run = run_of(name)
        assert run is None or run.name == name, row


SLIPS: dict[str, tuple[Tables, tuple[str, ...]]] = {
    "a mark from another event": (marks({"event": "30 m blocks", "mark": "4.55 m"}), ("a time such as",)),
    "a jump as a time": (marks({"event": "long jump 8 steps", "mark": "5.02 s"}), ("a length such as 6.35 m",)),
    "hand and gates in one name": (
        marks({"event": "30 m hand gates", "mark": "4.3 s"}),
        ("'gates' and 'hand' are two marks", "its own row"),
    ),
    "hand in the name and gates beside it": (
        marks({"event": "30 m hand", "timing": "gates", "mark": "4.3 s"}),
        ("'gates'", "30 m hand", "two marks"),
    ),
    "two starts": (marks({"event": "30 m blocks", "start": "standing", "mark": "4.3 s"}), ("two marks",)),
    "hand slower than gates on one day": (
        marks(
            {"event": "30 m", "mark": "4.30 s", "date": DAY},
            {"event": "30 m", "timing": "hand", "mark": "4.40 s", "date": DAY},
        ),
        ("4.40 s by hand and 4.30 s by gates", "mixed up"),
    ),
    "splits that do not grow": (
        marks(
            {"event": "20 m blocks", "mark": "3.30 s", "date": DAY},
            {"event": "10 m blocks", "mark": "3.40 s", "date": DAY},
        ),
        ("20 m blocks in 3.30 s", "more time for the longer distance"),
    ),
    "a jump with a start": (marks({"event": "long jump", "start": "blocks", "mark": "5.10 m"}), ("'blocks' for",)),
    "steps of a run": (marks({"event": "30 m", "steps": 8, "mark": "4.30 s"}), ("8 steps for the 30 m",)),
    "steps twice": (
        marks({"event": "long jump 8 steps", "steps": 10, "mark": "5.02 m"}),
        ("10 steps", "8 steps, as the event says"),
    ),
    "a run-up of one step": (marks({"event": "long jump 1 steps", "mark": "5.02 m"}), ("from 2 to 24",)),
    "a distance nobody tests": (marks({"event": "37 m blocks", "mark": "5.02 s"}), ("an event or test",)),
    "negative": (marks({"event": "30 m", "mark": "-4.30 s"}), ("a mark with its unit",)),
    "unit missing": (marks({"event": "30 m", "mark": "4.30"}), ("the unit is missing",)),
    "wind beyond belief": (
        marks({"event": "long jump 8 steps", "mark": "5.02 m", "wind": "24"}),
        ("'24'", "from -10 to +10 metres per second"),
    ),
    "quicker than anybody": (marks({"event": "30 m blocks hand", "mark": "3.10 s"}), ("beyond human reach",)),
    "two start marks for one run-up": (
        small(run_ups=[
            {"athlete": "Tove Marn", "event": "long jump", "steps": 16, "start_mark": mark}
            for mark in ("32.10 m", "33.10 m")
        ]),
        ("33.10 m beside 32.10 m", "one start mark for one run-up"),
    ),
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("slip", sorted(SLIPS))
def test_one_slip_is_one_sentence(slip: str, kind: str, tmp_path: Path) -> None:
    tables, needed = SLIPS[slip]
    said = complaints(write(kind, tmp_path, tables))
    assert len(said) == 1, said
    assert all(word in said[0] for word in needed), said[0]


def test_hand_and_gates_of_one_run_stand_beside_each_other(tmp_path: Path) -> None:
    file = write("yaml", tmp_path, marks(
        {"event": "30 m", "mark": "4.44 s", "date": DAY}, {"event": "30 m hand", "mark": "4.2 s", "date": DAY},
        {"event": "10 m", "mark": "2.01 s", "date": DAY}, {"event": "20 m", "mark": "3.25 s", "date": DAY},
    ))  # fmt: skip
    block, warnings = check_block(file)
    assert len(block.marks) == 4 and warnings == ()


def test_a_short_run_up_beyond_the_full_one_is_unusual(tmp_path: Path) -> None:
    file = write("yaml", tmp_path, marks(
        {"event": "long jump", "mark": "5.00 m"}, {"event": "long jump 8 steps", "mark": "5.20 m"},
    ))  # fmt: skip
    (warning,) = check_block(file)[1]
    assert "5.20 m from 8 steps, beyond the best" in str(warning)


def test_the_schema_knows_the_words() -> None:
    row = schema()["properties"]["marks"]["items"]["properties"]
    pattern = row["event"]["anyOf"][1]["pattern"]
    for written, name in NAMES:
        if str(written["event"]).islower() and "  " not in str(written["event"]):
            known = row["event"]["anyOf"][0]["enum"]
            assert written["event"] in known or re.match(pattern, str(written["event"])), written
        assert name in row["event"]["anyOf"][0]["enum"] or re.match(pattern, name)
    assert row["timing"]["enum"] == ["gates", "hand"]
    assert not re.match(pattern, "30 m crouched")
