"""Who watches whom after the solve; and a review that counts otherwise than the rows stops everything."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from planner.domain.block import Athlete, Coach, Presence
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.review import review
from planner.rules._tiny import MONDAY, World, draw, problem
from planner.solve import Mismatch, assign_coaches, solve, verify

YOUNG = Athlete("Ada", date(2014, 1, 1), "", ("long jump",), "advanced", sound_landing=True)
GROWN = Athlete("Bo", date(2000, 1, 1), "", ("long jump",), "advanced", training_years=8, sound_landing=True)


def world(*coaches: Coach, minutes: int = 180) -> Problem:
    """Two athletes, one evening, flying sprints (top speed) and short long jumps (technical jumps)."""
    present = tuple(Presence(MONDAY, "evening", c.name, minutes, c) for c in coaches)
    units = ("flying-sprints", "short-long-jumps", "extensive-tempo")
    return problem(World(units, days=1, persons=(YOUNG, GROWN), block={"presences": present}))


def watched(made: Problem, text: str) -> dict[tuple[str, str], tuple[str, tuple[str, ...]]]:
    plan = assign_coaches(Plan.of(draw(made, text)), made)
    return {(p.athlete, p.unit.id): (p.coach, p.partners) for p in plan.placements}


def test_each_group_gets_a_coach_who_teaches_its_family() -> None:
    made = world(Coach("Ines", ("top-speed",)), Coach("Kit", ("technical-jumps",)))
    found = watched(made, "flying-sprints + short-long-jumps\nflying-sprints")
    assert found == {
        ("Ada", "flying-sprints"): ("Ines", ("Bo",)),
        ("Ada", "short-long-jumps"): ("Kit", ()),
        ("Bo", "flying-sprints"): ("Ines", ("Ada",)),
    }


def test_a_coach_without_minors_watches_grown_people_only() -> None:
    made = world(Coach("Abe", minors=False), Coach("Zoe", ("top-speed",)))
    found = watched(made, "flying-sprints\nshort-long-jumps")
    assert found["Ada", "flying-sprints"] == ("Zoe", ())
    assert found["Bo", "short-long-jumps"] == ("Abe", ())


def test_minutes_are_shared_between_coaches_when_one_has_too_few() -> None:
    made = world(Coach("Ines"), Coach("Kit"), minutes=70)
    found = watched(made, "flying-sprints\nshort-long-jumps")
    assert {coach for coach, _ in found.values()} == {"Ines", "Kit"}


def test_nobody_there_leaves_the_coach_open() -> None:
    assert watched(world(), "flying-sprints\n-") == {("Ada", "flying-sprints"): ("", ())}


def test_the_same_people_whatever_order_the_plan_comes_in() -> None:
    made = world(Coach("Kit"), Coach("Ines"))
    placements = draw(made, "flying-sprints + short-long-jumps\nflying-sprints + extensive-tempo")
    one = assign_coaches(Plan(tuple(placements)), made)
    other = assign_coaches(Plan(tuple(reversed(placements))), made)
    assert [(p.key, p.coach, p.partners) for p in one.placements] == [
        (p.key, p.coach, p.partners) for p in other.placements
    ]


def test_a_solved_plan_is_counted_alike_by_rows_and_checks() -> None:
    made = problem(World(("flying-sprints", "heavy-strength", "extensive-tempo"), days=7, athletes=2))
    plan = assign_coaches(solve(made, budget="quick"), made)
    verify(plan, made, review(plan, made))


def test_a_disagreement_is_our_own_mistake() -> None:
    made = problem(World(("flying-sprints", "extensive-tempo"), days=4))
    plan = assign_coaches(solve(made, budget="quick"), made)
    outcome = review(plan, made)
    wrong = {**outcome.score, "should": {**outcome.score["should"], "two_day_sum_low": 977}}
    with pytest.raises(Mismatch, match="two day sum low"):
        verify(plan, made, replace(outcome, score=wrong))


def test_a_must_seen_by_one_side_only_is_a_disagreement() -> None:
    made = problem(World(("flying-sprints", "extensive-tempo"), days=4))
    broken = Plan.of(draw(made, "flying-sprints | flying-sprints | - | -"))
    verify(broken, made)
    with pytest.raises(Mismatch, match="no two fast days running"):
        verify(broken, made, review(Plan.of(draw(made, "- | - | - | flying-sprints")), made))
