"""Published and derived figures for loads, and their means and ratios."""

from __future__ import annotations

import math

from planner.science import load
from tests.science.published import Row, judge, parametrised

FOSTER_1998 = "Foster C 1998, Medicine and Science in Sports and Exercise 30(7):1164-1168"
FOSTER_2001 = "Foster C and others 2001, Journal of Strength and Conditioning Research 15(1):109-115"
MIDOGLU = "Midoglu C and others 2024, Scientific Data 11, Table 2"
OPEN_DATA = f"open soccer data set of {MIDOGLU}; sessions rebuilt from published total, largest and minutes"
WILLIAMS = "Williams S and others 2017, British Journal of Sports Medicine 51(3):209-210"
LOLLI = "Lolli L and others 2019, British Journal of Sports Medicine 53(15):921-922"
IMPELLIZZERI = "Impellizzeri FM and others 2021, Sports Medicine, doi 10.1007/s40279-020-01378-6"

WEEK = (250, 200, 240, 300, 280, 360, 430)  # 11-17 October 2021
STEP = [100] * 28 + [150] * 7


def _day(*parts: tuple[int, int]) -> int:
    return load.session_load(parts, warm_up=False)


def _equal_sessions(k: int, spread: load.Spread) -> float | None:
    return load.monotony([300] * k + [0] * (7 - k), spread=spread)


def _forms(loads: tuple[int, ...]) -> float:
    population, sample = load.monotony(loads), load.monotony(loads, spread="sample")
    assert population is not None and sample is not None
    return population / sample


def _monotony(spread: load.Spread) -> float | None:
    return load.monotony(WEEK, spread=spread)


def _strain(spread: load.Spread) -> float | None:
    return load.strain(WEEK, spread=spread)


def _scaled(factor: int) -> tuple[float, float]:
    first, more = load.monotony(WEEK), load.monotony([factor * day for day in WEEK])
    small, large = load.strain(WEEK), load.strain([factor * day for day in WEEK])
    assert first and more and small and large
    return more / first, large / small


def _reordered(spread: load.Spread) -> tuple[float | None, float | None]:
    turned = WEEK[3:] + WEEK[:3]
    return load.monotony(turned, spread=spread), load.strain(turned, spread=spread)


def _means(days: int) -> float:
    return load.exponential_means(STEP, days, start=100)[-1]


def _said(doubts: tuple[str, ...], *figures: str) -> bool:
    return all(any(figure in doubt for doubt in doubts) for figure in figures)


def _constant(overlapping: bool) -> float | None:
    return load.short_over_long([137.0] * 40, overlapping=overlapping)


K = {1: (0.4082, 0.3780), 2: (0.6325, 0.5855), 3: (0.8660, 0.8018), 4: (1.1547, 1.0690), 5: (1.5811, 1.4639),
    6: (2.4495, 2.2678)}

