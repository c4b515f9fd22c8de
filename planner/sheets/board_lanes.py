"""The board's columns: the slots that somebody uses, who trains together in them, and what fits a paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from planner.domain.plan import Placement
from planner.domain.view import PlanView, Session
from planner.sheets import words
from planner.sheets.build_athlete import calendar


@dataclass(frozen=True)
class Lane:
    day: date
    slot: str  # '' for a day on which nobody trains
    narrow: bool = False  # nobody trains, travels or competes: the word 'rest' needs little room

    @property
    def halves(self) -> int:
        return 1 if self.narrow else 2


@dataclass(frozen=True)
class Part:
    """The lanes of one page, with the groups that train together in each."""

    plan: PlanView
    week: tuple[date, ...]
    lanes: tuple[Lane, ...]

    @cached_property
    def groups(self) -> Mapping[Lane, Mapping[str, str]]:
        """Lane -> athlete -> letter of those who train together; those alone have none."""
        return {x: together(self.plan.in_slot(x.day, x.slot)) if x.slot else {} for x in self.lanes}

    @cached_property
    def heads(self) -> Mapping[Lane, Mapping[str, str]]:
        """Lane -> letter -> time, place and coach that most of the group share; said once, in the head."""
        return {x: _group_lines(x, self.groups[x], self.plan) for x in self.lanes}

    def opens_day(self, lane: Lane) -> bool:
        return next(x for x in self.lanes if x.day == lane.day) == lane


def lanes_of(days: tuple[date, ...], plan: PlanView) -> list[Lane]:
    """One lane for each slot that somebody uses, in order of time; a day without any has one."""
    order = {
        s.key: i
        for i, s in enumerate(sorted(plan.problem.block.slots, key=lambda s: (s.day, s.begins, s.name)))
    }
    lanes = []
    for day in days:
        used = {p.slot for p in plan.placements if p.day == day}
        for slot in sorted(used, key=lambda s: (order.get((day, s), len(order)), s)):
            lanes.append(Lane(day, slot))
        if not used:
            quiet = not any(calendar(a, day, plan.problem) for a in plan.problem.athletes)
            lanes.append(Lane(day, "", quiet))
    return lanes


def parts_of(lanes: list[Lane], most: int) -> list[list[Lane]]:
    """Whole days together, as evenly as they go: a half week on a small paper."""
    room, need = 2 * most, sum(x.halves for x in lanes)
    if need <= room:
        return [lanes]
    days: dict[date, list[Lane]] = {}
    for lane in lanes:
        days.setdefault(lane.day, []).append(lane)
    goal = -(-need // -(-need // room))
    parts: list[list[Lane]] = [[]]
    for group in days.values():
        taken, more = sum(x.halves for x in parts[-1]), sum(x.halves for x in group)
        if parts[-1] and (taken + more > room or taken >= goal):
            parts.append([])
        parts[-1].extend(group)
    return parts


def _group_lines(lane: Lane, groups: Mapping[str, str], plan: PlanView) -> Mapping[str, str]:
    """Letter -> time, place and coach that most of the group share; the head of the lane says it once."""
    said: dict[str, list[str]] = {}
    for name, letter in groups.items():
        for session in plan.sessions(name, lane.day):
            if session.slot == lane.slot:
                said.setdefault(letter, []).append(where_words(session))
    return {letter: max(sorted(set(lines)), key=lines.count) for letter, lines in said.items()}


def where_words(session: Session) -> str:
    """'17:00 north pit, Marit Lo; 18:30 gym'."""
    said = []
    last = ("", "", "")
    for p in session.placements:
        here = (words.clock(p.begins), words.clean(p.place), words.clean(p.coach))
        if here != last:
            time = f"{here[0]} " if here[0] != last[0] else ""
            place = here[1] if here[1] != last[1] or time else ""
            said.append(
                ", ".join(x for x in (f"{time}{place}".strip(), here[2] if here[2] != last[2] else "") if x)
            )
        last = here
    return "; ".join(x for x in said if x)


def together(placements: tuple[Placement, ...]) -> Mapping[str, str]:
    """Athlete -> letter of the group that trains together in a slot; those alone have none."""
    group = {name: name for name in sorted({p.athlete for p in placements})}

    def head(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for p in placements:
        for other in p.partners:
            if other in group:
                a, b = sorted((head(p.athlete), head(other)))
                group[b] = a
    size: dict[str, int] = {}
    for name in group:
        size[head(name)] = size.get(head(name), 0) + 1
    letters: dict[str, str] = {}
    for name in group:
        if size[head(name)] > 1:
            letters.setdefault(head(name), chr(ord("a") + len(letters) % 26))
    return {name: letters[head(name)] for name in group if head(name) in letters}
