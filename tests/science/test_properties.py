"""What must hold whatever the figures: scaling, order, and the way back."""

from __future__ import annotations

import math
from fractions import Fraction

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.science import heat, jumps, load, pace, response, run_up, sprint, strength, taper, wind
from planner.science.sprint import Sprint

LOADS = st.lists(st.integers(0, 1500), min_size=7, max_size=7)
RUNNERS = st.builds(Sprint, st.floats(5, 12.5), st.floats(0.5, 2))
RESPONSES = st.builds(response.Response, st.floats(25, 60), st.floats(3, 24), st.floats(0.5, 2),
    st.floats(0.5, 4))
STEPS = st.builds(run_up.Steps, st.floats(0.8, 1.2), st.floats(1.5, 2.4))


@given(LOADS, st.integers(2, 9), st.permutations(range(7)))
def test_monotony_does_not_feel_scale_or_order(loads: list[int], factor: int, order: list[int]) -> None:
    for spread in ("population", "sample"):
        before = load.monotony(loads, spread=spread)
        scaled = load.monotony([factor * day for day in loads], spread=spread)
        turned = load.monotony([loads[at] for at in order], spread=spread)
        if before is None:
            assert scaled is None and turned is None
        else:
            assert scaled is not None and turned is not None
            assert math.isclose(before, scaled, rel_tol=1e-9)
            assert math.isclose(before, turned, rel_tol=1e-9)


@given(st.lists(st.floats(0, 2000), min_size=1, max_size=60), st.integers(1, 42))
def test_exponential_means_stay_between_least_and_most(loads: list[float], days: int) -> None:
    assert all(min(loads) - 1e-6 <= mean <= max(loads) + 1e-6 for mean in load.exponential_means(loads, days))


@given(st.floats(0, 100))
def test_overlapping_stretches_pull_the_ratio_to_one(apart: float) -> None:
    together = load.overlapping_from_apart(apart)
    assert min(apart, 1) - 1e-9 <= together <= max(apart, 1) + 1e-9
    assert together < 4


@given(RUNNERS, st.floats(0.01, 100))
def test_time_and_distance_are_each_others_way_back(runner: Sprint, metres: float) -> None:
    assert math.isclose(sprint.distance_at(runner, sprint.time_at(runner, metres)), metres, rel_tol=1e-9,
        abs_tol=1e-9)


@given(RUNNERS, st.floats(0.05, 0.99))
def test_speed_and_distance_are_each_others_way_back(runner: Sprint, share: float) -> None:
    metres = sprint.distance_of_speed(runner, share)
    assert math.isclose(sprint.speed_at_distance(runner, metres), share * runner.top_mps, rel_tol=1e-7)
    assert math.isclose(
        sprint.acceleration_at(runner, sprint.time_of_speed(runner, share)), (1 - share) * runner.first_mps2,
            rel_tol=1e-7
    )


@given(RUNNERS, st.floats(1, 90), st.floats(0.5, 10))
def test_farther_takes_longer_and_flying_is_quicker(runner: Sprint, metres: float, more: float) -> None:
    assert sprint.time_at(runner, metres + more) > sprint.time_at(runner, metres)
    assert sprint.flying_time(runner, metres, more) < sprint.time_at(runner, more)
    assert sprint.flying_time(runner, metres, more) >= more / runner.top_mps * (1 - 1e-9)


@given(RUNNERS, st.floats(1, 60), st.floats(1.01, 1.1))
def test_stretching_metres_and_speed_keeps_the_time(runner: Sprint, metres: float, factor: float) -> None:
    longer = Sprint(runner.top_mps * factor, runner.tau_s)
    assert math.isclose(sprint.time_at(longer, metres * factor), sprint.time_at(runner, metres), rel_tol=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.floats(6, 12), st.floats(0.7, 1.6))
def test_a_fit_finds_the_curve_that_made_the_splits(top: float, tau: float) -> None:
    runner = Sprint(top, tau)
    made = [sprint.Split(d, sprint.time_at(runner, d)) for d in (5, 10, 20, 30, 40, 60)]
    found = sprint.fit(made)
    assert math.isclose(found.sprint.top_mps, top, rel_tol=1e-6)
    assert math.isclose(found.sprint.tau_s, tau, rel_tol=1e-6)


