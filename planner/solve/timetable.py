"""A slot's timetable: a small exact problem that gives every unit of every athlete a start time.

    facts of a slot -> 0/1 for each start of each option -> CP-SAT, one worker -> lines, stations, tasks
                                                                    |
                                                             none: a clash, made small

The model holds: a session in day-order after its warm-up, the opening hours of places, what a place and a
pit can take at any minute, and where each coach looks.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, SlotTimetable, Timetables
from planner.solve.slot_clash import clash_of
from planner.solve.slot_facts import SlotAnswer, as_held, slot_facts
from planner.solve.slot_lines import written_out
from planner.solve.slot_model import solve_slot


def timetable(
    plan: Plan, problem: Problem, known: Mapping[tuple[date, str], SlotTimetable] | None = None
) -> tuple[Timetables, tuple[Clash, ...]]:
    """The timetable of every slot of a plan, and a clash for each slot that has none.

    `known` are timetables made before (by this function, for a plan of this problem): a slot found there is
    taken over as it is. The caller names only slots whose placements have not changed.
    """
    slots: dict[tuple[date, str], list[Placement]] = {}
    for p in plan.placements:
        slots.setdefault((p.day, p.slot), []).append(p)
    made: Timetables = {}
    clashes: list[Clash] = []
    for (day, slot), placements in sorted(slots.items(), key=lambda kv: kv[0]):
        before = (known or {}).get((day, slot))
        found = before or timetable_slot(placements, problem, day, slot)
        if isinstance(found, Clash):
            clashes.append(found)
        else:
            made[day, slot] = found
    return made, tuple(clashes)


def still_open(plan: Plan, problem: Problem) -> Plan:
    """The plan's placements in slots that hold something not settled: the others keep the times they have."""
    slots = {(p.day, p.slot) for p in plan.placements if p not in problem.settled}
    return replace(plan, placements=tuple(p for p in plan.placements if (p.day, p.slot) in slots))


def coached(plan: Plan, timetables: Mapping[tuple[date, str], SlotTimetable]) -> Plan:
    """The plan with start, place, coach and partners as the timetables have them.

    Slots without a timetable stay as they are, and have no start times.

    Partners do the same unit at the same place at the same time, for a while at least.
    """
    found = []
    for p in plan.placements:
        table = timetables.get((p.day, p.slot))
        line = table.line_of(p) if table else None
        if table is None or line is None:
            found.append(replace(p, starts=None))
            continue
        others = {
            x.athlete
            for x in table.lines
            if (x.unit, x.venue, x.place) == (line.unit, line.venue, line.place)
            and x.begins < line.ends
            and line.begins < x.ends
        }
        seen = p.with_coach(line.coach, tuple(sorted(others - {p.athlete})))
        found.append(replace(seen, starts=line.begins, venue=line.venue, place=line.place or p.place))
    return replace(plan, placements=tuple(found))


def timetable_slot(
    placements: Iterable[Placement], problem: Problem, day: date, slot: str
) -> SlotTimetable | Clash:
    """The timetable of one slot, or why there is none.

    What has a start time already (it was handed out with it) keeps it, as long as there is a timetable that
    keeps all of them.
    """
    facts = slot_facts(placements, problem, day, slot)
    held = as_held(facts)
    answer = solve_slot(held) if held is not None else SlotAnswer(None)
    if answer.starts is None:
        answer = solve_slot(facts)
    return clash_of(facts, problem, answer) if answer.starts is None else written_out(facts, answer)
