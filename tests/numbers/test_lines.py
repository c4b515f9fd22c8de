"""Lines to train by: what stands on paper is what is counted, and numbers come from the right own best."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numbers_made import GRASS, MONDAY, WHO, done, mark, placed, problem

from planner.catalogue import ladders, units
from planner.domain.block import Limit, RunUp
from planner.numbers import lines_for, numbers
from planner.numbers.cutting import cut, words
from planner.numbers.lines import band, rest_words, seconds
from planner.science.pace import target_time

STANDING = (mark("20 m", 302), mark("30 m", 418), mark("40 m", 530))


def test_the_line_of_the_example_of_the_trade() -> None:
    """3 x 3 x 30 m in 4.18-4.26 s, 3 and 7 min, stop when slower than 4.35 s: common practice, no source."""
    world = problem(*STANDING)
    line = lines_for(placed("long-accelerations", 270), world)
    assert line.amount == "3 x 3 x 30 m"
    assert line.target == "30 m in 4.18-4.27 s"  # 4.18 / 0.98 = 4.265, half up
    assert line.recovery == "3 min; sets 7 min"
    assert line.stop.startswith("slower than 4.35 s (3 %)")
    assert line.shoes == "spikes"


def test_percentages_of_speed() -> None:
    """30 m standing 4.20 s: 95 % 4.42, 92 % 4.57, 85 % 4.94; common practice, no source."""
    assert [target_time(420, p) for p in (95, 92, 85)] == [442, 457, 494]


IN_METRES = sorted(u for u, x in ladders().items() if x.rungs and units()[u].measure == "metres")


@pytest.mark.parametrize("unit", IN_METRES)
def test_repetitions_come_to_what_is_counted(unit: str) -> None:
    of = units()[unit]
    for level, span in of.amounts.items():
        for amount in range(span.low, span.high + 1, of.increment):
            line = lines_for(placed(unit, amount), problem(level=level))
            assert sum(g.total for g in line.groups) == amount, (level, line.amount)


@given(
    amount=st.integers(1, 200).map(lambda n: 5 * n),
    sets=st.integers(1, 4),
    each=st.lists(st.sampled_from((10, 15, 20, 30, 50, 100)), min_size=1, max_size=5),
    low=st.sampled_from((5, 10, 20)),
)
@settings(max_examples=150, deadline=None)
def test_cutting_loses_nothing(amount: int, sets: int, each: list[int], low: int) -> None:
    groups = cut(amount, sets, tuple(each), (low, 120), 5)
    assert sum(g.total for g in groups) == amount
    assert words(groups, "m").endswith(" m")


def test_another_start_gives_no_number_and_is_said() -> None:
    line = lines_for(placed("long-accelerations", 270), problem(mark("30 m blocks", 410)))
    assert not line.targets and "30 m" in line.test
    assert any("from blocks" in n for n in line.notes)
    race = lines_for(placed("block-starts", 6), problem(mark("30 m", 418)))
    assert not race.targets and "blocks" in race.test


def test_hand_and_gates_are_never_mixed() -> None:
    hand = lines_for(placed("long-accelerations", 270), problem(mark("30 m hand", 390)))
    assert "by hand" in hand.target and "0.24 s" in hand.doubt
    both = lines_for(placed("long-accelerations", 270), problem(mark("30 m hand", 390), mark("30 m", 418)))
    assert "by hand" not in both.target and both.targets[0].low == 418
    mixed = lines_for(placed("long-accelerations", 250), problem(mark("20 m hand", 280), mark("30 m", 418)))
    assert not any(t.what == "25 m" for t in mixed.targets)


def test_grass_is_converted() -> None:
    marks = (mark("100 m", 1200),)
    track = lines_for(placed("extensive-tempo", 1000), problem(*marks))
    grass = lines_for(placed("extensive-tempo", 1000, place=GRASS), problem(*marks))
    for one, other in zip(track.targets, grass.targets, strict=True):
        assert target_time(one.low, 97) == other.low and target_time(one.high, 95) == other.high
    assert "3-5 % slower" in grass.doubt
    assert lines_for(placed("short-accelerations", 120, place=GRASS), problem()).shoes == "flats on grass"


def test_no_mark_gives_words_and_the_test() -> None:
    line = lines_for(placed("flying-sprints", 60), problem())
    assert "97-100 % of own best" in line.target and line.test == "flying 20 m gives the number"


def test_a_mark_of_another_kind_is_said_and_not_printed() -> None:
    line = lines_for(placed("long-accelerations", 270), problem(mark("30 m", 418, "cm")))
    assert not line.targets and any("needed a time" in n for n in line.notes)


def test_lifts_in_steps_of_the_bar_and_what_stays() -> None:
    world = problem(mark("squat", 201, "half-kg"), level="advanced")
    line = lines_for(placed("heavy-strength", 8), world)
    assert line.amount.startswith("squat 4 x 4") and line.targets[0].low % 5 == 0
    assert "first lift" in line.stays and "second lift" in line.goes_first
    easy = lines_for(placed("heavy-strength", 4, word="lighter"), world)
    assert easy.amount == "squat 4 x 3" and easy.targets[0].low < line.targets[0].low
    novice = lines_for(placed("heavy-strength", 4), problem(level="novice"))
    assert "No test of a maximum" in novice.target and not novice.test


@pytest.mark.parametrize("level,most", [("novice", 70), ("developing", 82), ("advanced", 92)])
def test_no_lift_above_the_level(level: str, most: int) -> None:
    world = problem(mark("squat", 200, "half-kg"), level=level)  # type: ignore[arg-type]
    plan = [placed("heavy-strength", 6, 7 * i) for i in range(12)]
    for line in numbers(plan, world).values():
        assert all(t.low <= 2 * most for t in line.targets)  # 100 kg: percent = kilograms


def test_a_ceiling_of_speed_holds() -> None:
    limit = Limit(WHO, "hamstring", "left", 4, speed_percent=85)
    line = lines_for(placed("long-accelerations", 270), problem(*STANDING, limits=(limit,)))
    assert line.targets[0].low == target_time(418, 85) and "85 %" in " ".join(line.notes)
    assert "hamstring" not in repr(line)


def test_a_return_stage_is_a_ceiling_where_the_unit_loads_the_region() -> None:
    def notes(region: str, stage: int) -> str:
        limit, run = Limit(WHO, region, "left", stage), placed("long-accelerations", 270)
        loads = {("hamstring", "left"): 3, ("calf-achilles", "right"): 2}
        run = replace(run, dose=replace(run.dose, loads=loads))
        return " ".join(lines_for(run, problem(*STANDING, limits=(limit,))).notes)

    assert "held to 90 %" in notes("hamstring", 4)
    assert "held to" not in notes("hamstring", 5) + notes("shoulder", 4) + notes("calf-achilles", 4)


def test_steps_of_a_run_up_limit_and_parity() -> None:
    odd = RunUp(WHO, "long jump", 15, 2600, leg="left")
    assert lines_for(placed("short-long-jumps", 10), problem(run_ups=(odd,))).steps == 5
    limit = Limit(WHO, "knee", "left", 4, run_up_steps=4)
    assert lines_for(placed("short-long-jumps", 10), problem(limits=(limit,))).steps == 4


def test_two_start_marks_are_said() -> None:
    two = (RunUp(WHO, "long jump", 16, 2900, leg="left"), RunUp(WHO, "long jump", 16, 2950, leg="left"))
    line = lines_for(placed("full-run-ups", 6), problem(run_ups=two))
    assert any("two start marks" in n and "needed one" in n for n in line.notes)


def test_a_short_jump_is_aimed_at_by_own_marks_first() -> None:
    usual = lines_for(placed("short-long-jumps", 10), problem(mark("long jump", 600, "cm")))
    assert usual.target.startswith("usually 4.62-4.98 m") and "orientation" in usual.doubt
    own = lines_for(placed("short-long-jumps", 10),
                    problem(mark("long jump", 600, "cm"), mark("long jump 6 steps", 500, "cm")))  # fmt: skip
    assert own.target.startswith("4.85-5.00 m") and not own.doubt


def test_rounding_as_at_a_track() -> None:
    assert (seconds(426), seconds(1714), seconds(2784), seconds(11236)) == ("4.26", "17.14", "27.8", "1:52.4")
    assert band(1935, 2070, "hundredths") == "19.4-20.7 s"
    assert [rest_words(r) for r in ((90, 120), (45, 90), (180, 180))] == ["1.5-2 min", "45-90 s", "3 min"]


def test_every_unit_has_lines_at_every_level_and_no_word_is_missing() -> None:
    for level in ("novice", "developing", "advanced"):
        world = problem(level=level)  # type: ignore[arg-type]
        for unit in units().values():
            much = unit.amounts[level].high  # type: ignore[index]
            for word in ("full", "lighter"):
                line = lines_for(placed(unit.id, much, word=word), world)  # type: ignore[arg-type]
                assert line.amount and "nan" not in repr(line).lower().replace("nancy", "")


class TestProgress:
    """Progress is from what was done; common practice, no source."""

    def rungs(self, *facts: object, days: tuple[int, ...] = (0, 7, 14), **world: object) -> list[int]:
        plan = [placed("long-accelerations", 160, d) for d in days]
        found = numbers(plan, problem(**world), facts)  # type: ignore[arg-type]
        return [found[p.key].rung for p in plan]

    def test_one_rung_a_week(self) -> None:
        assert self.rungs() == [1, 2, 3]
        assert self.rungs(days=(0, 3, 7)) == [1, 2, 2]

    def test_lighter_cut_or_missed_is_planned_again(self) -> None:
        first = placed("long-accelerations", 160, 0)
        assert self.rungs(done(first, "lighter")) == [1, 1, 2]
        assert self.rungs(done(first, amount=120)) == [1, 1, 2]
        assert self.rungs(done(first, "missed")) == [1, 1, 2]

    def test_a_gap_goes_back(self) -> None:
        assert self.rungs(days=(0, 7, 14, 35))[-1] == 1  # 21 days
        assert self.rungs(days=(0, 7, 14, 43))[-1] == 1  # 29 days
        assert self.rungs(days=(0, 7, 14, 28))[-1] == 5  # 14 days: no gap; rung 4 belongs to easier weeks

    def test_easier_and_taper_weeks(self) -> None:
        kinds = ("loading", "loading", "loading", "easier", "loading", "taper")
        assert self.rungs(days=(0, 7, 14, 21, 28, 35), kinds=kinds) == [1, 2, 3, 4, 5, 5]


def test_four_fifties_with_a_minute_are_speed_endurance() -> None:
    """4 x 50 m nearly flat out with one minute: speed endurance, neural 3; common practice, no source."""
    unit = units()["short-rest-runs"]
    assert unit.family == "speed-endurance" and unit.demand.neural == 3
    line = lines_for(placed("short-rest-runs", 200), problem(mark("50 m", 640)))
    assert line.amount == "4 x 50 m" and line.recovery == "60-90 s"
    assert "6 %" in line.stop and "nearly flat out" in lines_for(placed("short-rest-runs", 200), problem()).target


def test_the_same_plan_gives_the_same_lines_in_any_order() -> None:
    world = problem(*STANDING)
    plan = [placed("long-accelerations", 200, d) for d in (0, 7, 14)]
    assert numbers(plan, world) == numbers(plan[::-1], world)
    assert plan[0].day == MONDAY and plan[1].day - plan[0].day == timedelta(7)
