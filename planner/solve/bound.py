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
from dataclasses import dataclass
from math import gcd

from planner.domain.finding import Tier
from planner.solve.blocks import Block, cut
from planner.solve.cpsat import Answer, Limits
from planner.solve.linear import LinearModel, LinearRow
from planner.solve.parts import TOGETHER, Part
from planner.solve.pieces import TO_PROVE, Piece
from planner.solve.workers import Workers, charge


@dataclass(frozen=True)
class Solved:
    """Answers of the first pieces, in their order; what that took; whether somebody said stop."""

    answers: list[Answer]
    spent: float
    stopped: bool


def solve_pieces(pieces: Sequence[Piece], workers: Workers, limits: Limits, budget: float) -> Solved:
    """Solve the pieces, some at a time, until `budget` is spent or somebody says stop; `limits` for each."""
    answers: list[Answer] = []
    spent, stopped = 0.0, False
    while len(answers) < len(pieces) and spent < budget and not stopped:
        found = workers.solve(pieces[len(answers) : len(answers) + TOGETHER], limits)
        spent += charge(found)
        stopped = any(answer.stopped for answer in found)
        answers += found
    return Solved(answers, spent, stopped)


class Bounding:
    """What each block costs by itself, as far as it has been solved: a bound, and a plan of every block."""

    def __init__(self, model: LinearModel, tier: Tier, parts: Sequence[Part]) -> None:
        """The parts have no candidate in common and together hold all."""
        self.model = model
        self.tier: Tier = tier
        self.parts = parts
        self.blocks = cut(model, parts)
        self.answers: list[Answer] = []  # of the first blocks, in their order
        self.spent = 0.0
        self.stopped = False

    def solve(self, workers: Workers, values: Sequence[int], limits: Limits, budget: float) -> None:
        """Solve the blocks that are not, until `budget` is spent or somebody says stop; `limits` for each."""
        start, todo = array("l", values), self.blocks.blocks[len(self.answers) :]
        prices = [own_prices(self.model, self.tier, block) for block in todo]
        pieces = [Piece(b.columns, b.rows, own, start, TO_PROVE) for b, own in zip(todo, prices, strict=True)]
        found = solve_pieces(pieces, workers, limits, budget - self.spent)
        self.answers += found.answers
        self.spent += found.spent
        self.stopped |= found.stopped

    @property
    def bound(self) -> int:
        """The sum; a block that was not solved, and a column of no block, count at their least."""
        return self.model.least(self.tier) + sum(map(self.worth, range(len(self.blocks.blocks))))

    def worth(self, number: int) -> int:
        """By how much a block is certified to cost more than the least of its columns."""
        bound = self.answers[number].bound if number < len(self.answers) else None
        least = self.model.least_of(self.tier, self.blocks.blocks[number].columns)
        return 0 if bound is None else max(0, bound - least)

    def cuts(self) -> list[LinearRow]:
        """What is known of each block as a row: no plan takes less in it. Of use in every further search."""
        known = zip(self.blocks.blocks, self.answers, strict=False)
        return [row for block, answer in known for row in cut_of(self.model, self.tier, block, answer)]

    def room(self, parts: Sequence[tuple[Part, Sequence[int]]], start: Sequence[int]) -> dict[Part, int]:
        """By how many points of the tier each part (with the columns it can move) could get better at most.

        What its blocks cost now above their bounds, and all it pays in columns of no block.
        """
        objective = self.model.objective[self.tier]
        block_of = {c: n for n, block in enumerate(self.blocks.blocks) for c in block.columns if c in objective}
        spare = [0] * len(self.blocks.blocks)
        for c, n in block_of.items():
            spare[n] += objective[c] * start[c]
        for n, block in enumerate(self.blocks.blocks):
            spare[n] -= self.model.least_of(self.tier, block.columns) + self.worth(n)
        found = {}
        for part, columns in parts:
            paying = [c for c in columns if c in objective]
            loose = [c for c in paying if c not in block_of]
            found[part] = sum(objective[c] * start[c] for c in loose) - self.model.least_of(self.tier, loose)
            found[part] += sum(spare[n] for n in {block_of[c] for c in paying if c in block_of})
        return found


def own_prices(model: LinearModel, tier: Tier, block: Block) -> dict[int, int]:
    """The points of the tier a step of each of the block's columns costs, where it costs any."""
    objective = model.objective[tier]
    return {c: w for c in block.columns if (w := objective.get(c, 0))}


def cut_of(model: LinearModel, tier: Tier, block: Block, answer: Answer) -> list[LinearRow]:
    """A block's certified bound as a row (none where nothing is known)."""
    own = own_prices(model, tier, block)
    if not own or answer.bound is None:
        return []
    common = gcd(*own.values())
    low = -(-answer.bound // common)
    return [LinearRow(low, None, tuple(own), tuple(w // common for w in own.values()), "tightens")]
