"""A minor has at least two days a week free of organised sport, other sport included.

Asked for in whole calendar weeks. When other sport and competitions alone leave fewer days, no further day is
taken, and that is all that can be asked of a plan.
"""

from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

_BOY = Athlete("Ada", date(2013, 2, 1), "m", ("all",), "novice", other_sport_minutes={0: 60, 2: 60})
_GROWN = Athlete("Ada", date(2009, 3, 1), "m", ("all",), "novice")  # eighteen on that Monday
_MINOR: dict[str, object] = {"persons": (_BOY,)}  # football on Monday and Wednesday
RULE = Rule(
    id="days_off_youth",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "consensus",
        "Brenner and Council on Sports Medicine and Fitness 2016, Pediatrics 138(3):e20162148: one to two "
        "days off organised sport a week; two asked for here, a club may have its own rule.",
    ),
    parameters={
        "days": Parameter(2, "days a week", 0, 7, "free of organised sport"),
        "below_age": Parameter(18, "years", 8, 21, "for whom it holds"),
    },
    examples=(
        Example(
            "mobility | mobility | - | mobility | mobility | - | -", 0, "five days with football", _MINOR
        ),
        Example("- | mobility | - | mobility | mobility | mobility | -", 1, "six days with football", _MINOR),
        Example("- | mobility | - | - | mobility | mobility | mobility", 1, "six, at the last edge", _MINOR),
        Example(
            "mobility | mobility | mobility | mobility | mobility | mobility | -",
            0,
            "eighteen on that Monday, not a minor any more",
            {"persons": (_GROWN,)},
        ),
        Example("mobility | mobility | mobility | mobility | mobility | -", 0, "not a whole week", _MINOR),
    ),
)


def universe() -> Problem:
    return problem(World(("mobility",), days=9, persons=(_BOY,)))


def constrain(board: Board, problem: Problem) -> None:
    for person in problem.block.athletes:
        for week in problem.weeks[person.name]:
            first = week.days[0]
            age = person.age_on(first)
            if len(week.days) < 7 or age is None or age >= _below(problem, person, first):
                continue
            columns: list[tuple[int, Column]] = []
            sure = 0
            for day in week.days:
                known = problem.known_on(person.name, day)
                certain = bool(person.other_sport_minutes.get(day.weekday(), 0))
                certain = certain or problem.competition_on(person.name, day) is not None
                certain = certain or any(p in problem.settled for p in known)
                sure += certain
                used = board.always if certain else board.any_of(board.placed(p) for p in known)
                columns.append((1, used))
            most = 7 - RULE.number(problem, "days", person.name, first)
            board.at_most(columns, max(most, sure), Where(person.name, first))


def _below(problem: Problem, person: Athlete, day: date) -> int:
    return RULE.number(problem, "below_age", person.name, day)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for person in problem.block.athletes:
        for week in problem.weeks[person.name]:
            first = week.days[0]
            age = person.age_on(first)
            young = age is not None and age < _below(problem, person, first)
            if not young or len(week.days) != 7:
                continue
            given = {d for d in week.days if person.other_sport_minutes.get(d.weekday(), 0)}
            given |= {d for d in week.days if problem.competition_on(person.name, d)}
            given |= {p.day for p in view.in_week(week) if p in problem.settled}
            used = given | set(view.training_days(week))
            free = 7 - len(used)
            wanted = min(RULE.number(problem, "days", person.name, first), 7 - len(given))
            if free < wanted:
                facts = {"free": free, "wanted": wanted, "other": len(given)}
                tier = RULE.tier_at(problem, person.name, first)
                found.append(Finding(RULE.id, tier, wanted - free, person.name, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {counted(facts['free'], 'days')} free of "
        f"organised sport, needed: {facts['wanted']}. "
        "Maybe train on a day with other sport, or leave a session out."
    )
