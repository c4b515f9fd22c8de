"""The Board: the few verbs in which a rule speaks to the solver. No solver is imported here.

Columns are whole-number unknowns. `placed(p)` is 0 or 1; the others are *worked out* from columns already
there (any of, over, rounds of, reaches) and never chosen freely. A row belongs to the rule that wrote it.
When the rule's tier is must, a row holds; otherwise every step beyond it costs the rule's weight.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NewType, Protocol

from planner.domain.finding import Where
from planner.domain.plan import Placement

Column = NewType("Column", int)
Term = tuple[int, Column]  # coefficient x column


class Board(Protocol):
    """What `constrain(board, problem)` may say. Placements already settled count as ones."""

    def placed(self, placement: Placement) -> Column:
        """0/1: is this candidate in the plan?"""
        ...

    @property
    def always(self) -> Column:
        """Constant 1: what stands in the calendar whatever is chosen (a competition day is fast)."""
        ...

    def any_of(self, columns: Iterable[Column]) -> Column:
        """0/1: is at least one of these 0/1 columns 1? Of none: constant 0."""
        ...

    def over(self, terms: Sequence[Term], limit: int) -> Column:
        """max(0, sum - limit). Only for places where more is never welcome."""
        ...

    def rounds_of(self, terms: Sequence[Term], size: int) -> Column:
        """The sum divided by `size`, rounded up. Only for places where more is never welcome."""
        ...

    def reaches(self, terms: Sequence[Term], threshold: int) -> Column:
        """0/1: sum >= threshold (coefficients >= 0). Only for places where a 1 is never welcome."""
        ...

    def at_most(self, terms: Sequence[Term], limit: int, where: Where, *, step: int = 1) -> None:
        """sum <= limit; when not a must, each started `step` above costs the weight."""
        ...

    def at_least(self, terms: Sequence[Term], limit: int, where: Where, *, step: int = 1) -> None:
        """sum >= limit; when not a must, each started `step` missing costs the weight."""
        ...

    def implies(self, column: Column, any_of: Iterable[Column], where: Where) -> None:
        """If `column` (0/1) is 1, one of the others is too; when not a must, breaking it costs one step."""
        ...
