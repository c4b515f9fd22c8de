"""Re-planning is planning with more known: what is done and what was handed out stand in the same problem.

Whatever began before now is settled as it was done. Whoever nothing happened to keeps the plan they hold. For
the others each handed-out unit may stay, become lighter, give way to another of its family or to what may stand
in for it, or, when it is a key unit, move by two days at most. Nothing else may be added.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from planner import catalogue
from planner.domain.facts import Done, Fact, in_force, people_of
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.season.done import done_history

MOVE_HOURS = 48  # a key unit moves at most so far, and at most once; common practice, no source
MISSING = ("place", "weather", "eyes", "hamstring", "lower-leg")  # what may be missing, by the catalogue


@dataclass(frozen=True)
class Stand:
    """Where a handed-out plan stands at a moment: what is settled, and what is still to come."""

    settled: tuple[Placement, ...]
    to_come: tuple[Placement, ...]


def standing(problem: Problem, held: Sequence[Placement], facts: Iterable[Fact], now: datetime) -> Stand:
    """Split the plan athletes hold at `now` (the block's own time, without a zone).

    What began before now counts as it was recorded, and as planned where nothing was recorded. A session of
    which something was recorded already is settled too, whenever it begins.
    """
    told = in_force(tuple(facts))
    _, done = done_history(told, problem, held)
    spoken = {(f.athlete, f.day, f.slot, f.unit) for f in told if isinstance(f, Done)}

    def place(p: Placement) -> tuple[object, ...]:
        return (p.athlete, p.day, p.slot, p.unit.id)

    past = [p for p in held if p.begins < now and place(p) not in spoken]
    to_come = [p for p in held if p.begins >= now and place(p) not in spoken]
    settled = sorted([*done, *(replace(p, fixed=True) for p in past)], key=lambda p: p.key)
    return Stand(tuple(settled), tuple(to_come))


def named_by(facts: Iterable[Fact]) -> frozenset[str]:
    """The athletes that facts name: these may be planned anew."""
    return frozenset(name for f in in_force(tuple(facts)) for name in people_of(f))


def problem_for_replan(
    problem: Problem,
    stand: Stand,
    held: Sequence[Placement],
    touched: frozenset[str],
    now: datetime,
    *,
    moved_before: frozenset[tuple[str, str, date]] = frozenset(),
) -> Problem:
    """The problem of a re-plan: `problem` is the block as the facts have left it, everything still open.

    `moved_before` names key units (athlete, unit, day) that were moved once already and stay where they are.
    """
    stays = [p for p in stand.to_come if p.athlete not in touched]
    open_ones = [p for p in stand.to_come if p.athlete in touched]
    return replace(
        problem,
        candidates=_ways(problem, open_ones, now, moved_before),
        kept=tuple(sorted([*stand.settled, *stays], key=lambda p: p.key)),
        handed_out=tuple(held),
        now=now,
    )


def _ways(
    problem: Problem,
    open_ones: Sequence[Placement],
    now: datetime,
    moved_before: frozenset[tuple[str, str, date]],
) -> tuple[Placement, ...]:
    """What may become of each handed-out unit: itself, lighter, swapped, moved."""
    offered = {p.key: p for p in problem.candidates}
    by_day: dict[tuple[str, date], list[Placement]] = {}
    for p in problem.candidates:
        by_day.setdefault((p.athlete, p.day), []).append(p)
    found: dict[object, Placement] = {}
    held = {h.key: h for h in open_ones}
    for h in open_ones:
        here = [p for p in by_day.get((h.athlete, h.day), []) if p.slot == h.slot]
        instead = _instead_of(h)
        ways = [p for p in here if p.unit.id == h.unit.id or p.unit.family == h.unit.family]
        ways += [p for p in here if p.unit.id in instead]
        if h.importance == "key" and (h.athlete, h.unit.id, h.day) not in moved_before:
            ways += [p for p in problem.candidates if _is_move(h, p)]
        if h.key in offered or any(p.unit.id == h.unit.id for p in ways):
            ways += _lighter(problem, [p for p in ways if p.unit.id == h.unit.id])
        for p in ways:
            if p.begins >= now:
                own = replace(p, importance=h.importance if p.unit.id == h.unit.id else p.importance)
                found[p.key] = _at_its_time(own, held.get(p.key), problem)
    return tuple(sorted(found.values(), key=lambda p: p.key))


def _at_its_time(p: Placement, held: Placement | None, problem: Problem) -> Placement:
    """What stays as it was handed out keeps its start and its place, as long as that is open."""
    if held is None or problem.kind_of_place(held) != problem.kind_of_place(p):
        return p
    return replace(p, starts=held.starts, place=held.place, coach=held.coach, partners=held.partners)


def as_handed_out(plan: Plan, problem: Problem) -> Plan:
    """The plan with the sessions that are kept just as they were handed out, partners who left included.

    So that the page of somebody to whom nothing happened stays the same to the last letter. What starts at
    another time than before, or has a coach who is no longer there, is taken as it is now.
    """
    held = {p.key: p for p in problem.kept}

    def as_it_was(p: Placement) -> Placement:
        was = held.get(p.key)
        if was is None or was.starts != p.starts:
            return p
        there = {x.name for x in problem.presences_in(p.day, p.slot)}
        return was if was.coach in there or was.coach == p.coach else p

    return replace(plan, placements=tuple(as_it_was(p) for p in plan.placements))


def _is_move(h: Placement, p: Placement) -> bool:
    """Is this the same unit on another day within 48 hours?"""
    near = timedelta(0) < abs(p.begins - h.begins) <= timedelta(hours=MOVE_HOURS)
    return p.athlete == h.athlete and p.unit.id == h.unit.id and p.day != h.day and near


def _instead_of(h: Placement) -> frozenset[str]:
    """Units that may stand in for this one, whatever is missing."""
    found: set[str] = set()
    for missing in MISSING:
        way = catalogue.substitution(h.unit.id, missing)
        if way is not None:
            found.update(unit for units in way.ways for unit in units)
    return frozenset(found)


def _lighter(problem: Problem, full: Sequence[Placement]) -> list[Placement]:
    """The lighter form of placements, at the week's lighter amount."""
    made = []
    for p in full:
        week = problem.week_of(p.athlete, p.day)
        if p.dose.word == "full" and week is not None and p.unit.id in week.doses:
            made.append(replace(p, dose=week.doses[p.unit.id][1]))
    return made
