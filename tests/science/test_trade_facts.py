"""What coaches know, as checks. Common practice, no source, unless a line says otherwise."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planner.science import jumps, pace, run_up, taper
from planner.science.short_run_up import USUAL_PERCENT, Pair, place_of, suggests


def test_two_phases_of_980_come_to_14_metres_or_to_15() -> None:
    """About 14.0 m when the third phase is 30 % of the jump, 15.1 m when it is 35 %."""
    found = jumps.total_from_two_phases(980, (30, 35))
    assert (found.low, found.high) == (1400, 1508)
    assert round(found.high / 100, 1) == 15.1


def test_own_shares_give_a_range_between_the_least_and_the_most() -> None:
    own = (33, Fraction(67, 2), 34, 32)
    found = jumps.total_from_two_phases(980, own)
    assert (found.low, found.high) == (1441, 1485)


@pytest.mark.parametrize(
    ("best", "percent", "target"),
    [
        (420, 95, 442), (420, 92, 457), (420, 85, 494), (1200, 90, 1333), (1200, 70, 1714), (2500, 90, 2778),
    ],
)  # fmt: skip
def test_target_times(best: int, percent: int, target: int) -> None:
    assert pace.target_time(best, percent) == target


def test_a_band_has_its_quick_edge_first() -> None:
    assert pace.target_band(420, 92, 95) == (442, 457)


def test_hand_times_are_a_quarter_second_kinder() -> None:
    assert pace.hand_as_gates(1120) == 1144


def test_long_runs_are_read_in_tenths() -> None:
    assert [pace.for_the_watch(t) for t in (442, 1714, 2778, 3444)] == [442, 1714, 2780, 3440]


@pytest.mark.parametrize(
    ("percent", "metres", "between", "sets"),
    [
        (100, 10, (90, 90), (360, 480)),  # a minute for 10 m, a minute and a half at least
        (97, 30, (180, 180), (360, 480)),
        (95, 80, (480, 480), (480, 720)),
        (97, 120, (720, 1080), None),
        (95, 250, (900, 1500), None),
        (92, 60, (120, 240), (480, 900)),
        (88, 150, (240, 360), (480, 600)),
        (80, 200, (120, 240), (300, 480)),
        (70, 100, (45, 90), (180, 240)),
        (70, 200, (90, 180), (180, 240)),
    ],
)
def test_rests(percent: int, metres: int, between: tuple[int, int], sets: tuple[int, int] | None) -> None:
    rest = pace.rest_for(percent, metres)
    assert (rest.repetitions, rest.sets) == (between, sets)


@pytest.mark.parametrize(
    ("name", "percent", "metres"),
    [("acceleration", 99, 30), ("top speed", 99, 30), ("speed endurance", 92, 80), ("tempo", 70, 150)],
)
def test_rests_lie_inside_the_published_frame(name: str, percent: int, metres: int) -> None:
    """Haugen T and others 2019, Sports Medicine - Open 5:44, Table 2; top speed from 40 m with the run-in."""
    low, high = pace.METHODS[name].minutes
    rest = pace.rest_for(percent, metres + 30 if name == "top speed" else metres).repetitions
    assert 60 * low <= rest[0] and rest[1] <= 60 * high


def test_the_step_is_the_phase_one_protects() -> None:
    for pattern in (jumps.EVEN_PATTERN, jumps.HOP_LED, jumps.NOVICE_PATTERN, jumps.JUMP_LED):
        assert sum(pattern) == 100
        assert pattern[1] >= jumps.LEAST_NOVICE_STEP
    low, high = jumps.STEP_TO_HOP
    assert low <= jumps.phases_of(1300).step_to_hop <= high


def test_six_lefts_are_twelve_steps_from_the_left_foot() -> None:
    assert run_up.counted_by_one_foot(12) == 6
    assert run_up.front_foot(12, "left") == "left"
    assert run_up.front_foot(13, "left") == "right"


def test_a_reading_is_parted_into_wind_and_the_rest() -> None:
    """A tail wind of 1.5 m/s on 40 m explains 15 cm of 22 cm past the line."""
    assert run_up.explained_by_wind_cm(40, 1.5, 22) == (15.0, 7.0)
    assert run_up.explained_by_wind_cm(40, 1.5, 22, slope_cm=8) == (12.0, 10.0)


def test_own_slope_waits_for_eight_runs_and_two_metres_of_wind() -> None:
    runs = [(w / 2, 6.0 * w) for w in range(8)]
    assert run_up.own_wind_slope(runs[:7]) is None
    assert run_up.own_wind_slope([(w / 10, 1.0 * w) for w in range(8)]) is None
    found = run_up.own_wind_slope(runs)
    assert found is not None
    assert (found.cm_per_mps, found.error_cm) == pytest.approx((12.0, 0.0))


def test_accuracy_of_a_session() -> None:
    """Ten take-offs in order: -22 ... +4 cm; two fouls, four within ten centimetres behind the line."""
    found = jumps.accuracy((-22, -18, -12, -11, -9, -6, -3, 0, 2, 4))
    assert (found.count, found.fouls, found.close, found.median) == (10, 2, 4, -7.5)
    assert found.foul_percent == 20
    assert found.middle_half == pytest.approx(11.0)


def test_a_ten_step_jump_at_92_percent_stands_above_the_usual_band() -> None:
    """The best may be due; no figure is given without three own pairs."""
    assert place_of("long jump", 10, 644, 700) == "above the usual band"
    assert place_of("long jump", 10, 637, 700) == "in the usual band"
    assert place_of("long jump", 10, 601, 700) == "below the usual band"
    assert place_of("triple jump", 10, 1288, 1400) == "in the usual band"
    assert place_of("long jump", 9, 581, 700) == "below the usual band"
    assert place_of("long jump", 9, 588, 700) == "in the usual band"
    assert suggests(644, [Pair(620, 690, 3), Pair(615, 688, 14)]) is None


def test_three_own_pairs_within_three_weeks_give_a_range() -> None:
    pairs = [Pair(600, 660, 5), Pair(600, 672, 21), Pair(620, 682, 0), Pair(500, 700, 22)]
    found = suggests(610, pairs)
    assert found is not None
    between, count = found
    assert (between.low, between.high, count) == (671, 683, 3)


@pytest.mark.parametrize(("cut", "effect"), [(0, -0.02), (20, -0.02), (21, 0.27), (40, 0.27), (41, 0.72),
    (60, 0.72), (61, 0.27), (100, 0.27)])
def test_bands_of_volume_cut(cut: int, effect: float) -> None:
    """Bosquet L and others 2007, Medicine and Science in Sports and Exercise 39(8):1358-1365."""
    assert taper.effect_of_cut(cut).effect == effect


@pytest.mark.parametrize(("days", "effect"), [(7, 0.17), (8, 0.59), (14, 0.59), (15, 0.28), (21, 0.28),
    (22, 0.31)])
def test_bands_of_taper_days(days: int, effect: float) -> None:
    """Bosquet L and others 2007, Medicine and Science in Sports and Exercise 39(8):1358-1365."""
    assert taper.effect_of_days(days).effect == effect


def test_figures_of_practice_that_are_printed() -> None:
    """Read a second time: step against hop, aims of accuracy, ages of the steps, first check marks."""
    assert jumps.STEP_TO_HOP == (82, 90)
    assert jumps.ACCURACY_AIMS == {"novice": (50, 20, 35), "developing": (60, 15, 30),
        "advanced": (70, 10, 25)}
    assert jumps.BOARDS_CM == (600, 700, 800, 900, 1100, 1300)
    assert (run_up.WIND_RANGE_CM, run_up.LEAST_WIND_RUNS, run_up.LEAST_WIND_SPREAD_MPS) == ((6, 18), 8, 2.0)
    assert [ages for ages, _ in run_up.BETTER_JUMPERS_STEPS] == [(8, 12), (13, 15), (16, 18)]
    assert (run_up.first_check_steps(16), run_up.first_check_steps(17)) == ((2, 4, 6), (3, 5))


@pytest.mark.parametrize(
    ("event", "lows", "highs"),
    [
        ("long jump", [60, 70, 77, 82, 86, 90, 93, 96], [68, 77, 83, 87, 91, 94, 96, 99]),
        ("triple jump", [72, 78, 83, 87, 90, 93, 95, 97], [78, 83, 87, 90, 93, 96, 98, 100]),
    ],
)
def test_the_usual_bands_of_short_run_ups(event: str, lows: list[int], highs: list[int]) -> None:
    """Percent of the best for 2, 4 ... 16 steps, written by columns."""
    table = USUAL_PERCENT[event]
    assert list(table) == list(range(2, 17, 2))
    assert [low for low, _ in table.values()] == lows
    assert [high for _, high in table.values()] == highs


def test_half_a_step_and_the_measured_edges() -> None:
    assert run_up.half_step_cm(32.0, 16) == 100
    assert jumps.recorded_cm(22_000) == 2200
    assert jumps.accuracy((-300, 300)).median == 0
