"""From chosen starts to what stands on a coach's page: lines, stations of coaches, tasks of helpers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta

from planner.domain.block import Presence
from planner.domain.timetable import (
    DRILLS,
    FULL_ATTENTION,
    GRID,
    NEARBY,
    NEARBY_BESIDE,
    NEARBY_GROUPS,
    UNIT,
    WARM_UP,
    HelperTask,
    SlotTimetable,
    Station,
    TimetableLine,
    Watched,
)
from planner.solve.slot_facts import Area, CoachThere, Option, SlotAnswer, SlotFacts, Spot, Task

TIMED = ("acceleration", "top-speed", "speed-endurance", "special-endurance", "test")  # families
HELPED = ("rake", "measure", "time", "film")  # what a helper is needed for first
Placed = tuple[Task, Option, int]
Group = tuple[str, Spot]
Stretch = tuple[int, int]  # lines of the grid, from and until


def written_out(facts: SlotFacts, answer: SlotAnswer) -> SlotTimetable:
    """The timetable a solved slot stands for."""
    assert answer.starts is not None, "a slot without starts has a clash, no timetable"
    placed = [(t, o, n) for t, (o, n) in zip(facts.tasks, answer.starts, strict=True)]
    watch = _watches(facts, placed, answer.nearby)
    lines = [*_warm_ups(facts, placed), *_units(facts, placed, watch)]
    return SlotTimetable(
        facts.day,
        facts.slot,
        tuple(sorted(lines, key=lambda x: (x.athlete, x.begins, x.ends))),
        _stations(facts, placed, watch),
        _helpers(facts, placed),
        answer.proved,
    )


def _warm_ups(facts: SlotFacts, placed: Sequence[Placed]) -> list[TimetableLine]:
    found = []
    for athlete, prefix in facts.prefix.items():
        own = [n for t, _, n in placed if t.athlete == athlete]
        if not prefix or not own:
            continue
        begins, ends, drills = min(own) - prefix, min(own), facts.drills[athlete]
        opens = max(facts.opens[athlete], facts.at(begins))
        if begins < ends - drills:
            found.append(TimetableLine(athlete, WARM_UP, opens, facts.at(ends - drills)))
        if drills:
            found.append(TimetableLine(athlete, DRILLS, facts.at(ends - drills), facts.at(ends)))
    return found


def _units(
    facts: SlotFacts, placed: Sequence[Placed], watch: Mapping[tuple[str, int], list[Group]]
) -> list[TimetableLine]:
    turns = _turns(placed)
    found = []
    for n, (task, option, start) in enumerate(placed):
        p, spot = task.placement, option.spot
        begins, ends = facts.at(start), facts.at(start + option.cells)
        opens, closes = option.window
        coach = option.coach
        if task.eyes == NEARBY:
            coach = _mostly(watch, (task.unit, spot), range(start, start + option.cells))
        found.append(
            TimetableLine(
                p.athlete, UNIT, max(begins, opens), min(ends, closes), p.unit.id, p.dose.word,
                spot.venue, spot.name, coach, task.eyes, turns.get(n, 0), GRID * (option.cells - task.cells),
            )
        )  # fmt: skip
    return found


def _mostly(watch: Mapping[tuple[str, int], list[Group]], group: Group, cells: Iterable[int]) -> str:
    """The coach who has a group in sight for most of these lines."""
    counts: dict[str, int] = {}
    wanted = set(cells)
    for (coach, cell), groups in watch.items():
        if cell in wanted and group in groups:
            counts[coach] = counts.get(coach, 0) + 1
    return min(counts, key=lambda c: (-counts[c], c)) if counts else ""


def _turns(placed: Sequence[Placed]) -> dict[int, int]:
    """The order at each pit among those who share it: by start, then by name; a new one after a break."""
    found: dict[int, int] = {}
    pits: dict[Spot, list[int]] = {}
    for n, (task, option, _) in enumerate(placed):
        if option.spot.rate and task.jumps:
            pits.setdefault(option.spot, []).append(n)
    for mine in pits.values():
        mine.sort(key=lambda n: (placed[n][2], placed[n][0].athlete))
        turn, until = 0, 0
        for n in mine:
            start = placed[n][2]
            turn = turn + 1 if start < until else 1
            until = max(until, start + placed[n][1].cells)
            found[n] = turn
    return found


# --- coaches ------------------------------------------------------------------------------------------


def _active(placed: Sequence[Placed], cell: int, eyes: int) -> dict[Group, list[Placed]]:
    found: dict[Group, list[Placed]] = {}
    for task, option, start in placed:
        if min(task.eyes, FULL_ATTENTION) == eyes and start <= cell < start + option.cells:
            found.setdefault((task.unit, option.spot), []).append((task, option, start))
    return found


def _watches(
    facts: SlotFacts, placed: Sequence[Placed], nearby: Mapping[tuple[str, int], Area]
) -> dict[tuple[str, int], list[Group]]:
    """The groups each coach watches in each line of the grid: those with full attention first."""
    found: dict[tuple[str, int], list[Group]] = {}
    for cell in range(facts.cells):
        for group, there in _active(placed, cell, FULL_ATTENTION).items():
            for coach in sorted({o.coach for _, o, _ in there}):
                found.setdefault((coach, cell), []).append(group)
        busy = {c.name: len(found.get((c.name, cell), ())) for c in facts.coaches}
        groups = sorted(
            _active(placed, cell, NEARBY).items(),
            key=lambda kv: (not any(t.minor for t, _, _ in kv[1]), kv[0][0], kv[0][1].name),
        )
        for group, there in groups:
            coach = _who(facts.coaches, group, cell, found, nearby, busy, any(t.minor for t, _, _ in there))
            if coach:
                found.setdefault((coach, cell), []).append(group)
    return found


def _who(  # noqa: PLR0913, PLR0917
    coaches: Sequence[CoachThere],
    group: Group,
    cell: int,
    found: Mapping[tuple[str, int], list[Group]],
    nearby: Mapping[tuple[str, int], Area],
    busy: Mapping[str, int],
    minors: bool,
) -> str:
    """Who keeps a group in sight: whoever did so just before, then whoever watches least."""
    options = []
    for c in coaches:
        now = found.get((c.name, cell), [])
        room = NEARBY_BESIDE + busy[c.name] if busy[c.name] else NEARBY_GROUPS
        if nearby.get((c.name, cell)) == group[1].area and len(now) < room and (c.coach.minors or not minors):
            options.append((group not in found.get((c.name, cell - 1), []), len(now), c.name))
    return min(options)[2] if options else ""


def _stations(
    facts: SlotFacts, placed: Sequence[Placed], watch: Mapping[tuple[str, int], list[Group]]
) -> tuple[Station, ...]:
    found: list[Station] = []
    for coach in facts.coaches:
        last: Station | None = None
        for cell in range(facts.cells):
            groups = watch.get((coach.name, cell), [])
            if not groups:
                continue
            now = _station(facts, placed, coach.name, cell, groups, last)
            if last and last.ends == now.begins and _same(last, now):
                found[-1] = Station(
                    now.coach, last.begins, now.ends, now.venue, now.place, now.watches
                )
            else:
                found.append(now)
            last = found[-1]
    return tuple(found)


def _same(one: Station, other: Station) -> bool:
    return (one.venue, one.place, one.watches) == (other.venue, other.place, other.watches)


def _station(
    facts: SlotFacts,
    placed: Sequence[Placed],
    coach: str,
    cell: int,
    groups: Sequence[Group],
    last: Station | None,
) -> Station:
    watched = []
    for unit, spot in groups:
        there = [x for x in placed if x[0].unit == unit and x[1].spot == spot and _on(x, cell)]
        full = there[0][0].eyes >= FULL_ATTENTION
        names = {t.athlete for t, o, _ in there if not full or o.coach == coach}
        watched.append(Watched(unit, spot.name, tuple(sorted(names)), full))
    place = groups[0][1]
    if not watched[0].full and last and last.place in {s.name for _, s in groups}:
        place = next(s for _, s in groups if s.name == last.place)
    begins, ends = facts.at(cell), facts.at(cell + 1)
    return Station(coach, begins, ends, place.venue, place.name, tuple(sorted(watched)))


def _on(x: Placed, cell: int) -> bool:
    return x[2] <= cell < x[2] + x[1].cells


# --- helpers ------------------------------------------------------------------------------------------


def _helpers(facts: SlotFacts, placed: Sequence[Placed]) -> tuple[HelperTask, ...]:
    """Rake and measure where jumps are made, time what is fast, film what has full attention."""
    found: list[HelperTask] = []
    for task in HELPED:
        for spot, (begins, ends) in _needed(placed, task):
            at = (facts.at(begins), facts.at(ends))
            options = [
                (not any((x.venue, x.place) == (spot.venue, spot.name) for x in own), h.name)
                for h in facts.helpers
                if task in h.tasks and _there(h, *at)
                for own in [[x for x in found if x.helper == h.name and x.begins < at[1] and at[0] < x.ends]]
                if all((x.venue, x.place) == (spot.venue, spot.name) for x in own)
            ]
            if options:
                found.append(HelperTask(min(options)[1], task, *at, spot.venue, spot.name))
    return tuple(sorted(found, key=lambda x: (x.helper, x.begins, HELPED.index(x.task))))


def _needed(placed: Sequence[Placed], task: str) -> list[tuple[Spot, Stretch]]:
    """Where and when a task is wanted, in the order of places and times."""
    wanted: dict[Spot, list[Stretch]] = {}
    for t, option, start in placed:
        good = {
            "rake": bool(option.spot.rate and t.jumps),
            "measure": bool(option.spot.rate and t.jumps),
            "time": t.placement.unit.family in TIMED,
            "film": t.eyes >= FULL_ATTENTION,
        }[task]
        if good:
            wanted.setdefault(option.spot, []).append((start, start + option.cells))
    return [
        (spot, stretch)
        for spot in sorted(wanted, key=lambda s: (s.venue, s.name))
        for stretch in _joined(wanted[spot])
    ]


def _joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    found: list[Stretch] = []
    for begins, ends in sorted(stretches):
        if found and begins <= found[-1][1]:
            found[-1] = (found[-1][0], max(ends, found[-1][1]))
        else:
            found.append((begins, ends))
    return found


def _there(helper: Presence, begins: datetime, ends: datetime) -> bool:
    if helper.hours:
        return any(b <= begins.time() and ends.time() <= e for b, e in helper.hours)
    return timedelta(minutes=helper.minutes) >= ends - begins
