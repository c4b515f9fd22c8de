"""Re-solving parts of a plan while everything else stands: the step by which larger plans get better.

A part is some candidates; what is worked out from them and the rows they touch follow. Fixed columns enter
the rows as numbers, so a part's model is as small as the part. Parts that touch no row in common cannot
disturb each other: they are solved at the same time.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planner.solve.cpsat import Answer, Limits
from planner.solve.linear import LinearModel
from planner.solve.pieces import Piece, worth
from planner.solve.repair import take_if_better
from planner.solve.state import State
from planner.solve.workers import Workers, charge

TOGETHER = 6  # parts solved at the same time; fixed, so that the plan does not hang on the number of processes
Part = tuple[int, ...]  # columns of candidates, ascending


@dataclass(frozen=True)
class PartResult:
    """How many parts changed the plan, how many are proved best as they stand, what was spent."""

    improved: int
    proved: int
    stopped: bool
    spent: float


def both_tiers(model: LinearModel, columns: Iterable[int]) -> dict[int, int]:
    """One objective for should and prefer: a point of should outweighs all of prefer that can move."""
    should, prefer = model.objective["should"], model.objective["prefer"]
    found = {c: (should.get(c, 0), w) for c in columns if (w := prefer.get(c, 0)) or c in should}
    span = sum(abs(w) * (model.high[c] - model.low[c]) for c, (_, w) in found.items())
    return {c: both for c, (s, w) in found.items() if (both := s * (span + 1) + w)}


class Parts:
    """Which rows and worked-out columns hang on a candidate: looked up once, used for every part."""

    def __init__(self, model: LinearModel) -> None:
        self.model = model
        self._rows_of: list[list[int]] = [[] for _ in model.low]
        self._reached: dict[Part, tuple[array[int], array[int]]] = {}
        self._moved = [0] * len(model.rows)  # row -> number of the change that last moved it
        self._proved: dict[Part, int] = {}
        self._changes = 0
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

    def apart(self, kind: Sequence[Part]) -> Iterator[list[Part]]:
        """Parts of a kind, some at a time, none of which touches a row that another of them touches."""
        waiting = list(kind)
        while waiting:
            taken: list[Part] = []
            seen: set[int] = set()
            later = []
            for part in waiting:
                rows = self.reach(part)[1]
                if len(taken) < TOGETHER and seen.isdisjoint(rows):
                    taken.append(part)
                    seen.update(rows)
                else:
                    later.append(part)
            yield taken
            waiting = later

    def settled(self, part: Part) -> bool:
        """Was the part proved best, and has no row it touches moved since?"""
        solved = self._proved.get(part)
        if solved is None:
            return False
        moved = self._moved
        return all(moved[r] <= solved for r in self.reach(part)[1])

    def resolve(self, state: State, parts: Sequence[Part], limits: Limits, workers: Workers) -> PartResult:
        """The best choice in each of these parts, all else as it is; never makes the plan worse.

        The parts must be `apart`. Both tiers in one: a point of should outweighs all of prefer
        that the part can move.
        """
        start = state.start(self.model)
        pieces = [self.piece(part, start) for part in parts]
        answers = workers.solve(pieces, limits)
        asked = self._changes
        improved = proved = 0
        for part, piece, answer in zip(parts, pieces, answers, strict=True):
            best = worth(piece, answer)
            stands = all(self._moved[r] <= asked for r in piece.rows)  # nothing around it has moved meanwhile
            taken = self._take(state, part, answer)
            improved += taken
            same = taken or best == sum(w * start[c] for c, w in piece.objective.items())
            if stands and same and best is not None and best == answer.bound:
                self._proved[part] = self._changes
                proved += 1
        return PartResult(improved, proved, any(answer.stopped for answer in answers), charge(answers))

    def piece(self, part: Part, start: Sequence[int]) -> Piece:
        """A part to be solved by itself, all else as at the start."""
        columns, rows = self.reach(part)
        return Piece(columns, rows, both_tiers(self.model, columns), array("l", start))

    def _take(self, state: State, part: Part, answer: Answer) -> bool:
        """Take the answer over if it helps, and stamp the rows that moved: parts that touch them come again."""
        before = list(state.values)
        if not take_if_better(state, answer):
            return False
        self._changes += 1
        for c in self.reach(part)[0]:
            if c < len(before) and before[c] != state.values[c]:
                for r in self._rows_of[c]:
                    self._moved[r] = self._changes
        return True
