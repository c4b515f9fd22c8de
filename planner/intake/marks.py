"""A mark as a coach writes it, with its unit, to whole small steps; and the event or test it belongs to."""

from __future__ import annotations

import re
from decimal import Decimal

from planner.domain.mark_names import contradiction, run_of, short_run_up_of
from planner.intake.raw import Cell
from planner.intake.reach import REACH, reach_of
from planner.intake.values import Misfit, choice, text_of

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


TESTS = "an event or test that is known, such as 100 m, 30 m blocks, flying 20 m hand or long jump 8 steps"
EVENT_PATTERN = (
    r"^((flying )?[0-9]{1,4} m( (standing|blocks|flying|race|gates|hand|track|grass|spikes|flats))*"
    r"|(long|triple) jump (from )?[0-9]{1,2} steps)$"
)


def event(cell: Cell) -> str:
    """An event or test in its one spelling; words for start, timing, surface and run-up may stand behind it."""
    text = " ".join(text_of(cell, TESTS).casefold().split())
    both = contradiction(text.split())
    if both is not None and text[:1].isdigit() | text.startswith("flying"):
        raise Misfit(TESTS, f"'{both[0]}' and '{both[1]}' are two marks: give each its own row")
    short, run = short_run_up_of(text), run_of(text)
    if short is not None:
        text = f"{short[0]} {short[1]} steps"
        if reach_of(text) is None:
            raise Misfit("steps of a short run-up from 2 to 24", "one foot was counted")
    elif run is not None and run.base in REACH:
        text = run.name
    return text if reach_of(text) is not None else choice(cell, tuple(REACH), TESTS)
