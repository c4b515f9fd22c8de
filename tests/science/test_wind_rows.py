"""Published and derived figures for wind and altitude."""

from __future__ import annotations

import pytest

from planner.science import wind
from tests.science.published import Row, judge, parametrised

MUREIKA = "Mureika JR 2001, arXiv physics/0006057 (coefficient 0.027 from public copies)"
TABLE = "Mureika JR, figures of 2008 as reprinted by a coaching page"
LINTHORNE = "Linthorne NP 1994, Journal of Applied Biomechanics 10(2):110-131"
MOINAT = "Moinat M, Fabius O, Emanuel KS 2018, European Journal of Sport Science 18(9):1185-1190"
RULES = "World Athletics Technical Rules 17 and 29 (former rules 163 and 184)"
METRES = (0, 500, 1000, 1500, 2000, 2500)

MEN_10_S = {0: (0.00, 0.02, 0.04, 0.05, 0.07, 0.08), 1: (0.05, 0.07, 0.08, 0.10, 0.11, 0.12),
    2: (0.10, 0.11, 0.13, 0.14, 0.15, 0.16)}
WOMEN_11_S = {0: (0.00, 0.02, 0.04, 0.06, 0.07, 0.09), 1: (0.07, 0.08, 0.10, 0.11, 0.11, 0.14),
    2: (0.12, 0.14, 0.15, 0.16, 0.17, 0.18)}


def _added(time: float, w: float, altitude: float) -> float:
    return wind.still_time_100m(time, w, altitude) - time


def _row_of_table(time: float, w: float) -> list[float]:
    return [_added(time, w, altitude) for altitude in METRES]


def _ratio() -> float:
    return wind.worth("100 m", 2.0, 13.0) / wind.worth("100 m", 2.0, 10.0)


