"""The same best value three ways: CP-SAT, another solver on the same rows, and plain enumeration."""

from __future__ import annotations

import os
from functools import cache

import highspy
import pytest

from planner.solve.cpsat import Limits, Written
from planner.solve.greedy import greedy
from planner.solve.linear import LinearModel, linear_model
from planner.solve.one_piece import solve_in_one_piece
from planner.solve.rows import RowStore, write_rows

from .worlds import every_plan, random_rules, tiny

Value = tuple[int, int]
NUMBERS = int(os.environ.get("PLANNER_PROOF", "40"))  # 200 for the whole proof


def by_enumeration(store: RowStore) -> Value | None:
    values = []
    for plan in every_plan(store.problem):
        found = store.evaluate(frozenset(plan))
        if not found.broken:
            values.append((found.total("should"), found.total("prefer")))
    return min(values, default=None)


def by_cp_sat(store: RowStore, budget: float = 20.0) -> Value | None:
    model = linear_model(store)
    state = greedy(store)
    if state.price.must:
        answer = Written(model).run(Limits(10))
        if answer.impossible:
            return None
        assert answer.values is not None
        state.set_to(c for c in store.free if answer.values[c])
    assert not state.price.must
    found = solve_in_one_piece(model, state, Limits(budget))
    assert (found.should, found.prefer) == (state.price.should, state.price.prefer), "not proved"
    again = store.evaluate(frozenset(state.placements()))
    assert not again.broken
    assert (again.total("should"), again.total("prefer")) == tuple(state.price[1:])
    return state.price.should, state.price.prefer


class NotInTime(Exception):
    """HiGHS proved nothing within the seconds given."""


def by_highs(store: RowStore, seconds: float = 60.0) -> Value | None:
    model = linear_model(store)
    should = _highs(model, "should", None, seconds)
    if should is None:
        return None
    prefer = _highs(model, "prefer", should, seconds)
    assert prefer is not None
    return should, prefer


def _highs(model: LinearModel, tier: str, frozen: int | None, seconds: float) -> int | None:
    solver = highspy.Highs()
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5)
    for low, high in zip(model.low, model.high, strict=True):
        solver.addVar(low, high)
    n = len(model.low)
    solver.changeColsIntegrality(n, list(range(n)), [highspy.HighsVarType.kInteger] * n)
    for row in model.rows:
        low = -highspy.kHighsInf if row.low is None else row.low
        high = highspy.kHighsInf if row.high is None else row.high
        solver.addRow(low, high, len(row.columns), row.columns, row.coefficients)
    if frozen is not None:
        columns, weights = list(model.objective["should"]), list(model.objective["should"].values())
        solver.addRow(-highspy.kHighsInf, frozen - model.constant["should"], len(columns), columns, weights)
    for column, weight in model.objective[tier].items():  # type: ignore[index]
        solver.changeColCost(column, weight)
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        # The presolve of HiGHS 1.16.0 calls world 143 impossible, for which it finds the best plan without
        # (and so do enumeration and CP-SAT): its 'impossible' counts only when found without presolve too.
        solver.setOptionValue("presolve", "off")
        solver.clearSolver()
        solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None
    if solver.getModelStatus() == highspy.HighsModelStatus.kTimeLimit:
        raise NotInTime
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return round(solver.getObjectiveValue()) + model.constant[tier]  # type: ignore[index]


@cache
def world(number: int) -> tuple[RowStore, Value | None]:
    """A random world's rows, and its best value by trying every plan."""
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    return store, by_enumeration(store)


@pytest.mark.parametrize("number", range(NUMBERS))
def test_the_same_best_value(number: int) -> None:
    store, best = world(number)
    assert by_cp_sat(store) == best
    assert by_highs(store) == best


def test_the_worlds_are_of_every_kind() -> None:
    """Among the worlds compared some are impossible, and some cost points in both tiers."""
    bests = [world(number)[1] for number in range(NUMBERS)]
    assert None in bests
    assert sum(b is not None and b[0] > 0 and b[1] > 0 for b in bests) > 5
