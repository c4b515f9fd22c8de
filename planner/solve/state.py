"""A plan under construction: what setting or unsetting candidates changes, in microseconds.

All columns and rows of the store are kept up to date by differences, so that the price of a single change
costs only the rows it touches. `Price` is (broken steps of musts, should points, prefer points).
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from planner.domain.finding import TIERS
from planner.domain.plan import Placement
from planner.rules._board import Column
from planner.solve.linear import LinearModel
from planner.solve.rows import RowStore, worked_out_value

NO_BOUND = 1 << 60


class Price(NamedTuple):
    """Lower is better, compared from the left."""

    must: int
    should: int
    prefer: int

    def plus(self, other: Price) -> Price:
        return Price(self.must + other.must, self.should + other.should, self.prefer + other.prefer)


NOTHING = Price(0, 0, 0)
Change = tuple[int, int]  # (column of a candidate, +1 or -1)


class State:
    """Values of all columns, activities of all rows, and the price of what is chosen now."""

    def __init__(self, store: RowStore) -> None:
        self.store = store
        columns, rows = store.columns, store.rows
        self.values = [c.low if c.kind == "constant" else 0 for c in columns]
        self._activity = [0] * len(columns)
        self._parts_of: list[list[int]] = [[] for _ in columns]  # flat: worked-out column, coefficient
        self._rows_of: list[list[int]] = [[] for _ in columns]  # flat: row, coefficient
        for i, column in enumerate(columns):
            for k, c in column.terms:
                self._parts_of[c] += (i, k)
        self._musts_of: dict[int, list[int]] = {}
        self._row_activity = [0] * len(rows)
        self._row_low = [-NO_BOUND if r.low is None else r.low for r in rows]
        self._row_high = [NO_BOUND if r.high is None else r.high for r in rows]
        self._row_step = [r.step for r in rows]
        self._row_weight = [1 if r.tier == "must" else r.weight for r in rows]
        self._row_tier = [TIERS.index(r.tier) for r in rows]
        for j, row in enumerate(rows):
            for k, c in row.terms:
                self._rows_of[c] += (j, k)
        self._work_out_from_scratch()

    def _work_out_from_scratch(self) -> None:
        """Columns whose parts are constants, then rows and their cost."""
        columns, values = self.store.columns, self.values
        for i, column in enumerate(columns):
            if column.terms:
                self._activity[i] = sum(k * values[c] for k, c in column.terms)
                values[i] = worked_out_value(column, self._activity[i])
        totals = [0, 0, 0]
        self._row_cost = [0] * len(self.store.rows)
        for j, row in enumerate(self.store.rows):
            self._row_activity[j] = sum(k * values[c] for k, c in row.terms)
            self._row_cost[j] = row.breach(self._row_activity[j]) * self._row_weight[j]
            totals[self._row_tier[j]] += self._row_cost[j]
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
        return [j for j, cost in enumerate(self._row_cost) if cost and self._row_tier[j] == 0]

    def breach_of(self, row: int) -> int:
        """By how many steps a row does not hold now."""
        return self.store.rows[row].breach(self._row_activity[row])

    def helps(self, row: int, changes: Iterable[Change]) -> bool:
        """Would the changes bring a row's sum nearer to its bound?"""
        moved = self._spread(changes)[2].get(row, 0)
        return moved > 0 if self._row_activity[row] < self._row_low[row] else moved < 0

    def broken_around(self, changes: Iterable[Change]) -> list[int]:
        """Broken must rows that these candidates take part in, directly or through worked-out columns."""
        found: set[int] = set()
        for c, _ in changes:
            if c not in self._musts_of:
                self._musts_of[c] = self._find_musts(c)
            found.update(j for j in self._musts_of[c] if self._row_cost[j])
        return sorted(found)

    def _find_musts(self, column: int) -> list[int]:
        rows: set[int] = set()
        waiting, seen = [column], {column}
        while waiting:
            c = waiting.pop()
            rows.update(j for j in self._rows_of[c][::2] if self._row_tier[j] == 0)
            new = [i for i in self._parts_of[c][::2] if i not in seen]
            seen.update(new)
            waiting += new
        return sorted(rows)

    def _spread(self, changes: Iterable[Change]) -> tuple[dict[int, int], dict[int, int], dict[int, int]]:
        """Differences of column values, of worked-out activities, and of row activities."""
        columns, parts_of, rows_of = self.store.columns, self._parts_of, self._rows_of
        moved: dict[int, int] = dict(changes)
        activity: dict[int, int] = {}
        row_moves: dict[int, int] = {}
        waiting: dict[int, int] = dict(moved)
        while waiting:
            later: dict[int, int] = {}
            for c, d in waiting.items():
                flat = rows_of[c]
                for n in range(0, len(flat), 2):
                    j = flat[n]
                    row_moves[j] = row_moves.get(j, 0) + flat[n + 1] * d
                flat = parts_of[c]
                for n in range(0, len(flat), 2):
                    i = flat[n]
                    later[i] = later.get(i, 0) + flat[n + 1] * d
            waiting = {}
            if not later:
                break
            for i, d in later.items():
                before = self._activity[i] + activity.get(i, 0)
                activity[i] = activity.get(i, 0) + d
                column = columns[i]
                if column.kind == "any":
                    step = (before + d > 0) - (before > 0)
                else:
                    step = worked_out_value(column, before + d) - worked_out_value(column, before)
                if step:
                    waiting[i] = step
                    moved[i] = moved.get(i, 0) + step
        return moved, activity, row_moves

    def trial(self, changes: Iterable[Change]) -> Price:
        """By how much the price would change."""
        _, _, row_moves = self._spread(changes)
        totals = [0, 0, 0]
        for j, d in row_moves.items():
            if d:
                new = self._cost_at(j, self._row_activity[j] + d)
                totals[self._row_tier[j]] += new - self._row_cost[j]
        return Price(*totals)

    def _cost_at(self, row: int, activity: int) -> int:
        beyond = activity - self._row_high[row]
        if beyond <= 0:
            beyond = self._row_low[row] - activity
            if beyond <= 0:
                return 0
        return -(-beyond // self._row_step[row]) * self._row_weight[row]

    def apply(self, changes: Iterable[Change]) -> Price:
        """Change the plan; the difference in price is given back."""
        moved, activity, row_moves = self._spread(changes)
        totals = [0, 0, 0]
        for c, d in moved.items():
            self.values[c] += d
        for i, d in activity.items():
            self._activity[i] += d
        for j, d in row_moves.items():
            if d:
                self._row_activity[j] += d
                new = self._cost_at(j, self._row_activity[j])
                totals[self._row_tier[j]] += new - self._row_cost[j]
                self._row_cost[j] = new
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
        short = self._row_activity[row] < self._row_low[row]
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
