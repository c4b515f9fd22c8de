"""When the musts collide: the coach's own lines, irreducible, and ways out that were tried."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import date

import pytest

from planner.domain.block import RuleSetting
from planner.domain.plan import Plan, Refusal
from planner.domain.problem import Problem
from planner.review import review
from planner.rules import BookRule, book
from planner.rules._tiny import MONDAY, World, problem
from planner.solve import Cause, Impossible, cannot_be_had, solve
from planner.solve.refused import refused_causes
from planner.solve.rows import RowStore, write_rows

from .worlds import every_plan, file_line, one_at_a_time, required, rule

NO_TWO = "no_two_fast_days_running"


def test_a_reason_does_not_name_the_unit_twice() -> None:
    """What is denied to somebody is told with place and unit; a reason that begins with the unit adds the rest."""
    told = Refusal("Ada", "flying-sprints", MONDAY, "", "Flying sprints: the limit (knee, stage 3) takes it out")
    shut = Refusal("Ada", "flying-sprints", MONDAY, "", "Long jumps: the place is closed")
    (cause,) = refused_causes([told])
    assert cause.sentence.lower().count("flying sprints") == 1
    assert cause.sentence.endswith(": the limit (knee, stage 3) takes it out.")
    assert "Long jumps: the place is closed" in refused_causes([shut])[0].sentence
    (both,) = refused_causes([told, replace(told, unit="build-ups")])
    assert "Flying sprints: the limit" in both.sentence, "of several units the reason says which"


def day(number: int) -> date:
    return MONDAY.replace(day=MONDAY.day + number)


def collision(made: Problem, rules: dict[str, BookRule]) -> Impossible:
    with pytest.raises(Impossible) as caught:
        solve(made, rules)
    assert caught.value.exit_code == 3
    return caught.value


def possible(store: RowStore, left_out: Sequence[int] = ()) -> bool:
    """By trying every plan."""
    smaller = store.without(left_out)
    return any(not smaller.evaluate(frozenset(plan)).broken for plan in every_plan(store.problem))


def rows_of(store: RowStore, cause: Cause) -> list[int]:
    return [i for i, r in enumerate(store.rows) if r.rule == cause.rule and r.where == cause.where]


def assert_irreducible(store: RowStore, conflict: Sequence[Cause]) -> None:
    """The causes alone collide, and without any one of them the others can be kept."""
    mine = [set(rows_of(store, c)) for c in conflict]
    others = [i for i in range(len(store.rows)) if not any(i in rows for rows in mine)]
    assert not possible(store, others), "the causes do not collide"
    for cause, rows in zip(conflict, mine, strict=True):
        assert rows, cause
        assert possible(store, [*others, *rows]), f"not needed: {cause}"


def fast_world(athletes: int = 1, days: int = 4) -> Problem:
    return problem(World(("flying-sprints", "mobility"), days=days, athletes=athletes))


def test_two_fixed_places_on_following_days() -> None:
    made = fast_world()
    asked = [("Ada", day(0), "flying-sprints", 12), ("Ada", day(1), "flying-sprints", 13),
             ("Ada", day(3), "mobility", 14)]  # fmt: skip
    rules = {NO_TWO: book()[NO_TWO], "required": required(asked)}
    told = collision(made, rules)
    assert [(c.rule, c.line) for c in told.conflict] == [
        (NO_TWO, None),
        ("required", file_line(12)),
        ("required", file_line(13)),
    ]
    assert_irreducible(write_rows(made, rules), told.conflict)
    text = str(told)
    assert "flying-sprints is missing" in text and "block.yaml, line 12" in text and "line 14" not in text
    assert "Tue 02 Mar is fast and so is Mon 01 Mar" in text


def test_ways_out_are_tried_and_priced() -> None:
    made = fast_world()
    asked = [("Ada", day(0), "flying-sprints", 12), ("Ada", day(1), "flying-sprints", 13)]
    wanted = required([("Ada", day(1), "flying-sprints", 30)], "should")
    rules = {NO_TWO: book()[NO_TWO], "required": required(asked), "wanted": replace(wanted, rule=wanted.rule)}
    told = collision(made, rules)
    costs = {w.without.line: w.should for w in told.ways_out if w.without.line}
    assert costs == {file_line(12): 0, file_line(13): 5}, "without line 13 the wish of line 30 is lost too"
    assert not any(w.more_collide for w in told.ways_out)


def test_ways_out_of_a_replan_count_units_and_never_what_keeping_weighs() -> None:
    """One row makes Thursday's flying sprints give way, the other a wish: 5 points, whatever the solver pays."""
    made = problem(World(("flying-sprints", "mobility"), handed_out="mobility | - | - | flying-sprints"))
    keeping = RuleSetting("keep_handed_out", "weight", 1_000_000)
    dear = RuleSetting("wanted", "weight", 1_000_000_000)
    made = replace(made, block=replace(made.block, settings=(keeping, dear)))
    asked = [("Ada", day(1), "flying-sprints", 12), ("Ada", day(2), "flying-sprints", 13)]
    wanted = required([("Ada", day(2), "flying-sprints", 30)], "should")
    rules = {NO_TWO: book()[NO_TWO], "required": required(asked), "keep_handed_out": book()["keep_handed_out"],
             "wanted": replace(wanted, rule=replace(wanted.rule, id="wanted"))}  # fmt: skip
    told = collision(made, rules)
    found = {w.without.line: (w.should, w.changes) for w in told.ways_out if w.without.line}
    assert found == {file_line(12): (0, 1), file_line(13): (5, 0)}
    assert "Possible, 0 units handed out changed and 5 points of should lost in the plan found" in str(told)
    assert not re.search(r"\d{6,}", str(told) + repr(told.ways_out))
    first = next(w for w in told.ways_out if w.without.line)
    assert first.without.line == file_line(12), "what a person asked for by name is dearer than what moves"


