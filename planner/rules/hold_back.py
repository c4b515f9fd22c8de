"""What the coach holds back stays under the coach's ceiling, for the whole athlete and the dates given.

The ceiling is the highest demand of the return stage beside it; 'lighter only' lets nothing stand but the
lighter versions. A hold-back needs no region and no reason. What is light as it is (recovery) may stand.
"""

from datetime import timedelta

from planner.catalogue import return_stage
from planner.domain.block import Limit
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

LIGHT_AS_IT_IS = ("recovery",)  # families


def _held(stage: int, first: int, last: int, lighter: bool = False) -> Limit:
    begins, ends = MONDAY + timedelta(first), MONDAY + timedelta(last)
    return Limit("Ada", "whole", "both", stage, begins, ends, hold_back=True, lighter_only=lighter)


def _in(*limits: Limit) -> dict[str, object]:
    return {"block": {"limits": limits}}


RULE = Rule(
    id="hold_back",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("coach's decision", "the coach's own ceiling; what a stage allows: common practice"),
    examples=(
        Example("short-long-jumps | flying-sprints", 0, "medium; Tuesday is free", _in(_held(4, 0, 0))),
        Example("flying-sprints | flying-sprints", 1, "fast, first edge", _in(_held(4, 0, 0))),
        Example("- | short-long-jumps", 1, "lighter only, last edge", _in(_held(6, 1, 1, True))),
        Example("short-long-jumps lighter | mobility", 0, "lighter, and recovery", _in(_held(6, 0, 1, True))),
        Example("flying-sprints | -", 0, "nobody is held back"),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "extensive-tempo", "mobility")
    limits = (_held(4, 0, 0), _held(6, 1, 1, lighter=True))
    world = World(units, days=3, amounts=("full", "lighter"), kept="short-long-jumps", **_in(*limits))  # type: ignore[arg-type]
    return problem(world)


def _beyond(limit: Limit, p: Placement) -> str:
    """In which way a placement goes beyond the ceiling, in words; '' when it does not."""
    if not limit.hold_back:
        return ""
    most = return_stage(limit.stage).most_neural
    if p.dose.neural > most:
        return f"is at level {p.dose.neural} of fast work, {most} is the ceiling"
    light = p.dose.word == "lighter" or p.unit.family in LIGHT_AS_IT_IS
    return "" if light or not limit.lighter_only else "is the full version, the lighter one is the ceiling"


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            held = [x for x in problem.limits_on(athlete, day) if x.hold_back]
            above: dict[tuple[Limit, str], list[Column]] = {}
            for p in problem.on(athlete, day) if held else ():
                over = [x for x in held if _beyond(x, p)]
                if over and p not in problem.settled:
                    above.setdefault((over[0], p.slot), []).append(board.placed(p))
            for (limit, slot), columns in above.items():
                board.at_most([(1, c) for c in columns], 0, Where(athlete, day, slot, limit.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        if p in problem.settled:
            continue
        said = [(x, how) for x in problem.limits_on(p.athlete, p.day) if (how := _beyond(x, p))]
        if said:
            limit, how = said[0]
            tier = RULE.tier_at(problem, p.athlete, p.day)
            facts = {"unit": p.unit.name, "how": how}
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, limit.line))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete} is held back on {finding.day:%a %d %b}: {finding.facts['unit']} "
        f"{finding.facts['how']}. Maybe take the lighter version, or something easier."
    )
