"""The day after a competition is easy, and the next fast day waits for the event's hours.

Hours count from the last day of the competition to the date of the training, and are kept when at most six
are missing. Of several events the longest wait holds. After combined events nothing near-maximal either
until five days later.
"""

from datetime import date, timedelta

from planner.catalogue import (
    hours_after_competition,
    hours_to_neural_2_after_combined_events,
)
from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _meet(day: int, *events: str) -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("open meeting", "Ada", on, on, events, "train-through")


_SUNDAY: dict[str, object] = {"block": {"competitions": (_meet(-1, "long jump"),)}}  # before the block
_TRIPLE: dict[str, object] = {"block": {"competitions": (_meet(0, "triple jump"),)}}
_NO_SLACK = (RuleSetting("day_after_competition", "slack", 0),)
_STRICT: dict[str, object] = {"block": {"competitions": (_meet(-1, "long jump"),), "settings": _NO_SLACK}}
_MUCH_SLACK = (RuleSetting("day_after_competition", "slack", 22),)
_LOOSE: dict[str, object] = {"block": {"competitions": (_meet(0, "triple jump"),), "settings": _MUCH_SLACK}}
_TEN: dict[str, object] = {"block": {"competitions": (_meet(-3, "decathlon"),)}}
RULE = Rule(
    id="day_after_competition",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "hours after a competition by event: common practice, no source"),
    parameters={"slack": Parameter(6, "hours", 0, 24, "hours that may be missing")},
    examples=(
        Example("mobility | flying-sprints | - | -", 0, "48 hours after a long jump, none missing", _STRICT),
        Example("full-run-ups | - | - | -", 1, "near-maximal on the day after, first edge", _SUNDAY),
        Example("- | - | full-run-ups + flying-sprints | -", 1, "48 hours, a triple jump needs 72", _TRIPLE),
        Example("- | - | flying-sprints | -", 1, "48 hours, and 22 of slack are 70", _LOOSE),
        Example("- | full-run-ups | - | flying-sprints", 2, "96 and 144 hours after ten events", _TEN),
    ),
)  # fmt: skip


def universe() -> Problem:
    meets = (_meet(-4, "decathlon"), _meet(2, "triple jump"))
    return problem(World(("flying-sprints", "full-run-ups"), days=6, block={"competitions": meets}))


def _events(problem: Problem, meet: Competition) -> tuple[str, ...]:
    return meet.events or problem.block.athlete(meet.athlete).events


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            for meet in problem.competitions_of(athlete):
                demands = _barred(problem, meet, day)
                barred = [p for p in problem.known_on(athlete, day) if p.dose.neural in demands]
                sure = sum(p in problem.settled for p in barred)
                where = Where(athlete, day, line=meet.line)
                board.at_most([(1, board.placed(p)) for p in barred], sure, where)


def _barred(problem: Problem, meet: Competition, day: date) -> set[int]:
    """The neural demands that a day cannot have after a competition."""
    days = (day - meet.last_day).days
    if days <= 1:
        return {2, 3} if days == 1 else set()
    hours = days * 24 + RULE.number(problem, "slack", meet.athlete, day)
    events = _events(problem, meet)
    barred = {3} if any(hours < hours_after_competition(e)[0] for e in events) else set()
    many = any(e.lower().endswith(("athlon", "combined events")) for e in events)
    return barred | {2} if many and hours < hours_to_neural_2_after_combined_events() else barred


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            waits = {2: 48, 3: 48}  # neural demand -> hours from the last day; the day after is always easy
            for event in _events(problem, meet):
                waits[3] = max(waits[3], hours_after_competition(event)[0])
                if event.lower().endswith(("athlon", "combined events")):
                    waits[2] = max(waits[2], hours_to_neural_2_after_combined_events())
            for p in view.of(athlete):
                days = (p.day - meet.last_day).days
                if days < 1 or p.dose.neural < 2 or p in problem.settled or p.day not in problem.days:
                    continue
                slack = RULE.number(problem, "slack", athlete, p.day)
                if days == 1 or 24 * days + slack < waits[p.dose.neural]:
                    facts = {
                        "meet": meet.name,
                        "unit": p.unit.name,
                        "days": days,
                        "hours": waits[p.dose.neural],
                    }
                    tier = RULE.tier_at(problem, athlete, p.day)
                    found.append(Finding(RULE.id, tier, 1, athlete, p.day, facts=facts, line=meet.line))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {facts['unit']} {facts['days']} "
        f"day{'s' * (facts['days'] != 1)} after {facts['meet']}; it needs {facts['hours']} hours. "
        "Maybe take an easy unit, or move it back."
    )
