"""Many single additions to a plan priced at once: what the order by hand asks all the time.

`State.trial` prices any change, one at a time. Here the same arithmetic runs over a fixed list of candidates in
numpy: each is followed through the columns worked out from it to the rows it moves. Everything is a whole number,
and a test holds the two against each other.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.domain.finding import TIERS
from planner.solve.incidence import Incidence, Whole
from planner.solve.state import State, costs_at, values_at

FINAL = len(TIERS)  # beside the price of each tier: must points that no further addition can take back


class Trials:
    """What all trials of one state have in common: its figures as arrays, and what each column is."""

    def __init__(self, state: State) -> None:
        self.state = state
        parts, rows = state.in_columns, state.in_rows
        self.depth = np.zeros(len(state.values), np.int64)  # 0: a candidate; else one more than its deepest part
        falls = np.zeros(len(state.values), np.int64)  # 1: may one more candidate make it smaller?
        while ((deeper := parts.joined(np.maximum, 1 + self.depth[parts.part])) != self.depth).any():
            self.depth = deeper
            falls = parts.joined(np.maximum, np.maximum(parts.times < 0, falls[parts.part]))
        self.row_tier = np.array(state.row_tier)
        may_fall = rows.joined(np.maximum, np.maximum(rows.times < 0, falls[rows.part]))
        self.final = (self.row_tier == TIERS.index("must")) & (may_fall == 0)
        self.activity = _seen(state.activity)
        self.row_activity, self.row_cost = _seen(state.row_activity), _seen(state.row_cost)

    def batch(self, columns: Sequence[int]) -> Batch:
        """These candidates, to be priced again and again."""
        return _batch_of(self, columns)

    def batches(self, several: Sequence[Sequence[int]]) -> list[Batch]:
        """A batch for each of several lists of candidates: quicker than one after the other."""
        whole = self.batch([c for columns in several for c in columns])
        return whole.cut([len(columns) for columns in several])


def _seen(figures: array[int]) -> Whole:
    """The state's own figures, not a copy."""
    return np.frombuffer(figures, np.int64)


class _Edges(NamedTuple):
    """For each candidate: what it reaches, through which *pair* (a candidate and a column), how many times."""

    candidate: Whole
    pair: Whole
    target: Whole
    times: Whole

    @staticmethod
    def of(stands_in: Incidence, candidate: Whole, column: Whole, first_pair: int) -> _Edges:
        place, target, times = stands_in.of(column)
        return _Edges(candidate[place], place + first_pair, target, times)

    def where(self, wanted: Whole) -> _Edges:
        return _Edges(*(part[wanted] for part in self))

    def joined(self, other: _Edges) -> _Edges:
        return _Edges(*(np.concatenate(two) for two in zip(self, other, strict=True)))

    def in_runs(self, targets: int) -> tuple[_Edges, Whole]:
        """Sorted, so that the same candidate and target stand together; and where each such run begins."""
        key = self.candidate * targets + self.target
        order = key.argsort(kind="stable")
        key = key[order]
        starts = (key[1:] != key[:-1]).nonzero()[0] + 1
        return self.where(order), np.concatenate(([0], starts)) if len(key) else starts


class _Sums(NamedTuple):
    """Sums that candidates move, sorted by candidate: which pairs move each sum, how many times.

    Pairs number `bounds[n]` to `bounds[n + 1]` move sum n.
    """

    candidate: Whole
    owner: Whole
    pair: NDArray[np.int32]
    times: Whole
    bounds: Whole

    @staticmethod
    def of(edges: _Edges, starts: Whole) -> _Sums:
        candidate, owner = edges.candidate[starts], edges.target[starts]
        bounds = np.append(starts, len(edges.pair))
        return _Sums(candidate, owner, edges.pair.astype(np.int32), edges.times, bounds)

    def moves(self, moved: Whole) -> Whole:
        """By how much each sum moves when the pairs move so."""
        found: Whole = np.add.reduceat(moved[self.pair] * self.times, self.bounds[:-1])
        return found

    def cut(self, begins: int, ends: int) -> _Sums:
        """Those from one number to before another."""
        first, last = self.bounds[begins], self.bounds[ends]
        return _Sums(
            self.candidate[begins:ends],
            self.owner[begins:ends],
            self.pair[first:last],
            self.times[first:last],
            self.bounds[begins : ends + 1] - first,
        )


