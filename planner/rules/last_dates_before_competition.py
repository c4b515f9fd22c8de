"""The last heavy lift, full jumps and hard endurance runs lie far enough before a competition.

How many days depends on the unit and on how much the competition matters. The lighter version may come later.
A lift that is meant to be light and fast is a unit of its own and has no last date here.
"""

from datetime import timedelta

from planner.catalogue import event_type, last_date_floor
from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _meet(day: int, importance: str, *events: str) -> Competition:
    """In the athlete's own events, where none is named."""
    on = MONDAY + timedelta(day)
    return Competition("open meeting", "Ada", on, on, events, importance)


_MAIN: dict[str, object] = {"block": {"competitions": (_meet(5, "main"),)}}
_TWO_MORE: dict[str, object] = {
    "block": {
        "competitions": (_meet(5, "main"),),
        "settings": (RuleSetting("last_dates_before_competition", "extra", 2),),
    }
}
_THROUGH: dict[str, object] = {"block": {"competitions": (_meet(4, "train-through"),)}}
RULE = Rule(
    id="last_dates_before_competition",
    tier="should",
    scope="athlete",
    reach=Reach(),
    weight=14,
    source=Source("common practice", "common practice, no source"),
    parameters={"extra": Parameter(0, "days", 0, 14, "days more than the table asks for")},
    examples=(
        Example("heavy-strength + full-long-jumps | - | - | -", 0, "five days before a main one", _MAIN),
        Example("- | heavy-strength | full-long-jumps | -", 2, "four and three days before", _MAIN),
        Example("- | heavy-strength lighter | - | -", 0, "the lighter version", _MAIN),
        Example(
            "full-long-jumps | extensive-tempo | - | -",
            1,
            "jumps 5 days before, 7 are asked of her; tempo may",
            _TWO_MORE,
        ),
        Example(
            "- | full-long-jumps | heavy-strength | heavy-strength",
            1,
            "the day before one trained through",
            _THROUGH,
        ),
    ),
)


def universe() -> Problem:
    meets = (_meet(3, "supporting", "long jump"), _meet(7, "main", "long jump"))
    units = ("heavy-strength", "full-long-jumps")
    return problem(World(units, 4, amounts=("full", "lighter"), block={"competitions": meets}))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            dates = {u: least for u in sorted(problem.units) if (least := _last(problem, meet, u))}
            for day in (d for d in reversed(problem.days) if d < meet.first_day):
                enough = (meet.first_day - day).days - RULE.number(problem, "extra", athlete, day)
                known = [p for p in problem.known_on(athlete, day) if p.dose.word == "full" and p.unit.id in dates]
                late = [(1, board.placed(p)) for p in known if enough < dates[p.unit.id]]
                board.at_most(late, 0, Where(athlete, day, line=meet.line))


def _last(problem: Problem, meet: Competition, unit: str) -> int:
    """Least days from the unit to the competition; 0 when it has no last date."""
    events = meet.events or problem.block.athlete(meet.athlete).events
    return max((last_date_floor(unit, meet.importance, event_type(e)) for e in events), default=0)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for p in view.of(athlete):
            if p.day < problem.block.begins or p.dose.word != "full":
                continue
            for meet in problem.competitions_of(athlete):
                last = _last(problem, meet, p.unit.id)
                if not last or p.day >= meet.first_day:
                    continue
                days, least = (meet.first_day - p.day).days, last + RULE.number(problem, "extra", athlete, p.day)
                if days < least:
                    facts = {"meet": meet.name, "unit": p.unit.name, "days": days, "least": least}
                    tier = RULE.tier_at(problem, athlete, p.day)
                    found.append(Finding(RULE.id, tier, 1, athlete, p.day, facts=facts, line=meet.line))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {facts['unit']} {facts['days']} "
        f"day{'s' * (facts['days'] != 1)} before {facts['meet']}; the least is {counted(facts['least'], 'days')}."
        " Maybe take its lighter version."
    )
