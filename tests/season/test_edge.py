"""The record that crosses from one block to the next, counted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from planner.domain.block import BeforeWeek, LastDone
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.season import edge_after, make_problem
from planner.season.edge import block_after

from .worlds import MONDAY, block, meet

LAST = MONDAY + timedelta(days=41)  # Sunday 11 April
NEXT = MONDAY + timedelta(days=42)


def six_weeks(**more: object) -> Problem:
    return make_problem(block(days=42, **more))  # type: ignore[arg-type]


def placed(problem: Problem, unit: str, day: date) -> Placement:
    return next(p for p in problem.candidates if p.unit.id == unit and p.day == day and p.dose.word == "full")


def test_the_last_four_weeks_by_counter_and_the_last_date_of_every_unit() -> None:
    made = six_weeks()
    bounds = placed(made, "extensive-tempo", MONDAY)  # more than 28 days before the edge
    early = placed(made, "short-accelerations", MONDAY + timedelta(days=14))
    late = placed(made, "short-accelerations", MONDAY + timedelta(days=36))
    edge = edge_after(Plan.of((bounds, early, late)), made)
    assert edge.until == LAST
    assert edge.placements == (early, late)
    assert {(x.unit, x.day) for x in edge.last_done} == {
        ("extensive-tempo", bounds.day),
        ("short-accelerations", late.day),
    }
    assert [w.begins for w in edge.weeks] == [MONDAY + timedelta(weeks=i) for i in (2, 3, 4, 5)]
    amounts = [w.amounts for w in edge.weeks]
    assert amounts[0] == {**early.dose.counters, "load": early.dose.load}
    assert amounts[1] == amounts[2] == {}
    assert amounts[3]["load"] == late.dose.load
    # 3 + 1: week 4 was the easier one, weeks 5 and 6 loading
    assert edge.loaded == {"Ada": 2}


def test_an_edge_inside_a_block_counts_nothing_after_it() -> None:
    made = six_weeks()
    plan = Plan.of(placed(made, "short-accelerations", MONDAY + timedelta(days=d)) for d in (0, 7, 14))
    edge = edge_after(plan, made, MONDAY + timedelta(days=13))
    assert [p.day for p in edge.placements] == [MONDAY, MONDAY + timedelta(days=7)]
    assert edge.loaded == {"Ada": 2}


def test_the_next_block_goes_on_from_the_record() -> None:
    main = meet(NEXT + timedelta(days=33))
    made = six_weeks(competitions=(main,))
    tempo = placed(made, "extensive-tempo", MONDAY)
    sprint = placed(made, "short-accelerations", MONDAY + timedelta(days=36))
    edge = edge_after(Plan.of((tempo, sprint)), made)
    assert edge.next_main("Ada") == main

    following = block(days=21, begins=NEXT)
    told = make_problem(following, edge=edge)
    weeks = told.weeks["Ada"]
    assert weeks[0].reference_known
    assert weeks[0].reference["fast-metres"] == sprint.dose.counters["fast-metres"]
    # the main competition was known: the third week of 21 days is eased into no taper yet, 20 days before
    assert told.block.competitions == (main,)
    assert any("earlier block" in a.text for a in told.block.assumptions)
    # history: the sprint as it was placed, once, and the tempo by its last date
    assert sprint in told.history
    assert sorted((p.unit.id, p.day) for p in told.history) == [
        ("extensive-tempo", tempo.day),
        ("short-accelerations", sprint.day),
    ]


def test_the_loading_pattern_goes_on_across_the_edge() -> None:
    # weeks 5 and 6 were loading, so the third loading week and then the easier one follow
    following = block(days=14, begins=NEXT)
    told = make_problem(following, edge=edge_after(Plan.of(()), six_weeks()))
    assert [w.share for w in told.weeks["Ada"]] == [100, 60]
    assert [w.share for w in make_problem(following).weeks["Ada"]] == [80, 90]


def test_what_the_next_file_says_itself_wins() -> None:
    main = meet(NEXT + timedelta(days=60))
    made = six_weeks(competitions=(main,))
    sprint = placed(made, "short-accelerations", MONDAY + timedelta(days=36))
    edge = edge_after(Plan.of((sprint,)), made)
    own_week = BeforeWeek("Ada", MONDAY + timedelta(weeks=5), {"fast-metres": 500})
    own_date = LastDone("Ada", "short-accelerations", NEXT - timedelta(days=1))
    own_main = meet(NEXT + timedelta(days=12))
    following = replace(
        block(days=14, begins=NEXT), before=(own_week,), last_done=(own_date,), competitions=(own_main,)
    )
    seen = block_after(following, edge)
    assert (seen.before, seen.last_done, seen.competitions) == ((own_week,), (own_date,), (own_main,))


def test_a_record_from_inside_the_block_is_no_record_of_before() -> None:
    made = six_weeks()
    edge = edge_after(Plan.of(()), made)
    assert block_after(made.block, edge) == made.block