class _Level(NamedTuple):
    """Worked-out columns of one depth, and their forms; the value of each is a pair's, from number `first` on."""

    first: int
    sums: _Sums
    forms: Whole

    def cut(self, begins: int, ends: int) -> _Level:
        """Those from one number to before another."""
        return _Level(self.first + begins, self.sums.cut(begins, ends), self.forms[:, begins:ends])


class Batch:
    """Some candidates and all they can move, level by level of the worked-out columns."""

    def __init__(
        self, trials: Trials, candidates: range, levels: list[_Level], rows: _Sums, moved: Whole
    ) -> None:
        self.trials = trials
        self.size = len(candidates)
        self.candidates, self.levels, self.rows = candidates, levels, rows
        self.moved = moved  # by how much each pair moves; batches cut from one share it, each has pairs of its own
        self.account = (rows.candidate - candidates.start) * (FINAL + 1)  # where its price is added up

    def cut(self, sizes: Sequence[int]) -> list[Batch]:
        """So many of its candidates each, one after the other."""
        borders = np.cumsum([self.candidates.start, *sizes])
        rows = np.searchsorted(self.rows.candidate, borders).tolist()
        levels = [(level, np.searchsorted(level.sums.candidate, borders).tolist()) for level in self.levels]
        found = []
        for n, (first, last) in enumerate(pairwise(borders.tolist())):
            own = [level.cut(at[n], at[n + 1]) for level, at in levels if at[n] < at[n + 1]]
            of_rows = self.rows.cut(rows[n], rows[n + 1])
            found.append(Batch(self.trials, range(first, last), own, of_rows, self.moved))
        return found

    def prices(self) -> Whole:
        """How the price of each tier would change if just this candidate were added; one candidate a line.

        Figures of candidates that are chosen already mean nothing.
        """
        trials, moved = self.trials, self.moved
        found = np.zeros((self.size, FINAL + 1), np.int64)
        rows = self.rows.owner
        if not len(rows):
            return found
        for first, sums, forms in self.levels:
            before = trials.activity[sums.owner]
            after = before + sums.moves(moved)
            moved[first : first + len(after)] = values_at(forms, after) - values_at(forms, before)
        activity = trials.row_activity[rows] + self.rows.moves(moved)
        forms = trials.state.row_forms[:, rows]
        change = costs_at(forms, activity) - trials.row_cost[rows]
        np.add.at(found.reshape(-1), self.account + trials.row_tier[rows], change)
        over = trials.final[rows] & (activity > forms[1])
        np.add.at(found.reshape(-1), self.account[over] + FINAL, change[over])
        return found


def _batch_of(trials: Trials, columns: Sequence[int]) -> Batch:
    """Follows the candidates level by level to the rows they move."""
    state, levels = trials.state, list[_Level]()
    pairs = len(columns)
    candidate, column = np.arange(pairs), np.array(columns, np.int64)
    waiting = _Edges.of(state.in_columns, candidate, column, 0)
    rows = _Edges.of(state.in_rows, candidate, column, 0)
    for depth in range(1, 1 + int(trials.depth.max())):
        here = trials.depth[waiting.target] == depth
        if not here.any():
            continue
        sums = _Sums.of(*waiting.where(here).in_runs(len(trials.depth)))
        levels.append(_Level(pairs, sums, state.forms[:, sums.owner]))
        waiting = waiting.where(~here).joined(_Edges.of(state.in_columns, sums.candidate, sums.owner, pairs))
        rows = rows.joined(_Edges.of(state.in_rows, sums.candidate, sums.owner, pairs))
        pairs += len(sums.owner)
    moved = np.ones(pairs, np.int64)
    return Batch(trials, range(len(columns)), levels, _Sums.of(*rows.in_runs(len(trials.final))), moved)
