"""In strong heat there is as much rest as work, and no special endurance and no tempo.

From a WBGT of 27.9 degrees on for who is not used to heat; from 26.0 for anybody under 18. The sheets say
'as much rest as work' for such a slot; this rule keeps the long work out of it. Days of getting used to heat
are counted as in the rule about heat. A slot without a forecast is not judged.
"""

from datetime import date, timedelta

from planner.domain.block import Athlete, RuleSetting, Weather
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._weather import heat, is_minor, outdoors, used_to_heat

LONG_WORK = ("special-endurance", "tempo")
_BO = Athlete("Bo", date(2010, 5, 1), events=("long jump",), level="advanced", training_years=4)
_YOUNG: dict[str, object] = {"persons": (_BO,)}


def _in(*tenths: int, **more: object) -> dict[str, object]:
    weather = tuple(Weather(MONDAY + timedelta(i), "", t) for i, t in enumerate(tenths))
    return {"block": {"weather": weather, "settings": (RuleSetting("heat_work_rest", "days", 2),)}, **more}


RULE = Rule(
    id="heat_work_rest",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source(
        "consensus",
        "Armstrong, Casa, Millard-Stafford, Moran, Pyne, Roberts 2007, Medicine and Science in Sports and "
        "Exercise 39(3):556-572: as much rest as work, limit intense work; under 18: American Academy of "
        "Pediatrics 2000, Pediatrics 106(1):158-159. Which units: common practice, no source.",
    ),
    parameters={
        "days": Parameter(10, "days", 0, 21, "in the heat until used to it; 0: is used to it"),
        "new": Parameter(279, "tenths of a degree WBGT", 200, 400, "from here on, not used to heat"),
        "minor": Parameter(260, "tenths of a degree WBGT", 180, 400, "from here on, under 18"),
    },
    examples=(
        Example("extensive-tempo | -", 0, "27.8 degrees", _in(278)),
        Example("extensive-tempo | -", 1, "27.9 at the first edge", _in(279)),
        Example("flying-sprints | special-endurance", 1, "27.9, the last edge", _in(279, 279)),
        Example("- | - | extensive-tempo", 0, "third day in the heat: used to it", _in(279, 279, 279)),
        Example("extensive-tempo | extensive-tempo", 1, "16, 25.9 and 26.0", _in(259, 260, **_YOUNG)),
    ),
)  # fmt: skip


def universe() -> Problem:
    people = (Athlete("Ada", date(2000, 5, 1), events=("400 m",), level="advanced"), _BO)
    block = {
        "weather": tuple(Weather(MONDAY + timedelta(i), "", t) for i, t in enumerate((280, 262, 285))),
        "settings": (RuleSetting(RULE.id, "days", 2),),
    }
    units = ("flying-sprints", "extensive-tempo")
    return problem(World(units, days=3, persons=people, block=block))


def _edge(problem: Problem, athlete: str, day: date) -> int | None:
    """From which WBGT (tenths of a degree) long work is out; None when it never is."""
    edges = []
    if not used_to_heat(problem, athlete, day, RULE.number(problem, "days", athlete, day)):
        edges.append(RULE.number(problem, "new", athlete, day))
    if is_minor(problem, athlete, day):
        edges.append(RULE.number(problem, "minor", athlete, day))
    return min(edges, default=None)


def _is_long(problem: Problem, p: Placement) -> bool:
    return p.unit.family in LONG_WORK and p not in problem.settled and outdoors(problem, p)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for slot in problem.block.slots:
            row, edge = heat(problem, slot.day, slot.name), _edge(problem, athlete, slot.day)
            if row is None or row.wbgt is None or edge is None or row.wbgt < edge:
                continue
            free = (p for p in problem.on(athlete, slot.day) if p.slot == slot.name)
            terms = [(1, board.placed(p)) for p in free if _is_long(problem, p)]
            if terms:
                board.at_most(terms, 0, Where(athlete, slot.day, slot.name, row.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        row, edge = heat(problem, p.day, p.slot), _edge(problem, p.athlete, p.day)
        if row is None or row.wbgt is None or edge is None or not _is_long(problem, p):
            continue
        if row.wbgt >= edge:
            facts = {"unit": p.unit.name, "wbgt": row.wbgt, "edge": edge}
            tier = RULE.tier_at(problem, p.athlete, p.day)
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, row.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: {f['unit']} at a WBGT of "
        f"{int(str(f['wbgt'])) / 10:.1f} degrees; from {int(str(f['edge'])) / 10:.1f} on only work with as "
        "much rest as work. Maybe move it to an early slot."
    )
