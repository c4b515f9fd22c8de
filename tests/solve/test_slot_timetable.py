"""A slot's timetable judged by plain loops: nobody in two places, nothing outside its hours, no coach torn."""

from __future__ import annotations

from datetime import datetime
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.domain.timetable import FULL_ATTENTION, Clash, SlotTimetable
from planner.domain.view import Session
from planner.intake import read_block
from planner.rules._tiny import World, draw, problem
from planner.season import make_problem
from planner.sheets.build_session import in_time
from planner.solve import solve
from planner.solve.timetable import timetable, timetable_slot

EXAMPLE = Path(__file__).parents[2] / "examples" / "club-camp" / "block.yaml"


def faults(table: SlotTimetable, made: Problem, plan: Plan) -> list[str]:
    """Everything that is wrong with a timetable."""
    found = []
    here = [p for p in plan.placements if (p.day, p.slot) == (table.day, table.slot)]
    for p in here:
        line = table.line_of(p)
        if line is None:
            found.append(f"{p.athlete}: {p.unit.id} has no time")
            continue
        opens = [
            o for o in made.openings_in(p.day, p.slot) if (o.place.venue, o.place.name) == (line.venue, line.place)
        ]
        if opens and not any(
            datetime.combine(p.day, o.begins) <= line.begins and line.ends <= datetime.combine(p.day, o.ends)
            for o in opens
        ):
            found.append(f"{p.athlete}: {p.unit.id} at {line.begins:%H:%M} outside the hours of {line.place}")
        if p.unit.eyes == FULL_ATTENTION and not line.coach:
            found.append(f"{p.athlete}: nobody watches {p.unit.id}")
    for name in {x.athlete for x in table.lines}:
        own = table.of(name)
        found += [f"{name}: {a.part} runs into {b.part}" for a, b in pairwise(own) if a.ends > b.begins]
    watched = [x for x in table.lines if x.coach and x.eyes == FULL_ATTENTION]
    for a, b in combinations(watched, 2):
        together = a.begins < b.ends and b.begins < a.ends and a.coach == b.coach
        if together and (a.unit, a.place) != (b.unit, b.place):
            found.append(f"{a.coach} watches {a.unit} and {b.unit} at {max(a.begins, b.begins):%H:%M}")
    return found


def test_every_slot_of_a_camp_has_its_timetable() -> None:
    made = make_problem(read_block(EXAMPLE))
    plan = solve(made, budget="quick")
    tables, clashes = timetable(plan, made)
    assert len(tables) + len(clashes) == len({(p.day, p.slot) for p in plan.placements})
    wrong = [text for table in tables.values() for text in faults(table, made, plan)]
    assert not wrong, wrong
    assert tables
    for clash in clashes:
        assert clash.placements and clash.sentence.endswith(".")


def test_the_warm_up_comes_first_and_needs_nobody() -> None:
    made = problem(World(("short-long-jumps", "heavy-strength"), days=1))
    plan = Plan.of(draw(made, "short-long-jumps + heavy-strength"))
    table = timetable_slot(plan.placements, made, made.days[0], "evening")
    assert isinstance(table, SlotTimetable)
    first, *rest = table.of("Ada")
    assert first.part == "warm-up" and first.minutes == 25 and not first.coach
    assert [x.unit for x in rest if x.unit] == ["short-long-jumps", "heavy-strength"]
    assert not faults(table, made, plan)


def test_one_coach_and_two_places_give_turns_or_a_clash() -> None:
    made = problem(World(("short-long-jumps", "flying-sprints"), days=1, athletes=2))
    plan = Plan.of(draw(made, "short-long-jumps\nflying-sprints"))
    table = timetable_slot(plan.placements, made, made.days[0], "evening")
    if isinstance(table, Clash):
        assert len(table.placements) == 2 and table.choices
    else:
        assert not faults(table, made, plan)


@pytest.mark.parametrize("athletes", [1, 2, 3])
def test_a_pit_is_shared_in_turns(athletes: int) -> None:
    made = problem(World(("short-long-jumps",), days=1, athletes=athletes))
    plan = Plan.of(draw(made, "\n".join(["short-long-jumps"] * athletes)))
    table = timetable_slot(plan.placements, made, made.days[0], "evening")
    assert isinstance(table, SlotTimetable)
    assert not faults(table, made, plan)
    assert len([x for x in table.lines if x.unit]) == athletes


def test_more_jumps_than_a_pit_takes_are_a_clash_with_choices() -> None:
    """Four times twenty jumps at thirty an hour, nobody raking, do not fit in three hours beside the warm-up."""
    made = problem(World(("short-long-jumps",), days=1, athletes=4))
    plan = Plan.of(draw(made, "\n".join(["short-long-jumps"] * 4)))
    clash = timetable_slot(plan.placements, made, made.days[0], "evening")
    assert isinstance(clash, Clash) and "rake" in clash.sentence and len(clash.placements) == 4
    without_one = [p for p in plan.placements if p.athlete != "Di"]
    assert isinstance(timetable_slot(without_one, made, made.days[0], "evening"), SlotTimetable)


@pytest.mark.parametrize("jump", ["short-long-jumps", "full-long-jumps", "medium-long-jumps"])
@pytest.mark.parametrize("athletes", [1, 2])
def test_run_ups_without_a_jump_come_before_the_jumps(jump: str, athletes: int) -> None:
    """One class of the day, in which either order is allowed; fresh eyes for the mark first (common practice)."""
    made = problem(World(("full-run-ups", jump), days=1, athletes=athletes))
    plan = Plan.of(draw(made, "\n".join([f"full-run-ups + {jump}"] * athletes)))
    found = timetable_slot(plan.placements, made, made.days[0], "evening")
    assert isinstance(found, SlotTimetable) and not faults(found, made, plan)
    for name in {p.athlete for p in plan.placements}:
        assert [x.unit for x in found.of(name) if x.unit] == ["full-run-ups", jump]


def test_without_clock_times_a_page_has_the_run_ups_first_too() -> None:
    made = problem(World(("full-run-ups", "full-long-jumps", "heavy-strength"), days=1))
    placements = draw(made, "heavy-strength + full-long-jumps + full-run-ups")
    order = [p.unit.id for p in in_time(Session("Ada", made.days[0], "evening", tuple(placements)))]
    assert order == ["full-run-ups", "full-long-jumps", "heavy-strength"]
