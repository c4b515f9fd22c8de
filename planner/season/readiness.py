"""'Not ready by the plan's rules': what a main competition asks for and cannot be had any more.

A count and nothing else: it judges no body, and no return stage moves because of it.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from planner import catalogue
from planner.catalogue import Readiness
from planner.domain.block import Competition
from planner.domain.dates import said_day
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem


def not_ready(problem: Problem, plan: Plan, promised: Iterable[Placement], today: date) -> tuple[str, ...]:
    """A sentence for every athlete and main competition ahead for which the plan now holds too little.

    `promised` is the plan as it was first handed out: what it never held itself was not lost by what happened,
    and nothing is said of it.
    """
    given = tuple(promised)
    found = []
    for athlete in problem.athletes:
        for c in problem.competitions_of(athlete):
            if c.importance == "main" and c.first_day > today:
                for event in c.events or problem.block.athlete(athlete).events:
                    asked = catalogue.readiness(event)
                    if asked is not None and (lacks := _lacks(problem, plan, given, c, asked)):
                        found.append(_sentence(c, event, asked, lacks))
    return tuple(dict.fromkeys(found))


def _lacks(
    problem: Problem, plan: Plan, given: tuple[Placement, ...], competition: Competition, asked: Readiness
) -> list[str]:
    """'1 of 2 days with full run-ups' for all that is missing and was promised."""
    first = competition.first_day - timedelta(days=asked.days)

    def days(placements: Iterable[Placement], units: tuple[str, ...]) -> int:
        return len({
            p.day for p in (*problem.history, *placements)
            if p.athlete == competition.athlete and p.unit.id in units and first <= p.day < competition.first_day
        })  # fmt: skip

    lacks = []
    for need in asked.needs:
        now = days(plan.placements, need.units)
        if now < min(need.least, days(given, need.units)):
            lacks.append(f"{now} of {need.least} {'day' if need.least == 1 else 'days'} with {need.what}")
    return lacks


def _sentence(competition: Competition, event: str, asked: Readiness, lacks: list[str]) -> str:
    when = said_day(competition.first_day)
    return (
        f"{competition.athlete} is not ready by the plan's rules for the {event} of {competition.name} ({when}): "
        f"{' and '.join(lacks)} in the {asked.days} days before. Maybe {asked.instead}, choose another "
        "competition, or withdraw: planner log FILE competition-withdrawn ..."
    )
