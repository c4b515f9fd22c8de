"""What may become of a handed-out unit: where a moved one must not land."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.rules._tiny import MONDAY, World, problem
from planner.season.ways import Given, ways_for

JUMPS, HIGH = "medium-long-jumps", "full-high-jumps"
START = datetime.combine(MONDAY, time(8))


def the_world(**more: object) -> Problem:
    return problem(World((JUMPS, HIGH), days=6, amounts=("full", "lighter"), **more))  # type: ignore[arg-type]


def find(made: Problem, unit: str, day: int, slot: str = "evening", word: str = "full") -> Placement:
    when = MONDAY + timedelta(days=day)
    (found,) = [p for p in made.on("Ada", when) if (p.unit.id, p.slot, p.dose.word) == (unit, slot, word)]
    return found


def ways(made: Problem, missed: Placement, *others: Placement, gone: tuple[Placement, ...] = ()) -> set[date]:
    """The days to which a missed key unit may move beside other held work."""
    key = replace(missed, importance="key")
    given = Given(others, (key, *gone), (key, *gone, *others), frozenset(), frozenset())
    return {p.day for p in ways_for(made, given, START) if p.unit.id == missed.unit.id}


def day(number: int) -> date:
    return MONDAY + timedelta(days=number)


def test_a_key_unit_may_move_by_two_days_either_way() -> None:
    made = the_world()
    assert ways(made, find(made, JUMPS, 2)) == {day(0), day(1), day(3), day(4)}


def test_moved_jumps_keep_their_hours_to_jumps_before_and_after() -> None:
    """High jumps from the full run-up of Monday ask 72 h: Tuesday is too soon, Thursday is not."""
    made = the_world()
    high = find(made, HIGH, 0)
    assert high.unit.hours_region == 72
    assert ways(made, find(made, JUMPS, 2), high) == {day(3), day(4)}
    before_saturday = ways(made, find(made, JUMPS, 2), find(made, HIGH, 5))
    assert before_saturday == {day(0), day(1), day(3)}, "they ask 48 h themselves: not the day before"


def test_jumps_that_were_missed_ask_for_no_hours() -> None:
    made = the_world()
    assert ways(made, find(made, JUMPS, 2), gone=(find(made, HIGH, 0),)) >= {day(3), day(4)}


def test_jumps_before_the_block_count() -> None:
    made = the_world(history=HIGH)
    assert ways(made, find(made, JUMPS, 2)) == {day(3), day(4)}


def test_work_that_is_no_jumping_moves_as_before() -> None:
    made = problem(World(("power-lifts", HIGH), days=6))
    assert ways(made, find(made, "power-lifts", 2), find(made, HIGH, 0)) == {day(1), day(3), day(4)}


@pytest.mark.parametrize(("slot", "free"), [("morning", False), ("evening", True)])
def test_another_hour_of_the_day_keeps_them_too(slot: str, free: bool) -> None:
    """Three days and seven hours less is 65 of 72 hours; three days is enough."""
    made = the_world(slots=("morning", "evening"))
    high, jumps = find(made, HIGH, 0), find(made, JUMPS, 3, "evening" if slot == "morning" else "morning")
    if slot == "evening":
        high = find(made, HIGH, 0, "morning")
    given = Given((jumps,), (), (jumps, high), frozenset(), frozenset())
    shut = replace(made, candidates=tuple(p for p in made.candidates if p.key[:4] != jumps.key[:4]))
    there = [p for p in ways_for(shut, given, START) if (p.unit.id, p.slot) == (JUMPS, slot)]
    assert bool(there) is free


def test_what_its_own_hour_still_takes_stays_in_it() -> None:
    made = the_world(slots=("morning", "evening"))
    jumps = find(made, JUMPS, 3)
    given = Given((jumps,), (), (jumps,), frozenset(), frozenset())
    assert {p.slot for p in ways_for(made, given, START) if p.unit.id == JUMPS} == {"evening"}


def test_what_is_done_if_there_is_time_opens_no_session() -> None:
    made = the_world(slots=("morning", "evening"))
    jumps = replace(find(made, JUMPS, 3), importance="if there is time")
    given = Given((jumps,), (), (jumps,), frozenset(), frozenset())
    shut = replace(made, candidates=tuple(p for p in made.candidates if p.key[:4] != jumps.key[:4]))
    assert not ways_for(shut, given, START)
