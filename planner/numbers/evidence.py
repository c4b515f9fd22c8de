"""What a short run-up says, by the athlete's own pairs only; and a trial of the other leg."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.catalogue import units
from planner.domain.block import Mark
from planner.domain.problem import Problem
from planner.domain.units import Side
from planner.numbers.errors import NoNumber
from planner.numbers.jumps import step_class
from planner.numbers.lines import metres
from planner.numbers.marks import short_run_up_of
from planner.science.run_up import start_mark_m
from planner.science.short_run_up import LEAST_PAIRS, MOST_DAYS_APART, Jump, Pair, place_of, suggests

TRIAL_STEPS = 4  # steps of the other leg's first jumps; common practice, no source


@dataclass(frozen=True)
class Jumped:
    """An effective distance (toe to landing) in centimetres, from a number of steps, by one leg, on a day."""

    day: date
    cm: int
    steps: int
    leg: Side


@dataclass(frozen=True)
class ShortEvidence:
    """What is said of a short jump; `low` and `high` are 0 without enough pairs. Never stored as a mark."""

    words: str
    low: int
    high: int
    pairs: int
    place: str


def own_pairs(shorts: Sequence[Jumped], fulls: Sequence[Jumped]) -> tuple[Pair, ...]:
    """Short and full jumps of one leg and one number of short steps, nearest in time first, each used once."""
    if len({(j.leg, j.steps) for j in shorts}) > 1 or len({j.leg for j in (*shorts, *fulls)}) > 1:
        raise NoNumber("the short jumps are of different steps or legs, needed one kind. Maybe choose the steps.")
    distances = sorted(
        (abs((a.day - b.day).days), i, k) for i, a in enumerate(shorts) for k, b in enumerate(fulls)
    )
    used_short: set[int] = set()
    used_full: set[int] = set()
    found = []
    for days, i, k in distances:
        if days <= MOST_DAYS_APART and i not in used_short and k not in used_full:
            used_short.add(i)
            used_full.add(k)
            found.append(Pair(shorts[i].cm, fulls[k].cm, days))
    return tuple(found)


def short_evidence(
    event: Jump, steps: int, short_cm: int, pairs: Sequence[Pair], best_full_cm: int | None = None
) -> ShortEvidence:
    """'suggests 6.10-6.35 m (4 pairs)' from three own pairs or more, else no figure.

    A jump above the usual band of that run-up is said to be so: the best may be due, with no figure.
    """
    found = suggests(short_cm, pairs)
    place = "" if best_full_cm is None else place_of(event, steps, short_cm, best_full_cm)
    if found is not None:
        span, count = found
        words = f"suggests {metres(span.low)}-{metres(span.high)} m ({count} pairs)"
        low, high = span.low, span.high
    else:
        count = sum(p.days_apart <= MOST_DAYS_APART for p in pairs)
        low = high = 0
        words = f"no figure: {count} own pairs within {MOST_DAYS_APART} days, {LEAST_PAIRS} are needed"
    if place == "above the usual band":
        words += f"; from {steps} steps it stands above the usual band: the best may be due"
    return ShortEvidence(words, low, high, count, place)


def jumps_of(marks: Sequence[Mark], event: Jump, leg: Side) -> tuple[tuple[Jumped, ...], tuple[Jumped, ...]]:
    """Dated short and full jumps among an athlete's marks: ('long jump 8 steps' and 'long jump')."""
    shorts, fulls = [], []
    for mark in marks:
        if mark.day is None or mark.unit != "cm":
            continue
        short = short_run_up_of(mark.event)
        if short and short[0] == event:
            shorts.append(Jumped(mark.day, mark.value, short[1], leg))
        elif mark.event == event:
            fulls.append(Jumped(mark.day, mark.value, 0, leg))
    return tuple(shorts), tuple(fulls)


@dataclass(frozen=True)
class Trial:
    """A trial of the other leg: few jumps, few steps, a new estimate. `jumps` 0 when a limit forbids it.

    The take-off leg of the athlete is not changed by it; a later command, with its date, does that. The jumps
    count on the leg that makes them.
    """

    athlete: str
    leg: Side
    steps: int
    jumps: int
    start_cm: int
    why: str


def other_leg_trial(problem: Problem, athlete: str, day: date, event: Jump = "long jump") -> Trial:
    """The trial on a day: novice amounts whatever the level, the limits of the leg that would jump in force."""
    person = problem.block.athlete(athlete)
    leg: Side = "right" if person.take_off_leg == "left" else "left"
    unit = units()["short-long-jumps" if event == "long jump" else "short-triple-jumps"]
    low = unit.amounts["novice"].low
    jumps, why = unit.lighter_amount("novice", low), "novice amounts, counted on that leg; no best is asked for"
    for limit in problem.limits_on(athlete, day):
        if limit.side not in ("both", leg):
            continue
        if limit.stage <= 3 and (unit.removed_by(limit.region, limit.stage) or limit.hold_back):
            jumps, why = 0, "a limit of that side holds: no trial now"
            break
        if limit.landings_a_session is not None and limit.landings_a_session < jumps:
            jumps, why = limit.landings_a_session, "as many as the limit of that side allows"
    _, model = step_class(person, person.age_on(day))
    steps = min((x.run_up_steps for x in problem.limits_on(athlete, day) if x.run_up_steps), default=TRIAL_STEPS)
    steps = max(2, min(steps, TRIAL_STEPS))
    return Trial(athlete, leg, steps, jumps, round(start_mark_m(steps, model) * 100), why)
