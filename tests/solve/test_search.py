"""The search as a whole: greedy's golden plan, parts, bounds, the same plan again, and being stopped."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.rules._tiny import World, problem
from planner.solve import Progress, solve
from planner.solve import search as search_module
from planner.solve.bound import Bounding
from planner.solve.cpsat import Limits
from planner.solve.first import first_plan
from planner.solve.greedy import greedy
from planner.solve.linear import LinearModel, linear_model
from planner.solve.neighbourhoods import by_person_and_week, by_week, kinds_of_parts
from planner.solve.one_piece import solve_in_one_piece
from planner.solve.parts import Parts
from planner.solve.rows import RowStore, write_rows
from planner.solve.state import State
from planner.solve.workers import Workers

from .worlds import a_training_week, every_plan, random_rules, tiny


def week_world(days: int = 7, athletes: int = 1) -> Problem:
    units = ("flying-sprints", "heavy-strength", "extensive-tempo")
    return problem(World(units, days=days, athletes=athletes, amounts=("full", "lighter")))


def possible_worlds(numbers: range) -> list[int]:
    """Numbers of random worlds in which some plan keeps every must, by trying plans until one does."""
    found = []
    for number in numbers:
        made = tiny(number)
        store = write_rows(made, random_rules(number, made))
        if any(not store.evaluate(frozenset(plan)).broken for plan in every_plan(made)):
            found.append(number)
    return found


POSSIBLE = possible_worlds(range(16))


def first(store: RowStore) -> State:
    """A first plan; the worlds of these tests have one."""
    state = first_plan(store, Limits(10))
    assert state is not None
    return state


def drawn(plan: Plan | State) -> list[str]:
    placements = plan.placements if isinstance(plan, Plan) else plan.placements()
    return [f"{p.athlete} {p.day:%a} {p.unit.id} {p.dose.word}" for p in placements]


def test_greedy_golden() -> None:
    """Frozen after reading it as a coach would: fast days apart, the last lighter because the cap binds."""
    store = write_rows(week_world(), a_training_week())
    assert drawn(greedy(store)) == GOLDEN


GOLDEN = [
    "Ada Mon heavy-strength full",
    "Ada Tue extensive-tempo full",
    "Ada Wed flying-sprints full",
    "Ada Thu heavy-strength full",
    "Ada Fri extensive-tempo full",
    "Ada Sat flying-sprints lighter",
]


def alone(model: LinearModel) -> Workers:
    """Everything in this process."""
    workers = Workers(1)
    workers.load(model.numbers)
    return workers


def in_parts(store: RowStore, state: State, seconds: float = 0.5) -> int:
    """All parts once, each checked not to make the plan worse; how many helped."""
    model = linear_model(store)
    parts, workers = Parts(model), alone(model)
    helped = 0
    for kind in kinds_of_parts(store):
        for together in parts.apart(kind):
            before = state.price
            result = parts.resolve(state, together, Limits(seconds), workers)
            assert state.price.must == 0 and state.price <= before
            assert bool(result.improved) == (state.price < before)
            helped += result.improved
    return helped


def test_parts_solved_together_touch_no_row_in_common_and_none_is_lost() -> None:
    store = write_rows(week_world(14, 3), a_training_week())
    parts = Parts(linear_model(store))
    for kind in kinds_of_parts(store):
        seen = []
        for together in parts.apart(kind):
            rows = [r for part in together for r in parts.reach(part)[1]]
            assert len(rows) == len(set(rows))
            seen += together
        assert sorted(seen) == sorted(kind)


@pytest.mark.parametrize("number", POSSIBLE[::2])
def test_a_part_that_is_everything_gives_the_best_plan(number: int) -> None:
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model = linear_model(store)
    one, other = first(store), first(store)
    solve_in_one_piece(model, one, Limits(20))
    result = Parts(model).resolve(other, [tuple(store.free)], Limits(20), alone(model))
    assert result.proved == 1
    assert other.price == one.price


def test_parts_improve_a_poor_plan_and_never_break_a_must() -> None:
    store = write_rows(week_world(14, 2), a_training_week())
    state = State(store)
    poor = state.price
    assert in_parts(store, state) > 2
    assert state.price < poor
    found = store.evaluate(frozenset(state.placements()))
    assert not found.broken and found.total("should") == state.price.should


@pytest.mark.parametrize("number", POSSIBLE)
def test_certified_bounds_are_true(number: int) -> None:
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model = linear_model(store)
    state = first(store)
    found = solve_in_one_piece(model, state, Limits(20))
    assert found.should == state.price.should
    start = state.start(model)
    for parts in (by_person_and_week(store), by_week(store), [tuple(store.free)]):
        bounding = Bounding(model, "should", parts)
        for budget in (0.0, 5.0):
            bounding.solve(alone(model), start, Limits(5), budget)
            assert bounding.bound <= state.price.should, "true, however many blocks were solved"
        for row in bounding.cuts():
            assert row.low is not None
            assert row.low <= sum(k * start[c] for c, k in zip(row.columns, row.coefficients, strict=True))
    assert bounding.bound == state.price.should, "one block is the whole"


@pytest.mark.parametrize("number", POSSIBLE[1::2])
def test_no_part_wins_more_than_its_room(number: int) -> None:
    """However poor the plan is: what is said to be winnable in a part is never too little."""
    made = tiny(number)
    store = write_rows(made, random_rules(number, made))
    model = linear_model(store)
    parts, workers = Parts(model), alone(model)
    bounding = Bounding(model, "should", by_person_and_week(store))
    bounding.solve(workers, State(store).start(model), Limits(5), 5.0)
    every = [part for kind in (*kinds_of_parts(store), [tuple(store.free)]) for part in kind]
    begun = first(store).chosen
    for chosen in (begun, begun[::2]):
        state = State(store)
        state.set_to(chosen)
        room = bounding.room([(part, parts.reach(part)[0]) for part in every], state.start(model))
        for part in every:
            state.set_to(chosen)
            before = state.price
            parts.resolve(state, [part], Limits(5), workers)
            if not before.must:
                assert 0 <= before.should - state.price.should <= room[part]


def test_the_certified_bound_is_worth_something() -> None:
    """Five halves of three units in two days cannot be had: a person's week by itself sees it."""
    store = write_rows(week_world(2), a_training_week())
    model = linear_model(store)
    state = greedy(store)
    solve_in_one_piece(model, state, Limits(10))
    bounding = Bounding(model, "should", by_person_and_week(store))
    bounding.solve(alone(model), state.start(model), Limits(5), 5.0)
    assert 0 < bounding.bound == state.price.should


