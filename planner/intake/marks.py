"""A mark as a coach writes it, with its unit, to whole small steps."""

from __future__ import annotations

import re
from decimal import Decimal

from planner.intake.raw import Cell
from planner.intake.values import Misfit, text_of

# unit on paper -> (unit inside, steps in one)
UNITS: dict[str, tuple[str, int]] = {
    "m": ("cm", 100), "cm": ("cm", 1), "s": ("hundredths", 100), "min": ("hundredths", 6000),
    "kg": ("half-kg", 2), "points": ("points", 1), "pts": ("points", 1),
}  # fmt: skip
NEEDED = "a mark with its unit, such as 6.35 m, 11.92 s, 1:52.30, 120 kg or 4780 points"


def mark(cell: Cell) -> tuple[str, int]:
    """The unit inside (cm, hundredths, half-kg, points) and the whole number of them."""
    text = text_of(cell, NEEDED)
    minutes = re.fullmatch(r"(\d{1,3}):([0-5]\d(?:[.,]\d{1,2})?)\s*(?:min|s)?", text, re.ASCII)
    if minutes:
        value = int(minutes[1]) * 6000 + Decimal(minutes[2].replace(",", ".")) * 100
        return "hundredths", int(value)
    found = re.fullmatch(r"(\d{1,6}(?:[.,]\d{1,4})?)\s*([A-Za-z]*)", text, re.ASCII)
    if not found:
        raise Misfit(NEEDED, "it should be a number, a blank and the unit")
    unit = UNITS.get(found[2].casefold())
    if unit is None:
        raise Misfit(NEEDED, "the unit is missing" if not found[2] else f"'{found[2]}' is no unit of a mark")
    steps = Decimal(found[1].replace(",", ".")) * unit[1]
    if steps != steps.to_integral_value():
        raise Misfit(NEEDED, "it is given more exactly than it is counted; leave off the last digit")
    if steps <= 0:
        raise Misfit(NEEDED, "the mark is missing; leave the row out until there is one")
    return unit[0], int(steps)
