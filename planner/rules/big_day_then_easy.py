"""The day after a big day is easy: nothing above light work, whatever the two-day sum would allow.

Big is a fast day with a load of 120 % of the usual fast day, three fast units, or 110 working minutes. Days
that are settled on both sides are not spoken of.
"""

from datetime import timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._big_day import PARAMETERS, big_column, is_big
from planner.rules._board import Board
from planner.rules._columns import at_neural
from planner.rules._facts import judged_days, settled_neural
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_USUAL = {"week": {"usual_fast_day": 500}}
_BIG = "flying-sprints + full-long-jumps"
_BEFORE = {**_USUAL, "history": "block-starts + short-long-jumps"}


def _meet(day: int) -> dict[str, object]:
    on = MONDAY + timedelta(day)
    return {"block": {"competitions": (Competition("open meeting", "Ada", on, on),)}}


RULE = Rule(
    id="big_day_then_easy",
    tier="should",
    weight=12,
    scope="athlete",
    reach=Reach(back=1),
    source=Source("common practice", "Common practice, no source: a big day is paid for the day after."),
    parameters={"easy": Parameter(1, "level of demand, 0-3", 0, 2, "what counts as easy"), **PARAMETERS},
    examples=(
        Example(f"{_BIG} | low-multi-jumps | -", 0, "65 + 65 minutes, then light"),
        Example(f"{_BIG} | short-long-jumps | -", 1, "130 minutes, then medium, at the first edge"),
        Example("flying-sprints | short-long-jumps | -", 0, "65 minutes is not big"),
        Example(f"- | {_BIG} | flying-sprints", 2, "big, then fast, at the last edge"),
        Example("block-starts + short-long-jumps | full-run-ups", 1, "load 270 + 270 + 75 of 600", _USUAL),
        Example("block-starts + extensive-tempo | full-run-ups", 0, "270 + 250 + 75 of 600", _USUAL),
        Example("depth-jumps + short-triple-jumps | full-run-ups", 1, "175 + 350 + 75 are just 600", _USUAL),
        Example(
            "morning: mobility lighter + evening: block-starts + full-run-ups | full-run-ups",
            0,
            "11 + 270 + 210 + 75 of 600: recovery alone has no warm-up",
            _USUAL,
        ),
        Example("short-long-jumps | -", 1, "big on the day before the block", {"history": _BIG}),
        Example("full-run-ups", 1, "load 615 of 600 on the day before the block", _BEFORE),
        Example(
            "depth-jumps + intensive-bounds + short-rest-runs | full-run-ups", 1, "three fast units, 100 minutes"
        ),
        Example("short-long-jumps + stick-runs + full-run-ups | full-run-ups", 0, "125 minutes, none fast"),
        Example(f"{_BIG} | -", 2, "a competition on the day after", _meet(1)),
        Example(f"{_BIG} | full-run-ups", 0, "a day of competition has its own rules", _meet(0)),
    ),
)


def universe() -> Problem:
    world = World(
        ("block-starts", "flying-sprints", "short-long-jumps"),
        days=4,
        week={"usual_fast_day": 500},
        history=_BIG,
        kept="- | - | block-starts",
    )
    return problem(world)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            big = big_column(RULE, board, problem, athlete, day - timedelta(1))
            for level in range(RULE.number(problem, "easy", athlete, day) + 1, 4):
                high = at_neural(board, problem, athlete, day, level)
                if not big == high == board.always:
                    board.at_most([(1, big), (1, high)], 1, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    stands = PlanView((), problem)
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            before, easy = day - timedelta(1), RULE.number(problem, "easy", athlete, day)
            if not is_big(RULE, view, athlete, before):
                continue
            if is_big(RULE, stands, athlete, before):
                easy = max(easy, settled_neural(problem, athlete, day))
            above = view.neural(athlete, day) - easy
            if above > 0:
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, above, athlete, day, facts={"before": before}))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.facts['before']:%a %d %b} is a big day, so {finding.day:%a %d %b} "
        f"should be easy; it is {finding.amount} level{'s' * (finding.amount > 1)} too high. "
        "Maybe take its lighter version, or move it a day."
    )
