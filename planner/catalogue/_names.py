"""Units, families and counters inside a sentence, as the trade writes them."""

from __future__ import annotations

from planner.catalogue._units import units

HYPHENED = ("run-ups", "low-multi-jumps", "high-multi-jumps", "take-offs")


def unit_in_words(unit: str) -> str:
    """'full run-ups with pop-off' of a unit's id, hyphens or blanks in it; an unknown one without hyphens."""
    known = units().get(unit.replace(" ", "-"))
    name = unit.replace("-", " ") if known is None else known.name
    return f"{name[:1].lower()}{name[1:]}"


def family_in_words(name: str) -> str:
    """'run-ups', 'low multi-jumps', 'speed endurance' of a family or a counter, hyphens or blanks in it."""
    found = next((h for h in HYPHENED if h == name.replace(" ", "-")), None)
    if found is None:
        return name.replace("-", " ")
    return found.replace("-", " ", found.count("-") - 1)


def any_in_words(name: str) -> str:
    """A unit's name where there is a unit of that id, else a family's."""
    return unit_in_words(name) if name in units() else family_in_words(name)
