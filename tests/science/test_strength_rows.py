"""Published and derived figures for repetitions and percentages of the best single lift."""

from __future__ import annotations

from planner.science import strength as s
from tests.science.published import Row, judge, parametrised

CHART = "National Strength and Conditioning Association, Essentials of Strength Training, load chart"
LOGS = "weightlifters' logs of the 1970s after Prilepin AS, four restatements; the first source not seen"
EPLEY = "Epley B 1985, restated as percent = 1 / (1 + 0.0333 r)"
BRZYCKI = "Brzycki M 1993, Journal of Physical Education, Recreation and Dance 64(1):88-90"

# repetitions -> Epley, Brzycki, Lombardi, O'Conner, Mayhew, Wathan, Lander; 100 kg; kilograms
WORKED = {
    1: (103.33, 100.00, 100.00, 102.50, 108.86, 101.30, 101.39),
    3: (110.00, 105.88, 111.61, 107.50, 113.99, 108.98, 107.20),
    5: (116.67, 112.50, 117.46, 112.50, 119.01, 116.58, 113.71),
    8: (126.67, 124.14, 123.11, 120.00, 126.29, 127.67, 125.11),
    10: (133.33, 133.33, 125.89, 125.00, 130.93, 134.75, 134.07),
}
NAMES = tuple(s.FORMULAS)


def _total(percent: int) -> tuple[tuple[int, int], int, tuple[int, int]]:
    found = s.total_for(percent)
    return found.a_set, found.usual, found.total


ROWS = [
    Row("6.1 percent for 1 to 10 repetitions", CHART, lambda: [s.percent_for(n) for n in range(1, 11)], (),
        [100, 95, 93, 90, 87, 85, 83, 80, 77, 75]),
    Row("6.2 percent for 11 and 12", f"from memory, copies disagree: {CHART}",
        lambda: [s.percent_for(n) for n in (11, 12)], (), [70, 67]),
    Row("6.3 Epley", EPLEY, s.best_single_by, ("Epley 1985", 90, 6), 90 * (1 + 6 / 30), 1e-9),
    Row("6.4 Brzycki", BRZYCKI, s.best_single_by, ("Brzycki 1993", 90, 6), 90 * 36 / (37 - 6), 1e-9),
    Row("6.4 Brzycki, printed coefficients", BRZYCKI, s.best_single_by, ("Brzycki 1993", 90, 6),
        90 / (1.0278 - 0.0278 * 6), 0.02),
    Row("6.5 Lombardi", "from memory: Lombardi VP 1989", s.best_single_by, ("Lombardi 1989", 90, 6),
        90 * 6**0.10, 1e-9),
    Row("6.6 two formulas agree at ten", "derived: both 4/3 of the weight",
        lambda: [s.best_single_by(n, 75, 10) for n in NAMES[:2]], (), [100.0, 100.0], 1e-9),
    Row("6.7 Epley in percent, 2 to 12", EPLEY, lambda: [round(s.percent_by_epley(n)) for n in range(2, 13)],
        (), [94, 91, 88, 86, 83, 81, 79, 77, 75, 73, 71]),
    Row("6.7 Epley in percent at one repetition, before the cap", EPLEY,
        lambda: round(100 * 100 / s.best_single_by("Epley 1985", 100, 1)), (), 97),
    Row("6.7 capped at one repetition", "derived: one repetition is the best single itself",
        s.percent_by_epley, (1,), 100.0),
    *(Row(f"worked: {name}, {repetitions} x 100 kg", "derived; last five formulas from memory",
        s.best_single_by, (name, 100, repetitions), values[at], 0.005)
      for repetitions, values in WORKED.items() for at, name in enumerate(NAMES)),
    Row("worked: spread at ten repetitions", "derived",
        lambda: (s.best_single(100, 10).low_kg, s.best_single(100, 10).high_kg), (), (125.0, 134.75), 0.005),
    Row("worked: one repetition has no spread", "derived", s.best_single, (100, 1),
        s.BestSingle(100, 100, 100)),
    Row("zones: below 70 %", LOGS, _total, (69,), ((3, 6), 24, (18, 30))),
    Row("zones: from 70 %", LOGS, _total, (70,), ((3, 6), 18, (12, 24))),
    Row("zones: to 79 %", LOGS, _total, (79,), ((3, 6), 18, (12, 24))),
    Row("zones: 80-89 %", LOGS, _total, (89,), ((2, 4), 15, (10, 20))),
    Row("zones: 90 % and above", LOGS, _total, (90,), ((1, 2), 7, (4, 10))),
    Row("bar: 85 % of 120 kg in 2.5 kg steps", "derived: 102 kg lies nearer to 102.5", s.load_at, (240, 85),
        205),
    Row("bar: 80 % of 110 kg", "derived: 88 kg lies nearer to 87.5", s.load_at, (220, 80), 175),
    Row("bar: half-way goes to the lighter", "derived: 61.25 kg between 60 and 62.5", s.on_the_bar, (61.25,),
        120),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)


def test_half_kilogram_plates() -> None:
    """83 % of 110.5 kg are 91.715 kg: 91.5 with half-kilogram steps, 92.5 with the usual ones."""
    assert s.load_at(221, 83, step=1) == 183
    assert s.load_at(221, 83) == 185
