"""Who goes with athletes who compete while every coach is planned for training at home."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from coachs_files import Tables, small, write

from planner.cli.words import who_goes_lines
from planner.intake import check_block, read_block
from planner.season import make_problem

D = date
SATURDAY = D(2027, 3, 27)
MEET = {"name": "Open day", "date": SATURDAY, "importance": "supporting"}


def tables(**more: Any) -> Tables:
    made = small(competitions=[{**MEET, "athletes": "Tove Marn"}], coaches=[{"name": "Reidun"}], **more)
    made["athletes"][0]["born"] = D(2012, 1, 1)
    return made


def said(folder: Path, made: Tables) -> list[str]:
    _, warnings = check_block(write("yaml", folder, made))
    return [str(w) for w in warnings if "training at home" in str(w)]


def test_one_remark_says_who_competes_and_who_is_at_home(tmp_path: Path) -> None:
    (line,) = said(tmp_path, tables())
    assert "'Open day' on 2027-03-27: 'Tove Marn' (under 18) competes" in line
    assert "'Reidun' is planned for training at home in" in line
    assert "Maybe add 2027-03-27 to 'away' of a coach" in line and "competitions" in line


@pytest.mark.parametrize(
    "coaches",
    [
        [{"name": "Reidun", "away": "2027-03-27"}],
        [{"name": "Reidun"}, {"name": "Sunniva", "away": "2027-03-27"}],
    ],
)
def test_a_coach_who_is_free_that_day_can_go(tmp_path: Path, coaches: list[dict[str, Any]]) -> None:
    assert said(tmp_path, {**tables(), "coaches": coaches}) == []


def test_two_coaches_at_home_are_both_named(tmp_path: Path) -> None:
    (line,) = said(tmp_path, {**tables(), "coaches": [{"name": "Reidun"}, {"name": "Sunniva"}]})
    assert "'Reidun' and 'Sunniva' are planned" in line


def test_nothing_is_said_when_nobody_is_left_at_home_or_no_slot_is_on_that_day(tmp_path: Path) -> None:
    every = tables()
    every["competitions"] = [{**MEET, "athletes": "; ".join(a["name"] for a in every["athletes"])}]
    assert said(tmp_path, every) == []
    sunday = tables()
    sunday["competitions"] = [{**MEET, "date": D(2027, 3, 28), "athletes": "Tove Marn"}]
    assert said(tmp_path, sunday) == []


def test_a_competition_of_two_rows_or_two_days_has_one_remark(tmp_path: Path) -> None:
    made = tables()
    third = {**made["athletes"][0], "name": "Ane Kvist", "born": D(2000, 1, 1)}
    made["athletes"].append(third)
    made["competitions"] = [
        {**MEET, "date": D(2027, 3, 26), "until": SATURDAY, "athletes": name}
        for name in ("Ane Kvist", "Tove Marn")
    ]
    (line,) = said(tmp_path, made)
    assert "'Tove Marn' (under 18) and 'Ane Kvist' compete," in line and "somebody who goes with them" in line


def test_a_build_repeats_it(tmp_path: Path) -> None:
    (tmp_path / "at_home").mkdir()
    home = make_problem(read_block(write("yaml", tmp_path / "at_home", tables())))
    (tmp_path / "goes").mkdir()
    coaches = [{"name": "Reidun", "away": "2027-03-27"}]
    goes = make_problem(read_block(write("yaml", tmp_path / "goes", {**tables(), "coaches": coaches})))
    lines = {name: " ".join(who_goes_lines(made)) for name, made in (("home", home), ("goes", goes))}
    assert "'Reidun' is planned for training at home" in " ".join(lines["home"].split())
    assert "Who goes with them?" in lines["home"] and lines["goes"] == ""
