"""A piece of a linear model that is solved by itself: plain numbers only, so that any process can do it."""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.solve.cpsat import Answer, Limits, Written
from planner.solve.linear import Numbers

SECONDS_PER_ROW = 1.2e-5  # deterministic seconds charged for writing a row, so that budgets resemble seconds
LEAST_SECONDS = 0.01  # for a search, whatever the writing took
SHARE_UNRELAXED = 0.4  # of a piece's budget at most, before the linear relaxation takes part


@dataclass(frozen=True)
class Piece:
    """Some columns and the rows they stand in, what is to be least, and where the search begins.

    All other columns stand at their `values`.
    """

    columns: array[int]
    rows: array[int]
    objective: Mapping[int, int]
    values: array[int]


def solve_piece(numbers: Numbers, piece: Piece, limits: Limits) -> Answer:
    """The best values of the piece's columns within the limits; the same answer in any process.

    First without the linear relaxation, then with it unless proved.
    """
    written = Written(numbers, piece.values, piece.columns, piece.rows)
    written.minimise(piece.objective)
    written.hint(piece.values)
    writing = SECONDS_PER_ROW * len(piece.rows)
    budget = max(LEAST_SECONDS, limits.budget - writing)
    answer = written.run(replace(limits, budget=budget * SHARE_UNRELAXED, relaxed=False))
    if answer.values is None or answer.stopped or answer.bound == worth(piece, answer):
        return replace(answer, spent=answer.spent + writing)
    written.hint_at(answer.values)
    rest = max(LEAST_SECONDS, budget - answer.spent)
    again = written.run(replace(limits, budget=rest, relaxed=True))
    return _better(piece, answer, again, writing)


def worth(piece: Piece, answer: Answer) -> int | None:
    """What the answer's values cost in the piece's own objective."""
    if answer.values is None:
        return None
    return sum(w * answer.values[c] for c, w in piece.objective.items())


def _better(piece: Piece, one: Answer, other: Answer, writing: float) -> Answer:
    costs = [(cost, n) for n, a in enumerate((one, other)) if (cost := worth(piece, a)) is not None]
    best = (one, other)[min(costs)[1]] if costs else other
    bound = max((b for b in (one.bound, other.bound) if b is not None), default=None)
    return replace(best, bound=bound, stopped=other.stopped, spent=one.spent + other.spent + writing)
