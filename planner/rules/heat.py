"""Nobody trains in the open when it is too hot for them, and it takes days to get used to heat.

Judged by the forecast WBGT of the slot: not used to heat, nothing from 30.1 degrees on; used to it, from 30.1
only short fast work with long rests in the shade, nothing from 32.3. Under 18: nothing from 26.0 when not
used to heat, nothing at all from 29.1. Used to heat is who has been in it for ten days since the own arrival
at the camp, or since the first hot day of the file (27.9 and more). A slot without a forecast is not judged;
a gym is not in the open. A clinician and local rules decide; a forecast can be wrong by several degrees.
"""

from dataclasses import replace
from datetime import date, timedelta

from planner.domain.block import Athlete, RuleSetting, Weather
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._weather import heat, is_minor, outdoors, used_to_heat

LONG_WORK = 2  # heavy-legs demand that is not short fast work any more
_BO = Athlete("Bo", date(2010, 5, 1), events=("long jump",), level="advanced", training_years=4)
_OF_AGE = replace(_BO, born=date(2009, 3, 1))  # eighteen on Monday


def _hot(*tenths: int | None) -> tuple[Weather, ...]:
    """The evenings from Monday on."""
    return tuple(Weather(MONDAY + timedelta(i), "evening", t) for i, t in enumerate(tenths) if t is not None)


def _in(
    *tenths: int | None, days: int = 2, camp: tuple[int, int] | None = None, persons: tuple[Athlete, ...] = ()
) -> dict[str, object]:
    """So hot on the evenings from Monday on; a camp from day to day (0 Monday)."""
    block: dict[str, object] = {"weather": _hot(*tenths), "settings": (RuleSetting("heat", "days", days),)}
    if camp is not None:
        block |= {"camp_begins": MONDAY + timedelta(camp[0]), "camp_ends": MONDAY + timedelta(camp[1])}
    return {"block": block, "persons": persons}


_LATE = _in(280, 280, 260, camp=(1, 6), persons=(_BO,))
_ITS_LAST = _in(280, 270, 280, camp=(1, 2), persons=(_BO,))
RULE = Rule(
    id="heat",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source(
        "consensus",
        "Armstrong, Casa, Millard-Stafford, Moran, Pyne, Roberts 2007, Medicine and Science in Sports and "
        "Exercise 39(3):556-572; under 18: American Academy of Pediatrics 2000, Pediatrics 106(1):158-159; "
        "days: Casa and others 2002, Journal of Athletic Training 37(3):329-343.",
    ),
    parameters={
        "days": Parameter(10, "days", 0, 21, "in the heat until used to it; 0: is used to it"),
        "new": Parameter(301, "tenths of a degree WBGT", 200, 400, "nothing from here, not used to heat"),
        "short_work": Parameter(301, "tenths of a degree WBGT", 200, 400, "short fast work only, used to it"),
        "used": Parameter(323, "tenths of a degree WBGT", 200, 400, "nothing from here, used to heat"),
        "new_minor": Parameter(260, "tenths of a degree WBGT", 180, 400, "under 18, not used to heat"),
        "minor": Parameter(291, "tenths of a degree WBGT", 180, 400, "under 18, whoever"),
    },
    examples=(
        Example("flying-sprints | -", 0, "30.0 degrees", _in(300)),
        Example("flying-sprints | mobility", 1, "30.1 on Monday, no forecast on Tuesday", _in(301)),
        Example("- | - | flying-sprints", 0, "third day: used to it, 32.2", _in(280, 280, 322)),
        Example("- | - | extensive-tempo", 1, "the same, long work, last edge", _in(280, 280, 322)),
        Example("- | - | mobility", 1, "used to it, 32.3", _in(280, 280, 323)),
        Example("- | - | flying-sprints", 1, "27.0 on Monday was not hot: one day only", _in(270, 280, 322)),
        Example("flying-sprints | -", 1, "the first hot day, one day is asked for", _in(301, days=1)),
        Example("flying-sprints | flying-sprints | -", 1, "16, 25.9 and 26.0", _in(259, 260, persons=(_BO,))),
        Example("flying-sprints | -", 0, "eighteen on that day, 26.0", _in(260, persons=(_OF_AGE,))),
        Example("- | - | flying-sprints", 0, "16, used to it, 26.0", _in(280, 280, 260, persons=(_BO,))),
        Example("- | - | flying-sprints", 1, "the same, at the camp since Tuesday only", _LATE),
        Example("- | - | flying-sprints", 1, "only the camp's last day, Wednesday, is hot", _ITS_LAST),
        Example("- | - | flying-sprints", 0, "16, used to it, 29.0", _in(280, 280, 290, persons=(_BO,))),
        Example("- | - | flying-sprints", 1, "16, used to it, 29.1", _in(280, 280, 291, persons=(_BO,))),
    ),
)  # fmt: skip


def universe() -> Problem:
    people = (Athlete("Ada", date(2000, 5, 1), events=("long jump",), level="advanced"), _BO)
    settings = (RuleSetting(RULE.id, "days", 2), RuleSetting(RULE.id, "days", 0, athlete="Bo"))
    block = {"weather": _hot(305, 262, 310), "settings": settings}
    return problem(World(("flying-sprints", "extensive-tempo"), days=3, persons=people, block=block))


def _too_hot(problem: Problem, p: Placement) -> int | None:
    """The edge (tenths of a degree) a placement lies beyond; None when it may stand."""
    row = heat(problem, p.day, p.slot)
    if row is None or row.wbgt is None or not outdoors(problem, p):
        return None

    def edge(name: str) -> int:
        return RULE.number(problem, name, p.athlete, p.day)

    used = used_to_heat(problem, p.athlete, p.day, edge("days"))
    edges = [edge("used" if used else "new")]
    if used and p.dose.metabolic >= LONG_WORK:
        edges.append(edge("short_work"))
    if is_minor(problem, p.athlete, p.day):
        edges.append(edge("minor"))
        if not used:
            edges.append(edge("new_minor"))
    return min(edges) if row.wbgt >= min(edges) else None


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for slot in problem.block.slots:
            row = heat(problem, slot.day, slot.name)
            if row is None:
                continue
            columns: list[Column] = []
            for p in problem.on(athlete, slot.day):
                if p.slot == slot.name and p not in problem.settled and _too_hot(problem, p) is not None:
                    columns.append(board.placed(p))
            if columns:
                board.at_most([(1, c) for c in columns], 0, Where(athlete, slot.day, slot.name, row.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        edge = None if p in problem.settled else _too_hot(problem, p)
        row = heat(problem, p.day, p.slot)
        if edge is not None and row is not None:
            facts = {"unit": p.unit.name, "wbgt": row.wbgt, "edge": edge}
            tier = RULE.tier_at(problem, p.athlete, p.day)
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, row.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: {f['unit']} in the open at a WBGT of "
        f"{int(str(f['wbgt'])) / 10:.1f} degrees, for this athlete nothing of the kind from "
        f"{int(str(f['edge'])) / 10:.1f} on. Maybe an early or late slot, or the gym."
    )
