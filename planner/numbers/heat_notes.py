"""What a sheet says of the heat of a slot, for one athlete, in the words of the published bands; and of cold."""

from __future__ import annotations

from datetime import date

from planner.domain.problem import Problem
from planner.rules import book
from planner.rules._weather import heat, is_minor, said, used_to_heat
from planner.science.heat import child_band, heat_band

AS_USUAL = "normal"
COLD_WARM_UP = 40  # minutes; common practice, no source


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


def cold_note(problem: Problem, athlete: str, day: date, slot: str) -> str:
    """'6 degrees: warm up for 40 minutes before anything fast'; '' without a forecast or in milder air.

    Air temperature in the shade, degrees Celsius; from when it is cold the rule about cold says. Common practice,
    no source.
    """
    row = said(problem, day, slot, lambda w: w.air)
    least = book()["cold"].rule.number(problem, "least", athlete, day)
    if row is None or row.air is None or row.air >= least:
        return ""
    return f"{row.air / 10:g} degrees: warm up for {COLD_WARM_UP} minutes before anything fast"