@settings(max_examples=25, deadline=None)
@given(st.floats(6, 12), st.floats(0.7, 1.6), st.floats(0.05, 0.6))
def test_a_fit_finds_a_time_shift_or_a_flying_distance(top: float, tau: float, extra: float) -> None:
    runner = Sprint(top, tau)
    gates = (5, 10, 15, 20, 30, 40, 60)
    late = [sprint.Split(d, sprint.time_at(runner, d) - extra) for d in gates]
    behind = [sprint.Split(d, sprint.flying_time(runner, extra, d)) for d in gates]
    assert math.isclose(sprint.fit(late, free="time shift").shift_s, extra, abs_tol=1e-4)
    found = sprint.fit(behind, free="flying distance")
    assert math.isclose(found.flying_m, extra, abs_tol=1e-4)
    assert math.isclose(found.sprint.top_mps, top, rel_tol=1e-4)


@given(st.integers(100, 100_000), st.integers(40, 105))
def test_a_target_time_leads_back_to_its_percent(best: int, percent: int) -> None:
    time = pace.target_time(best, percent)
    assert abs(pace.percent_of_speed(best, time) - percent) <= Fraction(percent, time)
    assert pace.target_time(best, 100) == best
    assert time >= pace.target_time(best, percent + 1)


@given(RESPONSES, st.lists(st.floats(0, 5), min_size=1, max_size=40), st.floats(0.1, 10))
def test_form_scales_with_the_loads_and_adds_up(
    parameters: response.Response, loads: list[float], factor: float
) -> None:
    plain = response.form(loads, parameters)
    for one, two in zip(plain, response.form([factor * w for w in loads], parameters), strict=True):
        assert math.isclose(two, factor * one, rel_tol=1e-9, abs_tol=1e-9)
    by_influence = sum(w * response.influence(parameters, len(loads) - i) for i, w in enumerate(loads))
    assert math.isclose(plain[-1], by_influence, rel_tol=1e-9, abs_tol=1e-8)


@given(RESPONSES, st.lists(st.floats(0, 1), min_size=10, max_size=40), st.floats(1, 20))
def test_no_other_loads_are_better(parameters: response.Response, loads: list[float], total: float) -> None:
    days = len(loads)
    assume(sum(loads) <= total)
    best = response.best_loads(parameters, [0.0] * days, [1.0] * days, total=total)
    assert response.form(best, parameters)[-1] >= response.form(loads, parameters)[-1] - 1e-9


@given(st.integers(5, 28), st.floats(10, 95))
def test_the_constant_of_a_taper_gives_the_cut(days: int, cut: float) -> None:
    tau = taper.tau_for_cut(days, cut)
    assert math.isclose(taper.cut_percent(taper.little_by_little(days, tau)), cut, abs_tol=1e-6)


@given(st.integers(20, 300), st.integers(2, 12))
def test_estimates_scale_and_grow_with_repetitions(kilograms: int, repetitions: int) -> None:
    for name in strength.FORMULAS:
        one = strength.best_single_by(name, kilograms, repetitions)
        assert math.isclose(strength.best_single_by(name, 2 * kilograms, repetitions), 2 * one)
        assert one > strength.best_single_by(name, kilograms, repetitions - 1)
    found = strength.best_single(kilograms, repetitions)
    assert kilograms < found.low_kg <= found.middle_kg <= found.high_kg


@given(st.integers(40, 800), st.integers(20, 110), st.integers(1, 10))
def test_what_is_on_the_bar_is_a_step_and_the_nearest(best: int, percent: int, step: int) -> None:
    put_on = strength.load_at(best, percent, step=step)
    assert put_on % step == 0
    assert abs(Fraction(best * percent, 100) - put_on) <= Fraction(step, 2)


@given(st.integers(60, 700), st.integers(60, 700), st.integers(60, 700))
def test_shares_come_to_a_hundred_and_do_not_feel_scale(hop: int, step: int, jump: int) -> None:
    phases = jumps.Phases(hop, step, jump)
    assert sum(phases.shares) == 100
    assume(all(10 <= share <= 60 for share in phases.shares))
    if max(hop, step, jump) <= 500:
        assert jumps.style(jumps.Phases(2 * hop, 2 * step, 2 * jump)) == jumps.style(phases)