def test_each_athlete_has_a_collision_of_their_own() -> None:
    made = fast_world(athletes=2, days=3)
    asked = [(a, day(d), "flying-sprints", n + d) for a, n in (("Ada", 10), ("Bo", 12)) for d in (0, 1)]
    rules = {NO_TWO: book()[NO_TWO], "required": required(asked)}
    told = collision(made, rules)
    assert [{c.where.athlete for c in conflict} for conflict in told.conflicts] == [{"Ada"}, {"Bo"}]
    assert all(w.more_collide for w in told.ways_out), "one way out alone does not help the other athlete"


def test_a_collision_of_the_squad_names_everybody_in_it() -> None:
    made = fast_world(athletes=2, days=2)
    asked = [("Ada", day(0), "mobility", 21), ("Bo", day(0), "mobility", 22)]
    rules = {"one_at_a_time": one_at_a_time("mobility"), "required": required(asked)}
    told = collision(made, rules)
    assert [(c.rule, c.line and c.line.line) for c in told.conflict] == [
        ("one_at_a_time", None),
        ("required", 21),
        ("required", 22),
    ]
    assert_irreducible(write_rows(made, rules), told.conflict)


def test_one_line_that_means_several_athletes_is_one_cause() -> None:
    """Leaving out one of them would not help: the coach's line is what collides."""
    made = fast_world(athletes=2, days=2)
    asked = [("Ada", day(0), "mobility", 21), ("Bo", day(0), "mobility", 21)]
    rules = {"one_at_a_time": one_at_a_time("mobility"), "required": required(asked)}
    told = collision(made, rules)
    assert [(c.rule, c.line and c.line.line) for c in told.conflict] == [("one_at_a_time", None), ("required", 21)]
    assert "Ada, Bo" in told.conflict[1].sentence
    assert len(told.ways_out) == 2 and not any(w.more_collide for w in told.ways_out)


def test_a_fixed_place_that_is_no_candidate() -> None:
    made = fast_world()
    kept = tuple(p for p in made.candidates if p.day != day(2))
    refusal = Refusal("Ada", "flying-sprints", day(2), "evening", "the track is closed", file_line(7))
    made = replace(made, candidates=kept, refusals=(refusal,))
    told = collision(made, {"required": required([("Ada", day(2), "flying-sprints", 12)])})
    assert [c.line for c in told.conflict] == [file_line(12), file_line(7)]
    assert "the track is closed" in str(told)


@pytest.mark.parametrize("last", [1, 2, 3])
def test_no_collision_no_complaint(last: int) -> None:
    made = fast_world()
    rules = {NO_TWO: book()[NO_TWO], "required": required([("Ada", day(last), "flying-sprints", 9)])}
    plan = solve(made, rules)
    assert any(p.unit.id == "flying-sprints" and p.day == day(last) for p in plan.placements)


def denied(made: Problem, rules: dict[str, BookRule], plan: Plan) -> tuple[Cause, ...] | None:
    store = write_rows(made, rules)
    module = rules["required"]
    from planner.domain.view import PlanView

    (finding,) = module.check(PlanView(plan, made), made)
    return cannot_be_had(store, plan, finding, rules)


def test_a_wish_that_cannot_be_had_because() -> None:
    made = fast_world()
    fixed = required([("Ada", day(0), "flying-sprints", 12)])
    must = rule("fixed_place", "must", fixed.module.__dict__["constrain"], 1, fixed.module.__dict__["check"])
    rules = {
        NO_TWO: book()[NO_TWO],
        "fixed_place": must,
        "required": required([("Ada", day(1), "flying-sprints", 30)], "should"),
    }
    plan = solve(made, rules)
    causes = denied(made, rules, plan)
    assert causes is not None
    assert [c.rule for c in causes] == [NO_TWO, "fixed_place"]
    assert causes[1].line == file_line(12)


def test_a_wish_that_only_gave_way_is_not_said_to_be_impossible() -> None:
    made = fast_world(days=2)
    asked = [("Ada", day(1), "flying-sprints", 30)]
    heavier = required([("Ada", day(0), "flying-sprints", 31)], "should")
    more = rule("more_wanted", "should", heavier.module.__dict__["constrain"], 9)
    rules = {NO_TWO: book()[NO_TWO], "more_wanted": more, "required": required(asked, "should")}
    plan = solve(made, rules)
    assert [p.day for p in plan.placements if p.unit.id == "flying-sprints"] == [day(0)]
    assert denied(made, rules, plan) is None


def test_a_wish_lost_to_a_closed_place_names_the_line() -> None:
    made = fast_world()
    kept = tuple(p for p in made.candidates if p.unit.id != "flying-sprints")
    why = ("the track is closed", file_line(7))
    closed = [Refusal("Ada", "flying-sprints", d, "evening", *why) for d in made.days]
    away = Refusal("Ada", "", day(1), "evening", "away", file_line(8))
    made = replace(made, candidates=kept, refusals=(*closed, away))
    rules = {"required": required([("Ada", day(1), "flying-sprints", 30)], "should")}
    causes = denied(made, rules, solve(made, rules))
    assert causes is not None
    assert {c.line for c in causes} == {file_line(7), file_line(8)}


def test_findings_of_review_can_be_asked_about() -> None:
    """The way the main flow goes: every finding of the book's review is a question."""
    made = fast_world()
    plan = solve(made)
    outcome = review(plan, made)
    store = write_rows(made, book())
    for finding in outcome.findings:
        causes = cannot_be_had(store, plan, finding)
        assert causes is None or all(str(c) for c in causes)
