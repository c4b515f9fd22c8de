"""Do the checks count in a plan what the rows count? If not, the program is wrong and says so."""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.errors import OurBug
from planner.domain.finding import TIERS, Tier
from planner.domain.plan import Outcome, Plan
from planner.domain.problem import Problem
from planner.review import review
from planner.rules import BookRule, book
from planner.solve.rows import RowStore, write_rows


class Mismatch(OurBug):
    """The review of a plan and the rows it was solved by disagree: the plan must not reach paper."""


def verify(
    plan: Plan, problem: Problem, outcome: Outcome | None = None, *, store: RowStore | None = None
) -> None:
    """Raise Mismatch when the review counts other musts, or other points for a rule, than the rows do.

    `outcome` is the review of this plan and `store` the rows of this problem; each is made when not given.
    A rule whose form for the solver is on purpose stricter may count more by its rows, never less.
    """
    outcome = outcome or review(plan, problem)
    evaluation = (store or write_rows(problem, book())).evaluate(frozenset(plan.placements))
    by_rows: dict[Tier, dict[str, int]] = {"must": {}}
    for row in evaluation.broken:
        by_rows["must"][row.rule] = 1
    by_rows.update(evaluation.price)
    by_checks = {**outcome.score, "must": {rule: 1 for rule in outcome.score.get("must", {})}}
    unjudged = {text.split(":")[0].replace(" ", "_") for text in outcome.not_judged}
    wrong = [text for tier in TIERS for text in _compare(tier, by_rows, by_checks, unjudged, book())]
    if wrong:
        raise Mismatch("the rows and the checks disagree about this plan: " + "; ".join(wrong))


def _compare(
    tier: Tier,
    by_rows: Mapping[Tier, Mapping[str, int]],
    by_checks: Mapping[Tier, Mapping[str, int]],
    unjudged: set[str],
    rules: Mapping[str, BookRule],
) -> list[str]:
    rows, checks = by_rows.get(tier, {}), by_checks.get(tier, {})
    wrong = []
    for rule in sorted({*rows, *checks} - unjudged):
        one, other = rows.get(rule, 0), checks.get(rule, 0)
        stricter = rule in rules and bool(rules[rule].rule.stricter)
        if one != other and not (stricter and one > other):
            wrong.append(f"{rule.replace('_', ' ')} ({tier}): {one} by its rows, {other} by its check")
    return wrong
