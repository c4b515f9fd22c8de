"""Full and lighter amounts, worked out by hand. A week holds share x peak volume; an amount is its part."""

from __future__ import annotations

from datetime import date

import pytest

from planner.catalogue import units
from planner.domain.units import AmountRange
from planner.season.doses import Ask, Body, Dosing, between, full_amount
from planner.season.sides import drill_share, loads_by_side, take_offs_by_leg

from .worlds import athlete

ADULT = Body("left", 24, False)


def ask(level: str = "advanced", **more: object) -> Ask:
    fields: dict[str, object] = {
        "share": 100, "kind": "loading", "volume": None, "counter": "", "exposures": 1,
    }  # fmt: skip
    return Ask(level, **{**fields, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("unit", "asked", "amount"),
    [
        # 32 jumps in the week / 2 exposures = 16, inside 12-20
        ("short-long-jumps", ask(volume=32, counter="short-jumps", exposures=2), 16),
        # 80 % of 32 = 25 jumps (down) / 2 = 12, the low end of 12-20
        ("short-long-jumps", ask(volume=25, counter="short-jumps", exposures=2, share=80), 12),
        # an easier week: 60 % of 32 = 19 / 2 = 9, under the range but over its half (6)
        ("short-long-jumps", ask(volume=19, counter="short-jumps", exposures=2, share=60, kind="easier"), 9),
        # a taper week: 4 jumps / 1, held at half the low end of 12-20
        ("short-long-jumps", ask(volume=4, counter="short-jumps", share=50, kind="taper"), 6),
        # 12 jumps in one session of a taper week at 50 %: held at half of the high end
        ("short-long-jumps", ask(volume=12, counter="short-jumps", share=50, kind="taper"), 10),
        # four jumps in a loading week: not under the low end
        ("short-long-jumps", ask(volume=4, counter="short-jumps"), 12),
        # 900 m at 95 % and faster / (2 + 1 + 1) = 225, down to a whole 10 m: 220; range 200-300
        ("long-accelerations", ask(volume=900, counter="fast-metres", exposures=4), 220),
        # 225 is over the top of 80-150
        ("flying-sprints", ask(volume=900, counter="fast-metres", exposures=4), 150),
        # each block start counts 15 m: 225 / 15 = 15, over the top of 8-12
        ("block-starts", ask(volume=900, counter="fast-metres", exposures=4), 12),
        # developing, half up between 1600 and 3200: 2400 m / 2 = 1200 m in whole 100 m, range 1000-1600
        ("extensive-tempo", ask("developing", volume=2400, counter="tempo-metres", exposures=2), 1200),
        # 330 m / 2 = 165, down to 100 m would be under half of 600, so one increment more: 300
        ("extensive-tempo", ask("novice", volume=330, counter="tempo-metres", share=60, kind="easier"), 300),
        # 6 sets / 1 at 3-6 for novices
        ("heavy-strength", ask("novice", volume=6, counter="heavy-sets"), 6),
        # no usual volume: the level's range, 80 % of 80 = 64 throws, down to 60
        ("medicine-ball", ask(share=80), 60),
        # 60 m increments: 480 x 75 % = 360
        ("build-ups", ask(share=75), 360),
        # novices do no depth jumps from a range of 0-10: 100 % of 10
        ("depth-jumps", ask("novice"), 10),
    ],
)
def test_full_amounts(unit: str, asked: Ask, amount: int) -> None:
    assert full_amount(units()[unit], asked) == amount


def test_a_limits_fraction_comes_last_in_whole_increments() -> None:
    # 220 m x 75 % = 165, down to 160 m
    asked = ask(volume=900, counter="fast-metres", exposures=4, fraction=75)
    assert full_amount(units()["long-accelerations"], asked) == 160
    # 60 % of 20 jumps = 12; of these 60 % = 7.2, down to 7; the lighter row is fixed at 6
    doses = Dosing(units(), ADULT).pair(units()["short-long-jumps"], ask(share=60, fraction=60))
    assert doses is not None
    assert [d.amount for d in doses] == [7, 6]


def test_a_cap_of_landings_holds_the_amount() -> None:
    assert full_amount(units()["short-long-jumps"], ask(most=8)) == 8


def test_minutes_and_effort_run_with_the_amount() -> None:
    unit = units()["long-accelerations"]  # 200-300 m: 45-65 minutes, effort 6-7
    dosing = Dosing(units(), ADULT)
    low, middle, high = (dosing.at(unit, "advanced", n) for n in (200, 250, 300))
    assert low and middle and high
    assert (low.minutes, middle.minutes, high.minutes) == (45, 55, 65)
    assert (low.effort, middle.effort, high.effort) == (6, 7, 7)  # 6.5 is rounded half up
    assert middle.load == 7 * 55
    assert between((45, 65), 100, AmountRange(200, 300)) == 45


def test_more_of_a_unit_can_make_a_fast_day() -> None:
    dosing = Dosing(units(), ADULT)
    six, seven = (dosing.at(units()["full-run-ups"], "advanced", n) for n in (6, 7))
    assert six and seven
    assert (six.neural, seven.neural) == (2, 3)
    assert seven.counters["run-ups"] == 7
    assert seven.counters["quick-metres"] == 7 * 30


def test_counters_take_offs_and_drills_of_a_triple_jump() -> None:
    body = Body("right", 22, False)
    dose = Dosing(units(), body).at(units()["short-triple-jumps"], "advanced", 10)
    assert dose is not None
    # three contacts a jump: two on the hop leg, one on the other
    assert dose.take_offs == {"right": 20, "left": 10}
    assert dose.counters["take-offs"] == 30
    assert dose.counters["short-jumps"] == 10
    # the 20 drill take-offs stand apart, 60 % of them on the hop leg
    assert dose.drill_take_offs == {"right": 12, "left": 8}
    # 20 take-off drills count as low contacts; 4 run-up starts stand beside them
    assert dose.preparation == (("take-off-drills", 20, "take-offs"), ("run-up-starts", 4, "starts"))
    assert dose.counters["low-contacts"] == 20
    # drills: half of the 40 that take 30 minutes is 15; 4 of 6 starts of 20 minutes are 13 (13.3)
    assert dose.preparation_minutes == 15 + 13


def test_lighter_is_a_row_of_its_own() -> None:
    doses = Dosing(units(), ADULT).pair(units()["long-accelerations"], ask())
    assert doses is not None
    full, lighter = doses
    assert (full.amount, full.neural) == (300, 3)
    # 4 x 30 m building to 90 %: quick metres, no fast ones; one less neural; 31 minutes
    assert (lighter.word, lighter.amount, lighter.neural, lighter.minutes) == ("lighter", 120, 2, 31)
    assert lighter.counters["quick-metres"] == 120
    assert "fast-metres" not in lighter.counters
    assert lighter.loads["hamstring", "left"] == full.loads["hamstring", "left"] - 1


def test_loads_by_side() -> None:
    jump = units()["short-long-jumps"]  # knee 2, hamstring 1
    found = loads_by_side(jump, jump.demand.loads, "left")
    assert (found["knee", "left"], found["knee", "right"]) == (2, 1)
    assert (found["hamstring", "left"], found["hamstring", "right"]) == (1, 1)
    triple = units()["short-triple-jumps"]  # both landings are hard
    both = loads_by_side(triple, triple.demand.loads, "left")
    assert (both["knee", "left"], both["knee", "right"]) == (3, 3)
    run = units()["flying-sprints"]
    both = loads_by_side(run, run.demand.loads, "left")
    assert (both["hamstring", "left"], both["hamstring", "right"]) == (3, 3)


@pytest.mark.parametrize(
    ("share", "age", "even", "own"),
    [
        (60, 24, False, 60),
        (100, 24, False, 100),
        (100, 17, False, 70),
        (60, 13, False, 55),
        (60, 12, True, 50),
    ],
)
def test_juniors_use_the_other_leg_in_drills(share: int, age: int, even: bool, own: int) -> None:
    assert drill_share(share, age, even) == own


def test_take_offs_are_parted_half_up() -> None:
    assert take_offs_by_leg(42, 67, "left") == {"left": 28, "right": 14}
    assert take_offs_by_leg(5, 50, "right") == {"right": 3, "left": 2}


def test_a_novice_of_all_events_has_even_legs() -> None:
    child = athlete("Mo", "all", "novice", born=date(2015, 1, 1))
    assert Body.of(child, 12) == Body("left", 12, True)


def test_the_level_may_not_do_a_unit_at_all() -> None:
    assert Dosing(units(), ADULT).at(units()["short-long-jumps"], "advanced", 0) is None
