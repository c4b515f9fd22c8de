"""Heavy robustness work keeps its distance from fast running: sore muscles change how one sprints.

What counts is the full version; the lighter one, a set of holds, may stand on any day. On the same day it comes
after the running, which the order of units sees to. A new athlete's first times are harder to bear: those come
in their lighter version by another rule. Competitions have a rule of their own for the day before.
"""

from datetime import date, timedelta

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

UNIT = "robustness"
RUNNING = ("acceleration", "top-speed", "speed-endurance", "special-endurance", "run-ups", "hurdles")
RULE = Rule(
    id="eccentric_work_apart",
    tier="should",
    scope="athlete",
    reach=Reach(back=3),
    weight=6,
    source=Source("common practice", "Common practice, no source: 48 hours before fast running."),
    parameters={"days": Parameter(1, "days", 0, 3, "days before fast running without heavy robustness work")},
    examples=(
        Example("robustness | - | flying-sprints | -", 0, "two days later"),
        Example("robustness | flying-sprints | - | -", 1, "the day before, at the first edge"),
        Example("- | - | robustness | flying-sprints", 1, "at the last edge"),
        Example("flying-sprints + robustness | - | - | -", 0, "the same day, after the running"),
        Example("robustness lighter | flying-sprints | - | -", 0, "its lighter version"),
        Example("robustness | full-long-jumps | - | -", 0, "jumps are not meant"),
        Example("flying-sprints | - | -", 1, "the day before the block", {"history": "robustness"}),
    ),
)


def universe() -> Problem:
    units = (UNIT, "flying-sprints")
    return problem(World(units, days=4, amounts=("full", "lighter"), history=UNIT, kept="- | - | robustness"))


def _heavy(p: Placement) -> bool:
    return p.unit.id == UNIT and p.dose.word == "full"


def _fast(p: Placement) -> bool:
    return p.unit.family in RUNNING and p.dose.neural >= 3


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        heavy: dict[date, Column] = {}
        for day in problem.days:
            fast = board.any_of(board.placed(p) for p in problem.known_on(athlete, day) if _fast(p))
            for back in range(1, RULE.number(problem, "days", athlete, day) + 1):
                before = day - timedelta(back)
                if before not in heavy:
                    known = problem.known_on(athlete, before)
                    heavy[before] = board.any_of(board.placed(p) for p in known if _heavy(p))
                if (heavy[before], fast) != (board.always, board.always):
                    board.at_most([(1, heavy[before]), (1, fast)], 1, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for back in range(1, RULE.number(problem, "days", athlete, day) + 1):
                before = day - timedelta(back)
                runs = [p for p in view.on(athlete, day) if _fast(p)]
                if not runs or not any(_heavy(p) for p in view.on(athlete, before)):
                    continue
                if any(map(_fast, settled_on(problem, athlete, day))) and any(
                    map(_heavy, settled_on(problem, athlete, before))
                ):
                    continue  # both stand already
                tier = RULE.tier_at(problem, athlete, day)
                facts = {"unit": runs[0].unit.name, "before": before}
                found.append(Finding(RULE.id, tier, 1, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: robustness work on {finding.facts['before']:%a %d %b} is less than two days before "
        f"{finding.facts['unit']} on {finding.day:%a %d %b}. Maybe do it after the running of that day, or take "
        "its lighter version."
    )
