"""Who watches whom, once it is settled who does what: an exact small search for every slot.

Athletes who do the same unit at the same place in the same slot are a group and train together. Groups that
need full attention get a coach who teaches the family; the rest have a coach nearby where one is there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from planner.domain.block import Coach, Presence
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem

ADULT = 18  # years
FULL_ATTENTION = 2
GRID = 5  # minutes, the grid of a coach's page
MOST_TRIED = 20_000  # ways to share a slot's groups among coaches; beyond it groups are given out one by one


@dataclass(frozen=True)
class Group:
    """Placements of one unit at one place in one slot."""

    placements: tuple[Placement, ...]

    @property
    def minutes(self) -> int:
        longest = max(p.dose.minutes for p in self.placements)
        return -(-longest // GRID) * GRID

    @property
    def family(self) -> str:
        return self.placements[0].unit.family

    @property
    def eyes(self) -> int:
        return self.placements[0].unit.eyes


def assign_coaches(plan: Plan, problem: Problem) -> Plan:
    """The same plan with coach and partners filled in; '' where nobody who may watch is there.

    In each slot: as few full-attention groups as possible without a coach who teaches their family, then as
    few minutes as possible beyond a coach's presence, then as little change as possible from the slot's
    first coach, in the order of the coaches' names.
    """
    slots: dict[tuple[date, str], list[Placement]] = {}
    for p in plan.placements:
        slots.setdefault((p.day, p.slot), []).append(p)
    watched: list[Placement] = []
    for (day, slot), placements in sorted(slots.items(), key=lambda kv: kv[0]):
        groups = _groups(placements)
        coaches = [p for p in problem.presences_in(day, slot) if p.coach is not None]
        coaches.sort(key=lambda p: p.name)
        names = _share_out(groups, coaches, problem)
        for group, name in zip(groups, names, strict=True):
            people = tuple(p.athlete for p in group.placements)
            for p in group.placements:
                watched.append(p.with_coach(name, tuple(a for a in people if a != p.athlete)))
    return replace(plan, placements=tuple(sorted(watched, key=lambda p: p.key)))


def _groups(placements: Sequence[Placement]) -> list[Group]:
    found: dict[tuple[str, str, str], list[Placement]] = {}
    for p in placements:
        found.setdefault((p.unit.id, p.venue, p.place), []).append(p)
    groups = [Group(tuple(sorted(ps, key=lambda p: p.key))) for ps in found.values()]
    return sorted(groups, key=lambda g: (-g.eyes, -g.minutes, g.placements[0].unit.id, g.placements[0].key))


def _share_out(groups: Sequence[Group], present: Sequence[Presence], problem: Problem) -> list[str]:
    """A coach's name for each group; groups come with full attention first."""
    full = [g for g in groups if g.eyes >= FULL_ATTENTION]
    choices = [[*[p.name for p in present if _may(p.coach, g, problem)], ""] for g in full]
    minutes = {p.name: p.minutes for p in present}
    ways = 1
    for c in choices:
        ways *= len(c)
    exact = ways <= MOST_TRIED
    names = list(_best(full, choices, minutes) if exact else _one_by_one(full, choices, minutes))
    main = next((n for n in names if n), present[0].name if present else "")
    for g in groups[len(full) :]:
        names.append(_nearby(g, present, main, problem) if g.eyes else "")
    return names


def _may(coach: Coach | None, group: Group, problem: Problem) -> bool:
    if coach is None or not coach.teaches(group.family):
        return False
    return coach.minors or not _minors(group, problem)


def _minors(group: Group, problem: Problem) -> bool:
    ages = [problem.block.athlete(p.athlete).age_on(p.day) for p in group.placements]
    return any(age is not None and age < ADULT for age in ages)


def _nearby(group: Group, present: Sequence[Presence], main: str, problem: Problem) -> str:
    allowed = [p for p in present if p.coach and (p.coach.minors or not _minors(group, problem))]
    teaching = [p.name for p in allowed if p.coach and p.coach.teaches(group.family)]
    names = teaching or [p.name for p in allowed]
    return main if main in names else next(iter(names), "")


Score = tuple[int, int, int, tuple[str, ...]]


def _score(groups: Sequence[Group], names: tuple[str, ...], minutes: Mapping[str, int]) -> Score:
    used: dict[str, int] = {}
    for g, n in zip(groups, names, strict=True):
        used[n] = used.get(n, 0) + g.minutes
    over = sum(max(0, m - minutes[n]) for n, m in used.items() if n)
    return (names.count(""), over, len(used), names)


def _best(
    groups: Sequence[Group], choices: Sequence[Sequence[str]], minutes: Mapping[str, int]
) -> tuple[str, ...]:
    ways: list[tuple[str, ...]] = [()]
    for options in choices:
        ways = [(*way, name) for way in ways for name in options]
    return min(_score(groups, way, minutes) for way in ways)[3]


def _one_by_one(
    groups: Sequence[Group], choices: Sequence[Sequence[str]], minutes: Mapping[str, int]
) -> tuple[str, ...]:
    names: tuple[str, ...] = ()
    for n, options in enumerate(choices, start=1):
        names = min(_score(groups[:n], (*names, name), minutes) for name in options)[3]
    return names
