"""A day of full run-ups, sprints and 4 x 50 m with one minute; common practice, no source."""

from __future__ import annotations

from datetime import timedelta

import pytest

from planner.domain.block import Wish
from planner.domain.view import PlanView
from planner.rules import strength_lighter_after_big_day as rule
from planner.rules._big_day import is_big
from planner.rules._tiny import MONDAY, World, draw, problem
from planner.solve import solve

DAY = "full-run-ups + flying-sprints + short-rest-runs"
UNITS = ("full-run-ups", "flying-sprints", "short-rest-runs", "heavy-strength")


@pytest.mark.parametrize(("lift", "broken"), [("heavy-strength", 1), ("heavy-strength lighter", 0)])
def test_run_ups_sprints_and_short_rests_make_a_big_day(lift: str, broken: int) -> None:
    made = problem(World(UNITS, days=2, amounts=("full", "lighter")))
    view = PlanView(draw(made, f"{DAY} | {lift}"), made)
    first = made.days[0]
    assert is_big(rule.RULE, view, "Ada", first)
    assert not is_big(rule.RULE, PlanView(draw(made, "full-run-ups | -"), made), "Ada", first)
    assert sum(f.amount for f in rule.check(view, made)) == broken


@pytest.mark.parametrize(("before", "word"), [(DAY, "lighter"), ("full-run-ups", "full")])
def test_the_strength_after_it_is_lighter_on_the_plan(before: str, word: str) -> None:
    """A lift that must stand on the next day; after run-ups alone it comes in full."""
    lift = Wish("Ada", MONDAY + timedelta(1), "heavy-strength")
    world = World(UNITS, days=2, amounts=("full", "lighter"), kept=f"{before} | -", block={"fixed": (lift,)})
    plan = solve(problem(world), budget="quick")
    assert [p.dose.word for p in plan.placements if p.unit.id == "heavy-strength"] == [word]
