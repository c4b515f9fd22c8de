"""In the cold fast work belongs in a hall: outdoors it wants forty minutes of warm-up, and muscles give less.

Judged by the forecast air temperature of the slot; the lighter version may stand. The plan counts 25 minutes of
warm-up as ever: who runs outdoors all the same takes the longer one. A slot without a forecast is not judged.
"""

from datetime import timedelta

from planner.domain.block import Weather
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._weather import outdoors, said


def _air(*degrees: int) -> dict[str, object]:
    rows = tuple(Weather(MONDAY + timedelta(i), air=10 * t) for i, t in enumerate(degrees))
    return {"block": {"weather": rows}}


_EVENING = {"block": {"weather": (Weather(MONDAY, "evening", air=30), Weather(MONDAY, air=120))}}
RULE = Rule(
    id="cold",
    tier="should",
    scope="athlete",
    reach=Reach(),
    weight=6,
    source=Source("common practice", "Common practice, no source: 8 degrees and 40 minutes of warm-up."),
    parameters={"least": Parameter(80, "tenths of a degree Celsius", -100, 200, "air for fast work outdoors")},
    examples=(
        Example("flying-sprints | - | -", 0, "8 degrees", _air(8)),
        Example("flying-sprints | - | flying-sprints", 1, "7 degrees on Monday, no forecast later", _air(7)),
        Example("- | - | full-long-jumps", 1, "the last edge", _air(12, 12, 0)),
        Example("extensive-tempo + flying-sprints lighter | - | -", 0, "nothing at full speed", _air(3)),
        Example("flying-sprints | -", 1, "3 degrees in the evening, 12 said for the whole day", _EVENING),
    ),
)


def universe() -> Problem:
    rows = tuple(Weather(MONDAY + timedelta(i), air=t) for i, t in enumerate((50, 90, 0)))
    units = ("flying-sprints", "depth-jumps", "mobility")
    return problem(World(units, 3, amounts=("full", "lighter"), kept="depth-jumps", block={"weather": rows}))


def _freezes(problem: Problem, p: Placement) -> bool:
    return p.dose.neural >= 3 and p not in problem.settled and outdoors(problem, p)


def _cold(problem: Problem, p: Placement) -> Weather | None:
    """The row that says the slot is too cold for this placement."""
    row = said(problem, p.day, p.slot, lambda w: w.air)
    least = RULE.number(problem, "least", p.athlete, p.day)
    return row if row is not None and row.air is not None and row.air < least else None


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        for p in problem.in_slot(slot.day, slot.name):
            row = _cold(problem, p) if _freezes(problem, p) else None
            if row is not None:
                board.at_most([(1, board.placed(p))], 0, Where(p.athlete, p.day, p.slot, row.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        row = _cold(problem, p) if _freezes(problem, p) else None
        if row is not None and row.air is not None:
            tier = RULE.tier_at(problem, p.athlete, p.day)
            facts = {"unit": p.unit.name, "air": row.air}
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, row.line))
    return found


def explain(finding: Finding) -> str:
    air = int(str(finding.facts["air"])) / 10
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: {finding.facts['unit']} outdoors at {air:g} "
        "degrees. Maybe a hall, a milder slot, or its lighter version; outdoors with 40 minutes of warm-up."
    )
