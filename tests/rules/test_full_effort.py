"""At a return stage whose words allow work below full effort only, nothing at full effort loads the region."""

from __future__ import annotations

import re

import pytest

from planner.catalogue import load_on, return_stage, unit, units
from planner.domain.block import Limit
from planner.domain.plan import Placement, Plan
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules import limits_by_region as rule
from planner.rules._tiny import World, problem

# What a target says of full effort: the words themselves, or 95 % and more of own best as the least.
FULL = re.compile(r"full (?:effort|height)|race effort|every repetition fast|(?<![\d-])(?:9[5-9]|100)[-\d]* % of")
LEAST = re.compile(r"(?:at least )?(\d+)(?:-\d+)? % of (?:own|run-up|take-off)")
TO = "up to"
FULL_EFFORT = [u for u in units().values() if FULL.search(u.target) and TO not in u.target]
REGIONS = ("hamstring", "groin", "calf-achilles", "knee", "foot", "low-back", "ankle", "shin", "hip")


def broken(placed: str, region: str, stage: int, word: str = "full") -> bool:
    limits = (Limit("Ada", region, "both", stage),)
    made = problem(World((placed,), days=1, amounts=(word,), block={"limits": limits}))
    chosen: tuple[Placement, ...] = made.candidates
    return bool(rule.check(PlanView(Plan.of(chosen), made), made))


def test_the_hunt_finds_units() -> None:
    found = {u.id for u in FULL_EFFORT}
    assert len(found) > 12
    assert {"resisted-accelerations", "short-accelerations", "full-run-ups", "testing"} <= found


@pytest.mark.parametrize("placed", [u.id for u in FULL_EFFORT])
@pytest.mark.parametrize("region", REGIONS)
def test_full_effort_loads_no_region_below_full_effort(placed: str, region: str) -> None:
    for stage in (0, 1, 2, 3):
        assert broken(placed, region, stage) or not load_on(unit(placed), region)
    if placed != "power-lifts":  # 'event work' is running and jumping: fast lifts come back with it
        assert broken(placed, region, 4) or not load_on(unit(placed), region)


def test_the_case_of_a_sled_with_a_hamstring_that_comes_back() -> None:
    for stage in (3, 4):
        assert broken("resisted-accelerations", "hamstring", stage)
        assert not broken("resisted-accelerations", "hamstring", stage, "lighter")
    assert not broken("resisted-accelerations", "hamstring", 5)
    assert "85 %" in unit("resisted-accelerations").lighter_text


def test_what_begins_above_the_percent_of_a_stage_waits() -> None:
    assert [return_stage(n).most_percent for n in range(7)] == [0, 0, 60, 80, 90, 100, 100]
    assert "80 %" in return_stage(3).content and "90 %" in return_stage(4).content
    for fast in ("build-ups", "relay-changeovers", "split-speed-endurance", "short-long-jumps"):
        assert broken(fast, "groin", 3) and not broken(fast, "groin", 4)
    for easy in ("extensive-tempo", "easy-run", "mobility", "take-off-drills"):
        assert not broken(easy, "groin", 3)


@pytest.mark.parametrize("u", [u for u in units().values() if LEAST.match(u.target)], ids=lambda u: u.id)
def test_the_percent_is_the_one_the_target_says(u: Unit) -> None:
    said = LEAST.match(u.target)
    assert said is not None and u.demand.percent == int(said[1])
    assert u.lighter.percent <= u.demand.percent
