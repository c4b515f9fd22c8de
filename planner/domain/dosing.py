"""The dose an amount stands for: a figure beside the week's full and lighter doses, scaled in proportion."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.domain.units import Dose, Side, Unit

HEAVY_PERCENT = 90  # percent of one repetition maximum from which lifting makes a fast day; common practice


@dataclass(frozen=True)
class Figure:
    """A figure read: how many of which measure ('' when the text names none), and percent if it does."""

    amount: int
    measure: str
    percent: int = 0
    note: str = ""


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
