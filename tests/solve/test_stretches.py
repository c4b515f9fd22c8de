"""Certified bounds of longer stretches of people's weeks: true at every length, and sharper than single weeks."""

from __future__ import annotations

import pytest

from planner.solve.bound import Bounding
from planner.solve.cpsat import Limits, Way, Written
from planner.solve.linear import LinearModel, linear_model
from planner.solve.neighbourhoods import by_person_and_week, weeks_of_people
from planner.solve.one_piece import solve_in_one_piece
from planner.solve.rows import write_rows
from planner.solve.stretches import Stretches, _dearest, _divided
from planner.solve.workers import Workers

from .test_search import POSSIBLE, alone, first, week_world
from .worlds import a_training_week, random_rules, tiny


def bounded(model: LinearModel, start: list[int], workers: Workers) -> Stretches:
    weeks = Bounding(model, "should", by_person_and_week(model.store))
    weeks.solve(workers, start, Limits(5), 50.0)
    model.rows.extend(weeks.cuts())
    workers.load(model.numbers)
    stretches = Stretches(model, weeks, weeks_of_people(model.store))
    assert stretches.bound == weeks.bound
    return stretches


@pytest.mark.parametrize("number", POSSIBLE)
def test_true_at_every_length(number: int) -> None:
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model, state = linear_model(store), first(store)
    solve_in_one_piece(model, state, Limits(5))
    start = state.start(model)
    workers = alone(model)
    stretches = bounded(model, start, workers)
    before = stretches.bound
    for length in (2, 3, None):
        stretches.solve(length, workers, start, Limits(5), 50.0)
        assert before <= stretches.bound <= state.price.should
        before = stretches.bound
    for _, row in (cut for cuts in stretches._cuts for cut in cuts):
        assert row.low is not None
        assert row.low <= sum(k * start[c] for c, k in zip(row.columns, row.coefficients, strict=True))


def test_a_person_alone_is_proved_by_the_whole_block() -> None:
    """Nine days of one athlete: the stretch of the whole block is the whole model."""
    store = write_rows(week_world(9), a_training_week())
    model, state = linear_model(store), first(store)
    solve_in_one_piece(model, state, Limits(2))
    workers = alone(model)
    stretches = bounded(model, state.start(model), workers)
    stretches.solve(None, workers, state.start(model), Limits(2), 50.0)
    assert stretches.bound == state.price.should
    assert stretches.spent > 0 and not stretches.stopped


def test_nothing_is_solved_without_a_budget() -> None:
    store = write_rows(week_world(9), a_training_week())
    model, state = linear_model(store), first(store)
    workers = alone(model)
    stretches = bounded(model, state.start(model), workers)
    before = stretches.bound
    assert (stretches.count(2), stretches.count(None), stretches.count(3)) == (1, 1, 0)
    stretches.solve(2, workers, state.start(model), Limits(2), 0.0)
    assert (stretches.bound, stretches.spent) == (before, 0.0)


def test_weeks_are_divided_and_the_dearest_division_counts() -> None:
    assert _divided(5, 2, 0) == [(0, 2), (2, 4), (4, 5)]
    assert _divided(5, 2, 1) == [(0, 1), (1, 3), (3, 5)]
    assert _divided(5, None, 0) == [(0, 5)]
    weeks = {(0, 1): 3, (1, 2): 0, (2, 3): 4}
    assert _dearest(weeks) == 7
    assert _dearest({**weeks, (0, 2): 5, (1, 3): 9}) == 12, "first week alone, then the two"
    assert _dearest({**weeks, (0, 2): 5, (1, 3): 9, (0, 3): 11}) == 12, "the whole block shows less"


@pytest.mark.parametrize("way", ["plain", "cores", "relaxed"])
def test_a_solver_that_never_came_to_search_certifies_nothing(way: Way) -> None:
    """CP-SAT's own figure is 0 then, and prices below 0 (a target met is a minus) lie under it."""
    store = write_rows(week_world(5), a_training_week())
    model, state = linear_model(store), first(store)
    found = solve_in_one_piece(model, state, Limits(2))
    assert found.should == state.price.should
    cheaper = 2 * sum(abs(w) for w in model.objective["should"].values())  # moves every price below 0
    for budget in (1e-7, 1e-5, 1e-4, 1e-3, 1e-2):
        written = Written(model)
        written.minimise(written.terms("should"), model.constant["should"] - cheaper)
        answer = written.run(Limits(budget, way=way))
        assert answer.bound is None or answer.bound + cheaper <= state.price.should
