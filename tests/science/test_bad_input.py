"""What cannot be is refused in one sentence: what was found, what is needed, often what may have happened."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from planner.domain.errors import Told
from planner.science import (
    force,
    heat,
    jumps,
    load,
    pace,
    response,
    run_up,
    sprint,
    strength,
    taper,
    travel,
    wind,
)
from planner.science import short_run_up as short
from planner.science.errors import OutOfReach
from planner.science.sprint import Split, Sprint

A = response.CLASSIC
STEPS = run_up.CLASSES["advanced man"]
SPLITS = [Split(d, sprint.time_at(Sprint(9, 1.2), d)) for d in (10, 20, 30, 40)]

REFUSED: list[tuple[str, Callable[..., Any], tuple[Any, ...], str]] = [
    ("effort of 11", load.part_load, (11, 60), "11"),
    ("negative minutes", load.part_load, (5, -3), "-3"),
    ("negative load", load.monotony, ([100, -5, 0],), "-5"),
    ("one day has no spread", load.monotony, ([100],), "2 or more"),
    ("too few days", load.rolling_mean, ([100, 200], 7), "7 or more"),
    ("not a number", load.exponential_means, ([100, math.nan], 7), "not a number"),
    ("no days", load.exponential_means, ([], 7), "1 or more"),
    ("stretches changed places", lambda: load.short_over_long([1.0] * 40, short_days=28, long_days=7), (),
        "changed places"),
    ("constants changed places", response.Response, (15, 45), "changed places"),
    ("no gain", response.Response, (45, 15, 0, 2), "more than 0"),
    ("negative training", response.form, ([1, -1], A), "-1"),
    ("bounds changed places", response.best_loads, (A, [1.0], [0.5]), "changed places"),
    ("bounds of different length", response.best_loads, (A, [0.0], [1.0, 1.0]), "as many of each"),
    ("bounds that pass the total", lambda: response.best_loads(A, [1.0] * 5, [2.0] * 5, total=3), (),
        "the total"),
    ("nothing to peak from", response.peak_after_rest, ([0.0] * 4, A), "no load"),
    ("taper of no days", taper.little_by_little, (0, 4), "1 to 60"),
    ("taper without a constant", taper.little_by_little, (14, 0), "more than 0"),
    ("share given in percent", taper.one_step, (14, 50), "divide by 100"),
    ("km/h", Sprint, (32, 1.0), "kilometres per hour"),
    ("splits not growing in time", sprint.fit, ([Split(10, 2.0), Split(20, 1.2), Split(30, 4.0)],),
        "both grow"),
    ("splits not growing in distance", sprint.fit, ([Split(10, 2.0), Split(10, 3.2), Split(30, 4.3)],),
        "both grow"),
    ("interval times", sprint.fit, ([Split(10, 1.9), Split(20, 1.1), Split(30, 1.0)],), "interval times"),
    ("too few splits", sprint.fit, (SPLITS[:2],), "3 or more"),
    ("too few for a shift", lambda: sprint.fit(SPLITS[:3], free="time shift"), (), "4 or more"),
    ("hand and gates mixed", sprint.fit, ([*SPLITS[:3], Split(40, 5.6, "hand")],), "hand"),
    ("steady speed has no curve", sprint.fit, ([Split(d, d / 8) for d in (10, 20, 30, 40)],),
        "no sprint curve"),
    ("slowing has no curve", sprint.fit, ([Split(10, 1.0), Split(20, 2.2), Split(30, 3.6), Split(40, 5.2)],),
        "no sprint curve"),
    ("a misread gate", sprint.fit, ([*SPLITS[:3], Split(40, SPLITS[2].seconds + 0.1)],), "misread"),
    ("a shift twice", lambda: sprint.fit(SPLITS, free="time shift", shift_s=0.3), (), "one of the two"),
    ("a shift before the start", lambda: sprint.fit([Split(5, 1.4), *SPLITS], shift_s=-1.5), (),
        "before the start"),
    ("negative distance", sprint.time_at, (Sprint(9, 1.2), -1), "-1"),
    ("full speed is never reached", sprint.time_of_speed, (Sprint(9, 1.2), 1.0), "0.9999"),
    ("a speed nobody has", sprint.speed_over, (100, 5), "5 s"),
    ("height in centimetres", force.Body, (60, 170), "centimetres"),
    ("wind beyond belief", wind.still_time_100m, (11.0, 22), "22 m/s"),
    ("wind of a gale", wind.worth, ("long jump", 6.0), "6 m/s"),
    ("no time beside the wind", wind.worth, ("100 m", 1.0), "time in seconds"),
    ("event without wind figures", wind.worth, ("400 m", 1.0), "no wind figures"),
    ("another distance's time", wind.still_time_100m, (52.0, 1.0), "another distance"),
    ("feet", wind.still_time_100m, (11.0, 0, 7300), "feet"),
    ("best time in seconds", pace.target_time, (12, 90), "in seconds"),
    ("percent as a share", pace.target_time, (1200, 0), "times 100"),
    ("band turned round", pace.target_band, (1200, 95, 90), "low to high"),
    ("no repetitions", strength.best_single, (100, 0), "1 to 12"),
    ("40 repetitions", strength.best_single, (100, 40), "1 to 12"),
    ("40 repetitions by formula", strength.best_single_by, ("Brzycki 1993", 100, 40), "1 to 12"),
    ("negative kilograms", strength.best_single, (-20, 5), "-20"),
    ("unknown formula", strength.best_single_by, ("nobody 1900", 100, 5), "no formula"),
    ("a share as percent", strength.load_at, (200, 0), "times 100"),
    ("metres as centimetres", jumps.effective_cm, (6, 10), "metres"),
    ("a foul has no distance", jumps.effective_cm, (650, -3), "foul"),
    ("a phase in metres", jumps.Phases, (5, 4, 5), "metres"),
    ("phases that do not add up", jumps.check_total, (jumps.Phases(500, 420, 500), 1460), "1420 cm"),
    ("shares that do not add up", jumps.style_of, (40, 30, 40), "110"),
    ("two shares", jumps.phases_of, (1400, (50, 50)), "three"),
    ("one own jump is no range", jumps.total_from_two_phases, (980, (33,)), "two or more"),
    ("no board for so short a jump", jumps.board_range_cm, (500,), "tape"),
    ("one reading", jumps.accuracy, ((-5,),), "two or more"),
    ("steps changed places", run_up.Steps, (2.0, 1.0), "changed places"),
    ("jumps of two events", short.Pair, (1250, 620, 3), "different events"),
    ("a short run-up of 20 steps", short.place_of, ("long jump", 20, 600, 650), "full run-up"),
    ("a short high jump", short.place_of, ("high jump", 6, 160, 180), "long or the triple jump"),
    ("no steps", run_up.start_mark_m, (0, STEPS), "2 to 24"),
    ("a check mark behind the board", run_up.check_mark, (16, 16, STEPS), "1 to 15"),
    ("a mark of another run-up", run_up.own_steps, (16, 12.0, STEPS), "another run-up"),
    ("wind beyond belief on the run-up", run_up.wind_shift_cm, (36, -14), "-14 m/s"),
    ("a shoe by its size", run_up.in_shoes, (20, 42), "size"),
    ("an American size", run_up.shoe_length_cm, (9,), "American"),
    ("an age", run_up.steps_by_age, (30,), "older athletes"),
    ("Fahrenheit", heat.wbgt_estimate, (95, 40), "Fahrenheit"),
    ("humidity above 100", heat.wbgt_estimate, (30, 120), "120 %"),
    ("wet bulb above the air", heat.wbgt_outdoors, (35, 30, 20), "changed places"),
    ("degrees for tenths", heat.heat_band, (900,), "900"),
    ("no such zone", travel.zones_east, ("Europe/London", "Atlantis", date(2026, 1, 1)), "no time zone"),
]  # fmt: skip


@pytest.mark.parametrize(("call", "given", "word"), [pytest.param(*row[1:], id=row[0]) for row in REFUSED])
def test_refused_in_one_sentence(call: Callable[..., Any], given: tuple[Any, ...], word: str) -> None:
    with pytest.raises(OutOfReach) as refused:
        call(*given)
    said = str(refused.value)
    assert isinstance(refused.value, ValueError) and isinstance(refused.value, Told)
    assert word in said
    assert "needed" in said
    before, _, remedy = said.partition(" Maybe ")
    assert before.endswith(".") and (not remedy or remedy.endswith("."))
    assert "nan" not in said.split() and "Traceback" not in said
