"""A calendar week holds no more fast days than the athlete's level and phase allow.

A competition day is a fast day. Days of the same calendar week before the block count as far as they are
known, competition days after the block too. Settled fast days above the week's number stand, none is added.
"""

from datetime import timedelta

from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._columns import at_neural
from planner.rules._facts import calendar_days, settled_neural
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_TWO = {"fast_days": Count(0, 1, 2)}
_MEET = {"competitions": (Competition("Meeting", "Ada", MONDAY + timedelta(6), MONDAY + timedelta(6)),)}
_MORE = {"settings": (RuleSetting("fast_days_per_week", "beyond", 1, "Ada", MONDAY, MONDAY),)}
_THURSDAY = MONDAY + timedelta(3)

RULE = Rule(
    id="fast_days_per_week",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "common practice", "Common practice, no source: novice 1-2, developing 2-3, advanced 3 a week."
    ),
    parameters={"beyond": Parameter(0, "days", 0, 2, "fast days allowed beyond the week's own number")},
    examples=(
        Example("flying-sprints | - | flying-sprints | -", 0, "two of two", {"week": _TWO}),
        Example(
            "flying-sprints | - | flying-sprints | - | flying-sprints", 1, "three of two", {"week": _TWO}
        ),
        Example(
            "- | - | - | - | - | - | - | flying-sprints | - | flying-sprints | - | flying-sprints",
            1,
            "three of two in the last week",
            {"week": _TWO},
        ),
        Example(
            "flying-sprints | - | flying-sprints",
            1,
            "and Sunday's competition, after the block",
            {"week": _TWO, "block": _MEET},
        ),
        Example(
            "flying-sprints | -",
            1,
            "the block starts on a Thursday after two fast days",
            {"week": _TWO, "first": _THURSDAY, "history": "flying-sprints | - | flying-sprints"},
        ),
        Example(
            "flying-sprints | -",
            1,
            "after three fast days of two: they stand, none is added",
            {"week": _TWO, "first": _THURSDAY, "history": " | ".join(["flying-sprints"] * 3)},
        ),
        Example(
            "flying-sprints | - | flying-sprints | - | flying-sprints",
            0,
            "one more allowed in the week of that Monday",
            {"week": _TWO, "block": _MORE},
        ),
    ),
)


def universe() -> Problem:
    return problem(
        World(
            ("flying-sprints",),
            first=_THURSDAY,
            days=8,
            amounts=("full", "lighter"),
            week=_TWO,
            history="flying-sprints | - | -",
            block=_MEET,
        )
    )


def _limit(problem: Problem, week: AthleteWeek) -> int:
    athlete = week.athlete
    settled = sum(settled_neural(problem, athlete, d) >= 3 for d in calendar_days(week))
    beyond = RULE.number(problem, "beyond", athlete, week.days[0])
    return max(week.fast_days.maximum + beyond, settled)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            fast = [(1, at_neural(board, problem, athlete, d, 3)) for d in calendar_days(week)]
            board.at_most(fast, _limit(problem, week), Where(athlete, week.days[0]))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            days = [d for d in calendar_days(week) if view.neural(athlete, d) == 3]
            limit = _limit(problem, week)
            if len(days) > limit:
                first = week.days[0]
                facts = {"days": days, "limit": limit, "week": week.begins}
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, len(days) - limit, athlete, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    days = finding.facts["days"]
    assert isinstance(days, list)
    named = ", ".join(f"{d:%a}" for d in days)
    return (
        f"{finding.athlete}: week of {finding.facts['week']:%d %b} has {counted(len(days), 'fast days')} "
        f"({named}), at most {finding.facts['limit']}. Maybe take the lighter version of one."
    )
