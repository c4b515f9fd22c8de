"""What stretches of people's weeks cost by themselves: a sharper certified bound than single weeks give.

A week by itself does not see that next week has to be easier, that a run-up grows only after two sessions from
a shorter one, or what Sunday leaves for Monday. Two weeks running and a person's whole block see more of it. Every
stretch is a block of its own (see bound.py); of all divisions of a person's weeks into stretches the dearest
counts. What is known of short stretches goes as rows into long ones, which are not proved without. The model
that parts are solved from does not get them: they would tie weeks together that have nothing else in common.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from itertools import pairwise

from planner.domain.finding import Tier
from planner.solve.blocks import Block, cut
from planner.solve.bound import Bounding, cut_of, own_prices, solve_pieces
from planner.solve.cpsat import Limits
from planner.solve.linear import LinearModel, LinearRow
from planner.solve.parts import Part
from planner.solve.pieces import Piece, Turns
from planner.solve.workers import Workers

TURNS: Turns = (("plain", 0.3), ("cores", 0.5), ("relaxed", 1.0))
Stretch = tuple[int, int]  # of a person's weeks: the first one, and the one after the last


class Stretches:
    """By how much stretches of each person's weeks cost more than the least of their columns."""

    def __init__(self, model: LinearModel, weeks: Bounding, people: Sequence[Sequence[int]]) -> None:
        """`people`: of each person the numbers of the blocks of `weeks` that are that person's weeks, in order."""
        self.model = model
        self.tier: Tier = weeks.tier
        self.spent = 0.0
        self.stopped = False
        self._parts: list[list[Part]] = [[weeks.parts[n] for n in numbers] for numbers in people]
        self._cuts: list[list[tuple[Stretch, LinearRow]]] = [[] for _ in people]
        self._columns = [block.columns for block in cut(model, [_joined(parts) for parts in self._parts]).blocks]
        self._worth: list[dict[Stretch, int]] = [
            {(at, at + 1): weeks.worth(n) for at, n in enumerate(numbers)} for numbers in people
        ]

    @property
    def bound(self) -> int:
        """What any plan costs at least in the tier."""
        return self.model.least(self.tier) + sum(_dearest(w) for w in self._worth)

    def count(self, length: int | None) -> int:
        """How many stretches of so many weeks there are (None: whole blocks)."""
        return sum(max(0, len(parts) - (length or len(parts)) + 1) for parts in self._parts)

    def solve(
        self, length: int | None, workers: Workers, values: Sequence[int], limits: Limits, budget: float
    ) -> None:
        """All stretches of so many weeks (None: whole blocks), until `budget` is spent; `limits` for each.

        The people first who are furthest from their bound with these values.
        """
        start = array("l", values)
        todo = sorted(self._stretches(length), key=lambda t: -self._open(t[0], values))
        pieces = [self._piece(*one, start) for one in todo]
        found = solve_pieces(pieces, workers, limits, budget)
        self.spent += found.spent
        self.stopped = found.stopped
        for (person, stretch, block), answer in zip(todo, found.answers, strict=False):
            if answer.bound is not None:
                worth = answer.bound - self.model.least_of(self.tier, block.columns)
                known = self._worth[person].get(stretch, 0)
                self._worth[person][stretch] = max(0, worth, known)
                self._cuts[person] += [(stretch, row) for row in cut_of(self.model, self.tier, block, answer)]

    def _piece(self, person: int, stretch: Stretch, block: Block, start: array[int]) -> Piece:
        """A stretch to be proved, with what is known of the stretches inside it."""
        inside = [row for (a, b), row in self._cuts[person] if stretch[0] <= a and b <= stretch[1]]
        return Piece(block.columns, block.rows, own_prices(self.model, self.tier, block), start, TURNS, inside)

    def _stretches(self, length: int | None) -> list[tuple[int, Stretch, Block]]:
        """With the person each belongs to. Stretches that overlap come from different cuts of the model."""
        found = []
        for first in range(length or 1):
            divided = [(i, s) for i, parts in enumerate(self._parts) for s in _divided(len(parts), length, first)]
            blocks = cut(self.model, [_joined(self._parts[i][a:b]) for i, (a, b) in divided]).blocks
            for (i, (a, b)), block in zip(divided, blocks, strict=True):
                if b - a == (length or len(self._parts[i])) and b - a > 1:
                    found.append((i, (a, b), block))
        return sorted(found, key=lambda f: f[:2])

    def _open(self, person: int, values: Sequence[int]) -> int:
        """By how many points the person's columns cost more now than is certified."""
        columns = self._columns[person]
        now = sum(w * values[c] for c in columns if (w := self.model.objective[self.tier].get(c, 0)))
        return now - self.model.least_of(self.tier, columns) - _dearest(self._worth[person])


def _joined(parts: Sequence[Part]) -> Part:
    return tuple(sorted(c for part in parts for c in part))


def _divided(count: int, length: int | None, first: int) -> list[Stretch]:
    """Some weeks cut into stretches of a length (None: one stretch), of which the first begins at `first`."""
    if length is None:
        return [(0, count)]
    borders = sorted({0, *range(first, count, length), count})
    return list(pairwise(borders))


def _dearest(worth: Mapping[Stretch, int]) -> int:
    """The highest sum over the divisions of the weeks into stretches that are known."""
    best = [0] * (1 + max((end for _, end in worth), default=0))
    for (begin, end), points in sorted(worth.items(), key=lambda known: known[0][1]):
        best[end] = max(best[end], best[begin] + points)
    return best[-1]
