"""What each athlete loses even when nobody else trains: a certified sum, unavoidable by any plan of the squad.

Every athlete's own rows of the whole block, without those in which somebody else stands; each relaxation is
priced and summed exactly. It is a bound of the squad's plan too: more rows only cost more.
"""

from __future__ import annotations

from dataclasses import replace

from planner.domain.problem import Problem
from planner.rules import book
from planner.solve.bound import relaxed_bound
from planner.solve.linear import linear_model
from planner.solve.rows import RowStore, write_rows


def alone_bound(problem: Problem, seconds: float) -> int:
    """The sum over the athletes; `seconds` (deterministic) for each."""
    models = (linear_model(own_rows(problem, name)) for name in problem.athletes)
    return sum(relaxed_bound(model, "should", seconds) for model in models)


def own_rows(problem: Problem, name: str) -> RowStore:
    """The rows that speak of this athlete only, over this athlete's columns only."""
    own = replace(problem, candidates=tuple(p for p in problem.candidates if p.athlete == name))
    store = write_rows(own, book())
    others = [i for i, row in enumerate(store.rows) if row.where.athlete != name]
    return store.without(others)
