"""The take-off leg: a new one, entered by a person, and a trial of the other one, which changes nothing.

A trial is a wish for a few jumps of that leg on its day; the limits of the hurt side hold for it as for all else.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from planner.domain.block import Athlete, Block, Limit, RunUp, Wish
from planner.domain.dates import said_day
from planner.domain.facts import Fact, OtherLeg
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.domain.units import Level, Side
from planner.season.fact_limits import line_of

NEW_LEG_FAMILIES = ("technical-jumps", "full-jumps", "run-ups")  # novice again on the new leg
NEW_LEG_DAYS = 21  # before jumps from the full run-up, at the least; common practice, no source
TRIALS = {"long jump": "trial-long-jumps", "triple jump": "trial-triple-jumps"}  # event -> unit


def last_legs(facts: Sequence[Fact]) -> dict[str, OtherLeg]:
    """The last change of leg of each athlete; a leg that was only tried changes nothing."""
    return {f.athlete: f for f in facts if isinstance(f, OtherLeg) and f.changed}


def on_leg(athlete: Athlete, fact: OtherLeg | None) -> Athlete:
    """On a new leg an athlete is a novice again in what is jumped from it."""
    if fact is None or fact.leg == athlete.take_off_leg:
        return athlete
    novice: Level = "novice"
    levels = {**athlete.levels, **dict.fromkeys(NEW_LEG_FAMILIES, novice)}
    return replace(athlete, take_off_leg=fact.leg, levels=levels)


def old_leg(run_up: RunUp, block: Block, legs: dict[str, OtherLeg]) -> RunUp:
    """A run-up of the old leg keeps that leg's name, so that nobody takes its marks for the new one."""
    if run_up.leg is not None or run_up.athlete not in legs:
        return run_up
    old: Side = block.athlete(run_up.athlete).take_off_leg
    return replace(run_up, leg=old)


def leg_on(block: Block, facts: Sequence[Fact], athlete: str, day: date) -> Side | None:
    """The take-off leg of an athlete on a day: the last change recorded up to it, else the file's."""
    told = [f for f in facts if isinstance(f, OtherLeg) and f.changed and f.athlete == athlete and f.day <= day]
    if told:
        return told[-1].leg
    return next((a.take_off_leg for a in block.athletes if a.name == athlete), None)


def leg_limits(block: Block, legs: dict[str, OtherLeg]) -> list[Limit]:
    """No jumps from the full run-up in the first three weeks on a new leg."""
    found = []
    for athlete in block.athletes:
        fact = legs.get(athlete.name)
        if fact is not None and fact.leg != athlete.take_off_leg:
            ends = fact.day + timedelta(days=NEW_LEG_DAYS - 1)
            found.append(
                Limit(
                    athlete.name, "whole", "both", 6, fact.day, ends,
                    hold_back=True, banned=("full-jumps",), line=line_of(fact),
                )
            )  # fmt: skip
    return found


def trials(block: Block, facts: Sequence[Fact]) -> Iterator[Wish]:
    """A trial of the other leg as what the coach would like on its day; of one day the last word counts.

    Tried is the athlete's first jump with a run-up. What became the take-off leg since is no trial any more.
    """
    people = {a.name: a for a in block.athletes}
    told = {(f.athlete, f.day): f for f in facts if isinstance(f, OtherLeg) and not f.changed}
    legs = last_legs(facts)
    for (name, day), f in told.items():
        now = legs[name].leg if name in legs else people[name].take_off_leg if name in people else f.leg
        if f.leg != now:
            yield Wish(name, day, trial_unit(people[name]), line=line_of(f))


def trial_unit(athlete: Athlete) -> str:
    """The unit a trial is made with: of the first of an athlete's events with one, else long jumps."""
    return next((TRIALS[e] for e in athlete.events if e in TRIALS), TRIALS["long jump"])


def trial_days(block: Block) -> frozenset[tuple[str, date]]:
    """Athlete and day of every trial that is asked for."""
    return frozenset((w.athlete, w.day) for w in block.wishes if w.unit in TRIALS.values())


def only_trials(block: Block) -> Block:
    """The block whose wishes for a day with a trial are that trial alone."""
    days = trial_days(block)
    kept = (w for w in block.wishes if (w.athlete, w.day) not in days or w.unit in TRIALS.values())
    return replace(block, wishes=tuple(kept))


def trials_left_out(problem: Problem, plan: Plan, now: datetime) -> tuple[str, ...]:
    """A sentence for the coach for every trial to come that the plan does not hold, with the reason."""
    held = {(p.athlete, p.day) for p in (*plan.placements, *problem.kept) if p.unit.is_trial}
    said = []
    for name, day in sorted(trial_days(problem.block) - held, key=lambda x: (x[1], x[0])):
        if day < now.date():
            continue
        here = (r for r in problem.refusals if (r.athlete, r.day) == (name, day))
        why = [r.reason for r in here if r.unit in TRIALS.values()]
        offered = any((p.athlete, p.day) == (name, day) and p.unit.is_trial for p in problem.candidates)
        reason = why[-1] if why and not offered else "no session of that day can hold it within the rules"
        said.append(
            f"{name}: the trial of the other leg on {said_day(day)} is not planned: {reason}. "
            "Maybe choose a day with jumps in the plan."
        )
    return tuple(said)