ROWS = [
    Row("8.1 the correction itself", MUREIKA, wind.still_time_100m, (10.0, 2.0, 0.0),
        10.0 * (1.027 - 0.027 * 0.8**2), 1e-9),
    *(Row(f"8.2 {time} s, wind {w:+}, {altitude} m", f"derived from {MUREIKA}", _added, (time, w, altitude),
        added, 5e-5)
      for time, w, altitude, added in (
          (10.0, 1.0, 0, 0.0513), (10.0, 2.0, 0, 0.0972), (10.0, -1.0, 0, -0.0567), (10.0, -2.0, 0, -0.1188),
              (10.0, 0.0, 1000, 0.0317),
          (10.0, 0.0, 2000, 0.0597), (10.0, 0.0, 2250, 0.0662), (10.0, 2.0, 2250, 0.1396),
              (11.0, 1.0, 0, 0.0617), (11.0, 2.0, 0, 0.1163), (11.0, 0.0, 2000, 0.0657))),
    *(Row(f"8.4 men, wind +{w}", f"{TABLE}; two models, 0.012 s to +1 and 0.017 s at +2", _row_of_table,
        (10.0, w), list(row), 0.012 if w < 2 else 0.017) for w, row in MEN_10_S.items()),
    *(Row(f"8.5 women, wind +{w}", f"{TABLE}; two models, 0.023 s apart", _row_of_table, (11.0, w), list(row),
        0.023) for w, row in WOMEN_11_S.items()),
    *(Row(f"8.6 200 m at sea level, wind +{w}", f"{TABLE}; against the regression of {MOINAT}, 0.021 s apart",
        wind.worth, ("200 m", w), seconds, 0.021) for w, seconds in ((0, 0.00), (1, 0.06), (2, 0.12))),
    *(Row(f"8.6 200 m, women, at sea level, wind +{w}", f"{TABLE}; against the regression of {MOINAT}",
        wind.worth, ("200 m", w), seconds, 0.011) for w, seconds in ((0, 0.00), (1, 0.08), (2, 0.14))),
    Row("8.7 +2.0 m/s over 100 m", LINTHORNE, lambda: wind.LINTHORNE_PLUS_2_S, (),
        {"men": (0.10, 0.01), "women": (0.12, 0.02)}),
    Row("8.7 men, by the correction", LINTHORNE, _added, (10.0, 2.0, 0), 0.10, 0.01),
    Row("8.7 women, by the correction", LINTHORNE, _added, (11.0, 2.0, 0), 0.12, 0.02),
    Row("8.7 2250 m, by the correction", LINTHORNE, _added, (10.0, 0.0, 2250), wind.LINTHORNE_2250_M_S,
        0.005),
    Row("8.8 100 m", MOINAT, wind.worth, ("100 m", 1.0, 11.0), 0.009459 * 11 - 0.0449 - 0.0042, 1e-12),
    Row("8.9 8.10 200 m at +2.0", MOINAT, wind.worth, ("200 m", 2.0), 0.140, 1e-9),
    Row("8.9 8.10 hurdles at +2.0", MOINAT, wind.worth, ("hurdles", 2.0), 0.146, 1e-9),
    Row("8.9 8.10 long jump at +2.0", MOINAT, wind.worth, ("long jump", 2.0), 0.058, 1e-9),
    Row("8.9 8.10 triple jump at +2.0", MOINAT, wind.worth, ("triple jump", 2.0), 0.102, 1e-9),
    Row("8.9 8.10 13 s against 10 s", f"{MOINAT}: 69 % more", _ratio, (), 1.69, 0.005),
    Row("8.10 the same, to three figures", "derived", _ratio, (), 1.687, 5e-4),
    Row("8.9 8.10 100 m at +2.0, runner of 12.24 s", MOINAT, wind.worth, ("100 m", 2.0, 12.24), 0.125, 5e-4),
    Row("8.12 limit for records", RULES, lambda: (wind.wind_assisted(20), wind.wind_assisted(21)), (),
        (False, True)),
    Row("8.12 where the wind counts", RULES, lambda: [wind.wind_aided(e, 21) for e in (
        "60 m", "100 m hurdles", "200 m", "long jump", "triple jump 8 steps", "flying 20 m",
        "300 m", "high jump", "shot put", "4x100 m")], (), [True] * 6 + [False] * 4),
    Row("8.12 +2.0 still counts, and a wind nobody knows", RULES, lambda: (
        wind.wind_aided("100 m", 20), wind.wind_aided("100 m", None), wind.wind_aided("100 m", -30)), (),
        (False, False, False)),
    Row("8.13 seconds of reading", RULES, lambda: [wind.WINDOW_S[e]
        for e in ("100 m", "100 m hurdles", "110 m hurdles", "200 m", "long jump", "triple jump")], (),
        [10, 13, 13, 10, 5, 5]),
    Row("8.13 where the jump's reading begins", RULES, lambda: wind.WINDOW_FROM_M, (),
        {"long jump": 40, "triple jump": 35}),
    Row("8.14 where the gauge stands", RULES, lambda: (wind.GAUGE_FROM_LINE_M, wind.GAUGE_HEIGHT_CM,
        wind.GAUGE_AWAY_AT_MOST_CM), (), ({"track": 50, "jumps": 20}, 122, 200)),
    Row("8.15 +2.03 is +2.1", f"from memory: {RULES}", wind.reading_tenths, (2030,), 21),
    Row("8.15 -2.03 is -2.0", f"from memory: {RULES}", wind.reading_tenths, (-2030,), -20),
    Row("8.15 +2.00 stays", f"from memory: {RULES}", wind.reading_tenths, (2000,), 20),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)


@pytest.mark.parametrize("strength", [0.5, 1.0, 2.0, 3.5])
def test_a_head_wind_costs_more_than_the_same_tail_wind_gives(strength: float) -> None:
    """Row 8.7, Linthorne 1994; both models agree."""
    assert -_added(10.5, -strength, 0) > _added(10.5, strength, 0) > 0
    assert -wind.worth("100 m", -strength, 10.5) > wind.worth("100 m", strength, 10.5)
