"""What `planner numbers` gives: rows, the formula in words, the source, the doubt."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.numbers.errors import NoNumber
from planner.science.sprint import Split, Timing


@dataclass(frozen=True)
class Answer:
    """One answer. `rows` are (label, value with its unit); `data` the bare numbers for another program."""

    title: str
    rows: tuple[tuple[str, str], ...]
    formula: str
    source: str
    doubt: str
    data: Mapping[str, object] = field(default_factory=dict, hash=False)


_TIME = re.compile(r"(\d{1,2}):([0-5]\d(?:[.,]\d{1,2})?)\s*(?:s|min)?|(\d{1,3}(?:[.,]\d{1,2})?)\s*s")
_LENGTH = re.compile(r"([+-]?\d{1,4}(?:[.,]\d{1,2})?)\s*(m|cm)")
_WEIGHT = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*kg")
_NUMBER = re.compile(r"[+-]?\d{1,5}(?:[.,]\d{1,3})?")


def _maybe(text: str) -> str:
    bare = _NUMBER.fullmatch(text.strip())
    return "Maybe the unit is missing." if bare else "Maybe it is another kind of figure."


def hundredths_of(text: str, what: str = "the time") -> int:
    """Hundredths of a second from '4.20 s' or '1:52.3'; the unit is needed unless there are minutes."""
    found = _TIME.fullmatch(text.strip())
    if not found:
        raise NoNumber(f"{what}: found '{text}', needed a time with its unit, such as 4.20 s. {_maybe(text)}")
    return round(int(found[1] or 0) * 6000 + float((found[2] or found[3]).replace(",", ".")) * 100)


def cm_of(text: str, what: str) -> int:
    """Centimetres from '33.20 m' or '12 cm'; the unit is needed."""
    found = _LENGTH.fullmatch(text.strip())
    if not found:
        raise NoNumber(
            f"{what}: found '{text}', needed a length with its unit, such as 33.20 m or 12 "
            f"cm. {_maybe(text)}"
        )
    value = float(found[1].replace(",", "."))
    return round(value * 100) if found[2] == "m" else round(value)


def half_kg_of(text: str, what: str = "the weight") -> int:
    """Half kilograms from '102.5 kg'; the unit is needed."""
    found = _WEIGHT.fullmatch(text.strip())
    if not found:
        raise NoNumber(f"{what}: found '{text}', needed a weight with its unit, such as 102.5 kg. "
                       "Maybe the unit is missing.")  # fmt: skip
    halves = float(found[1].replace(",", ".")) * 2
    if halves != int(halves):
        raise NoNumber(f"{what}: found '{text}', needed whole or half kilograms. Maybe round it.")
    return int(halves)


def number_of(text: str, what: str, example: str) -> float:
    """A plain number; NoNumber with an example otherwise, also for 'nan' and 'inf'."""
    if not _NUMBER.fullmatch(text.strip()):
        raise NoNumber(f"{what}: found '{text}', needed a number such as {example}. Maybe a sign slipped in.")
    return float(text.strip().replace(",", "."))


def split_of(text: str) -> Split:
    """A split from '10=1.89' or '10=1.89 hand': metres, seconds since the start, and who stopped the clock."""
    found = re.fullmatch(r"([^=]+)=([^=]+?)(?:\s+(hand|gates))?", text.strip())
    if not found:
        raise NoNumber(
            f"a split: found '{text}', needed metres=seconds, such as 10=1.89. Maybe the '=' is "
            f"missing."
        )
    metres = number_of(found[1].strip().removesuffix("m"), "a split's distance", "10")
    seconds = number_of(found[2].strip().removesuffix("s"), "a split's time", "1.89")
    timing: Timing = "hand" if found[3] == "hand" else "gates"
    return Split(metres, seconds, timing)


def percents(text: str, what: str) -> tuple[int, int]:
    """(95, 98) from '95-98' or '95'."""
    found = re.fullmatch(r"(\d{1,3})(?:-(\d{1,3}))?\s*%?", text.strip())
    if not found:
        raise NoNumber(f"{what}: found '{text}', needed percent such as 95 or 95-98. Maybe a share was given.")
    low, high = int(found[1]), int(found[2] or found[1])
    return (low, high) if low <= high else (high, low)


def listed(values: Sequence[str]) -> str:
    """'a, b and c'."""
    return values[0] if len(values) == 1 else f"{', '.join(values[:-1])} and {values[-1]}" if values else ""
