"""Differences add up: after any walk the state equals the store evaluated from scratch."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from random import Random

import pytest

from planner.domain.plan import Placement
from planner.solve.linear import linear_model
from planner.solve.rows import RowStore, write_rows
from planner.solve.state import State
from planner.solve.trials import Trials

from .worlds import every_plan, random_rules, tiny


@pytest.mark.parametrize("number", range(25))
def test_a_random_walk_equals_evaluation_from_scratch(number: int) -> None:
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    state = State(store)
    r = Random(number)
    for _ in range(60):
        some = r.sample(store.free, r.randint(1, 3))
        changes = [(c, -1 if state.values[c] else 1) for c in some]
        before = state.price
        foreseen = state.trial(changes)
        assert state.apply(changes) == foreseen
        assert state.price == before.plus(foreseen)
        chosen = frozenset(state.placements())
        assert state.values == store.values(chosen)
        found = store.evaluate(chosen)
        assert [store.rows[j] for j in state.broken_rows()] == found.broken
        assert (state.price.should, state.price.prefer) == (found.total("should"), found.total("prefer"))


def standing(store: RowStore, plan: Iterable[Placement]) -> State:
    state = State(store)
    state.set_to(store.column_of(p) for p in plan)
    return state


@pytest.mark.parametrize("number", range(12))
def test_the_linear_rows_hold_for_every_plan_that_keeps_the_musts(number: int) -> None:
    """The full hint of any plan satisfies every row, tightening ones too, at the store's own price."""
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model = linear_model(store)
    for plan in Random(number).sample(every_plan(made), 150):
        found = store.evaluate(frozenset(plan))
        if found.broken:
            continue
        whole = standing(store, plan).start(model)
        assert all(low <= v <= high for low, v, high in zip(model.low, whole, model.high, strict=True))
        for row in model.rows:
            activity = sum(k * whole[c] for c, k in zip(row.columns, row.coefficients, strict=True))
            assert row.low is None or row.low <= activity, row
            assert row.high is None or activity <= row.high, row
        assert model.price(whole, "should") == found.total("should")
        assert model.price(whole, "prefer") == found.total("prefer")
        assert model.least("should") <= found.total("should")


@pytest.mark.parametrize("number", range(12))
def test_a_broken_must_breaks_a_linear_row(number: int) -> None:
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model = linear_model(store)
    broken = [p for p in every_plan(made) if store.evaluate(frozenset(p)).broken][:100]
    for plan in broken:
        whole = standing(store, plan).start(model)
        sums = [sum(k * whole[c] for c, k in zip(r.columns, r.coefficients, strict=True)) for r in model.rows]
        assert any(
            (r.low is not None and s < r.low) or (r.high is not None and s > r.high)
            for r, s in zip(model.rows, sums, strict=True)
        )


@pytest.mark.parametrize("number", range(25))
def test_batches_made_together_are_those_made_one_by_one(number: int) -> None:
    """However the candidates are shared out, and though the batches share what moves in between."""
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    state, r = State(store), Random(number)
    trials = Trials(state)
    columns = r.sample(store.free, len(store.free))
    borders = sorted(r.choices(range(len(columns) + 1), k=3))
    several = [columns[a:b] for a, b in pairwise([0, *borders, len(columns)])]
    together = trials.batches(several)
    for _ in range(10):
        some = r.sample(store.free, r.randint(1, 3))
        state.apply([(c, -1 if state.values[c] else 1) for c in some])
        for mine, batch in r.sample(list(zip(several, together, strict=True)), len(several)):
            assert batch.prices().tolist() == trials.batch(mine).prices().tolist()


@pytest.mark.parametrize("number", range(25))
def test_many_trials_at_once_are_the_trials_one_by_one(number: int) -> None:
    """In any state: the price of every single addition, and what of it no further addition takes back."""
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    state = State(store)
    batch = Trials(state).batch(store.free)
    r = Random(number)
    for _ in range(40):
        some = r.sample(store.free, r.randint(1, 3))
        state.apply([(c, -1 if state.values[c] else 1) for c in some])
        lines = zip(store.free, batch.prices().tolist(), strict=True)
        open_now = [(c, line) for c, line in lines if not state.values[c]]
        assert [tuple(line[:3]) for _, line in open_now] == [state.trial([(c, 1)]) for c, _ in open_now]
        for c, (_, _, _, final) in r.sample(open_now, min(3, len(open_now))):
            before = sum(state.row_cost[j] for j in state.broken_rows())
            added = [(c, 1)]
            state.apply(added)
            for other in r.sample(store.free, len(store.free)):
                if not state.values[other]:
                    added.append((other, 1))
                    state.apply(added[-1:])
                    assert state.price.must >= final
            state.apply([(c, -d) for c, d in added])
            assert sum(state.row_cost[j] for j in state.broken_rows()) == before
