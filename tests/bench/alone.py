"""What each athlete loses even when nobody else trains: a certified sum, unavoidable by any plan of the squad.

Every athlete's week is solved by itself: what couples weeks or athletes is left out, which can only make a plan
cheaper. Athletes come one after the other, so that a season needs no more memory than one athlete's season.
"""

from __future__ import annotations

from dataclasses import replace

from planner.domain.problem import Problem
from planner.rules import book
from planner.solve.bound import Bounding
from planner.solve.cpsat import Limits
from planner.solve.linear import linear_model
from planner.solve.neighbourhoods import by_person_and_week
from planner.solve.rows import write_rows
from planner.solve.state import State
from planner.solve.workers import Workers


def alone_bound(problem: Problem, seconds: float) -> int:
    """The certified sum; `seconds` (deterministic) for each athlete's week."""
    return sum(_bound_of(only(problem, name), seconds) for name in problem.athletes)


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


def _bound_of(problem: Problem, seconds: float) -> int:
    model = linear_model(write_rows(problem, book()))
    bounding = Bounding(model, "should", by_person_and_week(model.store))
    workers = Workers(1)
    workers.load(model.numbers)
    bounding.solve(workers, State(model.store).start(model), Limits(seconds), float("inf"))
    return bounding.bound
