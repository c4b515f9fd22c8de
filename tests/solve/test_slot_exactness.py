"""The slot's timetable against every timetable there is in tiny slots, and against the check in random ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from itertools import product
from random import Random

import pytest

from planner.domain.block import Athlete, Coach, Opening, Place, Presence, Slot
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.timetable import GRID, MOST_WAITING, UNIT, WARM_UP, Clash, SlotTimetable, TimetableLine
from planner.review.timetable_check import faults
from planner.rules._tiny import MONDAY, World, problem
from planner.solve.timetable import coached, timetable_slot

SLOT = "evening"
UNITS = ("short-long-jumps", "flying-sprints", "build-ups", "full-run-ups", "hurdle-rhythm", "heavy-strength",
         "long-accelerations", "extensive-bounds", "extensive-tempo", "mobility", "short-high-jumps")  # fmt: skip
GYM = ("gym",)


def slot_world(number: int, units: tuple[str, ...], athletes: int, minutes: int, coaches: int) -> Problem:
    """A slot of so many minutes; capacities, helpers, ages and what coaches teach follow from the number."""
    r = Random(number)
    ends = (datetime.combine(MONDAY, time(17)) + timedelta(minutes=minutes)).time()
    places = [
        Place("track", k, k, r.choice((1, 2, 99)), r.choice((20, 40)), k not in GYM)
        for k in ("pit", "straight", "track", "grass", "hurdles", "bed", "gym")
    ]
    late = (datetime.combine(MONDAY, time(17)) + timedelta(minutes=minutes // 2)).time()
    openings = tuple(
        Opening(MONDAY, SLOT, x, late if x.kind == "gym" and r.random() < 0.3 else time(17), ends) for x in places
    )
    people = tuple(
        Athlete(n, MONDAY.replace(year=r.choice((2000, 2012))), level=r.choice(("novice", "advanced")))
        for n in ("Ada", "Bo", "Cy", "Di")[:athletes]
    )
    families = ((), ("technical-jumps", "run-ups", "full-jumps"), ("top-speed", "hurdles"))
    watching = [Coach(f"coach {i}", r.choice(families), r.random() < 0.8) for i in range(coaches)]
    hours = ((time(17, 30), ends),) if r.random() < 0.2 else ()
    there = [
        Presence(MONDAY, SLOT, c.name, minutes - 30 if hours else minutes, c, (), hours=hours) for c in watching
    ]
    if r.random() < 0.5:
        there.append(Presence(MONDAY, SLOT, "Helper", minutes, None, r.choice((("rake",), ("rake", "measure")))))
    block = {"slots": (Slot(MONDAY, SLOT, time(17), ends),), "openings": openings, "presences": tuple(there)}
    return problem(World(units, days=1, persons=people, block=block))


def shorter(p: Placement, r: Random, steps: int) -> Placement:
    """The placement with minutes and jumps of a test's own."""
    minutes = r.randint(2, 6) * 5 if steps else r.randint(6, 38)
    jumps = {c: min(n, r.randint(2, 8)) for c, n in p.dose.counters.items()}
    return replace(p, dose=replace(p.dose, minutes=minutes, counters=jumps))


def chosen(made: Problem, number: int, most: int, tidy: bool) -> tuple[Placement, ...]:
    r = Random(number)
    some = r.sample(list(made.candidates), min(most, len(made.candidates)))
    return tuple(sorted((shorter(p, r, int(tidy)) for p in some), key=lambda p: p.key))


def cost(table: SlotTimetable, placements: tuple[Placement, ...]) -> int:
    """The measure, counted from the lines: lines of the grid."""
    origin = datetime.combine(MONDAY, time(17))

    def at(moment: datetime) -> int:
        return int((moment - origin) / timedelta(minutes=GRID))

    lines = [x for x in table.lines if x.part == UNIT]
    total = 0
    for athlete in {x.athlete for x in lines}:
        own = [x for x in lines if x.athlete == athlete]
        total += 2 * max(at(x.ends) for x in own) - min(at(x.begins) for x in own)
    for unit in {x.unit for x in lines}:
        starts = [at(x.begins) for x in lines if x.unit == unit]
        total += max(starts) - min(starts)
    if len({p.place for p in placements if p.unit.eyes == 2}) > 1:
        total += 2 * len({(x.coach, x.place) for x in lines if x.eyes == 2})
    return total


def every_timetable(made: Problem, placements: tuple[Placement, ...], minutes: int) -> list[SlotTimetable]:
    """All ways to begin, to wait and to be watched, right or wrong."""
    coaches = [x.name for x in made.presences_in(MONDAY, SLOT) if x.coach]
    ways = []
    for p in placements:
        waits = range(0, MOST_WAITING + 1, GRID) if p.place == "pit" and len(placements) > 1 else (0,)
        watched = coaches if p.unit.eyes == 2 else [""]
        own = []
        for wait, coach, begin in product(waits, watched, range(25, minutes, GRID)):
            if begin + p.dose.minutes + wait <= minutes:
                begins = datetime.combine(MONDAY, time(17)) + timedelta(minutes=begin)
                ends = begins + timedelta(minutes=p.dose.minutes + wait)
                own.append(TimetableLine(p.athlete, UNIT, begins, ends, p.unit.id, p.dose.word, p.venue,
                                         p.place, coach, p.unit.eyes, 0, wait))  # fmt: skip
        ways.append(own)
    found = []
    for units in product(*ways):
        lines = list(units)
        for athlete in sorted({x.athlete for x in units}):
            first = min(x.begins for x in units if x.athlete == athlete)
            lines.append(TimetableLine(athlete, WARM_UP, first - timedelta(minutes=25), first))
        lines.sort(key=lambda x: (x.athlete, x.begins))
        found.append(SlotTimetable(MONDAY, SLOT, tuple(lines)))
    return found


