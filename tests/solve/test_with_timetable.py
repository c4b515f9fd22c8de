"""Clashes go back to the squad's plan: afterwards every slot has a timetable, and no must was broken for it."""

from __future__ import annotations

from functools import cache
from itertools import product
from pathlib import Path

import pytest

from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, SlotTimetable
from planner.intake import read_block
from planner.review import review
from planner.review.timetable_check import faults
from planner.rules import book
from planner.rules._tiny import MONDAY
from planner.season import make_problem
from planner.solve import coached, solve, solve_with_timetable, verify
from planner.solve.rows import write_rows
from planner.solve.slot_cuts import cut_of
from planner.solve.timetable import timetable, timetable_slot
from tests.solve.test_slot_exactness import SLOT, slot_world

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def solved(name: str) -> tuple[Problem, Plan]:
    made = make_problem(read_block(EXAMPLES / name / "block.yaml"))
    return made, solve(made, budget="quick")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["club-camp", "easter-block"])
def test_every_slot_of_an_example_gets_a_timetable(name: str) -> None:
    made, before = solved(name)
    assert timetable(before, made)[1], "nothing collides any more: take an example in which something does"
    plan, tables, clashes = solve_with_timetable(made, lambda _: before)
    assert clashes == ()
    assert set(tables) == {(p.day, p.slot) for p in plan.placements}
    for (day, slot), table in tables.items():
        here = [p for p in plan.placements if (p.day, p.slot) == (day, slot)]
        assert faults(table, here, made) == []
    outcome = review(coached(plan, tables), made)
    assert not outcome.musts_broken
    verify(plan, made, outcome)
    assert plan.status["should"].value == sum(outcome.score.get("should", {}).values())


@pytest.mark.slow
def test_the_same_clashes_give_the_same_plan() -> None:
    made, before = solved("club-camp")
    assert solve_with_timetable(made, lambda _: before) == solve_with_timetable(made, lambda _: before)


def test_a_plan_without_clashes_stays_as_it_is() -> None:
    made, before = solved("first-week")
    plan, tables, clashes = solve_with_timetable(made, lambda _: before)
    assert plan is before and tables and not clashes


def test_told_to_stop_it_says_what_still_collides() -> None:
    made, before = solved("club-camp")
    plan, _, clashes = solve_with_timetable(made, lambda _: before, stop=lambda: True)
    assert plan.placements == before.placements and plan.stopped_early
    assert clashes == timetable(before, made)[1]


@pytest.mark.parametrize("number", range(30))
def test_whatever_a_row_forbids_collides(number: int) -> None:
    """Every choice of as many members and stand-ins as a row forbids has no timetable of its own."""
    made = slot_world(number, ("short-long-jumps", "flying-sprints", "full-run-ups"), 3, 75, 1)
    clash = timetable_slot(made.candidates, made, MONDAY, SLOT)
    if isinstance(clash, SlotTimetable):
        return
    store = write_rows(made, book())
    cut = cut_of(clash, made, store)
    assert cut is not None
    own = {store.column_of(p) for p in clash.placements}
    assert own <= {c for part in cut.parts for c in part.columns}
    if any(part.count > 1 for part in cut.parts):
        return
    for columns in product(*(part.columns for part in cut.parts)):
        placements = [p for c in columns if (p := store.columns[c].placement) is not None]
        assert isinstance(timetable_slot(placements, made, MONDAY, SLOT), Clash)
