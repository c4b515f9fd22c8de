"""A certified bound on a tier for plans too large to be proved whole: prices, blocks, and an exact sum.

A row that couples blocks is taken out and its breach is priced instead (Geoffrion 1974, Mathematical
Programming Study 2: 'Lagrangean relaxation for integer programming'). What is left falls into blocks, each
solved to its best whole-number plan. Any prices give a true bound: they are whole numbers here and the sum
is done exactly, so no tolerance of a solver enters it. The prices come from the linear relaxation of each
week; moving them further, round by round, brought nothing on the shipped examples.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.domain.finding import Tier
from planner.solve.blocks import Blocks, cut
from planner.solve.cpsat import Answer, Limits
from planner.solve.linear import LinearModel, LinearRow
from planner.solve.parts import Part
from planner.solve.pieces import Piece
from planner.solve.workers import Workers

SCALE = 20  # prices are whole numbers of this fraction of a point


@dataclass(frozen=True)
class Known:
    """What a block came to: its priced objective and the solver's answer to it."""

    objective: Mapping[int, int]
    answer: Answer


class Bounding:
    """Prices of rows (in fractions of a point; above 0 for the low side), and what is known of each block."""

    def __init__(self, model: LinearModel, tier: Tier, guessed: Mapping[int, float]) -> None:
        self.model = model
        self.tier: Tier = tier
        self.prices = {
            r: price for r, guess in guessed.items() if (price := _allowed(model.rows[r], round(guess * SCALE)))
        }
        self.bound: int | None = None  # the best so far
        self.spent = 0.0
        self.stopped = False
        self.known: dict[Part, Known] = {}

    def solve(self, parts: Sequence[Part], workers: Workers, values: Sequence[int], limits: Limits) -> None:
        """Bound the tier by these blocks, which together hold every candidate; `limits` for each of them."""
        blocks = cut(self.model, parts)
        objective = self._priced(blocks)
        pieces: dict[Part, Piece] = {}
        for part, block in zip(parts, blocks.blocks, strict=True):
            if part not in self.known:
                own = {c: w for c in block.columns if (w := objective.get(c, 0))}
                pieces[part] = Piece(block.columns, block.rows, own, array("l", values))
        answers = workers.solve(list(pieces.values()), limits)
        for (part, piece), answer in zip(pieces.items(), answers, strict=True):
            self.spent += answer.spent
            self.stopped |= answer.stopped
            self.known[part] = Known(piece.objective, answer)
        if not self.stopped:
            found = self._sum(parts, blocks, objective)
            self.bound = found if self.bound is None else max(self.bound, found)

    def _priced(self, blocks: Blocks) -> dict[int, int]:
        """The objective once the coupling rows are priced, in fractions of a point."""
        objective = {c: w * SCALE for c, w in self.model.objective[self.tier].items()}
        for r in blocks.coupling:
            if price := self.prices.get(r, 0):
                row = self.model.rows[r]
                for c, k in zip(row.columns, row.coefficients, strict=True):
                    objective[c] = objective.get(c, 0) - price * k
        return objective

    def _sum(self, parts: Sequence[Part], blocks: Blocks, objective: Mapping[int, int]) -> int:
        """The exact bound: rows at their price, blocks at their own bounds, loose columns at their best end."""
        total = self.model.constant[self.tier] * SCALE
        for r in blocks.coupling:
            if price := self.prices.get(r, 0):
                total += price * _side(self.model.rows[r], price)
        total += self._least_of(objective, blocks.loose)
        for part, block in zip(parts, blocks.blocks, strict=True):
            bound = self.known[part].answer.bound
            total += self._least_of(objective, block.columns) if bound is None else bound
        return -(-total // SCALE)

    def _least_of(self, objective: Mapping[int, int], columns: Sequence[int]) -> int:
        low, high = self.model.low, self.model.high
        return sum(w * (low[c] if w > 0 else high[c]) for c in columns if (w := objective.get(c, 0)))


def _side(row: LinearRow, price: int) -> int:
    side = row.low if price > 0 else row.high
    assert side is not None  # `_allowed` keeps prices on sides that are there
    return side


def _allowed(row: LinearRow, price: int) -> int:
    """A price on a side the row has: above 0 for low, below 0 for high."""
    if price > 0 and row.low is None:
        return 0
    return 0 if price < 0 and row.high is None else price
