"""What each athlete loses even when nobody else trains: a certified sum, unavoidable by any plan of the squad.

Every athlete's weeks are solved by themselves, then stretches of more weeks running, up to the whole block if
asked for: what reaches out of such a stretch or couples athletes is left out, which can only make a plan
cheaper. The best division of the block into stretches counts (planner/solve/stretches.py). Athletes come one after
the other, two stretches at a time, so that a season needs no more memory than one athlete's season.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.rules import book
from planner.solve.bound import Bounding
from planner.solve.cpsat import Limits
from planner.solve.linear import linear_model
from planner.solve.neighbourhoods import by_person_and_week, weeks_of_people
from planner.solve.rows import write_rows
from planner.solve.state import State
from planner.solve.stretches import Stretches
from planner.solve.workers import Workers

Step = tuple[int, float]  # stretches of so many weeks, so many deterministic seconds for each
NO_END = 1e9  # deterministic seconds for all stretches of an athlete together


def steps_of(words: str) -> list[Step]:
    """'1:0.5,2:4' -> half a second for each week, four for each two weeks running."""
    pairs = (step.split(":") for step in words.split(",") if step)
    return [(int(weeks), float(seconds)) for weeks, seconds in pairs]


def alone_bound(problem: Problem, steps: Sequence[Step], begun: Sequence[Placement] = ()) -> int:
    """The certified sum. `begun`: a plan to begin with, without which long stretches are not proved."""
    placed = frozenset(begun)
    with Workers(2) as workers:
        return sum(_of_one(only(problem, name), steps, placed, workers) for name in problem.athletes)


def only(problem: Problem, name: str) -> Problem:
    """The same block with one athlete."""
    return replace(
        problem,
        block=replace(problem.block, athletes=tuple(a for a in problem.block.athletes if a.name == name)),
        weeks={name: problem.weeks[name]},
        candidates=tuple(p for p in problem.candidates if p.athlete == name),
        refusals=tuple(r for r in problem.refusals if r.athlete == name),
        history=tuple(p for p in problem.history if p.athlete == name),
        kept=tuple(p for p in problem.kept if p.athlete == name),
    )


def _of_one(problem: Problem, steps: Sequence[Step], begun: frozenset[Placement], workers: Workers) -> int:
    store = write_rows(problem, book())
    model = linear_model(store)
    state = State(store)
    state.set_to(c for c in store.free if store.columns[c].placement in begun)
    values = state.start(model)
    workers.load(model.numbers)
    weeks = Bounding(model, "should", by_person_and_week(store))
    weeks.solve(workers, values, Limits(dict(steps).get(1, 0.0)), NO_END)
    model.rows.extend(weeks.cuts())
    workers.load(model.numbers)
    stretches = Stretches(model, weeks, weeks_of_people(store))
    for length, seconds in steps:
        if length > 1:
            stretches.solve(length, workers, values, Limits(seconds), NO_END)
    return stretches.bound
