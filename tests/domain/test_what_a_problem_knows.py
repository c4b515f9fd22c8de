"""What stands on a day, when a place is open, what a week's targets amount to: counted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta

from planner.domain.block import Opening, Place
from planner.domain.problem import Count
from planner.rules._tiny import MONDAY, World, problem


def _at(hour: int, minute: int = 0) -> datetime:
    return datetime.combine(MONDAY, time(hour, minute))


def test_a_settled_placement_counts_once() -> None:
    made = problem(World(("mobility", "build-ups"), days=2, history="build-ups"))
    kept = made.on("Ada", MONDAY)[0]
    done = replace(made, kept=(kept,))
    assert len(done.known_on("Ada", MONDAY)) == 2
    assert len(done.known_in_slot(MONDAY, "evening")) == 2
    assert done.known_on("Ada", MONDAY)[0] == kept
    assert [p.unit.id for p in done.known_on("Ada", MONDAY - timedelta(1))] == ["build-ups"]
    assert kept in done.settled
    assert done.settled_on("Ada", MONDAY) == (kept,)
    assert done.settled_on("Ada", MONDAY - timedelta(1)) == made.history
    assert made.history[0] in done.settled


def test_what_the_targets_of_a_week_amount_to() -> None:
    counts = {"acceleration": Count(0, 2, 3), "top-speed": Count(0, 1, 2)}
    made = problem(
        World(
            ("short-accelerations", "long-accelerations", "flying-sprints"), days=1, week={"counts": counts}
        )
    )
    week = made.weeks["Ada"][0]
    # advanced: 240 m of short, 300 m of long accelerations, 150 m of flying sprints: 2 x 300 + 150
    assert week.planned("fast-metres", made.units) == 750
    assert week.planned("run-ups", made.units) == 0
    assert [made.planned(week, "fast-metres") for _ in "ab"] == [750, 750]
    assert week.calendar[0] == MONDAY
    assert len(week.calendar) == 7


def test_when_the_place_of_a_placement_is_open() -> None:
    gym = Opening(MONDAY, "evening", Place("track", "gym", "gym"), time(18, 30), time(19, 45))
    made = problem(World(("power-lifts", "mobility"), days=1, block={"openings": (gym,)}))
    lifts, anywhere = (
        next(p for p in made.candidates if p.unit.id == u) for u in ("power-lifts", "mobility")
    )
    assert made.window_of(lifts) == (_at(18, 30), _at(19, 45))
    assert made.window_of(anywhere) == (_at(17), _at(20))  # the slot's own times
    gone = replace(anywhere, slot="before")
    assert made.window_of(gone)[0] == anywhere.begins
