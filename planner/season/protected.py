"""What protects a body is not given way on by a change: kept before, it is a must in the re-plan.

A new arrival or a competition that came in makes demands that the handed-out plan did not know. Keeping what was
handed out comes before all targets, so these few rules would lose to it although they are there for health.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.domain.block import RuleSetting
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import book

PROTECTING = ("day_after_arrival", "last_dates_before_competition")


def protecting(
    before: Problem,
    problem: Problem,
    held: Sequence[Placement],
    settled: Sequence[Placement],
    touched: frozenset[str],
) -> tuple[RuleSetting, ...]:
    """Settings that raise these rules to a must, for those whose held plan kept them until something happened.

    `before` is the block as the plan was made for it. A rule that what is settled breaks already is not raised.
    """
    found = []
    for rule in PROTECTING:
        broken = _broken(rule, before, held) | _broken(rule, problem, settled)
        found += [RuleSetting(rule, "tier", "must", name) for name in sorted(touched - broken)]
    return tuple(found)


def _broken(rule: str, problem: Problem, placements: Sequence[Placement]) -> set[str]:
    view = PlanView(Plan.of(placements), problem)
    asked = replace(problem, kept=(), handed_out=())
    return {f.athlete for f in book()[rule].check(view, asked)}
