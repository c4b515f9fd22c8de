"""A return stage that a person raises soon: said to whoever records it, and never refused.

Two things are counted, by days alone: how long the present stage has stood, and on how many days training in it
was recorded. A hurt or a setback begins the stage anew. How it felt is for people, who may go on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from planner.catalogue import asked_of_a_stage, load_on, return_stage, return_test
from planner.domain.dates import said_day
from planner.domain.facts import Done, Fact, Hurt, Setback, StageChanged, in_force
from planner.domain.problem import Problem
from planner.domain.units import SIDES, counted


@dataclass(frozen=True, order=True)
class Present:
    """The stage in force on a side, and the day from which it stands; hurt on that day, it began after it."""

    stage: int
    since: date
    hurt: bool = False


def raised_soon(fact: StageChanged, problem: Problem, facts: Sequence[Fact]) -> str:
    """One sentence where the ledger shows fewer days or less training than a stage asks for; '' otherwise.

    `facts` are those recorded before. A stage that is not raised needs nothing.
    """
    told = in_force(tuple(facts))
    sides = [p for side in SIDES if fact.side in (side, "both") and (p := _present(fact, side, problem, told))]
    if not sides:
        return ""
    least = min(p.stage for p in sides)
    present = max(p for p in sides if p.stage == least)  # of two sides the one that stands for fewer days
    if fact.stage <= least:
        return ""
    times, days = asked_of_a_stage()
    stood, trained = (fact.day - present.since).days, len(set(_trained(fact, present, problem, told)))
    if stood >= days and trained >= times:
        return ""
    test = return_test(fact.region, least)
    asked = f" The return test of this stage: {test}." if test else ""
    note = "" if fact.note.strip() else "; whoever goes on may say why in a note"
    return (
        f"{fact.entered_by} raises {fact.athlete} to stage {fact.stage} on day {stood + 1} of stage {least} "
        f"(since {said_day(present.since)}), with training in it recorded on {counted(trained, 'days')}: "
        f"{days} whole days, {times} of them trained without a setback, are usual."
        f"{asked} Maybe wait{note}."
    )


def _present(fact: StageChanged, side: str, problem: Problem, told: Sequence[Fact]) -> Present | None:
    """The stage on a side before this fact; the later of two entries of a day counts, a recorded one first."""
    found: list[tuple[date, int, Present]] = []
    for x in problem.block.limits:
        same = (x.athlete, x.region) == (fact.athlete, fact.region) and x.side in (side, "both", "")
        if same and not x.hold_back and x.active_on(fact.day):
            since = x.begins or problem.block.begins
            found.append((since, -1, Present(x.stage, since)))
    for i, o in enumerate(told):
        if not isinstance(o, Hurt | StageChanged | Setback) or o.day > fact.day:
            continue
        if (o.athlete, o.region) == (fact.athlete, fact.region) and o.side in (side, "both", ""):
            found.append((o.day, i, Present(o.stage, o.day, not isinstance(o, StageChanged))))
    return max(found)[2] if found else None


def _trained(fact: StageChanged, present: Present, problem: Problem, told: Sequence[Fact]) -> Iterator[date]:
    """Days of the stage on which something was done that loads the region; anything, where nothing may load it."""
    rests = return_stage(present.stage).most_load == 0
    for o in told:
        if not isinstance(o, Done) or o.athlete != fact.athlete or o.remark == "missed" or o.amount == 0:
            continue
        begun = o.day > present.since or (o.day == present.since and not present.hurt)
        lighter = "lighter" in (o.word, o.remark)
        if begun and o.day <= fact.day and (rests or load_on(problem.units[o.unit], fact.region, lighter)):
            yield o.day
