"""Two or three days before a competition that matters there is a last short, sharp piece of work.

It is near-maximal and fast or springy: accelerations, run-ups, starts, short jumps. Asked for before a main
and a supporting competition; where nothing of the kind can be placed on these days, nothing is asked for.
"""

from datetime import date, timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

SHARP = ("acceleration", "top-speed", "run-ups", "technical-jumps", "hurdles")


def _meet(day: int, importance: str) -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("open meeting", "Ada", on, on, ("long jump",), importance)


_MAIN: dict[str, object] = {"block": {"competitions": (_meet(3, "main"),)}}
_LATER: dict[str, object] = {"block": {"competitions": (_meet(5, "supporting"),)}}
RULE = Rule(
    id="sharp_before_competition",
    tier="should",
    scope="athlete",
    reach=Reach(back=30, forward=30),
    weight=6,
    source=Source("common practice", "common practice, no source"),
    parameters={
        "earliest": Parameter(3, "days before", 2, 5, "first day on which it counts"),
        "latest": Parameter(2, "days before", 1, 4, "last day on which it counts"),
    },
    examples=(
        Example("full-run-ups | - | - | -", 0, "three days before", _MAIN),
        Example("- | full-run-ups | - | -", 0, "two days before", _MAIN),
        Example("- | - | full-run-ups | -", 1, "too late", _MAIN),
        Example("full-run-ups lighter | power-lifts | - | -", 1, "lighter ones and lifts are not sharp", _MAIN),
        Example("full-run-ups | full-run-ups | - | -", 1, "too early, last edge", _LATER),
    ),
)


def universe() -> Problem:
    meets = (_meet(3, "main"), _meet(7, "supporting"), _meet(5, "train-through"))
    return problem(World(("full-run-ups", "mobility"), days=6, block={"competitions": meets}))


def _is_sharp(p: Placement) -> bool:
    return p.unit.family in SHARP and p.dose.neural >= 2


def _days(problem: Problem, meet: Competition) -> list[date]:
    """The days on which it counts; none when they do not all lie in the block or nothing asks for it."""
    if meet.importance == "train-through":
        return []
    first = RULE.number(problem, "earliest", meet.athlete, meet.first_day)
    last = RULE.number(problem, "latest", meet.athlete, meet.first_day)
    days = [meet.first_day - timedelta(i) for i in range(first, last - 1, -1)]
    inside = bool(days) and problem.block.begins <= days[0] and days[-1] <= problem.block.ends
    return days if inside else []


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            days = _days(problem, meet)
            known = [p for d in days for p in problem.known_on(athlete, d) if _is_sharp(p)]
            if known:
                where = Where(athlete, days[-1], line=meet.line)
                board.at_least([(1, board.any_of(board.placed(p) for p in known))], 1, where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            days = _days(problem, meet)
            done = [p for d in days for p in view.on(athlete, d) if _is_sharp(p)]
            possible = any(_is_sharp(p) for d in days for p in problem.known_on(athlete, d))
            if possible and not done:
                tier = RULE.tier_at(problem, athlete, days[-1])
                facts = {"meet": meet.name, "first": days[0]}
                found.append(Finding(RULE.id, tier, 1, athlete, days[-1], facts=facts, line=meet.line))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: nothing short and sharp from {finding.facts['first']:%a %d %b} to "
        f"{finding.day:%a %d %b}, before {finding.facts['meet']}. "
        "Maybe a few run-ups or accelerations at full speed and half the usual amount."
    )
