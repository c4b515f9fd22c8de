"""Competitions that what happened stands against: said to the coach, with nothing decided and nobody withdrawn.

It judges no body and moves no return stage: it counts days, and the clinician, the coach and the athlete decide.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from planner.domain.block import Competition
from planner.domain.competing import COMPETES_FROM
from planner.domain.dates import said_day
from planner.domain.facts import Fact, Hurt, OtherLeg, Setback, in_force
from planner.domain.problem import Problem
from planner.season.fact_limits import illnesses
from planner.season.legs import NEW_LEG_DAYS

INJURY_DAYS = 21  # a competition so soon after an injury is unlikely; common practice, no source
JUMPS = ("long jump", "triple jump", "high jump", "pole vault", "all")
WITHDRAW = "planner log FILE competition-withdrawn ..."


def in_doubt(problem: Problem, facts: Sequence[Fact], today: date) -> tuple[str, ...]:
    """A sentence for each athlete and competition ahead: too soon after fever, an injury or a change of leg."""
    told = in_force(tuple(facts))
    found = []
    for athlete in problem.athletes:
        for c in problem.competitions_of(athlete):
            if c.last_day >= today:
                whys = (*_fever(told, c, today), *_injury(problem, told, c, today), *_leg(problem, told, c))
                for why, remedy in whys:
                    found.append(f"{athlete}: {_meet(c)} is in doubt: {why}. Maybe {remedy}: {WITHDRAW}")
    return tuple(dict.fromkeys(found))


def _fever(told: Sequence[Fact], c: Competition, today: date) -> Iterator[tuple[str, str]]:
    """Within the easy days after a fever: one for every day ill, two at least."""
    for ill in illnesses(told, today):
        easy = max((x.ends for x in ill.limits() if x.ends is not None), default=ill.last)
        if ill.athlete == c.athlete and ill.fever and ill.first <= c.last_day and c.first_day <= easy:
            days = (easy - ill.last).days
            yield (
                f"the fever is recorded until {said_day(ill.last)}, and {days} easy days come after it",
                "ask the clinician, and leave it out",
            )


def _injury(
    problem: Problem, told: Sequence[Fact], c: Competition, today: date
) -> Iterator[tuple[str, str]]:
    """Within three weeks of an injury or a setback whose stage, as a person entered it, is below full training."""
    hurt: dict[str, date] = {}
    for f in told:
        if isinstance(f, Hurt | Setback) and f.athlete == c.athlete:
            hurt[f.region] = max(f.day, hurt.get(f.region, f.day))
    limits = [x for x in problem.limits_on(c.athlete, today) if not x.hold_back]
    for region, day in sorted(hurt.items()):
        stages = [x.stage for x in limits if x.region == region]
        after = (c.first_day - day).days
        if stages and min(stages) < COMPETES_FROM and 0 <= after <= INJURY_DAYS:
            yield (
                f"a start {after} days after {said_day(day)} is unlikely ({region.replace('-', ' ')}, return "
                f"stage {min(stages)} now), and no date brings a stage back: people enter it",
                "ask the clinician, and take another competition",
            )


def _leg(problem: Problem, told: Sequence[Fact], c: Competition) -> Iterator[tuple[str, str]]:
    """Within three weeks on a new take-off leg, but where little is at stake."""
    events = c.events or problem.block.athlete(c.athlete).events
    changed = [f.day for f in told if isinstance(f, OtherLeg) and f.changed and f.athlete == c.athlete]
    if not changed or c.importance == "train-through" or not _jumps(events):
        return
    after = (c.first_day - changed[-1]).days
    if 0 <= after < NEW_LEG_DAYS:
        yield (
            f"it lies {after} days after the change of take-off leg, {NEW_LEG_DAYS} are asked for",
            "start in another event, or leave it out",
        )


def _jumps(events: Iterable[str]) -> bool:
    return any(e in JUMPS or e.endswith("athlon") for e in events)


def _meet(c: Competition) -> str:
    return f"{c.name} ({said_day(c.first_day)})"
