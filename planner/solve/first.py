"""A first plan that keeps every must."""

from __future__ import annotations

from planner.solve.cpsat import Limits, Written
from planner.solve.greedy import Greedy, greedy
from planner.solve.linear import LinearModel
from planner.solve.state import State


def first_plan(model: LinearModel, limits: Limits) -> State | None:
    """By hand's order; where that cannot keep a must, the solver's first plan, filled up by hand's order.

    None when the solver found none either: the musts collide, or the budget ended.
    """
    state = greedy(model.store, limits.stop)
    if state.price.must == 0:
        return state
    answer = Written(model).run(limits)
    if answer.values is None:
        return None
    state.set_to(c for c in model.store.free if answer.values[c])
    return Greedy(model.store, limits.stop, state).fill()
