"""'Cannot be had, because': why the best plan lacks a weekly minimum, a key unit or a wish."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta

from planner.domain.finding import Finding
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.review import review
from planner.rules import BookRule, book
from planner.solve.assumed import irreducible_rows
from planner.solve.conflict import cause_of, for_all
from planner.solve.greedy import Greedy
from planner.solve.refused import Cause, refused, units_in, units_named
from planner.solve.rows import RowStore, write_rows

ASKED = ("weekly_minimum", "main_unit_of_the_phase", "wishes")  # whose findings make a coach ask 'why?'
MOST_REMARKS = 40  # sentences; a plan with more of them needs another block file, not a longer list
Denials = list[tuple[Finding, tuple[Cause, ...]]]  # of one thing to one athlete, every date that is told at once
# How far around a finding's days musts are looked at: fewer can hide a collision, never invent one.
DAYS_BEFORE, DAYS_AFTER = timedelta(days=14), timedelta(days=7)  # the athlete's own
DAYS_OF_OTHERS = timedelta(days=2)


def shortfalls(
    plan: Plan,
    problem: Problem,
    stop: Callable[[], bool] | None = None,
    rules: Mapping[str, BookRule] | None = None,
) -> tuple[str, ...]:
    """For every weekly minimum, main unit and wish the plan does not give and no plan could: one sentence.

    The same thing denied by the same causes in several weeks is said once, with the other dates.
    """
    told = book() if rules is None else rules
    findings = [f for f in review(plan, problem).findings if f.rule in ASKED and f.tier != "must"]
    if not findings:
        return ()
    asking = Asking(write_rows(problem, told), plan, told, stop)
    said: dict[tuple[object, ...], list[tuple[Finding, tuple[Cause, ...]]]] = {}
    for finding in findings:
        if (stop is not None and stop()) or len(said) >= MOST_REMARKS:
            break
        if causes := asking.why_not(finding):
            what = (finding.rule, finding.athlete, *(str(v) for v in finding.facts.values()))
            same = (what, frozenset((c.rule, c.line) for c in causes))
            said.setdefault(same, []).append((finding, causes))
    return _for_all(asking, list(said.values()))


def _for_all(asking: Asking, denied: list[Denials]) -> tuple[str, ...]:
    """What is denied to several athletes in the same words is said once, with all their names."""
    alike: dict[str, list[Denials]] = {}
    for denials in denied:
        alike.setdefault(_without_name(asking.rules, denials), []).append(denials)
    found = []
    for text, same in alike.items():
        names = [denials[0][0].athlete for denials in same]
        said = _without_name(asking.rules, asking.together(same)) if len(names) > 1 else text
        found.append(f"{', '.join(names)}, {said}" if names[0] else said)
    return tuple(found)


def _without_name(rules: Mapping[str, BookRule], denials: Denials) -> str:
    return _sentence(rules, denials).removeprefix(f"{denials[0][0].athlete}, ")


def _sentence(rules: Mapping[str, BookRule], denials: Denials) -> str:
    """What is denied and why; where one thing alone is the cause, what may be done about it."""
    finding, causes = denials[0]
    asked = rules[finding.rule].explain(finding).split(" Maybe ")[0].rstrip(".")
    others = [f"{f.day:%a %d %b}" for f, _ in denials[1:] if f.day is not None]
    more = f" The same holds for {', '.join(others)}." if others else ""
    alike: dict[tuple[object, ...], list[Cause]] = {}
    for c in causes:
        alike.setdefault((c.rule, c.where.athlete, c.line, c.rule == "" and c.sentence), []).append(c)
    because = "; ".join(_fact(same) for same in alike.values())
    remedy = causes[0].sentence.partition(" Maybe ")[2] if len(causes) == 1 else ""
    return f"{asked}: cannot be had, because: {because}.{more}" + (f" Maybe {remedy}" if remedy else "")


def _fact(causes: list[Cause]) -> str:
    """Causes of one rule and line in one clause: the first in full, without its remedy, and how many more."""
    text = causes[0].sentence.split(" Maybe ")[0].rstrip(".")
    line = f" ({causes[0].line})" if causes[0].line else ""
    return text + (f" (and {len(causes) - 1} more of the kind)" if len(causes) > 1 else "") + line


def cannot_be_had(
    store: RowStore,
    plan: Plan,
    finding: Finding,
    rules: Mapping[str, BookRule] | None = None,
    stop: Callable[[], bool] | None = None,
) -> tuple[Cause, ...] | None:
    """Why no plan that keeps the musts can be free of this finding; None when one could (it gave way).

    The finding's row alone is made a must. The causes are an irreducible set of musts, and what was
    impossible from the start (closed, away, limited) for the units that would help.
    """
    return Asking(store, plan, book() if rules is None else rules, stop).why_not(finding)


class Asking:
    """Questions about one plan: what is looked up once serves all of them."""

    def __init__(
        self,
        store: RowStore,
        plan: Plan,
        rules: Mapping[str, BookRule],
        stop: Callable[[], bool] | None = None,
    ) -> None:
        self.store = store
        self.rules = rules
        self.stop = stop
        self._values = store.values(frozenset(plan.placements))
        by_hand = Greedy(store)
        by_hand.place_fixed()
        by_hand.repair()
        self._bare = by_hand.state  # what the musts ask for, and nothing else
        self._chosen = tuple(self._bare.chosen)

    def why_not(self, finding: Finding) -> tuple[Cause, ...] | None:
        """See `cannot_be_had`."""
        store, problem = self.store, self.store.problem
        row = _row_of(store, self._values, finding)
        if row is None or self._easily_had(row):
            return None
        found = None
        for musts in (_own_musts(store, finding), _near_musts(store, finding)):
            found = irreducible_rows(store, {*musts, row}, 0, self.stop, kept_last={row: 1})
            if found is not None:
                break
        if found is None:
            return None
        causes = [cause_of(store, self.rules, g, chosen) for g, chosen in found.items() if row not in g]
        units = units_named(problem, finding) or units_in(store, row)
        return (*causes, *refused(problem, finding, units, *_span(problem, finding))) or None

    def together(self, same: list[Denials]) -> Denials:
        """The first of denials that are told in the same words, its causes as they are when all ask for it."""
        (finding, causes), *others = same[0]
        met = [cause for denials in same for cause in denials[0][1]]
        joint = (
            for_all(self.store, self.rules, [c for c in met if (c.rule, c.where) == (cause.rule, cause.where)])
            for cause in causes
        )
        return [(finding, tuple(joint)), *others]

    def _easily_had(self, row: int) -> bool:
        """Does adding one thing after another to the barest plan reach what is asked? Then it can be had."""
        state = self._bare
        if state.price.must:
            return False
        try:
            while state.breach_of(row):
                free = [(c, 1) for c in state.welcome_for(row) if not state.values[c]]
                good = (o for o in free if state.helps(row, [o]) and state.trial([o]).must <= 0)
                if (choice := next(good, None)) is None:
                    return False
                state.apply([choice])
            return True
        finally:
            state.set_to(self._chosen)


def _row_of(store: RowStore, values: Sequence[int], finding: Finding) -> int | None:
    """The broken row behind a finding: same rule and place, then same units, then same amount."""
    wanted = units_named(store.problem, finding)
    best: tuple[tuple[bool, bool], int] | None = None
    for i, row in enumerate(store.rows):
        place = (row.where.athlete, row.where.day, row.where.slot)
        if row.rule != finding.rule or place != finding.place:
            continue
        steps = row.breach(sum(k * values[c] for k, c in row.terms))
        if steps:
            rank = (units_in(store, i) <= wanted if wanted else True, steps == finding.amount)
            if best is None or rank > best[0]:
                best = (rank, i)
    return None if best is None else best[1]


def _own_musts(store: RowStore, finding: Finding) -> list[int]:
    first, last = _span(store.problem, finding)
    return _musts(store, first - DAYS_BEFORE, last + DAYS_AFTER, finding.athlete)


def _near_musts(store: RowStore, finding: Finding) -> list[int]:
    """Musts of everybody around the finding's days: enough to show a collision over shared places."""
    first, last = _span(store.problem, finding)
    near = _musts(store, first - DAYS_OF_OTHERS, last + DAYS_OF_OTHERS, None)
    return sorted({*near, *_own_musts(store, finding)})


def _musts(store: RowStore, first: date, last: date, athlete: str | None) -> list[int]:
    return [
        i for i, r in enumerate(store.rows)
        if r.tier == "must"
        and (athlete is None or r.where.athlete == athlete)
        and (r.where.day is None or first <= r.where.day <= last)
    ]  # fmt: skip


def _span(problem: Problem, finding: Finding) -> tuple[date, date]:
    """The days a finding is about: its own, or its week when its rule counts by weeks."""
    if finding.day is None:
        return problem.block.begins, problem.block.ends
    week = problem.week_of(finding.athlete, finding.day) if finding.athlete else None
    weekly = finding.rule in book() and book()[finding.rule].rule.reach.whole_weeks
    return (week.days[0], week.days[-1]) if week is not None and weekly else (finding.day, finding.day)
