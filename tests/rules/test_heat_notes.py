"""What the sheets say of the heat: by slot, age and days since the own arrival."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from planner.domain.block import Athlete, Away, Weather
from planner.domain.camp import camp_dates, camp_day
from planner.domain.problem import Problem
from planner.numbers.heat_notes import heat_note
from planner.rules._tiny import MONDAY, World, problem

LATE = datetime.combine(MONDAY + timedelta(2), datetime.min.time()) + timedelta(hours=9)


def camp(*tenths: int, kind: str = "camp") -> Problem:
    """Twelve days; Ada is there from Monday, Bo (16 years) from Wednesday on."""
    people = (Athlete("Ada", date(2000, 1, 1)), Athlete("Bo", date(2011, 1, 1)))
    block = {
        "kind": kind,
        "weather": tuple(Weather(MONDAY + timedelta(i), "evening", t) for i, t in enumerate(tenths)),
        "away": (Away("Bo", LATE - timedelta(hours=2), LATE, "camp arrival", 2),),
    }
    return problem(World(("mobility",), days=12, persons=people, block=block))


@pytest.mark.parametrize(
    ("athlete", "tenths", "said"),
    [
        ("Ada", 183, ""),
        ("Ada", 279, "WBGT 27.9 degrees: as much rest as work, limit intense work"),
        ("Ada", 301, "WBGT 30.1 degrees: cancel"),
        ("Bo", 239, "WBGT 23.9 degrees: all may train; watch for early signs"),
        ("Bo", 291, "WBGT 29.1 degrees: cancel"),
    ],
)
def test_note_of_the_first_day(athlete: str, tenths: int, said: str) -> None:
    assert heat_note(camp(tenths), athlete, MONDAY, "evening") == said


def test_used_to_heat_after_ten_days_of_the_own() -> None:
    made = camp(*[285] * 12)
    ninth, tenth = MONDAY + timedelta(9), MONDAY + timedelta(10)
    assert "as much rest" in heat_note(made, "Ada", ninth, "evening")
    assert "with discretion" in heat_note(made, "Ada", tenth, "evening")
    grown_up = (Athlete("Ada"), Athlete("Bo", date(2000, 1, 1)))
    late = replace(made, block=replace(made.block, athletes=grown_up))
    assert "as much rest" in heat_note(late, "Bo", tenth, "evening"), "Bo came two days later"


def test_no_forecast_no_note() -> None:
    assert heat_note(camp(300), "Ada", MONDAY, "morning") == ""
    assert heat_note(camp(300), "Ada", MONDAY + timedelta(1), "evening") == ""


def test_day_numbers_are_personal() -> None:
    made = camp()
    assert [camp_day(made, "Ada", MONDAY + timedelta(i)) for i in (0, 2, 11, 12)] == [1, 3, 12, None]
    assert [camp_day(made, "Bo", MONDAY + timedelta(i)) for i in (0, 1, 2, 3)] == [None, None, 1, 2]
    assert camp_dates(camp(kind="block").block) is None
    assert camp_day(camp(kind="block"), "Ada", MONDAY) is None