@given(st.integers(500, 1900), st.sampled_from([jumps.EVEN_PATTERN, jumps.HOP_LED, jumps.JUMP_LED,
    jumps.NOVICE_PATTERN]))
def test_marks_add_up_to_the_target(total: int, shares: tuple[int, int, int]) -> None:
    phases = jumps.phases_of(total, shares)
    assert phases.total == total
    assert jumps.marks_for(total, shares) == (phases.hop, phases.hop + phases.step)
    assert all(abs(got - wanted) <= Fraction(100, total) for got,
        wanted in zip(phases.shares, shares, strict=True))


@given(st.integers(300, 1300), st.integers(25, 40))
def test_two_phases_and_the_share_of_the_third_lead_back(two: int, share: int) -> None:
    total = jumps.total_from_two_phases(two, (share, share)).low
    assert abs(Fraction(total * (100 - share), 100) - two) <= Fraction(1, 2)


@given(st.integers(572, 2000))
def test_a_board_lets_step_and_jump_land_where_they_should(poor_day: int) -> None:
    for board in jumps.boards_for(poor_day, range(400, 1400, 50)):
        assert 65 * poor_day + 5000 <= 100 * board
        assert board + 150 <= poor_day


@given(STEPS, st.integers(4, 22), st.floats(0.8, 1.25))
def test_a_run_up_is_the_sum_of_its_steps_and_scales(steps: run_up.Steps, count: int, factor: float) -> None:
    summed = sum(steps.length_m(k) for k in range(1, count + 1))
    assert math.isclose(run_up.start_mark_m(count, steps), summed, rel_tol=1e-9)
    mark = run_up.check_mark(count, count // 2, steps)
    assert math.isclose(mark.from_start_m + mark.from_line_m, summed, rel_tol=1e-9)
    own = run_up.own_steps(count, factor * summed, steps)
    assert math.isclose(run_up.start_mark_m(count, own), factor * summed, rel_tol=1e-9)


@given(st.integers(2, 24), st.sampled_from(["left", "right"]))
def test_feet_alternate_to_the_board(steps: int, take_off: run_up.Foot) -> None:
    foot = run_up.front_foot(steps, take_off)
    landed = []
    for _ in range(steps):
        foot = "left" if foot == "right" else "right"
        landed.append(foot)
    assert landed[-1] == take_off == run_up.take_off_foot(steps, run_up.front_foot(steps, take_off))
    assert landed.count(take_off) == run_up.counted_by_one_foot(steps)
    assert all(n >= steps or landed[n - 1] == take_off for n in run_up.first_check_steps(steps))


@given(st.floats(8, 45), st.floats(22, 33))
def test_the_wind_table_is_even_on_both_sides(run_up_m: float, shoe_cm: float) -> None:
    table = run_up.wind_table(run_up_m, shoe_cm)
    assert [row.wind_mps for row in table] == list(range(-4, 5))
    for row, other in zip(table, reversed(table), strict=True):
        assert (row.shift_cm, row.shoes) == (-other.shift_cm, -other.shoes)
        assert abs(row.shoes * Fraction(shoe_cm) - row.shift_cm) <= Fraction(shoe_cm) / 4


@given(st.floats(10, 14), st.floats(-4, 4), st.floats(0, 2500))
def test_still_air_at_sea_level_changes_nothing_and_wind_has_an_order(time: float, w: float,
    altitude: float) -> None:
    assert math.isclose(wind.still_time_100m(time, 0), time)
    assert wind.still_time_100m(time, w) < wind.still_time_100m(time, w + 0.5)
    assert wind.still_time_100m(time, w, altitude) <= wind.still_time_100m(time, w, altitude + 100)


@given(st.floats(15, 45), st.floats(5, 95))
def test_the_heat_estimate_grows_with_heat_and_damp(air: float, humidity: float) -> None:
    assert heat.wbgt_estimate(air, humidity) < heat.wbgt_estimate(air + 1, humidity)
    assert heat.wbgt_estimate(air, humidity) < heat.wbgt_estimate(air, humidity + 1)


@given(st.integers(-400, 600))
def test_heat_bands_leave_no_gap(tenths: int) -> None:
    band = heat.heat_band(tenths)
    later = [other for other in heat.BANDS if other.from_tenths > band.from_tenths]
    assert band.from_tenths <= tenths and (not later or tenths < later[0].from_tenths)
