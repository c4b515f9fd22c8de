"""When the musts collide: which of the coach's own lines, and the cheapest ways out, each of them tried."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.domain.block import MOST_WEIGHT
from planner.domain.errors import Told
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules import BookRule
from planner.solve.assumed import Group, irreducible_rows
from planner.solve.cpsat import Limits
from planner.solve.first import first_plan
from planner.solve.linear import linear_model
from planner.solve.one_piece import solve_in_one_piece
from planner.solve.refused import Cause, refused, units_named
from planner.solve.rows import ONE_AMOUNT, RowStore
from planner.solve.state import State

KEEP = "keep_handed_out"
WAY_OUT_SECONDS = 2.0  # deterministic, to see what a way out costs
ONE_PIECE_OF_A_WAY_OUT = 1200  # candidates; beyond it the cost shown is that of the greedy plan
Stop = Callable[[], bool]


@dataclass(frozen=True)
class WayOut:
    """A cause left out, and what the plan then found costs in points of should.

    In a re-plan these are the points beside what changes of the plan athletes hold; that is counted in units.
    `order` sorts ways, the cheapest first, by what the search itself pays: it is never shown.
    """

    without: Cause
    should: int
    order: tuple[int, int] = field(default=(0, 0), repr=False)
    more_collide: bool = False  # it helps here, but other musts of the file still collide
    changes: int | None = None  # units handed out that change; None: nothing was handed out

    def __str__(self) -> str:
        if self.more_collide:
            return f"Without this the rest here can be kept, but other musts still collide: {self.without}"
        lost = f"{self.should} points of should lost"
        if self.changes is not None:
            lost = f"{counted(self.changes, 'units')} handed out changed and {lost}"
        return f"Possible, {lost} in the plan found, without: {self.without}"


class Impossible(Told):
    """The musts cannot all be kept. Conflicts are irreducible: without any one cause the rest can be kept.

    One conflict an athlete whose musts collide by themselves; else one of the whole squad.
    """

    exit_code = 3

    def __init__(self, conflicts: tuple[tuple[Cause, ...], ...], ways_out: tuple[WayOut, ...]) -> None:
        self.conflicts = conflicts
        self.ways_out = ways_out
        lines = ["No plan keeps all of this; any one of each list left out, the others can be kept."]
        for conflict in conflicts:
            lines.append("These collide:")
            lines += [f"  - {cause}" for cause in conflict]
        if ways_out:
            lines.append("Ways out that were tried, the cheapest first:")
            lines += [f"  - Maybe: {way}" for way in ways_out]
        super().__init__("\n".join(lines))

    @property
    def conflict(self) -> tuple[Cause, ...]:
        return self.conflicts[0]


class NotDecided(Told):
    """The musts were neither met nor shown to collide before the budget ended."""

    exit_code = 3


def impossible(
    store: RowStore, rules: Mapping[str, BookRule], random_seed: int = 0, stop: Stop | None = None
) -> Impossible | NotDecided:
    """What to raise when no plan keeps all musts of a store: each athlete alone first, then the squad."""
    musts = [i for i, row in enumerate(store.rows) if row.tier == "must"]
    own: dict[str, list[int]] = {}
    for i in musts:
        own.setdefault(store.rows[i].where.athlete, []).append(i)
    found = []
    for athlete in store.problem.athletes:
        collision = irreducible_rows(store, own.get(athlete, ()), random_seed, stop)
        if collision is not None:
            found.append(collision)
    if not found:
        collision = irreducible_rows(store, musts, random_seed, stop)
        if collision is None:
            return NotDecided(
                "No plan that keeps every must was found in the time given, nor is it proved there is none. "
                "Maybe allow more time, or fix fewer places."
            )
        found.append(collision)
    conflicts, ways = [], []
    for collision in found:
        causes = {group: cause_of(store, rules, group, chosen) for group, chosen in collision.items()}
        conflicts.append((*causes.values(), *_never_offered(store, rules, collision)))
        ways += [way_out(store, rules, group, cause, random_seed, stop) for group, cause in causes.items()]
    ways.sort(key=lambda w: (w.more_collide, w.order, str(w.without)))
    return Impossible(tuple(conflicts), tuple(ways))


def way_out(
    store: RowStore,
    rules: Mapping[str, BookRule],
    left_out: Group,
    cause: Cause,
    random_seed: int,
    stop: Stop | None,
) -> WayOut:
    """Plan without these rows and see what it costs."""
    smaller = store.without(left_out)
    limits = Limits(WAY_OUT_SECONDS, random_seed, stop)
    state = first_plan(smaller, limits)
    if state is None:
        return WayOut(cause, 0, more_collide=True)
    if len(smaller.free) <= ONE_PIECE_OF_A_WAY_OUT:
        solve_in_one_piece(linear_model(smaller), state, limits)
    order = (state.price.should, state.price.prefer)
    return WayOut(cause, _points(smaller, rules, state), order, changes=_changes(smaller.problem, state))


def _points(store: RowStore, rules: Mapping[str, BookRule], state: State) -> int:
    """Points of should, each rule at a weight a coach may give, without what keeping the held plan weighs."""
    found = 0
    for number, row in enumerate(store.rows):
        if row.tier == "should" and row.rule != KEEP:
            weight = row.weight if row.weight <= MOST_WEIGHT else rules[row.rule].rule.weight
            found += state.breach_of(number) * weight
    return found


def _changes(problem: Problem, state: State) -> int | None:
    """How many of the units that were handed out and may change are not in the plan as they were given."""
    if not problem.handed_out:
        return None
    stays = {p.key for p in (*problem.kept, *state.placements())}
    return sum(h.key not in stays and not problem.opened_on(h.athlete, h.day) for h in problem.handed_out)


def cause_of(
    store: RowStore, rules: Mapping[str, BookRule], group: Group, chosen: Iterable[int] | None
) -> Cause:
    """A cause in words: what the rule itself says of a plan that breaks only this.

    `chosen` are the candidates of such a plan; without one the rule's general sentence stands in. One line of the
    coach that means several athletes is said of them all.
    """
    row = store.rows[group[0]]
    where, plan = row.where, tuple(chosen or ())
    if row.rule == ONE_AMOUNT:
        text = f"{_place(where)}: a unit stands in a slot at one amount, full or lighter."
        return Cause(row.rule, where, where.line, text)
    rule = rules[row.rule]
    places = dict.fromkeys(store.rows[r].where for r in group)
    finding = next((f for place in places if (f := _finding(store, rule, place, plan))), None)
    line = where.line or (finding.line if finding else None)
    if finding is not None:
        named = ", ".join(dict.fromkeys(place.athlete for place in places))
        return Cause(row.rule, where, line, rule.explain(replace(finding, athlete=named)), plan)
    return Cause(row.rule, where, line, f"{_place(where)}: {rule.sentence}")


def for_all(store: RowStore, rules: Mapping[str, BookRule], causes: Sequence[Cause]) -> Cause:
    """The same cause met by several athletes, each alone: what the rule says when all of them are there."""
    first, rule = causes[0], rules.get(causes[0].rule)
    if rule is None or first.where.athlete:
        return first
    together = dict.fromkeys(c for cause in causes for c in cause.chosen)
    finding = _finding(store, rule, first.where, together)
    return first if finding is None else replace(first, sentence=rule.explain(finding))


def _never_offered(
    store: RowStore, rules: Mapping[str, BookRule], collision: Mapping[Group, Iterable[int] | None]
) -> tuple[Cause, ...]:
    """For what is asked though nothing of the kind was on offer: what had taken it away."""
    problem = store.problem
    found: dict[Cause, None] = {}
    for group, chosen in collision.items():
        row = store.rows[group[0]]
        finding = None if row.terms else _finding(store, rules[row.rule], row.where, chosen or ())
        if finding is not None:
            day = finding.day
            first, last = (day, day) if day else (problem.block.begins, problem.block.ends)
            found.update(dict.fromkeys(refused(problem, finding, units_named(problem, finding), first, last)))
    return tuple(found)


def _finding(store: RowStore, rule: BookRule, where: Where, chosen: Iterable[int]) -> Finding | None:
    columns = store.columns
    plan = [p for c in chosen if (p := columns[c].placement) is not None]
    place = (where.athlete, where.day, where.slot)
    found = rule.check(PlanView(plan, store.problem), store.problem)
    return next((f for f in found if f.place == place and (where.line in (None, f.line))), None)


def _place(where: Where) -> str:
    parts = [where.athlete or "the squad", f"{where.day:%a %d %b}" if where.day else "", where.slot]
    return ", ".join(p for p in parts if p)
