"""Lines to train by: what stands on paper for one unit of one athlete, and how times and marks are written."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Literal

from planner.domain.units import AmountWord
from planner.numbers.cutting import Group

Measure = Literal["hundredths", "cm", "half-kg", "percent"]


@dataclass(frozen=True)
class Target:
    """One band for one kind of repetition ('30 m', 'squat', 'hop lands at').

    `low` and `high` are hundredths of a second, centimetres or half kilograms; low is the smaller figure.
    `basis` says of what it is a share; `doubt` what may be wrong with it.
    """

    what: str
    low: int
    high: int
    measure: Measure
    basis: str
    doubt: str = ""

    @property
    def words(self) -> str:
        """'4.18-4.26 s', '4.42-4.76 m', '105 kg'."""
        return band(self.low, self.high, self.measure)


@dataclass(frozen=True)
class Lines:
    """What is read while training. Every text is whole; '' where there is nothing to say.

    `amount` comes to exactly what is counted. `target` is the line to print: numbers where the athlete has a
    mark, else words of effort, and then `test` says which test would give the number.
    """

    athlete: str
    day: date
    slot: str
    unit: str
    word: AmountWord
    amount: str
    target: str
    recovery: str
    shoes: str
    stop: str
    lighter: str = ""
    lighter_number: str = ""  # the figure in it, by itself
    test: str = ""
    goes_first: str = ""
    stays: str = ""
    notes: tuple[str, ...] = ()
    why: str = ""  # of the rung, where it was not simply climbed to
    targets: tuple[Target, ...] = ()
    groups: tuple[Group, ...] = field(default=())
    steps: int = 0  # of the run-up; 0 where there is none
    rung: int = 0  # which rung of the unit's ladder; 0 without a ladder
    of_rungs: int = 0
    source: str = ""
    doubt: str = ""


def said(lines: Lines) -> tuple[str, ...]:
    """The lines as sentences with their heads, for another program: amount first, then what stands on paper."""
    heads = (
        ("", lines.amount), ("target: ", lines.target), ("recovery: ", lines.recovery), ("shoes: ", lines.shoes),
        ("stop: ", lines.stop), ("lighter: ", lines.lighter), ("first to go: ", lines.goes_first),
        ("stays: ", lines.stays), ("test: ", lines.test), *(("note: ", n) for n in lines.notes),
        ("doubt: ", lines.doubt),
    )  # fmt: skip
    return tuple(head + text for head, text in heads if text)


def seconds(hundredths: int) -> str:
    """'4.18', '17.1', '1:52.3': hundredths below 20 s, tenths from there on, as at a track."""
    if hundredths < 2000:
        return f"{hundredths // 100}.{hundredths % 100:02d}"
    tenths = (hundredths + 5) // 10
    if tenths < 600:
        return f"{tenths // 10}.{tenths % 10}"
    return f"{tenths // 600}:{tenths % 600 // 10:02d}.{tenths % 10}"


def metres(cm: int) -> str:
    """'6.35' from 635 centimetres; the sign stays."""
    return f"{'-' if cm < 0 else ''}{abs(cm) // 100}.{abs(cm) % 100:02d}"


def kilograms(half_kg: int) -> str:
    """'105', '62.5'."""
    return f"{half_kg // 2}.5" if half_kg % 2 else str(half_kg // 2)


def amount_of(value: int, measure: Measure) -> str:
    """One figure without its unit."""
    match measure:
        case "hundredths":
            return seconds(value)
        case "cm":
            return metres(value)
        case "half-kg":
            return kilograms(value)
        case _:
            return str(value)


UNIT_WORDS: dict[str, str] = {"hundredths": "s", "cm": "m", "half-kg": "kg", "percent": "%"}


def band(low: int, high: int, measure: Measure) -> str:
    """A band with its unit; one figure where both are written alike."""
    one, two = amount_of(low, measure), amount_of(high, measure)
    if measure == "hundredths" and low < 2000 <= high:
        one = f"{(low + 5) // 100}.{(low + 5) // 10 % 10}"
    unit = UNIT_WORDS[measure]
    if ":" in two:
        unit = "min"
    return f"{one} {unit}" if one == two else f"{one}-{two} {unit}"


def rest_words(seconds_: tuple[int, int]) -> str:
    """'3 min', '1.5-2 min', '45-90 s'."""
    low, high = seconds_
    if low < 90 and high <= 90:
        return f"{low} s" if low == high else f"{low}-{high} s"
    one, two = (f"{Fraction(s, 60).limit_denominator(2).__float__():g}" for s in (low, high))
    return f"{one} min" if one == two else f"{one}-{two} min"


def shoes_words(shoes: Fraction) -> str:
    """'1/2 shoe', '1 shoe', '1 1/2 shoes', 'nothing' for no shift; without a sign."""
    halves = abs(int(shoes * 2))
    whole, half = divmod(halves, 2)
    said = " ".join(part for part in (str(whole) if whole else "", "1/2" if half else "") if part)
    if not said:
        return "nothing"
    return f"{said} {'shoe' if halves <= 2 else 'shoes'}"
