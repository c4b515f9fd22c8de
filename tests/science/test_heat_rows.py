"""Published and derived figures for heat and for time zones."""

from __future__ import annotations

from datetime import date

from planner.science import heat as h
from planner.science import travel as t
from tests.science.published import Row, judge, parametrised

ISO = "ISO 7243; American Academy of Pediatrics 2000, Pediatrics 106(1):158-159, note of Table 1"
ACSM = "Armstrong LE and others 2007, Medicine and Science in Sports and Exercise 39(3):556-572, as reprinted"
AAP = "American Academy of Pediatrics 2000, Pediatrics 106(1):158-159, Table 1"
BUREAU = "derived from the Australian Bureau of Meteorology's estimate (vapour pressure from memory)"
RACINAIS = "Racinais S and others 2015, British Journal of Sports Medicine 49(18):1164-1173"
CASA = "Casa DJ and others 2002, Journal of Athletic Training 37(3):329-343"
PRYOR = "Pryor JL and others 2019, Temperature 6(1):37-49"
JANSE = "Janse van Rensburg DC, Fowler P, Racinais S 2021, British Journal of Sports Medicine 55(15):821-822"
TEAM = "travel page of a national team, by an author of the consensus"
ZONES = "derived from the IANA time-zone database"


def _edges(tenths: int) -> tuple[int, int]:
    """Places of two neighbouring tenths among the bands."""
    return h.BANDS.index(h.heat_band(tenths)), h.BANDS.index(h.heat_band(tenths + 1))


def _advice(tenths: int) -> tuple[str, str, str]:
    band = h.heat_band(tenths)
    return band.competition, band.not_used_to_heat, band.used_to_heat


def _zones(home: str, away: str, month: int) -> float:
    return t.zones_east(home, away, date(2026, month, 15))


ROWS = [
    Row("13.1 13.3 outdoors", ISO, h.wbgt_outdoors, (25, 32, 20), 25.9, 1e-9),
    Row("13.2 13.3 without sun", "ISO 7243, as a library's manual gives it", h.wbgt_without_sun, (25, 32),
        27.1, 1e-9),
    Row("13.1 13.3 outdoors, hotter", ISO, h.wbgt_outdoors, (26, 45, 33), 30.5, 1e-9),
    Row("13.4 vapour at 35 °C, 50 %", BUREAU, h.vapour_pressure_hpa, (35, 50), 28.008, 5e-4),
    Row("13.4 estimate at 35 °C, 50 %", BUREAU, h.wbgt_estimate, (35, 50), 34.79, 5e-3),
    Row("13.4 vapour at 40 °C, 30 %", BUREAU, h.vapour_pressure_hpa, (40, 30), 22.037, 5e-4),
    Row("13.4 estimate at 40 °C, 30 %", BUREAU, h.wbgt_estimate, (40, 30), 35.28, 5e-3),
    Row("bands: lower edges", ACSM, lambda: [band.from_tenths for band in h.BANDS[1:]], (),
        [101, 184, 223, 257, 279, 301, 323]),
    *(Row(f"bands: {tenths / 10} and {(tenths + 1) / 10} part", ACSM, _edges, (tenths,), places)
      for tenths, places in ((278, (4, 5)), (300, (5, 6)), (322, (6, 7)), (183, (1, 2)), (222, (2, 3)),
          (256, (3, 4)))),
    Row("bands: 10.0", ACSM, _advice, (100,), ("generally safe", "normal", "normal")),
    Row("bands: 20.0", ACSM, _advice, (200,), ("risk begins to rise; watch those at high risk",
        "more rest, watch fluids", "normal")),
    Row("bands: 24.0", ACSM, _advice, (240,), ("risk is up for all", "more rest, shorter in all",
        "normal, watch fluids")),
    Row("bands: 27.0", ACSM, _advice, (270,), ("high risk for the unfit and those not used to heat",
        "more rest, lower intensity, shorter", "normal, watch fluids")),
    Row("bands: 29.0", ACSM, _advice, (290,),
        ("level at which events are cancelled", "as much rest as work, limit intense work",
        "intense or long work with discretion")),
    Row("bands: 31.0", ACSM, _advice, (310,), ("", "cancel", "limit intense work and time in the heat")),
    Row("bands: 33.0", ACSM, _advice, (330,), ("", "cancel", "cancel")),
    Row("children: edges", AAP, lambda: [h.CHILD_BANDS.index(h.child_band(x))
        for x in (239, 240, 259, 260, 290, 291)], (), [0, 1, 1, 2, 2, 3]),
    Row("13.5 days to get used to heat", RACINAIS, lambda: h.USED_TO_HEAT_DAYS, (), (7, 14)),
    Row("13.6 minutes a day in camp", f"{RACINAIS}, Table 1", lambda: h.CAMP_MINUTES_A_DAY, (), (75, 90)),
    Row("13.7 gradually", CASA, lambda: h.USED_TO_HEAT_GRADUAL_DAYS, (), (10, 14)),
    Row("13.8 before the event, and topping up", PRYOR, lambda: (h.BEFORE_EVENT_DAYS, h.TOP_UP_DAYS), (),
        ((7, 21), (2, 4))),
    Row("13.10 three zones are a tiring trip, four are jet lag", JANSE,
        lambda: [t.jet_lag(z) for z in (3, -3, 4, -4)], (), [False, False, True, True]),
    Row("13.10 the worst days", JANSE, lambda: t.WORST_DAYS, (), (2, 4)),
    Row("13.11 eight zones east", TEAM, t.days_to_adapt, (8,), 8.0),
    Row("13.11 eight zones west", TEAM, t.days_to_adapt, (-8,), 4.0),
    *(Row(f"13.13 {home} to {away}, month {month}", ZONES, _zones, (home, away, month), hours)
      for home, away, month, hours in (
          ("Europe/London", "Asia/Tokyo", 1, 9.0), ("Europe/London", "Asia/Tokyo", 7, 8.0),
              ("Europe/London", "Australia/Sydney", 1, 11.0),
          ("Europe/London", "Australia/Sydney", 7, 9.0), ("Europe/London", "America/Los_Angeles", 1, -8.0),
              ("Europe/London", "America/Los_Angeles", 7, -8.0),
          ("America/New_York", "Europe/Paris", 1, 6.0), ("America/New_York", "Europe/Paris", 7, 6.0),
              ("Africa/Johannesburg", "Asia/Tokyo", 1, 7.0), ("Africa/Johannesburg", "Asia/Tokyo", 7, 7.0))),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)
