"""Re-solving a part of a plan while everything else stands: the step by which larger plans get better.

A part is some candidates; what is worked out from them and the rows they touch follow. Fixed columns enter
the rows as numbers, so a part's model is as small as the part.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planner.solve.cpsat import Limits, Written
from planner.solve.linear import LinearModel
from planner.solve.one_piece import take_if_better
from planner.solve.state import State

SECONDS_PER_ROW = 4e-5  # deterministic seconds charged for writing a row, so that budgets resemble seconds


Part = tuple[int, ...]  # columns of candidates, ascending


@dataclass(frozen=True)
class PartResult:
    """Whether the plan changed, whether the part is proved best as it stands, what was spent."""

    improved: bool
    proved: bool
    stopped: bool
    spent: float


def both_tiers(written: Written) -> dict[int, int]:
    """One objective for should and prefer: a point of should outweighs all of prefer that can move."""
    model = written.model
    should, prefer = written.terms("should"), written.terms("prefer")
    span = sum(abs(w) * (model.high[c] - model.low[c]) for c, w in prefer.items())
    whole = {c: w * (span + 1) for c, w in should.items()}
    for c, w in prefer.items():
        whole[c] = whole.get(c, 0) + w
    return whole


class Parts:
    """Which rows and worked-out columns hang on a candidate: looked up once, used for every part."""

    def __init__(self, model: LinearModel) -> None:
        self.model = model
        self._rows_of: list[list[int]] = [[] for _ in model.low]
        self._reached: dict[Part, tuple[array[int], array[int]]] = {}
        self._moved = [0] * len(model.rows)  # row -> number of the solve that last moved it
        self._proved: dict[Part, int] = {}
        self._solves = 0
        for r, row in enumerate(model.rows):
            for c in row.columns:
                self._rows_of[c].append(r)
        self._worked_from: list[list[int]] = [[] for _ in model.store.columns]
        for i, column in enumerate(model.store.columns):
            for _, c in column.terms:
                self._worked_from[c].append(i)

    def reach(self, part: Part) -> tuple[array[int], array[int]]:
        """All columns that can move with a part, and all rows those columns stand in; both ascending."""
        if part not in self._reached:
            columns, rows = self._find_reach(part)
            self._reached[part] = (array("l", sorted(columns)), array("l", sorted(rows)))
        return self._reached[part]

    def _find_reach(self, candidates: Iterable[int]) -> tuple[set[int], set[int]]:
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

    def settled(self, part: Part) -> bool:
        """Was the part proved best, and has no row it touches moved since?"""
        solved = self._proved.get(part)
        if solved is None:
            return False
        moved = self._moved
        return all(moved[r] <= solved for r in self.reach(part)[1])

    def _note(self, part: Part, before: Sequence[int], state: State, proved: bool) -> None:
        """Stamp the rows whose columns moved, so that the parts that touch them are looked at again."""
        self._solves += 1
        columns = (c for c in self.reach(part)[0] if c < len(before))
        for c in columns:
            if before[c] != state.values[c]:
                for r in self._rows_of[c]:
                    self._moved[r] = self._solves
        if proved:
            self._proved[part] = self._solves

    def resolve(self, state: State, part: Part, limits: Limits) -> PartResult:
        """The best choice among a part's candidates, all others as they are; both tiers in one, should first.

        One point of should outweighs all of prefer that the part can move. Never makes the plan worse.
        """
        columns, rows = self.reach(part)
        values = self.model.complete(state.values)
        written = Written(self.model, values, columns, rows)
        whole = both_tiers(written)
        written.minimise(whole)
        written.hint(values)
        writing = SECONDS_PER_ROW * len(rows)
        answer = written.run(replace(limits, budget=min(limits.budget, max(0.01, limits.budget - writing))))
        before = list(state.values)
        improved = take_if_better(state, answer)
        best = None if answer.values is None else sum(w * answer.values[c] for c, w in whole.items())
        proved = best is not None and best == answer.bound
        self._note(part, before, state, proved)
        return PartResult(improved, proved, answer.stopped, answer.spent + writing)
