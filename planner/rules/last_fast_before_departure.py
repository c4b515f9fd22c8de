"""The last fast unit is over at least a day before an athlete departs.

A departure is the start of a camp departure, or of time away that has a clock time and ends on a later date.
A departure given by its date alone begins with the day. Placements that are settled are not spoken of.
"""

from datetime import datetime, time, timedelta

from planner.domain.block import Away
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._travel import ends_at, last_date, plain

_AT = datetime.combine(MONDAY, time(0))


def _leaves(hours: float, kind: str = "camp departure", lasts: int = 48) -> Away:
    when = _AT + timedelta(hours=hours)
    return Away("Ada", when, when + timedelta(hours=lasts), kind)


def _go(*away: Away) -> dict[str, object]:
    return {"block": {"away": away}}


RULE = Rule(
    id="last_fast_before_departure",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: nobody travels on legs of the day before."),
    parameters={"hours": Parameter(24, "hours", 0, 72, "from the end of the unit to the departure")},
    examples=(
        Example(
            "flying-sprints | -", 0, "over on Monday at 18:30, leaves on Tuesday at 18:30", _go(_leaves(42.5))
        ),
        Example("flying-sprints | -", 1, "leaves on Tuesday at 16:00", _go(_leaves(40))),
        Example("- | flying-sprints", 1, "on the day itself, before", _go(_leaves(43))),
        Example("flying-sprints | -", 1, "leaves on Tuesday, no clock", _go(_leaves(24))),
        Example("short-long-jumps | -", 0, "medium", _go(_leaves(40))),
        Example("flying-sprints | -", 0, "two hours away on Tuesday", _go(_leaves(40, "away", 2))),
        Example("flying-sprints | -", 1, "away for the week", _go(_leaves(40, "away"))),
        Example("flying-sprints | -", 0, "away from Tuesday on, no clock", _go(_leaves(24, "away"))),
    ),
)


def universe() -> Problem:
    away = {"away": (_leaves(43), _leaves(86, "away"))}
    units = ("flying-sprints", "short-long-jumps")
    slots = ("morning", "evening")
    return problem(World(units, days=3, slots=slots, kept="- | flying-sprints", block=away))


def _departures(problem: Problem, athlete: str) -> list[Away]:
    found = []
    for away in problem.away_of(athlete, "camp departure", "away"):
        clock = away.begins.time() != time(0) and last_date(away) > away.begins.date()
        if away.kind == "camp departure" or clock:
            found.append(away)
    return found


def _too_late(problem: Problem, p: Placement, away: Away) -> bool:
    """Is it a fast unit before the departure that ends too near to it?"""
    leaves = plain(away.begins)
    rest = timedelta(hours=RULE.number(problem, "hours", p.athlete, p.day))
    return p.dose.neural >= 3 and p.begins < leaves < ends_at(p) + rest


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for away in _departures(problem, athlete):
            for day in problem.days:
                free = (p for p in problem.on(athlete, day) if p not in problem.settled)
                late = [p for p in free if _too_late(problem, p, away)]
                for slot in sorted({p.slot for p in late}):
                    terms = [(1, board.placed(p)) for p in late if p.slot == slot]
                    board.at_most(terms, 0, Where(athlete, day, slot, away.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for away in _departures(problem, athlete):
            for p in view.of(athlete):
                if p in problem.settled or not _too_late(problem, p, away):
                    continue
                tier = RULE.tier_at(problem, athlete, p.day)
                facts = {"unit": p.unit.name, "leaves": away.begins}
                found.append(Finding(RULE.id, tier, 1, athlete, p.day, p.slot, facts, away.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['unit']} on {finding.day:%a %d %b} ends less than a day before the departure "
        f"of {f['leaves']:%a %d %b %H:%M}. Maybe move it a day earlier, or take its lighter version."
    )
