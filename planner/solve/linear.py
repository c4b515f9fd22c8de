"""The row store written out as plain linear rows: what every solver gets, and nothing else. No solver here.

Columns below `store_columns` are the store's own; above them stand slack columns (how many steps a row of
a lower tier is broken) and a few 0/1 helpers. Every column is a whole number between 0 and its bound, and
every coefficient is a whole number, so nothing is rounded before a solver sees it.

A worked-out column is only held from the side on which a solver would like to cheat: a fast day that costs
points must not be 0 when something fast stands there; whether it could be 1 for nothing does not matter.
So in a solution that is not proved best such columns may lie too high: the price of a plan is always taken
from `RowStore.evaluate`, never from a solver's columns.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from planner.domain.finding import Tier
from planner.rules._board import Column, Term
from planner.solve.rows import Row, RowStore

RowKind = Literal["says", "defines", "tightens"]
LONGEST_TIGHTENED = 80  # terms; longer sums gain little from tightening and make rows dense
MOST_DIVISORS = 3  # tightening rows a sum at most


class LinearRow(NamedTuple):
    """low <= sum of coefficients x columns <= high. `source` is the store's row, -1 for a definition."""

    low: int | None
    high: int | None
    columns: tuple[int, ...]
    coefficients: tuple[int, ...]
    kind: RowKind
    source: int = -1


class Slack(NamedTuple):
    """The column that counts the broken steps of a row of the store."""

    column: int
    source: int


class Helper(NamedTuple):
    """A 0/1 column that is 1 when a sum lies above `number` (the upper side of `over`)."""

    column: int
    terms: tuple[Term, ...]
    number: int


@dataclass
class Numbers:
    """Bounds, rows and one objective a tier (column -> points, plus a constant): all a solver needs."""

    low: list[int] = field(default_factory=list)
    high: list[int] = field(default_factory=list)
    rows: list[LinearRow] = field(default_factory=list)
    objective: dict[Tier, dict[int, int]] = field(default_factory=dict)
    constant: dict[Tier, int] = field(default_factory=dict)


@dataclass
class LinearModel(Numbers):
    """The numbers, and what each of them means in the store."""

    store: RowStore = field(kw_only=True)
    slacks: list[Slack] = field(default_factory=list)
    helpers: list[Helper] = field(default_factory=list)

    @property
    def numbers(self) -> Numbers:
        """The numbers alone, to be sent to another process."""
        return Numbers(self.low, self.high, self.rows, self.objective, self.constant)

    @property
    def store_columns(self) -> int:
        return len(self.store.columns)

    def add_column(self, high: int) -> int:
        self.low.append(0)
        self.high.append(high)
        return len(self.low) - 1

    def add_row(
        self,
        terms: Sequence[tuple[int, int]],
        low: int | None,
        high: int | None,
        kind: RowKind,
        source: int = -1,
    ) -> None:
        columns, coefficients = tuple([c for _, c in terms]), tuple([k for k, _ in terms])
        self.rows.append(LinearRow(low, high, columns, coefficients, kind, source))

    def price(self, values: Sequence[int], tier: Tier) -> int:
        """Points of a tier for values of all columns."""
        terms = self.objective.get(tier, {})
        return self.constant.get(tier, 0) + sum(w * values[c] for c, w in terms.items())

    def least(self, tier: Tier) -> int:
        """The price of a tier when nothing of it is lost: no plan can be below it."""
        return self.constant.get(tier, 0) + self.least_of(tier, self.objective.get(tier, {}))

    def least_of(self, tier: Tier, columns: Iterable[int]) -> int:
        """What these columns cost at least, each by itself."""
        low, high, terms = self.low, self.high, self.objective.get(tier, {})
        return sum(w * (low[c] if w > 0 else high[c]) for c in columns if (w := terms.get(c, 0)))


def linear_model(store: RowStore, only: Collection[int] | None = None) -> LinearModel:
    """Write the store out. With `only` (row numbers), these rows and no others, each of them as a must."""
    model = LinearModel(store=store)
    for column in store.columns:
        model.low.append(column.low)
        model.high.append(column.high)
    model.objective = {"should": {}, "prefer": {}}
    model.constant = {"should": 0, "prefer": 0}
    sides = _Sides(store)
    for i in range(len(store.rows)) if only is None else sorted(only):
        row = store.rows[i]
        sides.note_row(row)
        if only is not None or row.tier == "must":
            model.add_row(row.terms, row.low, row.high, "says", i)
            _tighten_both(model, row.terms, row.low, row.high, i)
        elif not row.terms:
            model.constant[row.tier] += row.breach(0) * row.weight  # nothing could be offered: lost already
        elif not _priced_directly(model, row):
            _with_slack(model, row, i)
    _define(model, sides)
    return model


def _priced_directly(model: LinearModel, row: Row) -> bool:
    """A row about one 0/1 column needs no slack: its two prices are a constant and a coefficient."""
    if len(row.terms) != 1 or model.high[row.terms[0][1]] != 1:
        return False
    k, column = row.terms[0]
    at_0, at_1 = row.breach(0) * row.weight, row.breach(k) * row.weight
    model.constant[row.tier] += at_0
    terms = model.objective[row.tier]
    terms[column] = terms.get(column, 0) + at_1 - at_0
    return True