ROWS = [
    Row("1.1 session load is effort x minutes", f"{FOSTER_2001}; {MIDOGLU}", load.part_load, (7, 90), 630),
    Row("1.1 week load is the sum over seven days", FOSTER_2001, load.week_load, (WEEK,), 2060),
    Row("1.2 1.8 monotony, sample", f"derived from {FOSTER_1998}; loads: {OPEN_DATA}", _monotony, ("sample",),
        3.7591, 5e-5),
    Row("1.2 1.8 monotony, population", f"derived from {FOSTER_1998}; loads: {OPEN_DATA}", _monotony,
        ("population",), 4.0603, 5e-5),
    Row("1.3 1.8 strain, sample", f"derived from {FOSTER_1998}; loads: {OPEN_DATA}", _strain, ("sample",),
        7743.8, 0.05),
    Row("1.3 1.8 strain, population", f"derived from {FOSTER_1998}; loads: {OPEN_DATA}", _strain,
        ("population",), 8364.3, 0.05),
    Row("1.8 mean of the week", f"derived; loads: {OPEN_DATA}", load.rolling_mean, (WEEK, 7), 294.286, 5e-4),
    Row("1.4 rolling mean over six weeks", f"{FOSTER_1998}: 6-week average; figures derived",
        load.rolling_mean, ([9999] + [100] * 21 + [200] * 21, 42), 150.0),
    Row("1.5 population form against sample form", "derived: sqrt(7/6)", _forms, (WEEK,), 1.080123, 5e-7),
    Row("1.6 sum of products", OPEN_DATA, _day, ((7, 120), (4, 40)), 1000),
    Row("1.7 sum of products, second day", OPEN_DATA, _day, ((6, 100), (4, 40)), 760),
    *(Row(f"1.10 {k} equal sessions, {spread}", "derived: sqrt(k / (7 - k)), x sqrt(6/7)", _equal_sessions,
        (k, spread), both[i], 5e-5)
      for k, both in K.items() for i, spread in enumerate(("population", "sample"))),
    Row("1.10 seven equal sessions have no monotony", "derived: nothing is divided by 0", _equal_sessions,
        (7, "sample"), None),
    Row("1.11 larger loads", "derived", _scaled, (3,), (1.0, 3.0), 1e-12),
    Row("1.11 other order", "derived", _reordered, ("sample",),
        (load.monotony(WEEK, spread="sample"), load.strain(WEEK, spread="sample")), 1e-9),
    Row("2.1 2.2 newest share, 7 days", f"{WILLIAMS}; formula from memory", load.newest_share, (7,), 0.25),
    Row("2.1 2.2 newest share, 28 days", f"{WILLIAMS}; formula from memory", load.newest_share, (28,),
        0.068966, 5e-7),
    Row("2.2 half-life, 7 days", "derived", load.half_life_days, (7,), 2.409, 5e-4),
    Row("2.2 half-life, 28 days", "derived", load.half_life_days, (28,), 9.700, 5e-4),
    Row("2.2 step reached, 7 days", "derived", load.step_reached, (7, 7), 0.8665, 5e-5),
    Row("2.2 step reached, 28 days", "derived", load.step_reached, (28, 28), 0.8648, 5e-5),
    Row("2.3 2.4 rolling ratio of the published example",
        f"{WILLIAMS} (1.43; its daily loads were not readable)", load.overlapping_from_apart, (5 / 3,), 1.43,
            5e-3),
    *(Row(f"2.4 overlapping from apart {apart:g}", f"derived from {LOLLI}", load.overlapping_from_apart,
        (apart,), expected, 5e-5)
      for apart, expected in ((1.0, 1.0), (1.5, 1.3333), (5 / 3, 1.4286), (2.0, 1.6), (1e9, 4.0))),
    Row("2.5 short mean after a step", "derived", _means, (7,), 143.3258, 5e-5),
    Row("2.5 long mean after a step", "derived", _means, (28,), 119.6799, 5e-5),
    Row("2.5 their ratio", "derived", lambda: _means(7) / _means(28), (), 1.1976, 5e-5),
    Row("2.5 rolling, overlapping", f"derived from {LOLLI}", lambda: load.short_over_long(STEP), (), 1.3333,
        5e-5),
    Row("2.5 rolling, apart", f"derived from {LOLLI}", lambda: load.short_over_long(STEP, overlapping=False),
        (), 1.5, 1e-12),
    Row("2.6 constant load, overlapping", "derived", _constant, (True,), 1.0, 1e-12),
    Row("2.6 constant load, apart", "derived", _constant, (False,), 1.0, 1e-12),
    Row("2.6 constant load, exponential", "derived", lambda: load.exponential_means([80] * 50, 28,
        start=80)[-1], (), 80.0, 1e-9),
    Row("2.7 the first load is the start unless one is given",
        "from memory: definition in pandas, adjust=False", lambda: load.exponential_means([40, 80], 7), (),
        [40.0, 50.0], 1e-12),
    Row("2.8 the doubt of the shared week is printed", LOLLI, _said,
        (load.RATIO_DOUBTS, "part of the long one", "Lolli"), True),
    Row("2.9 the doubt of the replaced long mean is printed", IMPELLIZZERI, _said,
        (load.RATIO_DOUBTS, "2.45", "1.95", "1.53"), True),
    Row("2.10 the doubt about injury is printed",
        "Impellizzeri FM and others 2020, Journal of Athletic Training 55(9):893-901", _said,
        (load.RATIO_DOUBTS, "raises or lowers injury risk"), True),
    Row("the doubts about ten percent a week are printed",
        "Nielsen RO and others 2014, Journal of Orthopaedic and Sports Physical Therapy 44(10):739-747",
        _said, (load.TEN_PERCENT_DOUBTS, "1.59", "0.96 to 2.66"), True),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)


def test_product_of_means_is_another_figure() -> None:
    """Row 1.6: the mean effort times all minutes, 880, is not the load."""
    assert _day((7, 120), (4, 40)) != 5.5 * 160


def test_the_population_form_is_the_default_and_larger() -> None:
    assert load.monotony(WEEK) == load.monotony(WEEK, spread="population")
    assert math.isclose(_forms(WEEK), math.sqrt(7 / 6))
