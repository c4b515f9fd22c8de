"""What 'full' and 'lighter' amount to, for one unit of one athlete in one week.

Full = share of the week x the peak week's volume of the counter / exposures wanted that week, held
inside the level's range, down to a whole increment. In weeks that ask for less on purpose (easier,
taper, before a competition, exams) the amount may go below the range, never under half its low end, and
stays under the week's share of its high end, so that fewer sessions do not become larger ones. A limit's
fraction comes last, for every week in which the limit is active on any day. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field

from planner.domain.block import Athlete
from planner.domain.units import AmountRange, AmountWord, Dose, Level, Side, Unit
from planner.season.sides import drill_share, loads_by_side, take_offs_by_leg

TAKE_OFFS = "take-offs"  # the measure of drills that are counted per leg
SMALLER_ON_PURPOSE = ("easier", "taper", "easing", "competition", "transition")
SMALLER_UNDER = 75  # percent of the peak week: a share under this asks for less on purpose, whatever the week


@dataclass(frozen=True)
class Body:
    """What of an athlete decides how amounts fall on the two legs."""

    take_off_leg: Side
    age: int | None
    even_legs: bool

    @staticmethod
    def of(athlete: Athlete, age: int | None) -> Body:
        even = "all" in athlete.events and athlete.level == "novice"
        return Body(athlete.take_off_leg, age, even)


@dataclass(frozen=True)
class Ask:
    """What a week asks of a unit.

    `volume` is what the week holds of the counter, the week's share of the peak week (None: the level's
    range decides); `exposures` is how often the week feeds that counter; `share` and `fraction` (of a
    limit) are percent; `most` is an own cap on the amount, or None.
    """

    level: Level
    share: int
    kind: str
    volume: int | None
    counter: str
    exposures: int
    fraction: int = 100
    most: int | None = None


def full_amount(unit: Unit, ask: Ask) -> int:
    """The full amount in the unit's measure; 0 when the level does not do the unit at all."""
    span = unit.amounts.get(ask.level)
    if span is None or span.high <= 0:
        return 0
    hundredths = unit.counters.get(ask.counter, 0)
    if ask.volume is None or not hundredths:
        wanted = span.high * ask.share // 100
    else:
        wanted = ask.volume * 100 // (hundredths * max(1, ask.exposures))
    half = -(-span.low // 2)
    least, top = span.low, span.high
    if ask.kind in SMALLER_ON_PURPOSE or ask.share < SMALLER_UNDER:
        least, top = half, max(half, span.high * min(100, ask.share) // 100)
    amount = _whole(min(top, max(least, wanted)), unit.increment)
    if amount < half:  # rounding down went too far
        amount += unit.increment
    amount = _fraction(amount, ask.fraction, unit.increment)
    if ask.most is not None:
        amount = min(amount, _whole(ask.most, unit.increment))
    return amount


def _whole(amount: int, increment: int) -> int:
    return amount - amount % max(1, increment)


def _fraction(amount: int, percent: int, increment: int) -> int:
    """A part of an amount in whole increments, at least one of them unless nothing is allowed."""
    if percent >= 100:
        return amount
    if percent <= 0:
        return 0
    return max(min(amount, increment), _whole(amount * percent // 100, increment))


@dataclass(frozen=True)
class Dosing:
    """Makes doses for one body from the units of a block; `known` are those made so far, for whomever."""

    units: Mapping[str, Unit]
    body: Body
    known: dict[Hashable, Dose] = field(default_factory=dict, compare=False, repr=False)

    def pair(self, unit: Unit, ask: Ask) -> tuple[Dose, Dose] | None:
        """The full and the lighter dose of a unit in a week; None when the level does not do it."""
        full = full_amount(unit, ask)
        if full <= 0:
            return None
        light = unit.lighter_amount(ask.level, full)
        if unit.lighter_measure:
            light = _fraction(light, ask.fraction, 1)
        return self._dose(unit, ask.level, "full", full), self._dose(unit, ask.level, "lighter", light, full)

    def at(self, unit: Unit, level: Level, amount: int) -> Dose | None:
        """The full dose at an amount of the coach's own; None when the level does not do the unit."""
        if level not in unit.amounts or amount <= 0:
            return None
        return self._dose(unit, level, "full", amount)

    def _dose(self, unit: Unit, level: Level, word: AmountWord, amount: int, beside: int = 0) -> Dose:
        """`beside` is the full amount a lighter dose stands beside: minutes and effort run with it."""
        alike = self.body if unit.prepares else self.body.take_off_leg
        key = (unit.id, level, word, amount, beside, alike)
        if key not in self.known:
            self.known[key] = self._made(unit, level, word, amount, beside)
        return self.known[key]

    def _made(self, unit: Unit, level: Level, word: AmountWord, amount: int, beside: int) -> Dose:
        demand = unit.demand if word == "full" else unit.lighter
        span = unit.amounts[level]
        neural = demand.neural
        if word == "full" and unit.harder_from is not None and amount > unit.harder_from[0]:
            neural = max(neural, unit.harder_from[1])
        counters = {c: amount * k // 100 for c, k in unit.counted(word).items()}
        leg = self.body.take_off_leg
        count, share = counters.get("take-offs", 0), unit.take_off_share or 50
        take_offs = take_offs_by_leg(count, share, unit.jumping_leg(leg))
        drills = preparation(unit, self.units, level, self.body)
        for counter, more in drills.counters.items():
            counters[counter] = counters.get(counter, 0) + more
        return Dose(
            word=word,
            amount=amount,
            measure=(unit.lighter_measure if word == "lighter" else "") or unit.measure,
            neural=neural,
            metabolic=demand.metabolic,
            minutes=between(demand.minutes, beside or amount, span),
            effort=between(demand.effort, beside or amount, span),
            loads=loads_by_side(unit, demand.loads, leg),
            counters={c: n for c, n in sorted(counters.items()) if n},
            take_offs=take_offs,
            preparation=drills.parts,
            preparation_minutes=drills.minutes,
            note=span.note if word == "full" else unit.lighter_text,
            drill_take_offs=drills.take_offs,
        )


def between(ends: tuple[int, int], amount: int, span: AmountRange) -> int:
    """The figure that runs from the low to the high end as the amount does (half up, held at the ends)."""
    low, high = ends
    if span.high <= span.low:
        return high if amount >= span.high else low
    part = min(max(amount, span.low), span.high) - span.low
    return low + (2 * (high - low) * part + span.high - span.low) // (2 * (span.high - span.low))


@dataclass(frozen=True)
class Drills:
    """The preparation that comes with a unit: its parts, minutes, what it counts, take-offs per leg."""

    parts: tuple[tuple[str, int, str], ...]
    minutes: int
    counters: Mapping[str, int]
    take_offs: Mapping[Side, int]


def preparation(unit: Unit, units: Mapping[str, Unit], level: Level, body: Body) -> Drills:
    """The drills that come with a unit, at most the level's largest amount; the lighter form keeps them."""
    parts: list[tuple[str, int, str]] = []
    minutes = 0
    counters: dict[str, int] = {}
    take_offs: dict[Side, int] = {}
    for name, amount in unit.prepares:
        drill = units[name]
        span = drill.amounts.get(level)
        if span is None or span.high <= 0:
            continue
        done = max(drill.increment, _whole(min(amount, span.high), drill.increment))
        parts.append((name, done, drill.measure))
        minutes += _drill_minutes(drill.demand.minutes, done, span)
        for counter, hundredths in sorted(drill.counters.items()):
            counters[counter] = counters.get(counter, 0) + done * hundredths // 100
        if drill.measure == TAKE_OFFS:
            own = drill_share(drill.take_off_share or 50, body.age, body.even_legs)
            for side, n in take_offs_by_leg(done, own, body.take_off_leg).items():
                take_offs[side] = take_offs.get(side, 0) + n
    return Drills(tuple(parts), minutes, counters, take_offs)


def _drill_minutes(ends: tuple[int, int], amount: int, span: AmountRange) -> int:
    """Minutes of a drill; a part of the smallest amount takes that part of its minutes (half up)."""
    if amount >= span.low:
        return between(ends, amount, span)
    return (2 * ends[0] * amount + span.low) // (2 * span.low)
