"""'Cannot be had, because': why the best plan lacks a weekly minimum, a key unit or a wish."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, timedelta

from planner.domain.finding import Finding
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.review import review
from planner.rules import BookRule, book
from planner.solve.assumed import irreducible_rows
from planner.solve.conflict import cause_of
from planner.solve.refused import Cause, refused, units_in, units_named
from planner.solve.rows import RowStore, write_rows

ASKED = ("weekly_minimum", "wishes")  # rules whose findings a coach asks 'why?' about
MOST_REMARKS = 40  # sentences; a plan with more of them needs another block file, not a longer list
NEXT_DAYS = timedelta(days=7)  # musts of other athletes this near to a day are looked at too


def shortfalls(
    plan: Plan,
    problem: Problem,
    stop: Callable[[], bool] | None = None,
    rules: Mapping[str, BookRule] | None = None,
) -> tuple[str, ...]:
    """For every weekly minimum and wish the plan does not give and no plan could: one sentence each."""
    told = book() if rules is None else rules
    findings = [f for f in review(plan, problem).findings if f.rule in ASKED and f.tier != "must"]
    store: RowStore | None = None
    said = []
    for finding in findings[:MOST_REMARKS]:
        if stop is not None and stop():
            break
        store = store or write_rows(problem, told)
        causes = cannot_be_had(store, plan, finding, told, stop)
        if causes:
            said.append(_sentence(told, finding, causes))
    return tuple(dict.fromkeys(said))


def _sentence(rules: Mapping[str, BookRule], finding: Finding, causes: tuple[Cause, ...]) -> str:
    asked = rules[finding.rule].explain(finding).split(" Maybe ")[0].rstrip(".")
    return f"{asked}: cannot be had, because: " + " ".join(str(c) for c in causes)


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
    told = book() if rules is None else rules
    row = _row_of(store, plan, finding)
    if row is None:
        return None
    found = None
    for musts in (_own_musts(store, finding), _near_musts(store, finding)):
        found = irreducible_rows(store, {*musts, row}, 0, stop, kept_last={row: 1})
        if found is not None:
            break
    if found is None:
        return None
    causes = [cause_of(store, told, g, chosen) for g, chosen in found.items() if row not in g]
    units = units_named(store.problem, finding) or units_in(store, row)
    return (*causes, *refused(store.problem, finding, units, *_span(store.problem, finding))) or None


def _row_of(store: RowStore, plan: Plan, finding: Finding) -> int | None:
    """The broken row behind a finding: same rule and place, then same units, then same amount."""
    values = store.values(frozenset(plan.placements))
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
    own = (finding.athlete, "") if not finding.athlete else (finding.athlete,)
    return [i for i, r in enumerate(store.rows) if r.tier == "must" and r.where.athlete in own]


def _near_musts(store: RowStore, finding: Finding) -> list[int]:
    """Musts of everybody around the finding's days: enough to show a collision over shared places."""
    first, last = _span(store.problem, finding)
    return [
        i for i, r in enumerate(store.rows)
        if r.tier == "must" and (r.where.day is None or first - NEXT_DAYS <= r.where.day <= last + NEXT_DAYS)
    ]  # fmt: skip


def _span(problem: Problem, finding: Finding) -> tuple[date, date]:
    """The days a finding is about: its own, or its week when its rule counts by weeks."""
    if finding.day is None:
        return problem.block.begins, problem.block.ends
    week = problem.week_of(finding.athlete, finding.day) if finding.athlete else None
    weekly = finding.rule in book() and book()[finding.rule].rule.reach.whole_weeks
    return (week.days[0], week.days[-1]) if week is not None and weekly else (finding.day, finding.day)
