"""Heat: the wet-bulb globe temperature (WBGT), its estimate, and the published bands.

Degrees Celsius; bands take whole tenths of a degree, so that their edges are exact. Sources: ISO 7243;
Armstrong LE, Casa DJ, Millard-Stafford M, Moran DS, Pyne SW, Roberts WO 2007, American College of Sports
Medicine position stand: exertional heat illness during training and competition, Medicine and Science in
Sports and Exercise 39(3):556-572. A clinician and local rules decide; an estimate without a globe
thermometer can be wrong by several degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner.science.errors import OutOfReach, within


def _degrees(celsius: float, what: str) -> float:
    return within(celsius, -40, 70, f"the {what} temperature is", "°C", "it is in Fahrenheit.")


def wbgt_outdoors(wet_bulb: float, globe: float, air: float) -> float:
    """WBGT in the sun, in degrees Celsius: 0.7 natural wet bulb + 0.2 globe + 0.1 air. Source: ISO 7243."""
    _ordered(wet_bulb, air)
    return 0.7 * wet_bulb + 0.2 * _degrees(globe, "globe") + 0.1 * air


def wbgt_without_sun(wet_bulb: float, globe: float) -> float:
    """WBGT indoors or without sun, in degrees Celsius: 0.7 natural wet bulb + 0.3 globe. Source: ISO 7243."""
    return 0.7 * _degrees(wet_bulb, "wet-bulb") + 0.3 * _degrees(globe, "globe")


def _ordered(wet_bulb: float, air: float) -> None:
    _degrees(wet_bulb, "wet-bulb")
    _degrees(air, "air")
    if wet_bulb > air + 10:  # strong sun can lift a natural wet bulb above the air's shade temperature
        raise OutOfReach(
            f"the wet bulb shows {wet_bulb:g} °C and the air {air:g} °C, needed a wet bulb below it. "
            "Maybe the two changed places."
        )


def vapour_pressure_hpa(air: float, humidity_percent: float) -> float:
    """Water vapour in the air, in hectopascals: humidity x 6.105 x exp(17.27 T / (237.7 + T)); from memory.

    As used by the Australian Bureau of Meteorology with the estimate below.
    """
    _degrees(air, "air")
    within(humidity_percent, 0, 100, "the humidity is", "%", "a share was meant: times 100.")
    return humidity_percent / 100 * 6.105 * math.exp(17.27 * air / (237.7 + air))


def wbgt_estimate(air: float, humidity_percent: float) -> float:
    """WBGT in degrees Celsius from shade temperature and humidity, for moderate sun and a light wind.

    0.567 T + 0.393 e + 3.94. Source: Australian Bureau of Meteorology, after American College of Sports
    Medicine 1984. Too low in full sun without wind, too high under cloud or in wind.
    """
    return 0.567 * air + 0.393 * vapour_pressure_hpa(air, humidity_percent) + 3.94


@dataclass(frozen=True)
class HeatBand:
    """One band: its lower edge in tenths of a degree and what is advised; '' where nothing is said."""

    from_tenths: int
    competition: str
    not_used_to_heat: str
    used_to_heat: str


BANDS: tuple[HeatBand, ...] = (  # Armstrong and others 2007, the table as reprinted
    HeatBand(-400, "generally safe", "normal", "normal"),
    HeatBand(101, "generally safe", "normal", "normal"),
    HeatBand(184, "risk begins to rise; watch those at high risk", "more rest, watch fluids", "normal"),
    HeatBand(223, "risk is up for all", "more rest, shorter in all", "normal, watch fluids"),
    HeatBand(
        257, "high risk for the unfit and those not used to heat", "more rest, lower intensity, shorter",
        "normal, watch fluids",
    ),
    HeatBand(
        279, "level at which events are cancelled", "as much rest as work, limit intense work",
        "intense or long work with discretion",
    ),
    HeatBand(301, "", "cancel", "limit intense work and time in the heat"),
    HeatBand(323, "", "cancel", "cancel"),
)  # fmt: skip


@dataclass(frozen=True)
class ChildBand:
    """One band of the older limits for children: lower edge in tenths of a degree, and what is advised."""

    from_tenths: int
    advice: str


CHILD_BANDS: tuple[ChildBand, ...] = (
    # American Academy of Pediatrics 2000, Climatic heat stress and the exercising child and adolescent,
    # Pediatrics 106(1):158-159, Table 1; the edge above 29 as 29.1
    ChildBand(-400, "all may train; watch for early signs"),
    ChildBand(240, "longer rests in the shade, drink every 15 minutes"),
    ChildBand(260, "stop those not used to heat and at high risk; limit all others"),
    ChildBand(291, "cancel"),
)


def _tenths(tenths: int) -> int:
    return int(within(tenths, -400, 600, "the WBGT is", "tenths of a degree", "it was given in degrees."))


def heat_band(wbgt_tenths: int) -> HeatBand:
    """The published band that a WBGT, in tenths of a degree Celsius, falls in (adults)."""
    return next(band for band in reversed(BANDS) if _tenths(wbgt_tenths) >= band.from_tenths)


def child_band(wbgt_tenths: int) -> ChildBand:
    """The older limits for children that a WBGT, in tenths of a degree Celsius, falls in."""
    return next(band for band in reversed(CHILD_BANDS) if _tenths(wbgt_tenths) >= band.from_tenths)


# Getting used to heat: days of repeated training in it. Racinais S and others 2015, British Journal of
# Sports Medicine 49(18):1164-1173; Casa DJ and others 2002 (National Athletic Trainers' Association
# position statement), Journal of Athletic Training 37(3):329-343; Pryor JL and others 2019, Temperature
# 6(1):37-49.
USED_TO_HEAT_DAYS = (7, 14)  # Racinais and others 2015
USED_TO_HEAT_GRADUAL_DAYS = (10, 14)  # Casa and others 2002
CAMP_MINUTES_A_DAY = (75, 90)  # Racinais and others 2015, Table 1
TOP_UP_DAYS = (2, 4)  # consecutive days, Pryor and others 2019
BEFORE_EVENT_DAYS = (7, 21)  # when the heat work lies, Pryor and others 2019
