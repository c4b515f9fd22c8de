"""What a sheet says of the heat of a slot, for one athlete, in the words of the published bands."""

from __future__ import annotations

from datetime import date

from planner.domain.problem import Problem
from planner.rules import book
from planner.rules._weather import heat, is_minor, used_to_heat
from planner.science.heat import child_band, heat_band

AS_USUAL = "normal"


def heat_note(problem: Problem, athlete: str, day: date, slot: str) -> str:
    """'WBGT 28.5 degrees: as much rest as work, limit intense work'; '' without a forecast or advice.

    WBGT is the wet-bulb globe temperature in degrees Celsius. Who is used to heat is counted from the own
    arrival, by the rule about heat. Adults: Armstrong and others 2007; under 18: American Academy of
    Pediatrics 2000, both in full in `planner.science.heat`.
    """
    row = heat(problem, day, slot)
    if row is None or row.wbgt is None:
        return ""
    if is_minor(problem, athlete, day):
        advice = child_band(row.wbgt).advice
    else:
        days = book()["heat"].rule.number(problem, "days", athlete, day)
        band = heat_band(row.wbgt)
        used = used_to_heat(problem, athlete, day, days)
        advice = band.used_to_heat if used else band.not_used_to_heat
    return "" if advice in ("", AS_USUAL) else f"WBGT {row.wbgt / 10:.1f} degrees: {advice}"
