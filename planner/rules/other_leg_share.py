"""The young do at least three in ten of their drill take-offs in a week on the other leg.

Counted are drills attached to sessions and units measured in take-offs, by the share the catalogue gives each
leg. Up to 17 years. Every whole or started take-off missing on the other leg counts.
"""

from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import calendar_days
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

OLDEST = 17  # years
EVEN = 50  # percent, where a drill names no share
WHOLE = 100  # hundredths: of a take-off, and per cent
_YOUNG = {"persons": (Athlete("Ada", date(2009, 6, 1), level="advanced"),)}  # seventeen
_DRILLS = {**_YOUNG, "preparation": True}

RULE = Rule(
    id="other_leg_share",
    tier="should",
    weight=2,
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "study",
        "Focke, Spancken, Stockinger, Thürer, Stein 2016, European Journal of Sport Science: 61 "
        "young athletes gained 5.2 % on the take-off leg with practice on both legs, 3.4 % with one.",
    ),
    parameters={"percent": Parameter(30, "percent", 0, 50, "of a week's drill take-offs, on the other leg")},
    examples=(
        Example("short-high-jumps | -", 0, "20 drill take-offs, 8 on the other leg, 6 needed", _DRILLS),
        Example("box-take-offs | -", 5, "16 on one leg: 4.8 are missing", _YOUNG),
        Example("box-take-offs | -", 3, "16 and 20 of penultimate drills: 8 of 10.8", _DRILLS),
        Example("- | box-take-offs + short-high-jumps", 1, "16 of 56 on the other leg, 16.8 needed", _DRILLS),
        Example("- | - | - | - | - | - | - | box-take-offs", 5, "the last week", _YOUNG),
        Example("box-take-offs | -", 0, "a grown-up"),
    ),
)


def universe() -> Problem:
    people = (Athlete("Ada", date(2009, 6, 1), level="advanced"), Athlete("Bo", level="advanced"))
    world = World(
        ("box-take-offs", "short-high-jumps"),
        days=3,
        persons=people,
        preparation=True,
        kept="- | box-take-offs",
    )
    return problem(world)


def _drills(problem: Problem, p: Placement) -> list[tuple[int, Unit]]:
    """Drill take-offs of a placement: how many, of which unit."""
    attached = [(n, problem.units[name]) for name, n, measure in p.dose.preparation if measure == "take-offs"]
    return [*attached, *([(p.dose.amount, p.unit)] if p.dose.measure == "take-offs" else [])]


def _needs(problem: Problem, week: AthleteWeek) -> int | None:
    """Percent needed on the other leg, None for who is older than 17 or of unknown age."""
    age = problem.block.athlete(week.athlete).age_on(week.first_day)
    if age is None or age > OLDEST:
        return None
    return RULE.number(problem, "percent", week.athlete, week.first_day)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            percent = _needs(problem, week)
            if percent is None:
                continue
            terms = []
            for p in (p for d in calendar_days(week) for p in problem.known_on(athlete, d)):
                spare = sum(n * (WHOLE - (u.take_off_share or EVEN) - percent) for n, u in _drills(problem, p))
                if spare:
                    terms.append((spare, board.placed(p)))
            board.at_least(terms, 0, Where(athlete, week.first_day), step=WHOLE)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            percent = _needs(problem, week)
            if percent is None:
                continue
            total = other = 0  # other: hundredths of a take-off
            for day in calendar_days(week):
                for p in view.on(athlete, day):
                    for n, unit in _drills(problem, p):
                        total += n
                        other += n * WHOLE - n * (unit.take_off_share or EVEN)
            missing = -((other - total * percent) // WHOLE)
            if other < total * percent:
                first = week.first_day
                facts = {"total": total, "other": other // WHOLE, "percent": percent, "week": week.begins}
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, missing, athlete, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['other']} of {f['total']} drill take-offs in the week of {f['week']:%d %b} "
        f"are on the other leg, {f['percent']} % are wanted. Maybe do drills on both legs beside the box."
    )
