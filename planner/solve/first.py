"""A first plan that keeps every must."""

from __future__ import annotations

from collections.abc import Callable

from planner.solve.collector import put_off
from planner.solve.cpsat import Limits, Written
from planner.solve.greedy import Greedy
from planner.solve.linear import linear_model
from planner.solve.rows import RowStore
from planner.solve.state import State


def first_plan(
    store: RowStore, limits: Limits, told: Callable[[State], None] | None = None, *, better: bool = True
) -> State | None:
    """By hand's order; where that cannot keep a must, the solver's first plan, filled up by hand's order.

    `told` hears of the plan as soon as it is whole; then, if it shall be `better`, single changes follow. None
    when the solver found none either: the musts collide, or the budget ended.
    """
    with put_off():
        by_hand = Greedy(store, limits.stop)
        state = by_hand.begin()
        if state.price.must:
            by_hand.second_pass()
        if state.price.must:
            answer = Written(linear_model(store)).run(limits)
            if answer.values is None:
                return None
            state.set_to(c for c in store.free if answer.values[c])
            by_hand = Greedy(store, limits.stop, state)
            by_hand.fill()
        if told is not None:
            told(state)
        if better:
            by_hand.second_pass()
    return state