def _with_slack(model: LinearModel, row: Row, source: int) -> None:
    least, most = model.store.range_of(row.terms)
    slack = model.add_column(max(row.breach(least), row.breach(most)))
    model.slacks.append(Slack(slack, source))
    model.objective[row.tier][slack] = row.weight
    if row.high is not None and most > row.high:
        terms = (*row.terms, (-row.step, Column(slack)))
        model.add_row(terms, None, row.high, "says", source)
        _tighten_both(model, terms, None, row.high, source)
    if row.low is not None and least < row.low:
        terms = (*row.terms, (row.step, Column(slack)))
        model.add_row(terms, row.low, None, "says", source)
        _tighten_both(model, terms, row.low, None, source)


def _tighten_both(
    model: LinearModel, terms: Sequence[Term], low: int | None, high: int | None, source: int
) -> None:
    if len(terms) > LONGEST_TIGHTENED:
        return
    if low is not None:
        _tighten(model, terms, low, source)
    if high is not None:
        _tighten(model, [(-k, c) for k, c in terms], -high, source)


def _tighten(model: LinearModel, terms: Sequence[Term], low: int, source: int) -> None:
    """Rows that cut off fractions of 'reach `low` in whole steps', never a whole-number plan.

    Mixed-integer rounding for sums of whole numbers that are not negative: with low = k*d + r, 0 < r < d,
    and c = a*d + b, the sum of (a*r + min(b, r)) x column reaches (k+1)*r. With d the common step this is
    the border of the hull. Source: Nemhauser and Wolsey 1990, Mathematical Programming 46.
    """
    divisors = sorted({abs(k) for k, _ in terms if abs(k) > 1 and low % abs(k)}, reverse=True)
    for d in divisors[:MOST_DIVISORS]:
        r = low % d
        cut = []
        for k, c in terms:
            a, b = divmod(k, d)
            if weight := a * r + min(b, r):
                cut.append((weight, c))
        model.add_row(cut, (low // d + 1) * r, None, "tightens", source)


class _Sides:
    """From which side each column has to be held: `up` when lower would be cheaper, `down` when higher."""

    def __init__(self, store: RowStore) -> None:
        self.up = bytearray(len(store.columns))
        self.down = bytearray(len(store.columns))

    def note_row(self, row: Row) -> None:
        up, down = self.up, self.down
        if row.high is not None:
            for k, c in row.terms:
                (up if k > 0 else down)[c] = 1
        if row.low is not None:
            for k, c in row.terms:
                (up if k < 0 else down)[c] = 1

    def _note(self, column: int, held_up: bool) -> None:
        if held_up:
            self.up[column] = 1
        else:
            self.down[column] = 1

    def note_parts(self, column: int, terms: Sequence[Term]) -> None:
        """What a worked-out column is held by, its parts are held by: held up from below needs parts up."""
        for k, c in terms:
            if self.up[column]:
                self._note(c, k > 0)
            if self.down[column]:
                self._note(c, k < 0)


def _define(model: LinearModel, sides: _Sides) -> None:
    columns = model.store.columns
    for i in range(len(columns) - 1, 1, -1):  # parts stand before what is worked out from them
        if columns[i].kind != "placed":
            sides.note_parts(i, columns[i].terms)
    for i, column in enumerate(columns):
        if column.kind in ("constant", "placed"):
            continue
        if sides.up[i]:
            _hold_up(model, i)
        if sides.down[i]:
            _hold_down(model, i)


def _hold_up(model: LinearModel, i: int) -> None:
    """Rows that keep a worked-out column from lying below its value."""
    column = model.store.columns[i]
    if column.kind == "any":
        for _, c in column.terms:
            model.rows.append(LinearRow(0, None, (i, c), (1, -1), "defines"))
        return
    terms, constant = model.store.merged(column.terms)
    if column.kind == "over":
        whole = ((1, Column(i)), *((-k, c) for k, c in terms))
        model.add_row(whole, constant - column.number, None, "defines")
        _tighten_both(model, whole, constant - column.number, None, -1)
        return
    if column.kind == "rounds":
        model.add_row(((column.number, i), *((-k, c) for k, c in terms)), constant, None, "defines")
        return
    most = model.store.range_of(terms)[1] + constant
    rest = ((most - column.number + 1, i), *((-k, c) for k, c in terms))
    model.add_row(rest, constant - column.number + 1, None, "defines")
    for k, c in terms:
        if k + constant >= column.number and len(terms) > 1 and model.high[c] == 1:
            model.add_row(((1, i), (-1, c)), 0, None, "defines")


def _hold_down(model: LinearModel, i: int) -> None:
    """Rows that keep a worked-out column from lying above its value."""
    column = model.store.columns[i]
    terms, constant = model.store.merged(column.terms)
    least = model.store.range_of(terms)[0] + constant
    minus = tuple((-k, c) for k, c in terms)
    if column.kind == "any":
        model.add_row(((1, i), *minus), None, constant, "defines")
    elif column.kind == "reaches" and least >= 0:
        model.add_row(((column.number, i), *minus), None, constant, "defines")
    elif column.kind == "rounds" and least >= 0:
        model.add_row(((column.number, i), *minus), None, constant + column.number - 1, "defines")
    elif column.kind == "over":
        above = model.add_column(1)
        model.helpers.append(Helper(above, column.terms, column.number))
        model.add_row(((1, i), (-column.high, above)), None, 0, "defines")
        reserve = column.number - least  # when the sum is not above, the row must not bind
        model.add_row(((1, i), *minus, (reserve, above)), None, constant - least, "defines")
    else:
        raise ValueError(
            f"a '{column.kind}' column is used where more is welcome and its sum may be negative: "
            "say the rule with sums that are not negative"
        )
