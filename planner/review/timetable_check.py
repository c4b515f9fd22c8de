"""A slot's timetable looked through minute by minute: plain loops, no solver, other thinking than the model's.

`faults` lists in sentences whatever a timetable gets wrong; a right one gives an empty list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from itertools import pairwise

from planner.domain.block import Opening, Presence
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import (
    FULL_ATTENTION,
    GRID,
    NEARBY,
    NEARBY_BESIDE,
    NEARBY_GROUPS,
    UNIT,
    UNMEASURED,
    UNRAKED,
    WARM_UP,
    SlotTimetable,
    Station,
    TimetableLine,
)
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES
from planner.rules import coach_eyes, pit_rate

ADULT = 18  # years
MINUTE = timedelta(minutes=1)
OFF_THE_GRID = GRID - 1  # minutes by which a unit may be shorter, for the lines of a session add up
Pair = tuple[Placement, TimetableLine]


def faults(table: SlotTimetable, placements: Sequence[Placement], problem: Problem) -> list[str]:
    """Everything wrong with the timetable of these placements of its slot, in sentences."""
    pairs, found = _paired(table, placements)
    for athlete in sorted({p.athlete for p, _ in pairs}):
        own = [(p, x) for p, x in pairs if p.athlete == athlete]
        found += _session(table.of(athlete), own, problem)
    found += _places(pairs, problem)
    found += _full_attention(pairs, problem)
    found += _nearby(table, pairs, problem)
    found += _one_place_at_a_time(table)
    return found


def _paired(table: SlotTimetable, placements: Sequence[Placement]) -> tuple[list[Pair], list[str]]:
    lines = {(x.athlete, x.unit, x.amount): x for x in table.lines if x.part == UNIT}
    pairs, found = [], []
    for p in placements:
        line = lines.pop((p.athlete, p.unit.id, p.dose.word), None)
        if line is None:
            found.append(f"{p.athlete}: {p.unit.id} has no line.")
        else:
            pairs.append((p, line))
    found += [f"{athlete}: {unit} is not part of the plan." for athlete, unit, _ in lines]
    if len({(x.athlete, x.unit) for x in table.lines if x.part == UNIT}) < len(placements):
        found.append("A unit stands twice or is missing.")
    return pairs, found


def _window(problem: Problem, p: Placement, x: TimetableLine) -> tuple[datetime, datetime]:
    return problem.window_of(replace(p, place=x.place, venue=x.venue))


# --- one athlete's session --------------------------------------------------------------------------------


def _session(lines: Sequence[TimetableLine], own: Sequence[Pair], problem: Problem) -> list[str]:
    name, found = own[0][0].athlete, []
    for one, other in pairwise(lines):
        if other.begins < one.ends:
            found.append(f"{name}: {one.part} {one.unit} and {other.part} {other.unit} overlap.")
    for p, x in own:
        begins, ends = _window(problem, p, x)
        if x.begins < begins or ends < x.ends:
            found.append(f"{name}: {x.unit} at {x.begins:%H:%M} is outside the hours of {x.place}.")
        cut = sum(moment.minute % GRID > 0 for moment in (x.begins, x.ends)) * OFF_THE_GRID
        if x.minutes - x.waiting < p.dose.minutes - OFF_THE_GRID - cut:
            found.append(f"{name}: {x.unit} has {x.minutes} minutes, {p.dose.minutes} are needed.")
        kinds = {o.place.name: o.place.kind for o in problem.openings_in(p.day, p.slot)}
        if x.venue != p.venue or kinds.get(x.place) != kinds.get(p.place):
            found.append(f"{name}: {x.unit} stands at another kind of place.")
    return [*found, *_warm_up(lines, own, problem), *_order(own, problem)]


def _warm_up(lines: Sequence[TimetableLine], own: Sequence[Pair], problem: Problem) -> list[str]:
    name = own[0][0].athlete
    if all(p.unit.recovery_only for p, _ in own):
        return [f"{name}: recovery alone needs no warm-up."] if lines[0].part == WARM_UP else []
    warm = [x for x in lines if x.part == WARM_UP]
    before = [x for x in lines if x.part != UNIT]
    drills = max(0, sum(p.dose.preparation_minutes for p, _ in own) - PREPARATION_INSIDE_WARM_UP)
    opens = min(problem.window_of(p)[0] for p, _ in own)
    cut = OFF_THE_GRID if opens.minute % GRID else 0
    found = []
    if len(warm) != 1 or lines[0] is not warm[0] or warm[0].minutes < WARM_UP_MINUTES - cut:
        found.append(f"{name}: the session does not begin with one warm-up of {WARM_UP_MINUTES} minutes.")
    if sum(x.minutes for x in before) < WARM_UP_MINUTES + drills - cut:
        found.append(f"{name}: the drills have no time.")
    if before and (before[-1].ends > min(x.begins for _, x in own) or before[0].begins < opens):
        found.append(f"{name}: warm-up and drills do not stand before the first unit, inside the hours.")
    if any(x.coach for x in before):
        found.append(f"{name}: a coach is tied to a warm-up.")
    return found


def _order(own: Sequence[Pair], problem: Problem) -> list[str]:
    """Day-order, but where opening hours decide otherwise."""
    found = []
    windows = {p: problem.window_of(p) for p, _ in own}
    for p, x in own:
        for q, y in own:
            if p.unit.order >= q.unit.order or y.begins >= x.ends or not _overlap(windows[p], windows[q]):
                continue
            forced = any(
                windows[q][1] <= windows[r][0] + GRID * MINUTE and r.unit.order < p.unit.order for r, _ in own
            )
            if not forced:
                found.append(f"{p.athlete}: {y.unit} comes before {x.unit}.")
    return found


def _overlap(one: tuple[datetime, datetime], other: tuple[datetime, datetime]) -> bool:
    return max(one[0], other[0]) + GRID * MINUTE < min(one[1], other[1])


# --- places -----------------------------------------------------------------------------------------------


def _minutes(pairs: Sequence[Pair]) -> Iterator[tuple[datetime, list[Pair]]]:
    """Each moment at which somebody begins, with all that is under way then: nothing gets fuller in between."""
    for moment in sorted({x.begins for _, x in pairs}):
        yield moment, [(p, x) for p, x in pairs if x.begins <= moment < x.ends]


def _places(pairs: Sequence[Pair], problem: Problem) -> list[str]:
    found: list[str] = []
    if not pairs:
        return found
    day, slot = pairs[0][0].day, pairs[0][0].slot
    openings = problem.openings_in(day, slot)
    for o in openings:
        here = [(p, x) for p, x in pairs if (x.venue, x.place) == (o.place.venue, o.place.name)]
        rate = _pace(problem, o, openings) if o.place.kind == "pit" else 0
        for moment, now in _minutes(here):
            if len(now) > o.place.capacity:
                found.append(f"{moment:%H:%M}: {len(now)} at the {o.place.name}, it holds {o.place.capacity}.")
            jumps = sum(_jumps(p) * 60 / _on_grid(x) for p, x in now)
            if rate and jumps > rate * 1.001:
                found.append(f"{moment:%H:%M}: {jumps:.0f} jumps an hour at the {o.place.name} of {rate}.")
    return found


def _on_grid(x: TimetableLine) -> int:
    """Minutes of a line rounded out to the grid (what late-comers lose of it is lost to jumping too)."""
    begins = x.begins.minute - x.begins.minute % GRID
    ends = -(-(x.ends.hour * 60 + x.ends.minute) // GRID) * GRID
    return ends - x.begins.hour * 60 - begins


def _jumps(p: Placement) -> int:
    counted = p.dose.counters
    return counted.get("short-jumps", 0) + counted.get("full-jumps", 0) or counted.get("landings", 0)


def _pace(problem: Problem, opening: Opening, openings: Sequence[Opening]) -> int:
    """Jumps an hour: three quarters where nobody rakes, eleven eighths where nobody measures."""
    rate = opening.place.jumps_per_hour or pit_rate.RULE.number(problem, "usual_rate", "", opening.day)
    before = sum(
        o.place.kind == "pit" and (o.place.venue, o.place.name) < (opening.place.venue, opening.place.name)
        for o in openings
    )
    raking = measuring = 0
    for x in problem.presences_in(opening.day, opening.slot):
        whole = x.minutes >= opening.minutes and not x.hours
        if x.coach is None and (whole or any(b <= opening.begins and opening.ends <= e for b, e in x.hours)):
            raking += "rake" in x.tasks
            measuring += "measure" in x.tasks
    if raking <= before:
        return max(1, rate * UNRAKED[0] // UNRAKED[1])
    return rate if measuring > before else rate * UNMEASURED[0] // UNMEASURED[1]


# --- coaches ----------------------------------------------------------------------------------------------


def _is_there(x: Presence, begins: datetime, ends: datetime) -> bool:
    hours: tuple[tuple[time, time], ...] = x.hours
    return not hours or any(b <= begins.time() and ends.time() <= e for b, e in hours)


def _full_attention(pairs: Sequence[Pair], problem: Problem) -> list[str]:
    full = [(p, x) for p, x in pairs if p.unit.eyes >= FULL_ATTENTION]
    found = []
    for p, x in full:
        who = [y for y in problem.presences_in(p.day, p.slot) if y.name == x.coach and y.coach]
        if not who or who[0].coach is None or not who[0].coach.teaches(p.unit.family):
            found.append(f"{p.athlete}: nobody who teaches it watches {p.unit.id}.")
        elif not _is_there(who[0], x.begins, x.ends):
            found.append(f"{p.athlete}: {x.coach} is not there for {p.unit.id} at {x.begins:%H:%M}.")
        elif _minor(problem, p) and not who[0].coach.minors:
            found.append(f"{p.athlete}: {x.coach} takes no minors.")
    rule = coach_eyes.RULE
    for coach in sorted({x.coach for _, x in full}):
        mine = [(p, x) for p, x in full if x.coach == coach]
        for moment, now in _minutes(mine):
            if len({(x.unit, x.venue, x.place) for _, x in now}) > 1:
                found.append(f"{moment:%H:%M}: {coach} watches two groups at once.")
            share = sum(
                1 / rule.number(problem, "novice_group" if _novice(problem, p) else "group", "", p.day)
                for p, _ in now
            )
            if share > 1.001:
                found.append(f"{moment:%H:%M}: {coach} watches more than one can.")
        found += _beyond(coach, mine, problem)
    return found


def _beyond(coach: str, mine: Sequence[Pair], problem: Problem) -> list[str]:
    """Is a coach asked for more minutes than they are there?"""
    spans: list[list[datetime]] = []
    for begins, ends in sorted((x.begins, x.ends) for _, x in mine):
        if spans and begins <= spans[-1][1]:
            spans[-1][1] = max(spans[-1][1], ends)
        else:
            spans.append([begins, ends])
    p = mine[0][0]
    there = sum(x.minutes for x in problem.presences_in(p.day, p.slot) if x.name == coach and x.coach)
    asked = sum(int((e - b) / MINUTE) for b, e in spans)
    return [f"{coach} watches for {asked} minutes and is there for {there}."] if asked >= there + GRID else []


def _minor(problem: Problem, p: Placement) -> bool:
    age = problem.block.athlete(p.athlete).age_on(p.day)
    return age is not None and age < ADULT


def _novice(problem: Problem, p: Placement) -> bool:
    return problem.block.athlete(p.athlete).level_for(p.unit.family) == "novice"


def _nearby(table: SlotTimetable, pairs: Sequence[Pair], problem: Problem) -> list[str]:
    """Each group that needs a coach nearby is in sight of a station, minute by minute."""
    found = []
    indoors = {(o.place.venue, o.place.name) for o in problem.openings_in(table.day, table.slot)
               if not o.place.outdoor}  # fmt: skip
    coaches = {x.name: x.coach for x in problem.presences_in(table.day, table.slot) if x.coach}
    for p, x in pairs:
        if p.unit.eyes != NEARBY:
            continue
        moment = x.begins
        while moment < x.ends:
            near = [s for s in table.stations if s.begins <= moment < s.ends
                    and any((w.unit, w.place) == (x.unit, x.place) and x.athlete in w.athletes
                            for w in s.watches)]  # fmt: skip
            inside = [s for s in near if _sight(s, indoors) == _sight(x, indoors)]
            trusted = [s for s in inside if not _minor(problem, p) or coaches[s.coach].minors]
            if not trusted:
                found.append(f"{moment:%H:%M}: nobody is near {x.athlete} at {x.unit}.")
                break
            moment += MINUTE
    return found


def _sight(s: Station | TimetableLine, indoors: set[tuple[str, str]]) -> tuple[str, str]:
    return (s.venue, s.place) if (s.venue, s.place) in indoors else (s.venue, "")


def _one_place_at_a_time(table: SlotTimetable) -> list[str]:
    found = []
    for n, s in enumerate(table.stations):
        full = sum(w.full for w in s.watches)
        beside = len(s.watches) - full
        if full > 1 or beside > (NEARBY_BESIDE if full else NEARBY_GROUPS):
            found.append(f"{s.begins:%H:%M}: {s.coach} watches {len(s.watches)} groups.")
        for t in table.stations[:n]:
            if t.coach == s.coach and t.begins < s.ends and s.begins < t.ends:
                found.append(f"{s.begins:%H:%M}: {s.coach} stands at two places.")
    for m, h in enumerate(table.helpers):
        for g in table.helpers[:m]:
            together = g.helper == h.helper and g.begins < h.ends and h.begins < g.ends
            if together and (g.venue, g.place) != (h.venue, h.place):
                found.append(f"{h.begins:%H:%M}: {h.helper} helps at two places.")
    return found
