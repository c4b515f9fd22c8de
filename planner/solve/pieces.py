"""A piece of a linear model that is solved by itself: plain numbers only, so that any process can do it."""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from planner.solve.cpsat import Answer, Limits, Way, Written
from planner.solve.linear import LinearRow, Numbers

SECONDS_PER_ROW = 1.2e-5  # deterministic seconds charged for writing a row, so that budgets resemble seconds
LEAST_SECONDS = 0.01  # for a search, whatever the writing took
Turns = tuple[tuple[Way, float], ...]  # ways to search, each until this share of the budget is spent
TO_IMPROVE: Turns = (("plain", 0.4), ("relaxed", 1.0))
TO_PROVE: Turns = (("plain", 0.5), ("cores", 0.8), ("relaxed", 1.0))


@dataclass(frozen=True)
class Piece:
    """Some columns and the rows they stand in, what is to be least, and where the search begins.

    All other columns stand at their `values`.
    """

    columns: array[int]
    rows: array[int]
    objective: Mapping[int, int]
    values: array[int]
    turns: Turns = TO_IMPROVE
    more: Sequence[LinearRow] = ()  # rows about its columns alone that are not in the model


def solve_piece(numbers: Numbers, piece: Piece, limits: Limits) -> Answer:
    """The best values of the piece's columns within the limits; the same answer in any process."""
    written = Written(numbers, piece.values, piece.columns, piece.rows)
    for row in piece.more:
        written.add_row(row.columns, row.coefficients, row.low, row.high)
    written.minimise(piece.objective)
    written.hint(piece.values)
    writing = SECONDS_PER_ROW * len(piece.rows)
    budget = max(LEAST_SECONDS, limits.budget - writing)
    answer = in_turn(written, piece.turns, replace(limits, budget=budget), piece.objective)
    return replace(answer, spent=answer.spent + writing)


def in_turn(
    written: Written, turns: Turns, limits: Limits, objective: Mapping[int, int], constant: int = 0
) -> Answer:
    """One way of searching after the other, each from the best so far, until proved, stopped or at an end.

    The best values of all, the highest bound of all.
    """
    best: Answer | None = None
    bound, spent = None, 0.0
    for way, share in turns:
        budget = max(LEAST_SECONDS, limits.budget * share - spent)
        answer = written.run(replace(limits, budget=budget, way=way))
        spent += answer.spent
        bound = higher(bound, answer.bound)
        if answer.values is not None and (best is None or _cost(objective, answer) < _cost(objective, best)):
            best = answer
            written.hint_at(answer.values)
        proved = best is not None and bound == _cost(objective, best) + constant
        if proved or answer.stopped or answer.impossible:
            break
    return replace(best or answer, bound=bound, stopped=answer.stopped, spent=spent)


def worth(piece: Piece, answer: Answer) -> int | None:
    """What the answer's values cost in the piece's own objective."""
    return None if answer.values is None else _cost(piece.objective, answer)


def higher(one: int | None, other: int | None) -> int | None:
    """The higher of two bounds, of which one or both may be missing."""
    return max((b for b in (one, other) if b is not None), default=None)


def _cost(objective: Mapping[int, int], answer: Answer) -> int:
    assert answer.values is not None
    return sum(w * answer.values[c] for c, w in objective.items())
