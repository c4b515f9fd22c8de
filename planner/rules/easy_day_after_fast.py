"""After a fast day the next day is easy or free; a medium day is tolerated at a price.

Days that are settled on both sides (done, handed out, competitions) are not spoken of.
"""

from datetime import timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._columns import at_neural
from planner.rules._facts import judged_days, settled_neural
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_MEET = {"competitions": (Competition("Meeting", "Ada", MONDAY + timedelta(2), MONDAY + timedelta(3)),)}

RULE = Rule(
    id="easy_day_after_fast",
    tier="should",
    weight=6,
    scope="athlete",
    reach=Reach(back=1),
    source=Source("common practice", "Common practice, no source: hard days and easy days differ clearly."),
    parameters={"easy": Parameter(1, "level of demand, 0-3", 0, 2, "what still counts as an easy day")},
    examples=(
        Example("flying-sprints | low-multi-jumps | - | -", 0, "an easy day after a fast one"),
        Example("flying-sprints | short-long-jumps | - | -", 1, "a medium day after it, at the first edge"),
        Example("- | - | flying-sprints | flying-sprints", 2, "fast again, two levels, at the last edge"),
        Example("short-long-jumps | -", 1, "fast on the day before the block", {"history": "flying-sprints"}),
    ),
)


def universe() -> Problem:
    return problem(
        World(
            ("flying-sprints", "short-long-jumps"),
            days=5,
            amounts=("full",),
            history="flying-sprints",
            block=_MEET,
        )
    )


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            fast = at_neural(board, problem, athlete, day - timedelta(1), 3)
            for level in range(RULE.number(problem, "easy", athlete, day) + 1, 4):
                high = at_neural(board, problem, athlete, day, level)
                if not fast == high == board.always:
                    board.at_most([(1, fast), (1, high)], 1, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            before, easy = day - timedelta(1), RULE.number(problem, "easy", athlete, day)
            if view.neural(athlete, before) < 3:
                continue
            if settled_neural(problem, athlete, before) >= 3:
                easy = max(easy, settled_neural(problem, athlete, day))
            above = view.neural(athlete, day) - easy
            if above > 0:
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, above, athlete, day, facts={"before": before}))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} should be easy, for {finding.facts['before']:%a %d %b} "
        f"is fast; it is {finding.amount} level{'s' * (finding.amount > 1)} too high. "
        "Maybe take its lighter version, or move it to the day after."
    )
