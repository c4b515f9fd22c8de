"""Run every check of the book over a plan; add up the score. No solver."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from planner.domain.finding import TIERS, Finding, Tier
from planner.domain.plan import Outcome, Plan
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import book

ALL_COLUMNS = frozenset({"order", "place", "coach", "group"})


def review(plan: Plan, problem: Problem, given: Collection[str] = ALL_COLUMNS) -> Outcome:
    """Judge a plan by the whole book.

    `given` are the optional columns the plan came with (all, for a plan of ours); a rule that needs one
    that is missing is not judged, and says so. Findings are sorted by tier, rule, athlete and day.
    """
    view = PlanView(plan, problem)
    findings: list[Finding] = []
    not_judged: list[str] = []
    for rule in book().values():
        missing = [c for c in rule.rule.needs if c not in given]
        if missing:
            not_judged.append(f"{rule.id.replace('_', ' ')}: not judged, no {' and no '.join(missing)} given")
            continue
        findings.extend(rule.check(view, problem))
    findings.sort(key=finding_order)
    return Outcome(plan, tuple(findings), score(findings, problem), tuple(not_judged))


def finding_order(finding: Finding) -> tuple[int, str, str, str, str]:
    """Sort key: tier, rule, athlete, day, slot."""
    return (TIERS.index(finding.tier), finding.rule, finding.athlete, str(finding.day), finding.slot)


def score(findings: Iterable[Finding], problem: Problem) -> dict[Tier, dict[str, int]]:
    """Tier -> rule -> points (amount x weight in force); musts count their amounts."""
    total: dict[Tier, dict[str, int]] = {tier: {} for tier in TIERS}
    for f in findings:
        weight = 1 if f.tier == "must" else book()[f.rule].rule.weight_at(problem, f.athlete, f.day)
        total[f.tier][f.rule] = total[f.tier].get(f.rule, 0) + f.amount * weight
    return total


def sentence(finding: Finding) -> str:
    """What the rule says of a finding, in one sentence."""
    return book()[finding.rule].explain(finding)
