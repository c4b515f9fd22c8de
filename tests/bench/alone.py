"""What each athlete loses even when nobody else trains: a certified sum, unavoidable by any plan of the squad.

Every athlete's weeks are solved by themselves, then every two weeks running, then (if asked for) the whole block:
what reaches out of such a stretch or couples athletes is left out, which can only make a plan cheaper. The best
division of the block into stretches counts. Athletes come one after the other, so that a season needs no more
memory than one athlete's season.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from dataclasses import replace
from math import ceil

from ortools.sat.python import cp_model

from planner.domain.problem import Problem
from planner.rules import book
from planner.solve.blocks import Block, cut
from planner.solve.cpsat import Limits, Written
from planner.solve.linear import linear_model
from planner.solve.neighbourhoods import by_week
from planner.solve.pieces import TO_PROVE, Piece, solve_piece
from planner.solve.rows import write_rows
from planner.solve.state import State

WORKERS = 8  # kinds of search for a whole block; more of them than processors, because each proves something else


def alone_bound(problem: Problem, seconds: float, whole_seconds: float = 0.0) -> int:
    """The certified sum; `seconds` (deterministic) for each athlete's week, eight times that for two weeks.

    `whole_seconds` by the clock, on all processors, for each athlete's whole block (0: not tried).
    """
    return sum(_Alone(only(problem, name)).bound(seconds, whole_seconds) for name in problem.athletes)


def only(problem: Problem, name: str) -> Problem:
    """The same block with one athlete."""
    return replace(
        problem,
        block=replace(problem.block, athletes=tuple(a for a in problem.block.athletes if a.name == name)),
        weeks={name: problem.weeks[name]},
        candidates=tuple(p for p in problem.candidates if p.athlete == name),
        refusals=tuple(r for r in problem.refusals if r.athlete == name),
        history=tuple(p for p in problem.history if p.athlete == name),
        kept=tuple(p for p in problem.kept if p.athlete == name),
    )


class _Alone:
    """One athlete's block: what stretches of weeks cost by themselves, and the best division into stretches."""

    def __init__(self, problem: Problem) -> None:
        self.model = linear_model(write_rows(problem, book()))
        self.weeks = by_week(self.model.store)
        self.low = State(self.model.store).start(self.model)

    def bound(self, seconds: float, whole_seconds: float) -> int:
        """The highest sum of bounds over all divisions of the block."""
        count = len(self.weeks)
        worth: dict[tuple[int, int], int] = {}
        for n in range(count):
            worth[n, n + 1] = self._stretch(n, n + 1, Limits(seconds))
        for n in range(count - 1):
            worth[n, n + 2] = self._stretch(n, n + 2, Limits(8 * seconds))
        if whole_seconds and count > 2:
            worth[0, count] = self._whole(whole_seconds)
        best = [0] * (count + 1)
        for end in range(1, count + 1):
            best[end] = max(best[a] + more for (a, e), more in worth.items() if e == end)
        return self.model.least("should") + best[count]

    def _stretch(self, begin: int, end: int, limits: Limits) -> int:
        """By how much the least cost of these weeks by themselves lies above the least of their prices."""
        block = self._block(begin, end)
        objective = {c: w for c in block.columns if (w := self.model.objective["should"].get(c, 0))}
        piece = Piece(block.columns, block.rows, objective, array("l", self.low), TO_PROVE)
        return max(0, (solve_piece(self.model.numbers, piece, limits).bound or 0) - self._least(objective))

    def _whole(self, seconds: float) -> int:
        written = Written(self.model)
        written.minimise(written.terms("should"))
        written.hint(self.low)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = WORKERS
        solver.parameters.max_time_in_seconds = seconds
        solver.solve(written.cp)
        return max(0, ceil(solver.best_objective_bound - 1e-6) - self._least(written.terms("should")))

    def _block(self, begin: int, end: int) -> Block:
        inside = tuple(sorted(c for week in self.weeks[begin:end] for c in week))
        outside = tuple(sorted(c for week in (*self.weeks[:begin], *self.weeks[end:]) for c in week))
        return cut(self.model, [inside, outside] if outside else [inside]).blocks[0]

    def _least(self, objective: Mapping[int, int]) -> int:
        low, high = self.model.low, self.model.high
        return sum(w * (low[c] if w > 0 else high[c]) for c, w in objective.items())
