"""Why placements of a slot have no timetable: a smallest set that collides, the reason, the choices."""

from __future__ import annotations

from collections.abc import Sequence

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import FULL_ATTENTION, Clash
from planner.solve.slot_facts import SlotAnswer, SlotFacts, Task, slot_facts
from planner.solve.slot_model import KINDS, Kind, rules_out, solve_slot


def clash_of(facts: SlotFacts, problem: Problem, answer: SlotAnswer) -> Clash:
    """The clash of a slot that has no timetable."""
    if not answer.impossible:
        reason = f"no timetable was found for {_names(facts.tasks)}, and none was ruled out."
        placements = tuple(t.placement for t in facts.tasks)
        return Clash(facts.day, facts.slot, placements, reason, (_OTHER_SLOT,), decided=False)
    few = smallest(facts, problem)
    own = slot_facts(few, problem, facts.day, facts.slot)
    kind = next((k for k in KINDS if not solve_slot(own, (k,), any_will_do=True).impossible), None)
    return Clash(facts.day, facts.slot, few, _reason(own, kind), _choices(own, problem, kind))


def smallest(facts: SlotFacts, problem: Problem) -> tuple[Placement, ...]:
    """Placements that collide, none of which can be left out: whole athletes are dropped first.

    What is settled is kept longest, so that a clash names what can still be moved. What cannot be ruled out
    soon counts as possible: then the set may be larger than it need be, and it still collides.
    """
    left = [t.placement for t in facts.tasks]
    athletes = sorted({p.athlete for p in left})
    rounds = [[p for p in left if p.athlete == a] for a in athletes] + [
        [p] for p in sorted(left, key=lambda p: (p in problem.settled, -p.unit.order, p.key))
    ]
    for some in rounds:
        fewer = [p for p in left if p not in some]
        if len(fewer) == len(left) or not fewer:
            continue
        trial = slot_facts(fewer, problem, facts.day, facts.slot)
        if rules_out(trial):
            left = fewer
    return tuple(left)


_OTHER_SLOT = "Maybe move one of them to another slot."


def _names(tasks: Sequence[Task]) -> str:
    """Who does what: 'Ada and Bo: flying sprints; Cy: full long jumps'."""
    units: dict[tuple[str, ...], list[str]] = {}
    for athlete in sorted({t.athlete for t in tasks}):
        own = tuple(t.placement.name.lower() for t in tasks if t.athlete == athlete)
        units.setdefault(own, []).append(athlete)
    return "; ".join(f"{_and(who)}: {_and(what)}" for what, who in units.items())


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _reason(facts: SlotFacts, kind: Kind | None) -> str:
    who = _names(facts.tasks)
    coaches = _and([c.name for c in facts.coaches]) if facts.coaches else ""
    pits = sorted({o.spot for t in facts.tasks if t.jumps for o in t.options if o.spot.rate},
                  key=lambda s: s.name)  # fmt: skip
    if kind == "eyes" and not coaches:
        return f"{who} need a coach's full attention and no coach is there."
    if kind == "eyes":
        return f"{who} cannot all have the full attention of {coaches} one group after another."
    if kind == "nearby":
        return f"{who} need a coach within sight, and {coaches or 'nobody'} cannot be near all of them."
    if kind == "pit":
        rates = _and([f"the {s.name} takes {s.rate} jumps an hour" for s in pits])
        jumps = sum(t.jumps for t in facts.tasks)
        return f"{who} make {jumps} jumps, and {rates} as it is raked and measured here."
    if kind == "place":
        full = sorted({f"the {o.spot.name} holds {o.spot.capacity}" for t in facts.tasks for o in t.options})
        return f"{who} do not fit in one after another: {_and(full)}."
    return f"{who} do not fit into the hours in which their places are open and their coaches are there."


def _choices(facts: SlotFacts, problem: Problem, kind: Kind | None) -> tuple[str, ...]:
    """What a coach can do; a lighter version is named only where it is offered and really helps."""
    found = []
    watched = [t for t in facts.tasks if t.eyes >= FULL_ATTENTION]
    groups = sorted({t.placement.name.lower() for t in watched})
    if kind in ("eyes", "nearby") and len(groups) > 1:
        found.append(f"Maybe rotate over two days: {groups[0]} in this slot, {_and(groups[1:])} in another.")
    if kind in ("eyes", "pit") and watched:
        found.append(
            "Maybe let those who wait do drills first, which need no eyes, and leave out the unit itself."
        )
    lighter = _lighter_that_helps(facts, problem)
    if lighter is not None:
        found.append(f"Maybe take {lighter.unit.name.lower()} of {lighter.athlete} in the lighter version.")
    free = [t for t in facts.tasks if t.placement not in problem.settled]
    if free:
        names = [f"{t.placement.name.lower()} of {t.athlete}" for t in free]
        some = names[0] if len(names) == 1 else f"one of these: {', '.join(names)}"
        found.append(f"Maybe move to another slot {some}.")
    if kind == "pit":
        found.append("Maybe ask a helper to rake, or leave the jumps unmeasured.")
    elif kind in ("eyes", "nearby"):
        found.append("Maybe ask a second coach to come.")
    return tuple(found)


def _lighter_that_helps(facts: SlotFacts, problem: Problem) -> Placement | None:
    chosen = [t.placement for t in facts.tasks]
    for p in chosen:
        key = (*p.key[:4], "lighter")
        for q in problem.in_slot(p.day, p.slot):
            if p.dose.word == "full" and q.key == key and p not in problem.settled:
                trial = slot_facts([q if x is p else x for x in chosen], problem, facts.day, facts.slot)
                if solve_slot(trial, any_will_do=True).starts is not None:
                    return q
    return None
