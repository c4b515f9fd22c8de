"""A plan under construction: what setting or unsetting candidates changes, in microseconds.

All columns and rows of the store are kept up to date by differences, so that the price of a single change
costs only the rows it touches. `Price` is (broken steps of musts, should points, prefer points).
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable
from typing import NamedTuple

import numpy as np

from planner.domain.finding import TIERS
from planner.domain.plan import Placement
from planner.rules._board import Column
from planner.solve.incidence import Incidence, Whole
from planner.solve.linear import LinearModel
from planner.solve.rows import NO_BOUND, RowStore, form


class Price(NamedTuple):
    """Lower is better, compared from the left."""

    must: int
    should: int
    prefer: int

    def plus(self, other: Price) -> Price:
        return Price(self.must + other.must, self.should + other.should, self.prefer + other.prefer)


NOTHING = Price(0, 0, 0)
Change = tuple[int, int]  # (column of a candidate, +1 or -1)


def values_at(forms: Whole, activity: Whole) -> Whole:
    """The values of worked-out columns whose terms sum to this; `forms` are a line each of off, size and most."""
    off, size, most = forms
    started = -((off - activity) // size)
    found: Whole = np.maximum(np.minimum(started, most), 0)
    return found


def costs_at(forms: Whole, activity: Whole) -> Whole:
    """What rows cost whose terms sum to this; `forms` are a line each of low, high, step and weight."""
    low, high, step, weight = forms
    beyond = np.maximum(np.maximum(activity - high, low - activity), 0)
    found: Whole = -(-beyond // step) * weight
    return found


class _Looked(dict[int, tuple[list[int], list[int]]]):
    """Owners and coefficients of one column at a time, as plain lists from when they are first asked for."""

    def __init__(self, stands_in: Incidence) -> None:
        super().__init__()
        self._stands_in = stands_in

    def __missing__(self, column: int) -> tuple[list[int], list[int]]:
        found = self[column] = self._stands_in.of_one(column)
        return found


class State:
    """Values of all columns, activities of all rows, and the price of what is chosen now.

    The figures stand in flat arrays: quick to read one by one, and seen as a whole by numpy (see trials.py).
    """

    def __init__(self, store: RowStore) -> None:
        self.store = store
        columns, rows = store.columns, store.rows
        self.in_columns = Incidence([c.terms for c in columns], len(columns))
        self.in_rows = Incidence([r.terms for r in rows], len(columns))
        self._parts_of, self._rows_of = _Looked(self.in_columns), _Looked(self.in_rows)
        self._forms = [form(c) for c in columns]
        self.forms = np.array(self._forms, np.int64).T.copy()  # off, size and most of every column
        self._musts_of: dict[int, list[int]] = {}
        self._reached: dict[int, tuple[list[int], list[int]]] = {}
        self.changes = 0  # how often the plan was changed so far
        self._last_change = [0] * len(columns)
        self._row_last_change = [0] * len(rows)
        self.row_low = array("q", [-NO_BOUND if r.low is None else r.low for r in rows])
        self.row_high = array("q", [NO_BOUND if r.high is None else r.high for r in rows])
        self.row_step = array("q", [r.step for r in rows])
        self.row_weight = array("q", [1 if r.tier == "must" else r.weight for r in rows])
        figures = (self.row_low, self.row_high, self.row_step, self.row_weight)
        self.row_forms = np.array(figures, np.int64)  # low, high, step and weight of every row
        self.row_tier = [TIERS.index(r.tier) for r in rows]
        self._work_out_from_scratch()

    def _work_out_from_scratch(self) -> None:
        """Constants and the columns worked out from them, then rows and their cost."""
        columns = self.store.columns
        worked_out = np.array([bool(c.terms) for c in columns])
        constants = np.array([c.low if c.kind == "constant" else 0 for c in columns])
        values, before = constants, None
        while before is None or (values != before).any():  # once more than columns stand in each other
            before, activity = values, self.in_columns.sums(values)
            values = np.where(worked_out, values_at(self.forms, activity), constants)
        self.values: list[int] = values.tolist()
        self.activity = array("q", activity.tobytes())
        row_activity = self.in_rows.sums(values)
        self.row_activity = array("q", row_activity.tobytes())
        self.row_cost = array("q", costs_at(self.row_forms, row_activity).tobytes())
        totals = [0, 0, 0]
        for tier, cost in zip(self.row_tier, self.row_cost, strict=True):
            totals[tier] += cost
        self.price = Price(*totals)

    def start(self, model: LinearModel) -> list[int]:
        """The value of every column of the model: from here a solver begins."""
        values = [*self.values, *([0] * (len(model.low) - len(self.values)))]
        for slack in model.slacks:
            values[slack.column] = self.breach_of(slack.source)
        for helper in model.helpers:
            values[helper.column] = int(sum(k * values[c] for k, c in helper.terms) > helper.number)
        return values

    @property
    def chosen(self) -> list[int]:
        """The columns of the candidates that are set, in order."""
        return [c for c in self.store.free if self.values[c]]

    def placements(self) -> tuple[Placement, ...]:
        """The chosen candidates, in key order."""
        found = [p for c in self.chosen if (p := self.store.columns[c].placement) is not None]
        return tuple(sorted(found, key=lambda p: p.key))

    def broken_rows(self) -> list[int]:
        """Numbers of the must rows that do not hold now."""
        return [j for j, cost in enumerate(self.row_cost) if cost and self.row_tier[j] == 0]

    def breach_of(self, row: int) -> int:
        """By how many steps a row does not hold now."""
        return self.store.rows[row].breach(self.row_activity[row])

    def helps(self, row: int, changes: Iterable[Change]) -> bool:
        """Would the changes bring a row's sum nearer to its bound?"""
        moved = self._spread(changes)[2].get(row, 0)
        return moved > 0 if self.row_activity[row] < self.row_low[row] else moved < 0

    def broken_around(self, changes: Iterable[Change]) -> list[int]:
        """Broken must rows that these candidates take part in, directly or through worked-out columns."""
        found: set[int] = set()
        for c, _ in changes:
            if c not in self._musts_of:
                self._musts_of[c] = [j for j in self.reach(c)[1] if self.row_tier[j] == 0]
            found.update(j for j in self._musts_of[c] if self.row_cost[j])
        return sorted(found)

    def reach(self, column: int) -> tuple[list[int], list[int]]:
        """All worked-out columns and all rows that a candidate can move."""
        if column not in self._reached:
            found: list[int] = []
            rows: set[int] = set()
            waiting, seen = [column], {column}
            while waiting:
                c = waiting.pop()
                rows.update(self._rows_of[c][0])
                new = [i for i in self._parts_of[c][0] if i not in seen]
                seen.update(new)
                waiting += new
                found += new
            self._reached[column] = (found, sorted(rows))
        return self._reached[column]

    def moved_since(self, column: int, change: int) -> bool:
        """Did anything a candidate can move take part in a later change? If not, it still costs the same."""
        columns, rows = self.reach(column)
        last, last_of_row = self._last_change, self._row_last_change
        return any([last[i] > change for i in columns]) or any([last_of_row[j] > change for j in rows])

    def _spread(self, changes: Iterable[Change]) -> tuple[dict[int, int], dict[int, int], dict[int, int]]:
        """Differences of column values, of worked-out activities, and of row activities."""
        forms, before, values = self._forms, self.activity, self.values
        moved: dict[int, int] = dict(changes)
        activity: dict[int, int] = {}
        row_moves: dict[int, int] = {}
        waiting: dict[int, int] = dict(moved)
        while waiting:
            later: dict[int, int] = {}
            for c, d in waiting.items():
                for j, k in zip(*self._rows_of[c], strict=True):
                    row_moves[j] = row_moves.get(j, 0) + k * d
                for i, k in zip(*self._parts_of[c], strict=True):
                    later[i] = later.get(i, 0) + k * d
            waiting = {}
            for i, d in later.items():
                activity[i] = raised = activity.get(i, 0) + d
                off, size, most = forms[i]
                value = -((off - before[i] - raised) // size)
                value = 0 if value < 0 else most if value > most else value
                so_far = moved.get(i, 0)
                if step := value - values[i] - so_far:
                    waiting[i] = step
                    moved[i] = so_far + step
        return moved, activity, row_moves

    def trial(self, changes: Iterable[Change]) -> Price:
        """By how much the price would change."""
        _, _, row_moves = self._spread(changes)
        cost_at, activity, cost, tier = self._cost_at, self.row_activity, self.row_cost, self.row_tier
        totals = [0, 0, 0]
        for j, d in row_moves.items():
            if d:
                totals[tier[j]] += cost_at(j, activity[j] + d) - cost[j]
        return Price(*totals)

    def _cost_at(self, row: int, activity: int) -> int:
        beyond = activity - self.row_high[row]
        if beyond <= 0:
            beyond = self.row_low[row] - activity
            if beyond <= 0:
                return 0
        return -(-beyond // self.row_step[row]) * self.row_weight[row]

    def apply(self, changes: Iterable[Change]) -> Price:
        """Change the plan; the difference in price is given back."""
        moved, activity, row_moves = self._spread(changes)
        totals = [0, 0, 0]
        self.changes += 1
        for c, d in moved.items():
            self.values[c] += d
        for i, d in activity.items():
            self.activity[i] += d
            self._last_change[i] = self.changes
        for j, d in row_moves.items():
            if d:
                self.row_activity[j] += d
                self._row_last_change[j] = self.changes
                new = self._cost_at(j, self.row_activity[j])
                totals[self.row_tier[j]] += new - self.row_cost[j]
                self.row_cost[j] = new
        change = Price(*totals)
        self.price = self.price.plus(change)
        return change

    def set_to(self, chosen: Iterable[int]) -> None:
        """Make exactly these candidates chosen."""
        wanted = set(chosen)
        now = set(self.chosen)
        changes = [(c, -1) for c in sorted(now - wanted)] + [(c, 1) for c in sorted(wanted - now)]
        if changes:
            self.apply(changes)

    def welcome_for(self, row: int) -> list[int]:
        """Candidates that move a row towards holding: more of a missing sum, or of a negative part."""
        short = self.row_activity[row] < self.row_low[row]
        wanted: set[int] = set()
        open_ends = [(c, (k > 0) == short) for k, c in self.store.rows[row].terms]
        seen = set(open_ends)
        while open_ends:
            c, more = open_ends.pop()
            column = self.store.columns[c]
            if column.kind == "placed":
                if more:
                    wanted.add(c)
                continue
            for k, part in column.terms:
                if (end := (Column(part), (k > 0) == more)) not in seen:
                    seen.add(end)
                    open_ends.append(end)
        return sorted(wanted)
