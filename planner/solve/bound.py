"""A certified bound on a tier for plans too large to be proved whole: what each block costs by itself.

Rows that couple blocks are left out, so that every block (a person's week) can be solved to its best
whole-number plan; fewer rows only make a plan cheaper, so the sum over the blocks is true for the whole. What
it does not see is what people take from each other and one week from the next.

Pricing the coupling rows by the linear relaxation (Geoffrion 1974, Mathematical Programming Study 2) was tried
and brought nothing here: the relaxation of a week is so weak that its prices are almost all 0.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from math import gcd

from planner.domain.finding import Tier
from planner.solve.blocks import Block, cut
from planner.solve.cpsat import Answer, Limits
from planner.solve.linear import LinearModel, LinearRow
from planner.solve.parts import TOGETHER, Part
from planner.solve.pieces import TO_PROVE, Piece
from planner.solve.workers import Workers, charge


class Bounding:
    """What each block costs by itself, as far as it has been solved: a bound, and a plan of every block."""

    def __init__(self, model: LinearModel, tier: Tier, parts: Sequence[Part]) -> None:
        """The parts have no candidate in common and together hold all."""
        self.model = model
        self.tier: Tier = tier
        self.blocks = cut(model, parts)
        self.answers: list[Answer] = []  # of the first blocks, in their order
        self.spent = 0.0
        self.stopped = False

    def solve(self, workers: Workers, values: Sequence[int], limits: Limits, budget: float) -> None:
        """Solve the blocks, some at a time, until `budget` is spent or somebody says stop; `limits` for each."""
        todo = self.blocks.blocks
        while len(self.answers) < len(todo) and self.spent < budget and not self.stopped:
            now = todo[len(self.answers) : len(self.answers) + TOGETHER]
            pieces = [Piece(b.columns, b.rows, self._own(b), array("l", values), TO_PROVE) for b in now]
            answers = workers.solve(pieces, limits)
            self.spent += charge(answers)
            self.stopped = any(answer.stopped for answer in answers)
            self.answers += answers

    @property
    def bound(self) -> int:
        """The sum; a block that was not solved, and a column of no block, count at their least."""
        total = self.model.constant[self.tier] + self._least_of(self.blocks.loose)
        for n, block in enumerate(self.blocks.blocks):
            least = self.answers[n].bound if n < len(self.answers) else None
            total += self._least_of(block.columns) if least is None else least
        return total

    def cuts(self) -> list[LinearRow]:
        """What is known of each block as a row: no plan takes less in it. Of use in every further search."""
        rows = []
        for block, answer in zip(self.blocks.blocks, self.answers, strict=False):
            own = self._own(block)
            if own and answer.bound is not None:
                common = gcd(*own.values())
                low = -(-answer.bound // common)
                rows.append(LinearRow(low, None, tuple(own), tuple(w // common for w in own.values()), "tightens"))
        return rows

    def room(self, parts: Sequence[tuple[Part, Sequence[int]]], start: Sequence[int]) -> dict[Part, int]:
        """By how many points of the tier each part (with the columns it can move) could get better at most.

        What its blocks cost now above their bounds, and all it pays in columns of no block.
        """
        objective, low, high = self.model.objective[self.tier], self.model.low, self.model.high
        block_of = {c: n for n, block in enumerate(self.blocks.blocks) for c in block.columns if c in objective}
        spare = [0] * len(self.blocks.blocks)
        for c, n in block_of.items():
            spare[n] += objective[c] * start[c]
        for n, block in enumerate(self.blocks.blocks):
            least = self.answers[n].bound if n < len(self.answers) else None
            spare[n] -= self._least_of(block.columns) if least is None else least
        found = {}
        for part, columns in parts:
            paying = [c for c in columns if c in objective]
            loose = [(c, objective[c]) for c in paying if c not in block_of]
            found[part] = sum(w * (start[c] - (low[c] if w > 0 else high[c])) for c, w in loose)
            found[part] += sum(spare[n] for n in {block_of[c] for c in paying if c in block_of})
        return found

    def _own(self, block: Block) -> dict[int, int]:
        objective = self.model.objective[self.tier]
        return {c: w for c in block.columns if (w := objective.get(c, 0))}

    def _least_of(self, columns: Sequence[int]) -> int:
        low, high, objective = self.model.low, self.model.high, self.model.objective[self.tier]
        return sum(w * (low[c] if w > 0 else high[c]) for c in columns if (w := objective.get(c, 0)))
