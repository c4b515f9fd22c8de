"""The board's columns: the slots that somebody uses, where each stands, and who trains together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property

from planner.domain.plan import Placement
from planner.domain.view import PlanView
from planner.sheets import words
from planner.sheets.build_athlete import calendar
from planner.sheets.looks import LOOKS, look_of

Here = tuple[str, str]  # place and coach


@dataclass(frozen=True)
class Lane:
    day: date
    slot: str  # '' for a day on which nobody trains
    quiet: bool = False  # nobody trains, travels or competes: the word 'rest' needs little room


@dataclass(frozen=True)
class Stop:
    """A place and its coach in a lane, from when, and the families that train there."""

    here: Here
    begins: datetime
    letters: tuple[str, ...]


@dataclass(frozen=True)
class Part:
    """The lanes of one page, with the stops and the groups of each."""

    plan: PlanView
    week: tuple[date, ...]
    lanes: tuple[Lane, ...]
    bars: bool = True  # whether cells carry a bar of planned load

    @cached_property
    def groups(self) -> Mapping[Lane, Mapping[str, str]]:
        """Lane -> athlete -> letter of those who train together; those alone have none."""
        return {x: together(self.plan.in_slot(x.day, x.slot)) if x.slot else {} for x in self.lanes}

    @cached_property
    def stops(self) -> Mapping[Lane, tuple[Stop, ...]]:
        """Lane -> where units are done, in order of time; each family under the stop most of it goes to."""
        return {x: _stops(self.plan.in_slot(x.day, x.slot)) if x.slot else () for x in self.lanes}

    def opens_day(self, lane: Lane) -> bool:
        return next(x for x in self.lanes if x.day == lane.day) == lane

    def elsewhere(self, p: Placement, lane: Lane) -> str:
        """Place and coach of a unit that the lane's head does not give for its letter, else ''."""
        here, letter = here_of(p), look_of(p.unit.family).letter
        for stop in self.stops[lane]:
            if letter in stop.letters:
                return "" if stop.here == here else here_words(here)
        return here_words(here)


def lanes_of(days: tuple[date, ...], plan: PlanView) -> list[Lane]:
    """One lane for each slot that somebody uses, in order of time; a day without any has one."""
    order = {
        s.key: i for i, s in enumerate(sorted(plan.problem.block.slots, key=lambda s: (s.day, s.begins, s.name)))
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


def here_of(p: Placement) -> Here:
    return (words.clean(p.place), words.clean(p.coach))


def here_words(here: Here) -> str:
    """'north pit, Marit Lo'."""
    return ", ".join(x for x in here if x)


def _stops(placements: tuple[Placement, ...]) -> tuple[Stop, ...]:
    begins: dict[Here, datetime] = {}
    athletes: dict[tuple[str, Here], set[str]] = {}
    for p in placements:
        here = here_of(p)
        begins[here] = min(p.begins, begins.get(here, p.begins))
        athletes.setdefault((look_of(p.unit.family).letter, here), set()).add(p.athlete)
    order = sorted(begins, key=lambda here: (begins[here], here))
    home: dict[str, Here] = {}
    for letter, here in sorted(athletes, key=lambda k: (k[0], -len(athletes[k]), order.index(k[1]))):
        home.setdefault(letter, here)
    letters = [look.letter for look in LOOKS]
    return tuple(Stop(here, begins[here], tuple(x for x in letters if home.get(x) == here)) for here in order)


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
