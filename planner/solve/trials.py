"""Many single additions to a plan priced at once: what the order by hand asks all the time.

`State.trial` prices any change, one at a time. Here the same arithmetic runs over a fixed list of candidates in
numpy: each is followed through the columns worked out from it to the rows it moves. Everything is a whole number,
and a test holds the two against each other.
"""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.domain.finding import TIERS
from planner.solve.incidence import Incidence, Whole
from planner.solve.rows import form
from planner.solve.state import State

FINAL = len(TIERS)  # beside the price of each tier: must points that no further addition can take back


class Trials:
    """What all trials of one state have in common: its figures as arrays, and what each column is."""

    def __init__(self, state: State) -> None:
        self.state = state
        columns, rows = state.store.columns, state.store.rows
        depth = [0] * len(columns)  # 0: a candidate; else one more than its deepest part
        falls = [False] * len(columns)  # may one more candidate make it smaller?
        for i, column in enumerate(columns):
            if column.terms:
                depth[i] = 1 + max([depth[c] for _, c in column.terms])
                falls[i] = any([k < 0 or falls[c] for k, c in column.terms])
        final = [r.tier == "must" and not any([k < 0 or falls[c] for k, c in r.terms]) for r in rows]
        self.depth = np.array(depth)
        self.final = np.array(final, bool)
        self.off, self.step, self.most = np.array([form(c) for c in columns], np.int64).T
        self.activity = _seen(state.activity)
        self.row_activity, self.row_cost = _seen(state.row_activity), _seen(state.row_cost)
        self.row_low, self.row_high = _seen(state.row_low), _seen(state.row_high)
        self.row_step, self.row_weight = _seen(state.row_step), _seen(state.row_weight)
        self.row_tier = np.array(state.row_tier)

    def batch(self, columns: Sequence[int]) -> Batch:
        """These candidates, to be priced again and again."""
        return Batch(self, columns)

    def worked_out(self, columns: Whole, activity: Whole) -> Whole:
        """The values of worked-out columns whose terms sum to this."""
        started = -((self.off[columns] - activity) // self.step[columns])
        found: Whole = np.clip(started, 0, self.most[columns])
        return found

    def cost(self, rows: Whole, activity: Whole) -> Whole:
        """What rows cost whose terms sum to this."""
        beyond = np.maximum(activity - self.row_high[rows], self.row_low[rows] - activity)
        steps: Whole = -(-np.maximum(beyond, 0) // self.row_step[rows])
        return steps * self.row_weight[rows]


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
        order = np.argsort(key, kind="stable")
        key = key[order]
        starts = np.flatnonzero(np.diff(key, prepend=-1))
        return self.where(order), starts


class _Sums(NamedTuple):
    """Sums that move: whose, and in runs from `starts` on which pairs move each, how many times."""

    owner: Whole
    pair: NDArray[np.int32]
    times: Whole
    starts: Whole

    @staticmethod
    def of(owner: Whole, edges: _Edges, starts: Whole) -> _Sums:
        return _Sums(owner, edges.pair.astype(np.int32), edges.times, starts)

    def moves(self, moved: Whole) -> Whole:
        """By how much each sum moves when the pairs move so."""
        found: Whole = np.add.reduceat(moved[self.pair] * self.times, self.starts)
        return found


class Batch:
    """Some candidates and all they can move, level by level of the worked-out columns."""

    def __init__(self, trials: Trials, columns: Sequence[int]) -> None:
        self.trials = trials
        self.size = self.pairs = len(columns)
        self.levels: list[_Sums] = []
        state = trials.state
        candidate, column = np.arange(self.size), np.array(columns, np.int64)
        waiting = _Edges.of(state.in_columns, candidate, column, 0)
        rows = _Edges.of(state.in_rows, candidate, column, 0)
        for depth in range(1, 1 + int(trials.depth.max())):
            here = trials.depth[waiting.target] == depth
            if not here.any():
                continue
            edges, starts = waiting.where(here).in_runs(len(trials.depth))
            candidate, column = edges.candidate[starts], edges.target[starts]
            self.levels.append(_Sums.of(column, edges, starts))
            waiting = waiting.where(~here).joined(_Edges.of(state.in_columns, candidate, column, self.pairs))
            rows = rows.joined(_Edges.of(state.in_rows, candidate, column, self.pairs))
            self.pairs += len(column)
        edges, starts = rows.in_runs(len(trials.final))
        self.rows = _Sums.of(edges.target[starts], edges, starts)
        self.account = edges.candidate[starts] * (FINAL + 1)  # where its price is added up

    def prices(self) -> Whole:
        """How the price of each tier would change if just this candidate were added; one candidate a line.

        Figures of candidates that are chosen already mean nothing.
        """
        trials = self.trials
        found = np.zeros((self.size, FINAL + 1), np.int64)
        rows = self.rows.owner
        if not len(rows):
            return found
        moved = np.ones(self.pairs, np.int64)
        done = self.size
        for level in self.levels:
            column = level.owner
            before = trials.activity[column]
            after = before + level.moves(moved)
            ends = done + len(column)
            moved[done:ends] = trials.worked_out(column, after) - trials.worked_out(column, before)
            done = ends
        activity = trials.row_activity[rows] + self.rows.moves(moved)
        change = trials.cost(rows, activity) - trials.row_cost[rows]
        np.add.at(found.reshape(-1), self.account + trials.row_tier[rows], change)
        over = trials.final[rows] & (activity > trials.row_high[rows])
        np.add.at(found.reshape(-1), self.account[over] + FINAL, change[over])
        return found
