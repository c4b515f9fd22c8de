"""Training days are spread: after two of them running comes a day of rest or recovery.

A training day has more than recovery units; a competition day is one too.
"""

from datetime import date, timedelta

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

RULE = Rule(
    id="even_spread",
    tier="prefer",
    scope="athlete",
    reach=Reach(back=6),
    weight=1,
    source=Source("common practice", "common practice, no source"),
    parameters={"running": Parameter(2, "days", 1, 6, "training days running without a break")},
    examples=(
        Example("flying-sprints | extensive-tempo | mobility | build-ups", 0, "recovery is a break"),
        Example("flying-sprints | extensive-tempo | build-ups | -", 1, "three running, at the first edge"),
        Example("- | flying-sprints | extensive-tempo | build-ups", 1, "at the last edge"),
        Example("build-ups | build-ups | build-ups | build-ups", 2, "four running"),
        Example("build-ups | - | - | -", 1, "two more before", {"history": "build-ups | build-ups"}),
    ),
)


def universe() -> Problem:
    return problem(World(("build-ups", "mobility"), days=5, history="build-ups | build-ups"))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        columns: dict[date, Column] = {}
        for day in problem.days:
            running = RULE.number(problem, "running", athlete, day)
            window = [day - timedelta(i) for i in range(running + 1)]
            for d in window:
                if d not in columns:
                    columns[d] = _trains(board, problem, athlete, d)
            board.at_most([(1, columns[d]) for d in window], running, Where(athlete, day))


def _trains(board: Board, problem: Problem, athlete: str, day: date) -> Column:
    if problem.competition_on(athlete, day):
        return board.always
    return board.any_of(board.placed(p) for p in problem.known_on(athlete, day) if not p.unit.recovery_only)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            running = RULE.number(problem, "running", athlete, day)
            length, d = 0, day
            while length <= running and _did(view, problem, athlete, d):
                length, d = length + 1, d - timedelta(1)
            if length > running:
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, 1, athlete, day, facts={"running": running}))
    return found


def _did(view: PlanView, problem: Problem, athlete: str, day: date) -> bool:
    if problem.competition_on(athlete, day):
        return True
    return any(not p.unit.recovery_only for p in view.on(athlete, day))


def explain(finding: Finding) -> str:
    running = int(str(finding.facts["running"]))
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} is training day {running + 1} running, after {running} a "
        "day of rest or recovery is liked. Maybe move it by a day."
    )
