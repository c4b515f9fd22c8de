"""Amounts as a person writes them in a plan table: 'full', 'lighter', '240 m', '6 run-ups', '3x3@85 %'."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.domain.block import Athlete
from planner.domain.units import REGIONS, SIDES, AmountWord, Dose, Region, Side, Unit

HEAVY_PERCENT = 90  # percent of one repetition maximum from which lifting makes a fast day; common practice

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


@dataclass(frozen=True)
class Figure:
    """A figure read: how many of which measure ('' when the text names none), and percent if it does."""

    amount: int
    measure: str
    percent: int = 0
    note: str = ""


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


def dose_of(figure: Figure, unit: Unit, full: Dose, lighter: Dose) -> Dose:
    """The dose a figure stands for, beside the week's full and lighter ones.

    A figure equal to one of them is that one. Any other is the full row scaled in proportion, half up, to
    whole numbers: minutes, counters and take-offs per leg (what the attached drills add to these goes
    along). Demand, effort, loads and the drills' minutes stay those of the full row, for fewer runs at full
    speed are still runs at full speed. Above the unit's own threshold, and lifting from 90 %, the neural
    demand is the higher one.
    """
    if not figure.percent:
        for known in (full, lighter):
            if (known.amount, known.measure) == (figure.amount, figure.measure):
                return known
    base = full if figure.measure == full.measure else lighter
    made = replace(
        base,
        amount=figure.amount,
        minutes=max(1, scaled(base.minutes, figure.amount, base.amount)),
        counters=_all_scaled(base.counters, figure.amount, base.amount),
        take_offs=_sides(base.take_offs, figure.amount, base.amount),
        note=figure.note,
    )
    neural = made.neural
    if unit.harder_from and base is full:
        above, harder = unit.harder_from
        neural = harder if figure.amount > above else min(neural, unit.demand.neural)
    if unit.heavy_legs and unit.family == "strength" and figure.percent >= HEAVY_PERCENT:
        neural = 3
    return replace(made, neural=neural)


def scaled(value: int, amount: int, of: int) -> int:
    """value x amount / of, half up, in whole numbers."""
    return value if of <= 0 else (2 * value * amount + of) // (2 * of)


def _all_scaled(values: Mapping[str, int], amount: int, of: int) -> dict[str, int]:
    return {k: scaled(v, amount, of) for k, v in sorted(values.items())}


def _sides(values: Mapping[Side, int], amount: int, of: int) -> dict[Side, int]:
    """Take-offs per leg: the total is rounded once, the left leg's share once, the rest is the right's."""
    total = scaled(sum(values.values()), amount, of)
    left = min(total, scaled(values.get("left", 0), amount, of))
    return {"left": left, "right": total - left} if values else {}


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
    leg: Side = athlete.take_off_leg
    other: Side = "right" if leg == "left" else "left"
    one_sided = unit.takes_side in ("take-off", "trail") and unit.take_off_share in (0, 100)
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
