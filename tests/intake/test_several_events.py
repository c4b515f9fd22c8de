"""Several events of an athlete on one day: the time between them is shown in minutes, and a person accepts it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from coachs_files import KINDS, complaints, small, without_lines, write

from planner.domain.competing import several_events
from planner.intake import check_block, read_block

DAY = date(2027, 4, 3)
TIMES = "100 m hurdles 13:10; long jump 15:00"
WHO = "Tove Marn"


def tables(events: str = "long jump; 100 m hurdles", **cells: Any) -> dict[str, Any]:
    meet = {"name": "Games", "date": DAY, "athletes": WHO, "importance": "main", **cells}
    made = small(competitions=[meet])
    made["athletes"][0]["events"] = events
    return made


def warned(folder: Path, made: dict[str, Any], kind: str = "yaml") -> str:
    _, warnings = check_block(write(kind, folder, made))
    return "\n".join(str(w) for w in warnings if "several events" in str(w))


@pytest.mark.parametrize("kind", KINDS)
def test_without_clock_times_they_are_asked_for(tmp_path: Path, kind: str) -> None:
    said = warned(tmp_path, tables(), kind)
    assert "several events on one day at 'Games', 2027-04-03: 'Tove Marn' (long jump and 100 m hurdles" in said
    assert "needed their clock times under 'starts'" in said and "Maybe the timetable is not out yet" in said


@pytest.mark.parametrize("kind", KINDS)
def test_the_gap_is_shown_in_minutes_and_a_word_is_asked_for(tmp_path: Path, kind: str) -> None:
    said = warned(tmp_path, tables(starts=TIMES), kind)
    assert "100 m hurdles 13:10 and long jump 15:00, 110 minutes from start to start" in said
    assert "needed a person's word that the time between them is enough, under 'gap_accepted'" in said


def test_an_accepted_gap_is_silent(tmp_path: Path) -> None:
    assert warned(tmp_path, tables(starts=TIMES, gap_accepted="Reidun: one race and two hours")) == ""


@pytest.mark.parametrize(
    "cells",
    [
        {"events": "long jump"},
        {"importance": "supporting"},
        {"until": date(2027, 4, 4)},
    ],
    ids=["one event", "not the main one", "two days"],
)
def test_where_there_is_nothing_to_decide(tmp_path: Path, cells: dict[str, Any]) -> None:
    assert warned(tmp_path, tables(**cells)) == ""
    assert warned(tmp_path, tables(events="heptathlon; 100 m hurdles")) == ""


def test_both_kinds_of_file_say_the_same_and_the_first_start_is_the_earliest(tmp_path: Path) -> None:
    made = tables(starts="long jump 15:00; 100 m hurdles 13:10", gap_accepted="Reidun: one race only")
    one, other = (read_block(write(kind, tmp_path, made)).competitions[0] for kind in KINDS)
    assert without_lines(one) == without_lines(other)
    assert [(x.event, f"{x.at:%H:%M}") for x in one.starts] == [("100 m hurdles", "13:10"), ("long jump", "15:00")]
    assert one.start == one.starts[0].at
    asked = several_events(read_block(tmp_path / "block.yaml"), one)
    assert asked is not None and asked.accepted and [g.minutes for g in asked.gaps] == [110]


def test_a_mapping_in_yaml_is_read_too(tmp_path: Path) -> None:
    text = write("yaml", tmp_path, tables(starts="TIMES")).read_text(encoding="utf-8")
    path = tmp_path / "block.yaml"
    path.write_text(text.replace('"TIMES"', '{long jump: "15:00", 100 m hurdles: "13:10"}'), encoding="utf-8")
    assert [x.event for x in read_block(path).competitions[0].starts] == ["100 m hurdles", "long jump"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"starts": TIMES, "gap_accepted": "yes"}, "a note of at least 10 characters beside 'starts'"),
        ({"gap_accepted": "Reidun: all is well"}, "without the clock times of the events"),
        ({"starts": TIMES, "start": "13:10"}, "'start' beside 'starts'; needed one of the two"),
        ({"starts": "triple jump 13:10"}, "the clock time of 'triple jump', in which nobody of the row is"),
        ({"starts": "long jump 13:10; long jump 15:00"}, "'long jump' is given twice"),
        ({"starts": "long jump"}, "an event or its clock time is missing"),
        ({"starts": "lang jump 13:10"}, "'long jump' is meant"),
        ({"starts": "long jump 25:10"}, "a clock time such as 17:30"),
    ],
)
def test_what_cannot_be_meant_is_said(tmp_path: Path, kind: str, cells: dict[str, Any], said: str) -> None:
    (only,) = complaints(write(kind, tmp_path, tables(**cells)))
    assert said in only and "competitions" in only and "Maybe" in only
