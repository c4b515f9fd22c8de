"""After a fast day the next day is not fast: speed and tissue both need the day between."""

from datetime import date, timedelta

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

RULE = Rule(
    id="no_two_fast_days_running",
    tier="must",
    scope="athlete",
    reach=Reach(back=2),
    source=Source(
        "study",
        "Haugen, Seiler, Sandbakk, Tønnessen 2019, Sports Medicine - Open 5:44: 48 hours between maximal "
        "sprint sessions; common practice for jumps.",
    ),
    parameters={"days_between": Parameter(1, "days", 0, 2, "days that are not fast between two fast ones")},
    examples=(
        Example("flying-sprints | - | flying-sprints | -", 0, "one day between"),
        Example("flying-sprints | flying-sprints | - | -", 1, "Monday and Tuesday, at the first edge"),
        Example("- | - | flying-sprints | flying-sprints", 1, "at the last edge"),
    ),
)


def universe() -> Problem:
    return problem(World(("flying-sprints", "extensive-tempo"), days=5))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            for apart in range(1, RULE.number(problem, "days_between", athlete, day) + 1):
                before = day - timedelta(apart)
                both = [_fast(board, problem, athlete, d) for d in (before, day)]
                if both != [board.always, board.always]:  # two days that stand already are not ours
                    board.at_most([(1, c) for c in both], 1, Where(athlete, day))


def _fast(board: Board, problem: Problem, athlete: str, day: date) -> Column:
    if problem.competition_on(athlete, day):
        return board.always
    return board.any_of(board.placed(p) for p in problem.known_on(athlete, day) if p.dose.neural >= 3)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            if view.neural(athlete, day) < 3:
                continue
            for apart in range(1, RULE.number(problem, "days_between", athlete, day) + 1):
                before = day - timedelta(apart)
                if view.neural(athlete, before) >= 3 and not _stand(view, problem, athlete, day, before):
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, 1, athlete, day, facts={"before": before}))
    return found


def _stand(view: PlanView, problem: Problem, athlete: str, *days: date) -> bool:
    """Is each of these days fast by the calendar, or by what was done or settled before?"""
    return all(
        problem.competition_on(athlete, d)
        or any(p.dose.neural >= 3 for p in view.on(athlete, d) if p in problem.settled)
        for d in days
    )


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} is fast and so is {finding.facts['before']:%a %d %b}; "
        "at least one day between is needed. Maybe take the lighter version of one, or move it a day."
    )
