"""A certified bound on a tier for plans too large to be proved whole: prices, blocks, and an exact sum.

A row that couples blocks is taken out and its breach is priced instead (Geoffrion 1974, Mathematical
Programming Study 2: 'Lagrangean relaxation for integer programming'). What is left falls into blocks that
are solved to the best whole-number plan each. Any prices give a true bound: they are whole numbers here and
the sum is done exactly, so no tolerance of a solver enters it. Good first prices come from the linear
relaxation of each week; each further round moves them towards rows the blocks' plans break together
(Held and Karp 1971, Mathematical Programming 1).
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.domain.finding import Tier
from planner.solve.blocks import Blocks
from planner.solve.cpsat import Answer, Limits
from planner.solve.linear import LinearModel, LinearRow
from planner.solve.pieces import Piece
from planner.solve.workers import Workers

SCALE = 20  # prices are whole numbers of this fraction of a point
FIRST_STEP = 1.0  # of the distance between plan and bound, in the first further round; halved without gain
SMALLEST_STEP = 0.05


@dataclass
class Pricing:
    """Prices of the coupling rows (in fractions of a point), the best bound so far, and the blocks' plans."""

    model: LinearModel
    blocks: Blocks
    tier: Tier
    prices: dict[int, int] = field(default_factory=dict)  # row -> price; above 0 for its low side
    bound: int | None = None
    answers: list[Answer] = field(default_factory=list)  # of the last round, one a block
    spent: float = 0.0
    stopped: bool = False
    _step: float = FIRST_STEP
    _best: dict[int, int] = field(default_factory=dict)
    _solved: dict[int, tuple[dict[int, int], Answer]] = field(default_factory=dict)

    def begin(self, guessed: Mapping[int, int]) -> None:
        """First prices, in fractions of a point."""
        rows = self.model.rows
        self.prices = {r: p for r, guess in guessed.items() if (p := _allowed(rows[r], guess))}

    def round(self, workers: Workers, values: Sequence[int], limits: Limits) -> None:
        """Solve every block under the present prices; `limits` hold for each of them."""
        objective = self._priced()
        pieces, asked = [], []
        for n, block in enumerate(self.blocks.blocks):
            own = {c: w for c in block.columns if (w := objective.get(c, 0))}
            if n not in self._solved or self._solved[n][0] != own:
                asked.append((n, own))
                pieces.append(self._piece(n, own, values))
        for (n, own), answer in zip(asked, workers.solve(pieces, limits), strict=True):
            self.spent += answer.spent
            self.stopped |= answer.stopped
            self._solved[n] = (own, answer)
        self.answers = [self._solved[n][1] for n in range(len(self.blocks.blocks))]
        if self.stopped:
            return
        found = self._sum(objective)
        if self.bound is None or found > self.bound:
            self.bound, self._best = found, dict(self.prices)
        else:
            self._step /= 2

    def _piece(self, n: int, objective: dict[int, int], values: Sequence[int]) -> Piece:
        block = self.blocks.blocks[n]
        return Piece(block.columns, block.rows, objective, array("l", values), both=True)

    def _priced(self) -> dict[int, int]:
        """The objective once the coupling rows are priced, in fractions of a point."""
        objective = {c: w * SCALE for c, w in self.model.objective[self.tier].items()}
        for r, price in self.prices.items():
            row = self.model.rows[r]
            for c, k in zip(row.columns, row.coefficients, strict=True):
                objective[c] = objective.get(c, 0) - price * k
        return objective

    def _sum(self, objective: dict[int, int]) -> int:
        """The exact bound: rows at their price, blocks at their own bounds, loose columns at their best end."""
        total = self.model.constant[self.tier] * SCALE
        for r, price in self.prices.items():
            total += price * _side(self.model.rows[r], price)
        for c in self.blocks.loose:
            w = objective.get(c, 0)
            total += w * (self.model.low[c] if w > 0 else self.model.high[c])
        for n, block in enumerate(self.blocks.blocks):
            bound = self.answers[n].bound
            total += self._least_of(objective, block.columns) if bound is None else bound
        return -(-total // SCALE)

    def _least_of(self, objective: dict[int, int], columns: Sequence[int]) -> int:
        low, high = self.model.low, self.model.high
        return sum(w * (low[c] if w > 0 else high[c]) for c in columns if (w := objective.get(c, 0)))

    @property
    def worth_another(self) -> bool:
        """May further prices still move the bound?"""
        return not self.stopped and self._step >= SMALLEST_STEP

    def move(self, value: int) -> bool:
        """New prices: up where the blocks' plans together break a row, down where a price binds for nothing.

        `value` is the best plan's; the step is a share of its distance to the bound. False when no price moves.
        """
        objective = self._priced()
        taken = self._taken(objective)
        slopes: dict[int, int] = {}
        for r in self.blocks.coupling:
            row = self.model.rows[r]
            activity = sum(k * taken[c] for c, k in zip(row.columns, row.coefficients, strict=True))
            if slope := _slope(row, activity, self.prices.get(r, 0)):
                slopes[r] = slope
        length = sum(s * s for s in slopes.values())
        gap = max(0, value - (self.bound or 0)) * SCALE
        if not length or not gap:
            return False
        before = dict(self.prices)
        for r, slope in slopes.items():
            price = _allowed(self.model.rows[r], self.prices.get(r, 0) + round(self._step * gap * slope / length))
            self.prices[r] = price
        self.prices = {r: p for r, p in self.prices.items() if p}
        return self.prices != before

    def _taken(self, objective: dict[int, int]) -> list[int]:
        """The value of every column in the blocks' plans together."""
        low, high = self.model.low, self.model.high
        taken = list(low)
        for c in self.blocks.loose:
            taken[c] = high[c] if objective.get(c, 0) < 0 else low[c]
        for answer in self.answers:
            for c, v in (answer.values or {}).items():
                taken[c] = v
        return taken


def _side(row: LinearRow, price: int) -> int:
    side = row.low if price > 0 else row.high
    assert side is not None  # `_allowed` keeps prices on sides that are there
    return side


def _slope(row: LinearRow, activity: int, price: int) -> int:
    """How the bound changes with the row's price; 0 where the price cannot follow."""
    if row.low is not None and (activity < row.low or price > 0):
        return row.low - activity
    if row.high is not None and (activity > row.high or price < 0):
        return row.high - activity
    return 0


def _allowed(row: LinearRow, price: int) -> int:
    """A price on a side the row has: above 0 for low, below 0 for high."""
    if price > 0 and row.low is None:
        return 0
    return 0 if price < 0 and row.high is None else price
