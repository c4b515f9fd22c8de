"""Re-solving a part of a plan while everything else stands: the step by which larger plans get better.

A part is some candidates; what is worked out from them and the rows they touch follow. Fixed columns enter
the rows as numbers, so a part's model is as small as the part.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from planner.solve.cpsat import Limits, Written
from planner.solve.linear import LinearModel
from planner.solve.one_piece import take_if_better
from planner.solve.state import State

SECONDS_PER_ROW = 4e-5  # deterministic seconds charged for writing a row, so that budgets resemble seconds


@dataclass(frozen=True)
class PartResult:
    """Whether the plan changed, whether the part is proved best as it stands, what was spent."""

    improved: bool
    proved: bool
    stopped: bool
    spent: float


class Parts:
    """Which rows and worked-out columns hang on a candidate: looked up once, used for every part."""

    def __init__(self, model: LinearModel) -> None:
        self.model = model
        self._rows_of: list[list[int]] = [[] for _ in model.low]
        for r, row in enumerate(model.rows):
            for c in row.columns:
                self._rows_of[c].append(r)
        self._worked_from: list[list[int]] = [[] for _ in model.store.columns]
        for i, column in enumerate(model.store.columns):
            for _, c in column.terms:
                self._worked_from[c].append(i)

    def reach(self, candidates: Iterable[int]) -> tuple[set[int], set[int]]:
        """All columns that can move with these candidates, and all rows those columns stand in."""
        columns = set(candidates)
        waiting = list(columns)
        while waiting:
            for i in self._worked_from[waiting.pop()]:
                if i not in columns:
                    columns.add(i)
                    waiting.append(i)
        rows: set[int] = set()
        for c in columns:
            rows.update(self._rows_of[c])
        own = self.model.store_columns
        extra = {c for r in rows for c in self.model.rows[r].columns if c >= own}
        for c in extra:
            rows.update(self._rows_of[c])
        return columns | extra, rows

    def resolve(self, state: State, candidates: Collection[int], limits: Limits) -> PartResult:
        """The best choice among the candidates, all others as they are; both tiers in one, should first.

        One point of should outweighs all of prefer that the part can move. Never makes the plan worse.
        """
        columns, rows = self.reach(candidates)
        values = self.model.complete(state.values)
        written = Written(self.model, values, columns, rows)
        should, prefer = written.terms("should"), written.terms("prefer")
        span = sum(abs(w) * (self.model.high[c] - self.model.low[c]) for c, w in prefer.items())
        whole = {c: w * (span + 1) for c, w in should.items()}
        for c, w in prefer.items():
            whole[c] = whole.get(c, 0) + w
        written.minimise(whole)
        written.hint(values)
        writing = SECONDS_PER_ROW * len(rows)
        answer = written.run(replace(limits, budget=min(limits.budget, max(0.01, limits.budget - writing))))
        improved = take_if_better(state, answer)
        best = None if answer.values is None else sum(w * answer.values[c] for c, w in whole.items())
        proved = best is not None and best == answer.bound
        return PartResult(improved, proved, answer.stopped, answer.spent + writing)