TINY = ("short-long-jumps", "flying-sprints", "build-ups", "full-run-ups")  # nothing that needs a coach nearby


@pytest.mark.parametrize("number", range(40))
def test_the_best_of_every_timetable_of_a_tiny_slot(number: int) -> None:
    minutes = (65, 75)[number % 2]
    made = slot_world(number, TINY, 2, minutes, 1 + number % 2)
    placements = chosen(made, number, 2 + (number % 4 == 0), tidy=True)
    table = timetable_slot(placements, made, MONDAY, SLOT)
    right = [t for t in every_timetable(made, placements, minutes) if not faults(t, placements, made)]
    if isinstance(table, Clash):
        assert not right and table.decided
    else:
        assert not faults(table, placements, made)
        assert cost(table, placements) == min(cost(t, placements) for t in right)


def test_tiny_slots_come_with_and_without_a_timetable() -> None:
    kinds = set()
    for number in range(40):
        minutes = (65, 75)[number % 2]
        made = slot_world(number, TINY, 2, minutes, 1 + number % 2)
        placements = chosen(made, number, 2 + (number % 4 == 0), tidy=True)
        kinds.add(type(timetable_slot(placements, made, MONDAY, SLOT)))
    assert kinds == {Clash, SlotTimetable}


@pytest.mark.parametrize("number", range(60))
def test_a_random_slot_passes_the_check_or_collides_in_a_smallest_set(number: int) -> None:
    made = slot_world(number, UNITS, 1 + number % 4, 120, 1 + number % 3 // 2)
    placements = chosen(made, number, 3 + number % 8, tidy=False)
    table = timetable_slot(placements, made, MONDAY, SLOT)
    if isinstance(table, SlotTimetable):
        assert faults(table, placements, made) == []
        return
    assert table.decided and table.choices and set(table.placements) <= set(placements)
    assert isinstance(timetable_slot(table.placements, made, MONDAY, SLOT), Clash)
    for p in table.placements:
        fewer = [q for q in table.placements if q != p]
        assert not fewer or isinstance(timetable_slot(fewer, made, MONDAY, SLOT), SlotTimetable)


def test_the_check_notices_what_is_wrong() -> None:
    made = slot_world(3, ("flying-sprints",), 1, 120, 1)
    made = replace(made, block=replace(made.block, presences=(Presence(MONDAY, SLOT, "Kit", 120, Coach("Kit")),)))
    p = made.candidates[0]
    table = timetable_slot([p], made, MONDAY, SLOT)
    assert isinstance(table, SlotTimetable) and faults(table, [p], made) == []
    warm, unit = table.lines
    hour = timedelta(hours=1)
    wrong = [
        replace(table, lines=(unit,)),
        replace(table, lines=(warm,)),
        replace(table, lines=(warm, replace(unit, begins=unit.begins - timedelta(minutes=10)))),
        replace(table, lines=(warm, replace(unit, begins=unit.begins + 2 * hour, ends=unit.ends + 2 * hour))),
        replace(table, lines=(warm, replace(unit, ends=unit.ends - timedelta(minutes=10)))),
        replace(table, lines=(warm, replace(unit, coach="somebody"))),
        replace(table, lines=(replace(warm, coach="Kit"), unit)),
    ]
    assert all(faults(t, [p], made) for t in wrong)


def test_the_same_slot_gives_the_same_timetable_in_any_order() -> None:
    made = slot_world(8, UNITS, 4, 150, 2)
    placements = chosen(made, 8, 7, tidy=False)
    one = timetable_slot(placements, made, MONDAY, SLOT)
    assert timetable_slot(tuple(reversed(placements)), made, MONDAY, SLOT) == one


def test_a_coach_who_comes_late_watches_late() -> None:
    made = slot_world(3, ("flying-sprints",), 1, 180, 1)
    late = Presence(MONDAY, SLOT, "Kit", 90, Coach("Kit"), hours=((time(18, 30), time(20)),))
    made = replace(made, block=replace(made.block, presences=(late,)))
    table = timetable_slot(made.candidates, made, MONDAY, SLOT)
    assert isinstance(table, SlotTimetable)
    assert [x.begins.time() for x in table.lines if x.part == UNIT] == [time(18, 30)]


def test_the_timetables_coach_stands_in_the_plan() -> None:
    made = slot_world(3, ("flying-sprints",), 2, 120, 1)
    made = replace(made, block=replace(
        made.block, presences=(Presence(MONDAY, SLOT, "Kit", 120, Coach("Kit")),),
        openings=tuple(replace(o, place=replace(o.place, capacity=9)) for o in made.block.openings)))  # fmt: skip
    plan = Plan.of(made.candidates)
    table = timetable_slot(plan.placements, made, MONDAY, SLOT)
    assert isinstance(table, SlotTimetable)
    found = coached(plan, {(MONDAY, SLOT): table}).placements
    assert [(p.coach, p.partners) for p in found] == [("Kit", ("Bo",)), ("Kit", ("Ada",))]
