"""Amounts as a person writes them in a plan table: 'full', 'lighter', '240 m', '6 run-ups', '3x3@85 %'."""

from __future__ import annotations

import re

from planner.domain.block import Athlete
from planner.domain.dosing import Figure
from planner.domain.units import REGIONS, SIDES, AmountWord, Dose, Region, Side, Unit

_SHORT = {"m": "metres", "meter": "metres", "meters": "metres", "min": "minutes", "mins": "minutes"}
_FIGURE = re.compile(r"(\d{1,6})\s*([^\W\d_][^@]*)?")
_SERIES = re.compile(
    r"(\d{1,3})\s*[x×*]\s*(\d{1,5})\s*([^\W\d_][^@\d%]*?)?\s*(?:(?:@|\bat\b)\s*(\d{1,3})(?:\s*-\s*(\d{1,3}))?\s*%?)?"
)


class AmountError(ValueError):
    """The text is no amount of this unit; says what is needed, and `maybe` a remedy."""

    def __init__(self, needed: str, maybe: str) -> None:
        super().__init__(needed)
        self.maybe = maybe


def read_figure(text: str, unit: Unit) -> Figure:
    """A figure in the unit's own measure, or in that of its lighter row; AmountError when it is neither.

    '3x3@85 %' counts sets where the unit is counted in sets, else the product ('4x60 m' is 240 m).
    """
    text = " ".join(text.split())
    accepted = [unit.measure] + ([unit.lighter_measure] if unit.lighter_measure else [])
    example = f"'{max(unit.increment, 1) * 4} {unit.measure}'"
    needed = f"{unit.name} is counted in {unit.measure}: full, lighter or a whole figure is needed"
    if match := _SERIES.fullmatch(text):
        times, each, word = int(match[1]), int(match[2]), match[3]
        percent = int(match[5] or match[4] or 0)
        if not times or not each or percent > 110:
            raise AmountError(needed, example)
        if unit.measure == "sets":
            return Figure(times, "sets", percent, text)
        measure = _measure(word, accepted) if word else None
        if measure is None:
            raise AmountError(needed, f"'{times}x{each} {unit.measure}'")
        return Figure(times * each, measure, percent, text)
    if match := _FIGURE.fullmatch(text):
        if not match[2]:
            raise AmountError(f"a figure needs its unit; {needed}", f"'{match[1]} {unit.measure}'")
        measure = _measure(match[2], accepted)
        if measure is None or not int(match[1]):
            raise AmountError(needed, example)
        return Figure(int(match[1]), measure)
    raise AmountError(needed, example)


def _measure(word: str, accepted: list[str]) -> str | None:
    plain = word.strip().rstrip(".").casefold()
    plain = _SHORT.get(plain, plain)
    for measure in accepted:
        if plain in (measure.casefold(), measure.casefold().removesuffix("s")):
            return measure
    return None


def catalogue_doses(unit: Unit, athlete: Athlete) -> tuple[Dose, Dose]:
    """Full and lighter dose of a unit that the week holds none of: the low end of the level's range.

    A person may write what the program would not offer; the catalogue's own figures then stand in.
    """
    level = athlete.level_for(unit.family)
    usual = unit.amounts.get(level) or next(iter(unit.amounts.values()), None)
    amount = usual.low if usual else unit.increment
    return (
        _catalogue_dose(unit, athlete, "full", amount),
        _catalogue_dose(unit, athlete, "lighter", unit.lighter_amount(level, amount)),
    )


def _catalogue_dose(unit: Unit, athlete: Athlete, word: AmountWord, amount: int) -> Dose:
    demand = unit.demand if word == "full" else unit.lighter
    leg: Side = unit.jumping_leg(athlete.take_off_leg)
    other: Side = "right" if leg == "left" else "left"
    one_sided = unit.takes_side in ("take-off", "other", "trail") and unit.take_off_share in (0, 100)
    loads: dict[tuple[Region, Side], int] = {
        (region, side): max(0, demand.loads.get(region, 0) - int(one_sided and side != leg))
        for region in REGIONS
        for side in SIDES
    }
    counters = {c: amount * k // 100 for c, k in sorted(unit.counted(word).items())}
    jumps = counters.get("take-offs", 0)
    own = (jumps * (unit.take_off_share or 50) + 50) // 100
    return Dose(
        word=word,
        amount=amount,
        measure=(word == "lighter" and unit.lighter_measure) or unit.measure,
        neural=demand.neural,
        metabolic=demand.metabolic,
        minutes=demand.minutes[0],
        effort=demand.effort[0],
        loads=loads,
        counters=counters,
        take_offs={leg: own, other: jumps - own} if jumps else {},
    )
