"""Before a main competition the last bounds, lifts, fast runs and run-ups have their usual dates.

These are the dates coaches like best; the latest ones that will still do are a rule of their own. The lighter
version may come later. Novices train normally until a few days before.
"""

from datetime import timedelta

from planner.catalogue import event_type, taper
from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _meet(day: int, importance: str, event: str = "triple jump") -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("open meeting", "Ada", on, on, (event,), importance)


_MAIN: dict[str, object] = {"block": {"competitions": (_meet(15, "main"),)}}
_SOON: dict[str, object] = {"block": {"competitions": (_meet(4, "main"),)}}
_THREE_MORE = RuleSetting("usual_last_dates_before_competition", "extra", 3)
_MORE: dict[str, object] = {
    "block": {"competitions": (_meet(5, "main"), _meet(3, "supporting")), "settings": (_THREE_MORE,)}
}
RULE = Rule(
    id="usual_last_dates_before_competition",
    tier="prefer",
    scope="athlete",
    reach=Reach(),
    weight=3,
    source=Source("common practice", "common practice, no source"),
    parameters={"extra": Parameter(0, "days", 0, 14, "days more than the table asks for")},
    examples=(
        Example("intensive-bounds | intensive-bounds | - | -", 0, "14 days before, the usual date", _MAIN),
        Example("- | - | intensive-bounds | -", 1, "13 days before", _MAIN),
        Example("power-lifts | full-run-ups | - | full-run-ups", 2, "lifts 4 (5), run-ups 3 (3) and 1", _SOON),
        Example(
            "full-run-ups | - | extensive-tempo | -", 1, "run-ups 5 days before, 6 are asked; tempo may", _MORE
        ),
    ),
)


def universe() -> Problem:
    meets = (_meet(3, "main"), _meet(4, "supporting"))
    units = ("power-lifts", "full-run-ups")
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
    if meet.importance != "main":
        return 0
    athlete = problem.block.athlete(meet.athlete)
    events = meet.events or athlete.events
    return max((taper(event_type(e), athlete.level).last.get(unit, 0) for e in events), default=0)


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
        f"day{'s' * (facts['days'] != 1)} before {facts['meet']}; usual: {facts['least']}."
        " Maybe take its lighter version."
    )
