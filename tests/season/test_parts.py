"""A long block in parts: where they end, what a part sees, and that the whole is reviewed as one."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest

from planner.domain.block import Wish
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.review import review
from planner.season import make_problem
from planner.season.parts import BEYOND, Part, parts_of, plan_in_parts, problem_of
from planner.solve import solve

from .worlds import MONDAY, athlete, block, meet


def monday(week: int) -> date:
    """The Monday of the block's week, counted from 1."""
    return MONDAY + timedelta(weeks=week - 1)


def long_block(weeks: int = 17, **more: object) -> Problem:
    """Three evenings a week, so that it stays small."""
    closed = tuple(MONDAY + timedelta(days=i) for i in range(weeks * 7) if i % 7 not in (0, 2, 4))
    return make_problem(block(days=weeks * 7, closed=closed, **more))  # type: ignore[arg-type]


def lengths(problem: Problem) -> list[int]:
    return [((p.ends - p.begins).days + 1) // 7 for p in parts_of(problem)]


def test_eight_weeks_are_planned_at_once() -> None:
    assert parts_of(long_block(8)) == (Part(MONDAY, MONDAY + timedelta(days=55)),)


def test_parts_end_with_an_easier_week() -> None:
    # 3 + 1: easier weeks are 4, 8, 12, 16; twelve weeks fall into three fours
    assert lengths(long_block(12)) == [4, 4, 4]


@pytest.mark.parametrize("weeks", range(9, 53))
def test_parts_are_four_to_six_weeks_and_leave_nothing_out(weeks: int) -> None:
    made = make_problem(block(days=weeks * 7, slots=()))
    parts = parts_of(made)
    assert all(4 <= n <= 6 for n in lengths(made))
    assert parts[0].begins == made.block.begins and parts[-1].ends == made.block.ends
    for one, two in pairwise(parts):
        assert two.begins == one.ends + timedelta(days=1)
        assert two.begins.weekday() == 0


def test_a_part_sees_what_is_settled_and_one_week_beyond() -> None:
    late = Wish("Ada", monday(7), "short-accelerations")
    soon = Wish("Ada", monday(5), "short-accelerations")
    whole = long_block(12, competitions=(meet(monday(40)),), fixed=(soon, late))
    first, second, _ = parts_of(whole)
    settled = tuple(p for p in whole.candidates if p.day == monday(2))[:1]

    early = problem_of(whole, first, ())
    assert {p.day for p in early.candidates} <= {MONDAY + timedelta(i) for i in range(28 + BEYOND)}
    assert max(p.day for p in early.candidates) == monday(5) + timedelta(days=4)
    assert early.block.ends == monday(6) - timedelta(days=1)
    assert early.block.fixed == (soon,)
    assert early.block.competitions == whole.block.competitions

    later = problem_of(whole, second, settled)
    assert later.kept == settled
    assert min(p.day for p in later.candidates) == second.begins
    assert [w.index for w in later.weeks["Ada"]] == list(range(9))
    assert later.weeks["Ada"][:9] == whole.weeks["Ada"][:9]


def test_what_is_planned_beyond_a_part_is_thrown_away() -> None:
    whole = long_block(12)
    asked: list[Problem] = []

    def everything(problem: Problem) -> Plan:
        asked.append(problem)
        return Plan.of((*problem.kept, *problem.candidates))

    plan = plan_in_parts(whole, everything)
    assert plan.placements == whole.candidates
    assert [len(p.kept) for p in asked] == [0, *(sum(c.day < p.begins for c in whole.candidates)
                                                for p in parts_of(whole)[1:])]  # fmt: skip
    assert plan.status == {}


def test_one_part_is_solved_as_it_is() -> None:
    whole = long_block(2)
    assert plan_in_parts(whole, lambda p: Plan.of(p.candidates[:1] if p is whole else ())).placements


def test_no_must_is_broken_across_the_edges() -> None:
    # a fast unit must be there on the first day of the second part (Mon 29 March); the day before it is open
    # too, so that a part that did not look beyond its end could put something fast there
    edge = monday(5)
    open_on = {edge - timedelta(days=1), edge - timedelta(days=2)}
    closed = tuple(
        d for i in range(9 * 7) if (d := MONDAY + timedelta(days=i)) not in open_on and i % 7 not in (0, 3)
    )
    fixed = (Wish("Ada", edge, "flying-sprints"),)
    whole = make_problem(block(athlete(), days=63, closed=closed, places=("straight",), fixed=fixed))
    assert parts_of(whole)[0].ends == edge - timedelta(days=1)
    plan = plan_in_parts(whole, lambda p: solve(p, budget="quick"))
    assert any(p.day == edge and p.unit.id == "flying-sprints" for p in plan.placements)
    assert review(plan, whole).musts_broken == ()
