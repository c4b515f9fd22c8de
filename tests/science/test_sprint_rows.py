"""Published and derived figures for the sprint curve, target times and the frame of sprint training."""

from __future__ import annotations

import math

from planner.science import force, pace, sprint
from planner.science.sprint import Split, Sprint
from tests.science.published import Row, judge, parametrised

SHORTS = "Jovanovic M, R package for short sprints (CRAN: shorts), README and split_times data"
BERLIN = "Graubner R, Nixdorf E 2011, New Studies in Athletics 26(1/2):19-53; men's final 2009, +0.9 m/s"
NEWS = "news agency report of 23 August 2009, from the federation's analysis"
HAUGEN_40 = "Haugen TA, Breitschaedel F, Seiler S 2019, PLoS ONE 14(7):e0215551, Table 1"
HAUGEN = "Haugen T, Seiler S, Sandbakk O, Tonnessen E 2019, Sports Medicine - Open 5:44, Table 2"
SAMOZINO = "Samozino P and others 2016, Scandinavian Journal of Medicine and Science in Sports 26(6):648-658"

GATES = (5, 10, 15, 20, 30, 40)
TIMES = (1.158, 1.893, 2.541, 3.149, 4.313, 5.444)
FINAL = (1.89, 2.88, 3.78, 4.64, 5.47, 6.29, 7.10, 7.92, 8.75, 9.58)  # seconds at 10, 20 ... 100 m
REACTION_S = 0.146


def splits(metres: tuple[float, ...], times: tuple[float, ...]) -> list[Split]:
    return [Split(d, t) for d, t in zip(metres, times, strict=True)]


PUBLISHED = sprint.fit(splits(GATES, TIMES))
LATER = sprint.fit(splits(GATES, TIMES), shift_s=0.3)
BODY = force.Body(60, 1.70)
LINE = force.force_speed(PUBLISHED.sprint, BODY)


def _at(top: float, tau: float) -> list[float]:
    return [sprint.time_at(Sprint(top, tau), d) for d in (10, 20, 30, 40, 60)]


def _flying(top: float, first: float, behind: float) -> list[float]:
    runner = Sprint(top, top / first)
    return [sprint.flying_time(runner, behind, d) for d in GATES]


def _recovered(top: float, first: float, behind: float) -> tuple[float, float, float]:
    found = sprint.fit(splits(GATES, tuple(_flying(top, first, behind))), free="flying distance")
    return found.sprint.top_mps, found.sprint.first_mps2, found.flying_m


def _shifted(top: float, first: float, late: float) -> tuple[float, float, float]:
    runner = Sprint(top, top / first)
    times = tuple(sprint.time_at(runner, d) - late for d in GATES)
    found = sprint.fit(splits(GATES, times), free="time shift")
    return found.sprint.top_mps, found.sprint.first_mps2, found.shift_s


def _round_trip(top: float, first: float) -> tuple[float, float, float]:
    runner = Sprint(top, top / first)
    found = sprint.fit(splits(GATES, tuple(sprint.time_at(runner, d) for d in GATES))).sprint
    return found.top_mps, found.tau_s, found.power_w_per_kg


def _final(gates: int) -> tuple[float, float, float, float]:
    metres = tuple(10.0 * (at + 1) for at in range(gates))
    found = sprint.fit(splits(metres, FINAL[:gates]), shift_s=-REACTION_S)
    rmse = math.sqrt(sum(rest**2 for rest in found.residuals_s) / gates)
    return found.sprint.top_mps, found.sprint.first_mps2, found.sprint.tau_s, rmse


def _final_at_100() -> float:
    found = sprint.fit(splits((10, 20, 30, 40, 50, 60), FINAL[:6]), shift_s=-REACTION_S)
    return sprint.time_at(found.sprint, 100) + REACTION_S


def _group(*times: float) -> tuple[float, float]:
    found = sprint.fit(splits((10, 20, 30, 40), times)).sprint
    return found.top_mps, found.tau_s


def _last_ten(at_30: float, at_40: float) -> float:
    return sprint.speed_over(10, at_40 - at_30)


