"""Two days running never add up to more than five on the scale of fast and explosive demand.

A day counts its highest demand, 0 to 3, and a competition day counts 3. Where two days are settled (done,
handed out, competitions) the plan may add nothing to them, and nothing is said about them.
"""

from datetime import date, timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._columns import day_neural
from planner.rules._facts import judged_days, settled_neural
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_MEET = {"competitions": (Competition("Meeting", "Ada", MONDAY + timedelta(3), MONDAY + timedelta(3)),)}

RULE = Rule(
    id="two_day_sum",
    tier="must",
    scope="athlete",
    reach=Reach(back=1),
    source=Source("common practice", "Common practice, no source; five on this scale is the ceiling."),
    parameters={"most": Parameter(5, "levels over two days", 3, 6, "3 is a fast day, 2 medium, 1 easy")},
    examples=(
        Example("flying-sprints | short-long-jumps | - | -", 0, "3 + 2 = 5"),
        Example("flying-sprints | flying-sprints | - | -", 1, "3 + 3 = 6 at the first edge"),
        Example("- | - | flying-sprints | flying-sprints", 1, "3 + 3 = 6 at the last edge"),
        Example("flying-sprints | -", 1, "fast on the day before the block", {"history": "flying-sprints"}),
        Example("- | -", 0, "3 + 3, but both stand already", {
            "units": ("flying-sprints",), "history": "flying-sprints", "kept": "flying-sprints"}),
        Example("- | - | flying-sprints", 1, "a competition on the day after", {"block": _MEET}),
        Example("- | - | flying-sprints", 1, "the same, where 3 + 2 stand already", {
            "block": _MEET, "kept": "- | - | short-long-jumps"}),
    ),
)  # fmt: skip


def universe() -> Problem:
    return problem(
        World(
            ("flying-sprints", "short-long-jumps"),
            days=4,
            amounts=("full", "lighter"),
            history="- | flying-sprints",
            block=_MEET,
        )
    )


def _limit(problem: Problem, athlete: str, before: date, day: date) -> int:
    settled = settled_neural(problem, athlete, before) + settled_neural(problem, athlete, day)
    return max(RULE.number(problem, "most", athlete, day), settled)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        neural: dict[date, list[Term]] = {}
        for day in judged_days(problem, athlete):
            before = day - timedelta(1)
            for d in (before, day):
                if d not in neural:
                    neural[d] = day_neural(board, problem, athlete, d)
            board.at_most(neural[before] + neural[day], _limit(problem, athlete, before, day), Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            before = day - timedelta(1)
            total = view.neural(athlete, before) + view.neural(athlete, day)
            limit = _limit(problem, athlete, before, day)
            if total > limit:
                facts = {"before": before, "total": total, "limit": limit}
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, total - limit, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['before']:%a %d %b} and {finding.day:%a %d %b} add up to {f['total']} on the "
        f"two-day scale, at most {f['limit']}. Maybe take the lighter version of one, or move it a day."
    )
