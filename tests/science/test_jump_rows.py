"""Published and derived figures for the two horizontal jumps and their run-up."""

from __future__ import annotations

from fractions import Fraction

from planner.science import jumps as j
from planner.science import run_up as u
from tests.science.published import Row, judge, parametrised

RESTATED = "restated widely in coaching texts"
HAY = "Hay JG 1992, Journal of Sports Sciences 10(4):343-378 (definition from memory)"
MILLER = "from memory: Miller JA, Hay JG 1986, International Journal of Sport Biomechanics 2:272-288"
PANOUTSAKOPOULOS = "Panoutsakopoulos V, Kollias I 2008, New Studies in Athletics 23(4):53-61"
DOHA = "official report of the men's triple-jump final, Doha 2019"
BRIDGETT = "Bridgett LA, Galloway M, Linthorne NP 2002, Symposium on Biomechanics in Sports, Caceres"
HAY_1988 = "Hay JG 1988, International Journal of Sport Biomechanics 4:114-129"
TECHNIQUES = "coaching magazine of the United States coaches' association, as restated"
TRACK_COACH = "Track Coach magazine 2019, as restated"
PRACTICE = "common practice, no source"

RECORD = j.Phases(605, 522, 702)
EDGE = j.Phases(632, 496, 669)


def _percent(phases: j.Phases) -> list[float]:
    return [float(share) for share in phases.shares]


def _round_trap(phases: j.Phases) -> tuple[int, j.Style, j.Style]:
    rounded = [round(share) for share in phases.shares]
    return sum(rounded), j.style_of(*rounded), j.style(phases)


def _marks(total: int) -> tuple[int, int, int, int, int]:
    phases = j.phases_of(total)
    return (*j.marks_for(total), phases.hop, phases.step, phases.jump)


def _board(poor_day: int) -> tuple[float, float]:
    allowed = j.board_range_cm(poor_day)
    return allowed.low / 100, allowed.high / 100


def _run_up(name: str) -> tuple[list[float], list[float]]:
    steps = u.CLASSES[name]
    marks = [round(u.start_mark_m(n, steps), 1) for n in (6, 8, 10, 12, 14, 16)]
    return marks, [round(u.check_mark(16, n, steps).from_start_m, 1) for n in (2, 4, 6)]


def _last(name: str) -> list[float]:
    return [u.coach_mark(18, n, u.CLASSES[name]).from_line_m for n in (4, 6)]