def _method(name: str) -> tuple[object, ...]:
    m = pace.METHODS[name]
    return m.metres, m.percent, m.minutes, m.set_minutes, m.session_m, m.hours


def _targets(best: int, *percents: int) -> list[int]:
    return [pace.target_time(best, percent) for percent in percents]


RUNNER = Sprint(10, 1.0)

ROWS = [
    Row("7.1 times to 10-60 m", "derived", _at, (10, 1.0), [1.841, 2.948, 3.981, 4.993, 6.999], 5e-4),
    Row("7.1 distances after 1, 2, 3 s", "derived", lambda: [sprint.distance_at(RUNNER, t)
        for t in (1, 2, 3)], (), [3.679, 11.353, 20.498], 5e-4),
    Row("7.1 speeds after 1, 2, 3 s", "derived", lambda: [sprint.speed_at_time(RUNNER, t) for t in (1, 2, 3)],
        (), [6.321, 8.647, 9.502], 5e-4),
    Row("7.1 where 95 % of top speed is reached", "derived",
        lambda: (sprint.time_of_speed(RUNNER, 0.95), sprint.distance_of_speed(RUNNER, 0.95)), (),
        (2.996, 20.457), 5e-4),
    Row("7.2 top 9, tau 9/7", "derived", _at, (9, 9 / 7), [2.157, 3.418, 4.583, 5.715, 7.950], 5e-4),
    Row("7.2 top 12, tau 1.2", "derived", _at, (12, 1.2), [1.755, 2.745, 3.642, 4.505, 6.193], 5e-4),
    Row("7.2 top 8, tau 1.0", "derived", _at, (8, 1.0), [2.131, 3.469, 4.741, 5.998, 8.500], 5e-4),
    Row("7.3 published fit", SHORTS, lambda: (PUBLISHED.sprint.top_mps, PUBLISHED.sprint.first_mps2,
        PUBLISHED.sprint.tau_s), (), (8.591, 10.589, 0.811), 5e-4),
    Row("7.3 to five figures", "derived with SciPy from the same splits",
        lambda: (PUBLISHED.sprint.top_mps, PUBLISHED.sprint.first_mps2, PUBLISHED.sprint.tau_s), (),
        (8.59114, 10.58898, 0.81133), 1e-5),
    Row("7.3 published standard errors", SHORTS,
        lambda: (PUBLISHED.top_error_mps, PUBLISHED.first_error_mps2), (), (0.123, 0.460), 6e-4),
    Row("7.3 published power", SHORTS, lambda: PUBLISHED.sprint.power_w_per_kg, (), 22.743, 5e-4),
    Row("7.3 published residuals", SHORTS, lambda: list(PUBLISHED.residuals_s), (),
        [-0.05293, -0.00402, 0.01997, 0.02699, 0.01376, -0.02232], 1e-5),
    Row("7.3 published residual standard error", SHORTS, lambda: PUBLISHED.residual_error_s, (), 0.034, 5e-4),
    Row("7.4 with 0.3 s added", SHORTS, lambda: (LATER.sprint.top_mps, LATER.sprint.first_mps2,
        LATER.sprint.tau_s), (), (9.128, 6.626, 1.378), 5e-4),
    *(Row(f"7.7 times with a flying distance {given}", f"parameters {SHORTS}; times derived", _flying, given,
        times, 5e-4)
      for given, times in (
          ((8, 7.5, 0.2), [1.201, 1.967, 2.656, 3.314, 4.591, 5.849]),
          ((9, 7, 0.3), list(TIMES)),
          ((8, 9, 0.5), [1.035, 1.764, 2.432, 3.077, 4.341, 5.595]))),
    *(Row(f"7.7 flying distance recovered {given}", f"parameters {SHORTS}", _recovered, given, given, 1e-6)
      for given in ((8, 7.5, 0.2), (9, 7, 0.3), (8, 9, 0.5))),
    *(Row(f"7.8 time shift recovered {given}", "derived", _shifted, given, given, 1e-6)
        for given in ((8, 7.5, 0.2), (9, 7, 0.3), (8, 9, -0.15))),
    Row("7.8 round trip", SHORTS, _round_trip, (7, 6), (7, 1.167, 10.5), 5e-4),
    Row("7.9 above 95 % of top speed from", SHORTS, lambda: sprint.distance_of_speed(PUBLISHED.sprint, 0.95),
        (), 14.3, 0.05),
    Row("7.9 the same, closed form", "derived", lambda: sprint.distance_of_speed(PUBLISHED.sprint, 0.95), (),
        14.259, 5e-4),
    Row("7.9 acceleration below half from", SHORTS, lambda: sprint.distance_of_speed(PUBLISHED.sprint, 0.5),
        (), 1.35, 5e-3),
    Row("7.9 half the acceleration, closed form", "derived",
        lambda: sprint.distance_of_speed(PUBLISHED.sprint, 0.5), (),
        1.3463, 5e-5),
    Row("7.10 frontal area", f"derived from {SAMOZINO} (formula from memory)", force.frontal_area_m2, (BODY,),
        0.45092, 5e-6),
    Row("7.10 density of air", f"derived from {SAMOZINO} (formula from memory)", force.air_density_kg_m3,
        (25, 760), 1.18453, 5e-6),
    Row("7.10 published drag", SHORTS, force.drag_n, (BODY, 0.513), 0.063, 5e-4),
    Row("7.11 force at the start", f"{SHORTS}, method {SAMOZINO}", lambda: LINE.force_n, (), 635, 0.5),
    Row("7.11 force a kilogram", f"{SHORTS}, method {SAMOZINO}", lambda: LINE.force_n / 60, (), 10.6, 0.05),
    Row("7.11 speed at no force", f"{SHORTS}, method {SAMOZINO}", lambda: LINE.speed_mps, (), 8.85, 5e-3),
    Row("7.11 power", f"{SHORTS}, method {SAMOZINO}", lambda: LINE.power_w, (), 1405, 0.5),
    Row("7.11 power a kilogram and slope", f"{SHORTS}, method {SAMOZINO}",
        lambda: (LINE.power_w / 60, LINE.slope_per_kg), (), (23.4, -1.2), 0.05),
    Row("7.12 ten-metre intervals", BERLIN, lambda: [b - a for a,
        b in zip((0.0, *FINAL[:-1]), FINAL, strict=True)], (),
        [1.89, 0.99, 0.90, 0.86, 0.83, 0.82, 0.81, 0.82, 0.83, 0.83], 1e-9),
    Row("7.13 top speed", NEWS, sprint.speed_over, (10, 0.81), 12.35, 5e-3),
    Row("7.13 top speed in km/h", NEWS, lambda: 3.6 * sprint.speed_over(10, 0.81), (), 44.4, 0.05),
    Row("7.14 mean step, winner", f"derived from the count in {NEWS}", sprint.mean_step_m, (100, 40.92),
        2.444, 5e-4),
    Row("7.14 mean step, second", f"derived from the count in {NEWS}", sprint.mean_step_m, (100, 45.94),
        2.177, 5e-4),
    Row("7.15 first-release value at 20 m", NEWS, lambda: FINAL[1], (), 2.89, 0.0101),
    Row("7.16 the halves of the 200 m are told apart by speed", f"{NEWS}: 9.92 + 9.27 = 19.19 s",
        lambda: 100 / sprint.speed_over(100, 9.92) + 100 / sprint.speed_over(100, 9.27), (), 19.19, 1e-9),
    Row("7.17 fit to 60 m", f"derived from {BERLIN}", lambda: _final(6)[:3], (), (12.147, 9.947, 1.221),
        5e-4),
    Row("7.17 fit to 60 m, RMSE", f"derived from {BERLIN}", lambda: _final(6)[3], (), 0.0076, 5e-5),
    Row("7.17 the fit carried on to 100 m", f"derived from {BERLIN}", _final_at_100, (), 9.599, 5e-4),
    Row("7.17 fit to 80 m", f"derived from {BERLIN}", lambda: _final(8)[:3], (), (12.241, 9.814, 1.247),
        5e-4),
    Row("7.17 fit to 100 m", f"derived from {BERLIN}", lambda: _final(10)[:3], (), (12.214, 9.863, 1.238),
        5e-4),
    Row("7.17 RMSE of both", f"derived from {BERLIN}", lambda: (_final(8)[3], _final(10)[3]), (),
        (0.0095, 0.0094), 5e-5),
    *(Row(f"national team, {who}: 30-40 m speed", f"derived from {HAUGEN_40}", _last_ten, times, speed, 5e-3)
      for who, times, speed in (("sprinters men", (4.09, 5.13), 9.62),
          ("sprinters women", (4.39, 5.51), 8.93), ("jumpers men", (4.23, 5.28), 9.52),
                                ("jumpers women", (4.60, 5.79), 8.40), ("throwers men", (4.45, 5.58), 8.85),
                                    ("throwers women", (4.81, 6.08), 7.87))),
    *(Row(f"national team, {who}: fit", f"derived from {HAUGEN_40}", _group, times, curve, 5e-4)
      for who, times, curve in (("sprinters men", (1.90, 3.05, 4.09, 5.13), (9.826, 1.066)),
          ("sprinters women", (2.00, 3.24, 4.39, 5.51), (8.925, 1.039)),
                                ("jumpers men", (1.97, 3.16, 4.23, 5.28), (9.651, 1.150)),
                                    ("jumpers women", (2.10, 3.40, 4.60, 5.79), (8.486, 1.082)))),
    *(Row(f"frame of sprint training: {name}", HAUGEN, _method, (name,), cells)
      for name, cells in (
          ("acceleration", ((10, 50), (98, None), (2, 7), None, (100, 300), (48, 48))),
          ("top speed", ((10, 30), (98, None), (4, 15), None, (50, 150), (48, 72))),
          ("sprint-specific endurance", ((80, 150), (95, None), (8, 30), None, (300, 900), (48, 72))),
          ("speed endurance", ((60, 80), (90, 95), (2, 4), (8, 15), (600, 2000), (48, 72))),
          ("resisted", ((10, 30), (80, 95), (3, 6), None, (50, 200), (48, 48))),
          ("assisted", ((10, 30), (None, 105), (5, 15), None, (None, 100), (48, 48))),
          ("tempo", ((100, 300), (60, 70), (1, 3), None, (1000, 2000), (24, 24))))),
    Row("7.19 targets of 10.00 s, to a hundredth", "derived: best x 100 / percent", _targets,
        (1000, 98, 95, 90, 85, 75, 70, 60), [1020, 1053, 1111, 1176, 1333, 1429, 1667]),
    Row("7.19 targets of 6.00 s, to a hundredth", "derived: best x 100 / percent", _targets,
        (600, 95, 90, 75), [632, 667, 800]),
    Row("7.19 to a thousandth", "derived: hundred times as fine", _targets, (100_000, 98, 95, 90),
        [102_041, 105_263, 111_111]),
    Row("14.5 hours after acceleration, top speed, sprint endurance, tempo", HAUGEN,
        lambda: [pace.METHODS[n].hours for n in ("acceleration", "top speed", "speed endurance", "tempo")],
        (), [(48, 48), (48, 72), (48, 72), (24, 24)]),
    *(Row(f"14.6 {days} days between two top-speed sessions", f"derived from {HAUGEN}",
        lambda d: tuple(24 * d >= h for h in pace.METHODS["top speed"].hours), (days,), kept)
      for days, kept in ((1, (False, False)), (2, (True, False)), (3, (True, True)))),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)


def test_the_other_convention_is_another_figure() -> None:
    """Row 7.19: adding five percent to 10.00 s would give 10.50; a share of speed gives 10.53."""
    assert pace.target_time(1000, 95) != 1050


def test_the_largest_residual_of_the_whole_final() -> None:
    """Row 7.17: 0.014 s over all 100 m."""
    metres = tuple(10.0 * (at + 1) for at in range(10))
    found = sprint.fit(splits(metres, FINAL), shift_s=-REACTION_S)
    assert round(max(abs(rest) for rest in found.residuals_s), 3) == 0.014
