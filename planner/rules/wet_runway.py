"""On a wet runway nobody goes above 90 %: no full run-up work while rain is forecast.

The lighter version, below 90 %, may stand. Lightning ends any session at once, for 30 minutes from the last
thunder: that is for the people on the spot, no plan can know it. A slot without a forecast is not judged.
"""

from datetime import timedelta

from planner.domain.block import Weather
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._weather import outdoors, said

FAMILIES = ("run-ups", "full-jumps")
NO_RUNWAY = ("relay-changeovers",)


def _rain(*days: int) -> dict[str, object]:
    return {"block": {"weather": tuple(Weather(MONDAY + timedelta(d), "", None, True) for d in days)}}


RULE = Rule(
    id="wet_runway",
    tier="should",
    weight=12,
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: slips, and a board that gives no grip."),
    examples=(
        Example("full-run-ups | flying-sprints", 0, "rain on Tuesday only", _rain(1)),
        Example("full-run-ups + full-long-jumps | -", 2, "both in the rain, first edge", _rain(0)),
        Example("- | full-long-jumps lighter", 0, "below 90 %", _rain(1)),
        Example("- | full-high-jumps", 1, "the last edge, any event", _rain(1)),
        Example("full-run-ups | -", 0, "no forecast"),
    ),
)


def universe() -> Problem:
    units = ("full-run-ups", "full-long-jumps", "flying-sprints")
    made = _rain(0, 2)["block"]
    return problem(World(units, days=3, amounts=("full", "lighter"), kept="full-run-ups", block=made))  # type: ignore[arg-type]


def _slippery(problem: Problem, p: Placement) -> bool:
    at_full = p.unit.family in FAMILIES and p.unit.id not in NO_RUNWAY and p.dose.word == "full"
    return at_full and p not in problem.settled and outdoors(problem, p)


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        row = said(problem, slot.day, slot.name, lambda w: w.rain)
        for p in problem.in_slot(slot.day, slot.name) if row else ():
            if row is not None and _slippery(problem, p):
                board.at_most([(1, board.placed(p))], 0, Where(p.athlete, p.day, p.slot, row.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        row = said(problem, p.day, p.slot, lambda w: w.rain) if _slippery(problem, p) else None
        if row is not None:
            tier = RULE.tier_at(problem, p.athlete, p.day)
            facts = {"unit": p.unit.name}
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, row.line))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: {finding.facts['unit']} on a wet "
        "runway, 90 % is the most there. Maybe its lighter version, a short run-up, or a hall."
    )