ROWS = [
    Row("9.1 18.29 m in 1995, 33 / 29 / 38 %", RESTATED, j.style_of, (33, 29, 38), "jump-dominated"),
    Row("9.2 the same, phases add up", f"from memory: {RESTATED}", j.check_total, (RECORD, 1829), None),
    Row("9.2 the same, shares", f"from memory: {RESTATED}", _percent, (RECORD,), [33.08, 28.54, 38.38], 5e-3),
    Row("9.2 the same, style", f"from memory: {RESTATED}", j.style, (RECORD,), "jump-dominated"),
    Row("9.3 18.43 m in 1995, rounded shares come to 99", RESTATED, j.style_of, (35, 30, 34), "balanced"),
    Row("9.4 17.97 m in 1985, shares", MILLER, _percent, (EDGE,), [35.17, 27.60, 37.23], 5e-3),
    Row("9.4 by 2.06 points", MILLER, lambda: _percent(EDGE)[2] - _percent(EDGE)[0], (), 2.06, 5e-3),
    Row("9.4 style at the edge", f"{MILLER}; {HAY}", j.style, (EDGE,), "jump-dominated"),
    Row("9.5 mean of ten women", PANOUTSAKOPOULOS, j.style_of, (36.5, 29.3, 34.2), "hop-dominated"),
    Row("9.9 35 / 30 / 35", RESTATED, j.style_of, (35, 30, 35), "balanced"),
    Row("9.9 35 / 29 / 36", RESTATED, j.style_of, (35, 29, 36), "balanced"),
    Row("9.9 39 / 30 / 31", RESTATED, j.style_of, (39, 30, 31), "hop-dominated"),
    Row("9.9 34 / 32 / 34", RESTATED, j.style_of, (34, 32, 34), "balanced"),
    Row("9.12 10.15 effective distance, toe 31 cm short", DOHA, j.effective_cm, (1742, 31), 1773),
    Row("9.12 10.15 20 cm of board and 11 cm behind it", DOHA, j.effective_cm, (1742, 20 + 11), 1773),
    Row("9.13 rounded shares may come to 99 or 101", "derived", _round_trap, (j.Phases(531, 455, 514),),
        (99, "balanced", "balanced")),
    Row("9.13 and may change the style", "derived", _round_trap, (j.Phases(524, 475, 501),),
        (100, "hop-dominated", "balanced")),
    Row("10.1 10.4 0.3 m/s faster, one athlete", BRIDGETT, j.gain_from_speed_cm, (3,), 24),
    Row("10.2 10.4 0.3 m/s between athletes", BRIDGETT, lambda: 3 * j.ACROSS_ATHLETES_CM, (), 39),
    Row("10.7 steering begins", HAY_1988, lambda: u.STEERING_STEP, (), 5),
    Row("10.10 steps by age", TECHNIQUES, lambda: [steps for _, steps in u.BETTER_JUMPERS_STEPS], (),
        [(12, 14), (14, 16), (16, 18)]),
    Row("10.10 seen", TECHNIQUES, lambda: u.SEEN_STEPS, (), (12, 22)),
    Row("10.11 up to 14 years", TRACK_COACH, u.steps_by_age, (13,), (11, 15)),
    Row("10.11 mature jumpers", TRACK_COACH, lambda: u.MATURE_RUN_UP_M, (), (30, 45)),
    Row("10.14 a hundred shoes of 29 cm", "derived", u.by_shoes_m, (100, 29.0), 29.0, 1e-9),
    Row("10.14 half a centimetre of error a shoe", "derived",
        lambda: u.by_shoes_m(100, 29.5) - u.by_shoes_m(100, 29.0), (), 0.5, 1e-9),
    Row("11.6 recorded to the centimetre below", "former rule 184", j.recorded_cm, (7568,), 756),
    *(Row(f"marks for {total / 100:.2f} m", f"derived from 35 / 30 / 35, {PRACTICE}", _marks, (total,), cells)
      for total, cells in (
          (800, (280, 520, 280, 240, 280)), (900, (315, 585, 315, 270, 315)),
              (1000, (350, 650, 350, 300, 350)), (1100, (385, 715, 385, 330, 385)),
          (1200, (420, 780, 420, 360, 420)), (1300, (455, 845, 455, 390, 455)),
              (1400, (490, 910, 490, 420, 490)), (1500, (525, 975, 525, 450, 525)),
              (1600, (560, 1040, 560, 480, 560)))),
    *(Row(f"where a board may lie, {total / 100:.2f} m", "derived: 0.65 D + 0.5 to D - 1.5 m", _board,
        (total,), edges, 0.0501)
      for total, edges in ((800, (5.7, 6.5)), (900, (6.4, 7.5)), (1000, (7.0, 8.5)), (1100, (7.7, 9.5)),
          (1200, (8.3, 10.5)), (1300, (9.0, 11.5)), (1400, (9.6, 12.5)), (1500, (10.3, 13.5)),
          (1600, (10.9, 14.5)))),
    *(Row(f"boards for {total / 100:.2f} m", PRACTICE, j.boards_for, (total, (700, 900, 1100, 1300)), boards)
      for total, boards in ((800, ()), (1000, (700,)), (1100, (900,)), (1200, (900,)), (1300, (900, 1100)),
          (1400, (1100,)), (1600, (1100, 1300)))),
    *(Row(f"start marks, {name}", "derived, no source", _run_up, (name,), cells)
      for name, cells in (
          ("under 13", ([7.0, 9.9, 12.9, 16.0, 19.1, 22.3], [1.9, 4.3, 7.0])),
              ("under 15", ([7.7, 10.9, 14.2, 17.6, 21.0, 24.4], [2.1, 4.7, 7.7])),
          ("under 18 girl, novice woman", ([8.2, 11.7, 15.3, 18.9, 22.7, 26.4], [2.2, 5.0, 8.2])),
              ("under 18 boy, woman", ([8.8, 12.5, 16.4, 20.3, 24.3, 28.4], [2.3, 5.3, 8.8])),
          ("advanced woman, developing man", ([9.2, 13.1, 17.1, 21.3, 25.5, 29.7], [2.4, 5.6, 9.2])),
              ("advanced man", ([9.8, 13.9, 18.2, 22.7, 27.2, 31.7], [2.6, 5.9, 9.8])))),
    *(Row(f"coach's marks 4 and 6 steps out, {name}", "derived, no source", _last, (name,), cells, 0.15)
      for name, cells in (("under 13", [6.3, 9.5]), ("under 15", [6.9, 10.3]),
          ("under 18 boy, woman", [8.0, 12.1]), ("advanced man", [9.0, 13.6]))),
    Row("shoe lengths", PRACTICE, lambda: [round(u.shoe_length_cm(size), 1) for size in (38, 40, 42, 44, 46)],
        (), [26.5, 27.9, 29.2, 30.5, 31.9]),
    Row("wind on 40 m", "derived from Linthorne NP 1994", u.wind_shift_cm, (40, 1), 10.0, 1e-9),
    Row("wind on 28 m", "derived from Linthorne NP 1994", u.wind_shift_cm, (28, 1), 7.0, 1e-9),
    Row("half a shoe of 30 cm is 15 cm", "derived", u.in_shoes, (15, 30), Fraction(1, 2)),
    Row("less than a quarter is left alone", PRACTICE, u.in_shoes, (7, 30), Fraction(0)),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)
