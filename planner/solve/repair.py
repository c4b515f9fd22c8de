"""The blocks' plans put together: left to right, one after the other, each only where it helps the whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.solve.cpsat import Answer
from planner.solve.state import State


def take_if_better(state: State, answer: Answer) -> bool:
    """Take the solver's placements over when the store, not the solver, prices them lower."""
    if answer.values is None:
        return False
    changes = changes_to(state, answer)
    if not changes or not state.trial(changes) < (0, 0, 0):
        return False
    state.apply(changes)
    return True


def changes_to(state: State, answer: Answer) -> list[tuple[int, int]]:
    """What has to be set and unset for the answer's candidates."""
    columns, values = state.store.columns, state.values
    return [
        (c, value - values[c])
        for c, value in sorted((answer.values or {}).items())
        if c < len(columns) and columns[c].kind == "placed" and value != values[c]
    ]


def put_together(state: State, answers: Sequence[Answer]) -> int:
    """Take over each block's plan that makes the whole better as it stands then; how many did.

    Twice, because a plan refused for want of room may fit once a later one has made some.
    """
    return sum(_once(state, answers) for _ in range(2))


def _once(state: State, answers: Iterable[Answer]) -> int:
    return sum(take_if_better(state, answer) for answer in answers)
