"""The row store: what the rules said through the Board, as linear rows over whole-number columns.

No solver is imported here. CP-SAT, the linear relaxation and the second solver are all written out from
this one store (see linear.py), and it can be evaluated as it stands: given a plan, every worked-out column,
every broken row and every price follows without any solver. The proof that a rule's two faces agree
rests on that.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from planner.domain.finding import Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.rules import BookRule
from planner.rules._board import Board, Column, Term
from planner.rules._rule import Rule

Kind = Literal["constant", "placed", "any", "over", "rounds", "reaches"]
ONE = Column(0)
ZERO = Column(1)
NO_BOUND = 1 << 60


class ColumnDef(NamedTuple):
    """A whole-number column and how it is worked out. `terms` and `number` are the verb's arguments."""

    kind: Kind
    low: int
    high: int
    terms: tuple[Term, ...] = ()
    number: int = 0
    placement: Placement | None = None


class Row(NamedTuple):
    """One sentence of a rule: low <= sum of terms <= high (None: no bound on that side).

    When `tier` is must it holds; otherwise each started `step` beyond it costs `weight`.
    """

    rule: str
    tier: Tier
    weight: int
    where: Where
    terms: tuple[Term, ...]
    low: int | None
    high: int | None
    step: int = 1

    def breach(self, activity: int) -> int:
        """How many started steps the activity lies beyond the bounds; 0 when it holds."""
        short = 0 if self.low is None else max(0, self.low - activity)
        above = 0 if self.high is None else max(0, activity - self.high)
        return -(-(short + above) // self.step)


@dataclass
class Evaluation:
    """What a plan amounts to by the rows: broken must rows, and the points per tier and rule."""

    broken: list[Row] = field(default_factory=list)
    price: dict[Tier, dict[str, int]] = field(default_factory=dict)

    def total(self, tier: Tier) -> int:
        return sum(self.price.get(tier, {}).values())


class RowStore:
    """All columns and rows of one problem, in the order the rules were asked."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.columns: list[ColumnDef] = []
        self._lows: list[int] = []  # of the columns: sums ask for them a hundred thousand times
        self._highs: list[int] = []
        for constant in (1, 0):  # ONE, ZERO
            self._add(ColumnDef("constant", constant, constant))
        self.rows: list[Row] = []
        self._placed: dict[Placement, Column] = {}
        self._known: dict[tuple[Kind, tuple[Term, ...], int], Column] = {}
        self._any_of: dict[tuple[Column, ...], Column] = {}
        for p in (*problem.history, *problem.kept):
            self._placed[p] = ONE
        for p in problem.candidates:
            if p not in self._placed:
                self._placed[p] = self._add(ColumnDef("placed", 0, 1, placement=p))

    def _add(self, column: ColumnDef) -> Column:
        self.columns.append(column)
        self._lows.append(column.low)
        self._highs.append(column.high)
        return Column(len(self.columns) - 1)

    def column_of(self, placement: Placement) -> Column:
        """The column of a placement: constant 1 when settled, constant 0 when it is no candidate."""
        return self._placed.get(placement, ZERO)

    @property
    def free(self) -> list[Column]:
        """The 0/1 columns that a solver chooses: one a candidate."""
        return [Column(i) for i, c in enumerate(self.columns) if c.kind == "placed"]

    def without(self, left_out: Collection[int]) -> RowStore:
        """The same columns and rows, but for some rows (by number): to see what a plan without them costs."""
        gone = set(left_out)
        smaller = RowStore(self.problem)
        smaller.columns, smaller._placed = self.columns, self._placed
        smaller._known, smaller._any_of = self._known, self._any_of
        smaller._lows, smaller._highs = self._lows, self._highs
        smaller.rows = [row for i, row in enumerate(self.rows) if i not in gone]
        return smaller

    def board(self, rule: Rule) -> Board:
        """The Board through which this rule writes its rows."""
        return _RuleBoard(self, rule)

    def merged(self, terms: Sequence[Term]) -> tuple[tuple[Term, ...], int]:
        """Terms summed per column in column order, and the constant part."""
        sums = {column: coefficient for coefficient, column in terms}
        order = sorted(sums)
        if len(sums) < len(terms):  # a column stands in it twice
            sums = dict.fromkeys(sums, 0)
            for coefficient, column in terms:
                sums[column] += coefficient
        constant = sums.get(ONE, 0)
        return tuple([(k, c) for c in order if c > ZERO and (k := sums[c])]), constant

    def range_of(self, terms: Sequence[Term]) -> tuple[int, int]:
        """Least and greatest value a sum can take, column by column."""
        return self.least_of(terms), self.most_of(terms)

    def least_of(self, terms: Sequence[Term]) -> int:
        lows, highs = self._lows, self._highs
        return sum([k * (lows[c] if k > 0 else highs[c]) for k, c in terms])

    def most_of(self, terms: Sequence[Term]) -> int:
        lows, highs = self._lows, self._highs
        return sum([k * (highs[c] if k > 0 else lows[c]) for k, c in terms])

    def worked_out(self, kind: Kind, terms: tuple[Term, ...], number: int, high: int) -> Column:
        """The column worked out from others; the same words give the same column."""
        known = self._known.setdefault((kind, terms, number), Column(len(self.columns)))
        if known == len(self.columns):
            self._add(ColumnDef(kind, 0, high, terms, number))
        return known

    def any_of(self, columns: tuple[Column, ...]) -> Column:
        """The column that is 1 when one of these is; they are given in order, each once."""
        known = self._any_of.setdefault(columns, Column(len(self.columns)))
        if known == len(self.columns):
            self._add(ColumnDef("any", 0, 1, tuple([(1, c) for c in columns])))
        return known

    def values(self, chosen: Collection[Placement]) -> list[int]:
        """The value of every column for a plan."""
        values: list[int] = []
        for column in self.columns:
            if column.kind == "constant":
                values.append(column.low)
                continue
            if column.kind == "placed":
                values.append(int(column.placement in chosen))
                continue
            activity = sum(k * values[c] for k, c in column.terms)
            values.append(worked_out_value(column, activity))
        return values

    def evaluate(self, chosen: Collection[Placement]) -> Evaluation:
        """Broken must rows and prices of a plan, by the rows alone."""
        values = self.values(chosen)
        found = Evaluation()
        for row in self.rows:
            steps = row.breach(sum(k * values[c] for k, c in row.terms))
            if not steps:
                continue
            if row.tier == "must":
                found.broken.append(row)
            else:
                tier = found.price.setdefault(row.tier, {})
                tier[row.rule] = tier.get(row.rule, 0) + steps * row.weight
        return found


def form(column: ColumnDef) -> tuple[int, int, int]:
    """(off, size, most): the value is (activity - off) in started sizes, never below 0 nor above most."""
    match column.kind:
        case "any":
            return 0, 1, 1
        case "over":
            return column.number, 1, NO_BOUND
        case "rounds":
            return 0, column.number, NO_BOUND
        case "reaches":
            return column.number - 1, 1, 1
        case _:  # not worked out
            return 0, 1, 0


def worked_out_value(column: ColumnDef, activity: int) -> int:
    """The value of a worked-out column when its terms sum to `activity`."""
    off, size, most = form(column)
    return max(0, min(most, -((off - activity) // size)))


class _RuleBoard:
    """The Board of one rule: tags every row with rule, tier, weight and where it belongs."""

    def __init__(self, store: RowStore, rule: Rule) -> None:
        self._store = store
        self._rule = rule
        self._placed = store._placed

    def placed(self, placement: Placement) -> Column:
        return self._placed.get(placement, ZERO)

    @property
    def always(self) -> Column:
        return ONE

    def any_of(self, columns: Iterable[Column]) -> Column:
        wanted = set(columns)
        wanted.discard(ZERO)
        if ONE in wanted:
            return ONE
        if not wanted:
            return ZERO
        if len(wanted) == 1:
            return wanted.pop()
        return self._store.any_of(tuple(sorted(wanted)))

    def over(self, terms: Sequence[Term], limit: int) -> Column:
        merged, constant = self._store.merged(terms)
        high = self._store.most_of(merged) - (limit - constant)
        return self._store.worked_out("over", merged, limit - constant, high) if high > 0 else ZERO

    def rounds_of(self, terms: Sequence[Term], size: int) -> Column:
        merged, constant = self._store.merged(terms)
        if constant:
            merged = ((constant, ONE), *merged)
        high = -(-self._store.most_of(merged) // size)
        return self._store.worked_out("rounds", merged, size, high) if high > 0 else ZERO

    def reaches(self, terms: Sequence[Term], threshold: int) -> Column:
        merged, constant = self._store.merged(terms)
        if constant >= threshold:
            return ONE
        if self._store.most_of(merged) < threshold - constant:
            return ZERO
        return self._store.worked_out("reaches", merged, threshold - constant, 1)

    def at_most(self, terms: Sequence[Term], limit: int, where: Where, *, step: int = 1) -> None:
        self._row(terms, None, limit, where, step)

    def at_least(self, terms: Sequence[Term], limit: int, where: Where, *, step: int = 1) -> None:
        self._row(terms, limit, None, where, step)

    def implies(self, column: Column, any_of: Iterable[Column], where: Where) -> None:
        one = self.any_of(any_of)
        self._row(((1, column), (-1, one)), None, 0, where, 1)

    def _row(
        self, terms: Sequence[Term], low: int | None, high: int | None, where: Where, step: int
    ) -> None:
        problem, rule = self._store.problem, self._rule
        merged, constant = self._store.merged(terms)
        low = None if low is None else low - constant
        high = None if high is None else high - constant
        if (low is None or self._store.least_of(merged) >= low) and (
            high is None or self._store.most_of(merged) <= high
        ):
            return  # holds whatever the plan is
        if problem.switched_off(rule.id, where.athlete, where.day):
            return
        tier = rule.tier_at(problem, where.athlete, where.day)
        weight = rule.weight_at(problem, where.athlete, where.day)
        self._store.rows.append(Row(rule.id, tier, weight, where, merged, low, high, step))


ONE_AMOUNT = "one_amount"  # tags the rows below; no file of the rule book, because no plan can say otherwise


def write_rows(problem: Problem, rules: Mapping[str, BookRule]) -> RowStore:
    """The store of a problem: what every rule says, after the one thing that lies in the records themselves.

    A unit stands in a slot at one amount: full and lighter are two forms of the same placement.
    """
    store = RowStore(problem)
    places: dict[tuple[object, ...], list[Placement]] = {}
    once = dict.fromkeys((*problem.candidates, *problem.kept))  # most of them stand in order already
    for p in sorted(once, key=lambda p: p.key):
        places.setdefault(p.key[:4], []).append(p)
    for same in places.values():
        if len(same) == 1:
            continue
        terms, constant = store.merged([(1, store.column_of(p)) for p in same])
        if terms and len(terms) + constant > 1:
            where = Where(same[0].athlete, same[0].day, same[0].slot)
            store.rows.append(Row(ONE_AMOUNT, "must", 1, where, terms, None, max(0, 1 - constant)))
    for rule in rules.values():
        rule.constrain(store.board(rule.rule), problem)
    return store
