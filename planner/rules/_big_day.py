"""Which days are big: fast, and heavy in load, in fast units or in working minutes.

Common practice, no source. A competition day has its own rules and is not a big day here. `big_column` is for
`constrain`, `is_big` for `check`.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from types import MappingProxyType

from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column, Term
from planner.rules._rule import Parameter, Rule

WARM_UP_LOAD = 75  # 25 minutes x effort 3, once per session

PARAMETERS: Mapping[str, Parameter] = MappingProxyType(
    {
        "percent": Parameter(120, "percent", 100, 200, "of the load of the athlete's usual fast day"),
        "units": Parameter(3, "units", 2, 6, "fast units on one day"),
        "minutes": Parameter(110, "minutes", 60, 240, "after warm-up, strength left out"),
    }
)


def _usual(problem: Problem, athlete: str, day: date) -> int:
    """Load of the usual fast day (effort x minutes); the coming week's before the block; 0 unknown."""
    week = problem.week_of(athlete, day) or problem.week_of(athlete, day + timedelta(1))
    return week.usual_fast_day if week else 0


def big_column(rule: Rule, board: Board, problem: Problem, athlete: str, day: date) -> Column:
    """0/1: is the day a big one?"""
    if problem.competition_on(athlete, day):
        return board.any_of(())
    known = [(p, board.placed(p)) for p in problem.known_on(athlete, day)]
    fast = [c for p, c in known if p.dose.neural >= 3]
    work = [(p.dose.minutes, c) for p, c in known if p.unit.family != "strength"]
    signs = [
        board.reaches([(1, c) for c in fast], rule.number(problem, "units", athlete, day)),
        board.reaches(work, rule.number(problem, "minutes", athlete, day)),
    ]
    usual = _usual(problem, athlete, day)
    if usual:
        load: list[Term] = [(p.dose.load, c) for p, c in known]
        warm: dict[str, list[Column]] = {}
        for p, c in known:
            if not p.unit.recovery_only:
                warm.setdefault(p.slot, []).append(c)
        load += [(WARM_UP_LOAD, board.any_of(columns)) for _, columns in sorted(warm.items())]
        percent = rule.number(problem, "percent", athlete, day)
        signs.append(board.reaches(load, -(-usual * percent // 100)))
    return board.reaches([(1, board.any_of(fast)), (1, board.any_of(signs))], 2)


def is_big(rule: Rule, view: PlanView, athlete: str, day: date) -> bool:
    """Is the day a big one in this plan?"""
    problem = view.problem
    placed = view.on(athlete, day)
    fast = sum(p.dose.neural == 3 for p in placed)
    if not fast or problem.competition_on(athlete, day):
        return False
    if fast >= rule.number(problem, "units", athlete, day):
        return True
    work = sum(p.dose.minutes for p in placed) - sum(
        p.dose.minutes for p in placed if p.unit.family == "strength"
    )
    if work >= rule.number(problem, "minutes", athlete, day):
        return True
    usual = _usual(problem, athlete, day)
    percent = rule.number(problem, "percent", athlete, day)
    return bool(usual) and view.day_load(athlete, day) * 100 >= usual * percent
