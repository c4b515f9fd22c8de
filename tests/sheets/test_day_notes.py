"""What a sheet says of a day beside the training: the day of the camp, how hot or cold the slot will be."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from planner.domain.block import Athlete, Away, Weather
from planner.domain.problem import Problem
from planner.domain.view import Session
from planner.rules._tiny import MONDAY, World, draw, problem
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.day_notes import day_note, lane_notes, weather_note
from tests.sheets import world

TUESDAY, WEDNESDAY = MONDAY + timedelta(1), MONDAY + timedelta(2)
NOON = datetime.combine(WEDNESDAY, datetime.min.time()) + timedelta(hours=12)


def camp(weather: tuple[Weather, ...] = (), kind: str = "camp") -> Problem:
    """Three days; Ada is there from Monday, Bo from Wednesday on."""
    people = (Athlete("Ada", date(2000, 1, 1)), Athlete("Bo", date(2000, 1, 1)))
    away = (Away("Bo", NOON - timedelta(hours=2), NOON, "camp arrival", 2),)
    block = {"kind": kind, "weather": weather, "away": away}
    units = ("flying-sprints", "mobility")
    return problem(World(units, days=3, amounts=("full", "lighter"), persons=people, block=block))


def session(made: Problem, unit: str) -> Session:
    """Ada's Monday evening."""
    drawn = draw(made, f"{unit} | - | -")
    return Session("Ada", MONDAY, "evening", tuple(p for p in drawn if p.athlete == "Ada"))


def test_days_are_counted_from_the_own_arrival() -> None:
    made = camp()
    assert [day_note(made, "Ada", MONDAY + timedelta(i)) for i in range(4)] == [
        "Camp day 1", "Camp day 2", "Camp day 3", "",
    ]  # fmt: skip
    assert [day_note(made, "Bo", d) for d in (TUESDAY, WEDNESDAY)] == ["", "Camp day 1"]
    assert day_note(camp(kind="block"), "Ada", MONDAY) == ""


@pytest.mark.parametrize(
    ("unit", "tenths", "said"),
    [
        ("flying-sprints", 79, "7.9 degrees: warm up for 40 minutes before anything fast."),
        ("flying-sprints", 80, ""),
        ("flying-sprints lighter", 20, ""),
        ("mobility", 20, ""),
    ],
)
def test_cold_speaks_before_fast_work(unit: str, tenths: int, said: str) -> None:
    made = camp((Weather(MONDAY, "evening", air=tenths),))
    assert weather_note(made, session(made, unit)) == said


def test_heat_speaks_to_everybody_outdoors_and_to_nobody_in_a_hall() -> None:
    made = camp((Weather(MONDAY, "evening", wbgt=301),))
    assert weather_note(made, session(made, "mobility")) == "WBGT 30.1 degrees: cancel."
    openings = tuple(replace(o, place=replace(o.place, outdoor=False)) for o in made.block.openings)
    hall = replace(made, block=replace(made.block, openings=openings))
    assert weather_note(hall, session(hall, "flying-sprints")) == ""


def test_a_columns_head_has_the_camps_own_day_and_the_forecast() -> None:
    made = camp((Weather(MONDAY, "evening", wbgt=285, air=310), Weather(TUESDAY, "evening", air=65)))
    assert lane_notes(made, MONDAY, "evening", True) == ("camp day 1", "WBGT 28.5 °C", "air 31 °C")
    assert lane_notes(made, MONDAY, "evening", False) == ("WBGT 28.5 °C", "air 31 °C")
    assert lane_notes(made, TUESDAY, "evening", True) == ("camp day 2", "air 6.5 °C")
    assert lane_notes(made, WEDNESDAY, "evening", False) == ()
    assert lane_notes(camp(kind="block"), MONDAY, "evening", True) == ()


def test_the_page_says_it_below_the_date_and_behind_the_warm_up() -> None:
    cold = tuple(Weather(world.FIRST + timedelta(i), air=20) for i in range(14))
    made = world.problem(replace(world.block(), kind="camp", weather=cold))
    page = athlete_view(world.ATHLETES[0], world.outcome(), made, revision_view(world.REVISION, True))
    days = [d for w in page.weeks for d in w.days]
    assert days[0].note == "Camp day 1"
    said = "2 degrees: warm up for 40 minutes before anything fast."
    warm = [(s.warm_up, d.weekday) for d in days for s in d.sessions if s.warm_up]
    assert [d for w, d in warm if w.endswith(said)]
    assert [d for w, d in warm if said not in w], "easy days are not told"