def test_the_same_plan_whatever_the_hash_seed_and_the_number_of_processes() -> None:
    """Blocks, parts, bounds and the solver run in new processes with different hashing: one plan."""
    program = (
        "from solve.test_search import a_training_week, drawn, week_world\n"
        "from planner.solve import search, solve\n"
        "search.ONE_PIECE, search.BUDGETS = {limit}, {{'quick': 1.0}}\n"
        "search.STRETCHES_FROM, search.STRETCHES = 0.0, ((2, 0.05, 0.2), (None, 0.05, 0.2))\n"
        "made = week_world(10, 2)\n"
        "plan = solve(made, a_training_week(), budget='quick', random_seed=3, processes={processes})\n"
        "print(drawn(plan), plan.status)\n"
    )
    here = Path(__file__).resolve()
    said = set()
    for limit in (10, 1000):
        said.clear()
        for seed, processes in (("1", 1), ("77", 2), ("5", 3)):
            paths = os.pathsep.join([str(here.parents[1]), str(here.parents[2])])
            env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": paths}
            run = subprocess.run(
                [sys.executable, "-c", program.format(limit=limit, processes=processes)],
                capture_output=True, text=True, env=env, check=True,
            )  # fmt: skip
            said.add(run.stdout)
        assert len(said) == 1 and "Ada" in said.pop()


def test_one_piece_and_parts_agree_on_what_is_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    made, rules = week_world(7, 2), a_training_week()
    whole = solve(made, rules, budget="normal")
    monkeypatch.setattr(search_module, "ONE_PIECE", 10)
    monkeypatch.setattr(search_module, "BUDGETS", {"quick": 1.0})
    parts = solve(made, rules, budget="quick")
    assert whole.status["should"].proved
    bound = parts.status["should"].bound
    assert bound is not None
    assert bound <= whole.status["should"].value <= parts.status["should"].value


@pytest.mark.parametrize("one_piece", [10, 5000])
def test_stopped_gives_the_best_plan_so_far(one_piece: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_module, "ONE_PIECE", one_piece)
    made, rules = week_world(21, 3), a_training_week()
    asked = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > 2

    plan = solve(made, rules, budget="long", stop=stop)
    assert plan.stopped_early
    found = write_rows(made, rules).evaluate(frozenset(plan.placements))
    assert not found.broken
    assert plan.status["should"].value == found.total("should")
    assert plan.status["prefer"].value == found.total("prefer")


def test_stopped_by_the_clock() -> None:
    plan = solve(week_world(21, 3), a_training_week(), budget="long", at_most=0.0)
    assert plan.stopped_early and plan.placements


def test_progress_is_told_and_never_gets_worse(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search_module, "ONE_PIECE", 10)
    monkeypatch.setattr(search_module, "BUDGETS", {"quick": 3.0})
    told: list[Progress] = []
    solve(week_world(14, 2), a_training_week(), budget="quick", progress=told.append)
    prices = [(t.should, t.prefer) for t in told]
    assert len(told) > 3 and prices == sorted(prices, reverse=True)
    assert all(0 <= t.spent <= 1 and str(t) for t in told)


def test_settled_placements_are_part_of_the_plan() -> None:
    from dataclasses import replace

    made = week_world()
    done = made.candidates[0]
    plan = solve(replace(made, kept=(done,)), a_training_week())
    assert done in plan.placements
