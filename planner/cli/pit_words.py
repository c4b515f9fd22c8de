"""One attempt or one run-up as it is typed at the pit: what was measured first, then what stands beside it.

    6.01 m +1.2 gap=4 start=33.20        a mark with wind in m/s, gap in cm, start mark in m
    13.22 m +0.4 hop=5.02 step=3.96 jump=4.30 gap=6 coach=-3 clip=12
    bailed-step hop=5.05                 also bailed-hop, bailed-jump, planned-stop, foul, pass, not-measured
    +12 wind=0.8 start=33.20 coach=6     a run-up: centimetres past the board
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from typing import Any

from planner.domain.attempt import Attempt, Ended, RunThrough

ATTEMPTS = "5.61 m +0.8 gap=4;foul;pass"
RUNS = "+12 wind=0.8;-3 wind=0"
UNITS: Mapping[str, tuple[str, int]] = {
    "m": ("cm", 100), "s": ("hundredths", 100), "kg": ("half-kg", 2), "points": ("points", 1),
}  # fmt: skip
ENDS: Mapping[str, Ended] = {
    "planned-stop": "planned stop",
    "bailed-hop": "bailed out in the hop",
    "bailed-step": "bailed out in the step",
    "bailed-jump": "bailed out in the jump",
}
# key -> (field, smallest steps in one); wind in m/s, lengths in m, readings in cm
BESIDE: Mapping[str, tuple[str, int]] = {
    "wind": ("wind", 10), "gap": ("gap", 1), "start": ("start_mark", 100), "coach": ("coach_mark", 1),
    "hop": ("hop", 100), "step": ("step", 100), "jump": ("jump", 100),
}  # fmt: skip
OF_RUN = ("wind", "start", "coach")
# What is felt on a day, typed with decimals and kept in tenths: what it is, an example, its unit as typed
FELT: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "wind": ("m/s, such as 1.2", ("m/s",)),
    "air": ("degrees Celsius, such as 6.5", ("°C", "C")),
    "wbgt": ("degrees Celsius (wet-bulb globe temperature), such as 28.5", ("°C", "C")),
}


def attempts(parts: Sequence[str]) -> tuple[Attempt, ...]:
    """Attempts in order; a unit said once stands for all. ValueError says what is needed."""
    said = {words[1] for p in parts if len(words := _words(p)) > 1 and words[1] in UNITS}
    unit = said.pop() if len(said) == 1 else ""
    return tuple(attempt(p, unit) for p in parts)


def length(text: str) -> int:
    """Centimetres of a length on the runway: '33.20 m', '3320 cm', or bare metres. ValueError: what is needed."""
    words = _words(text)
    if len(words) == 2 and words[1] in ("m", "cm"):
        return _whole(words[0], 100 if words[1] == "m" else 1, "a length")
    if len(words) != 1:
        raise ValueError("a length with its unit, like '33.20 m' or '3320 cm'")
    cm = _whole(words[0], 100, "a length")
    if abs(cm) > MOST_METRES * 100:
        needed = f"a length with its unit: {words[0]} metres cannot be"
        raise ValueError(f"{needed}; '{words[0]} cm' if centimetres are meant")
    return cm


def tenths(text: str, key: str) -> int:
    """Tenths of a metre per second or of a degree: '1.2', '1.2 m/s', '28.5 C'. ValueError: what is needed."""
    needed, units = FELT[key]
    bare = text
    for unit in units:
        bare = bare.removesuffix(unit)
    try:
        return _whole(bare.strip(), 10, key)
    except ValueError:
        raise ValueError(f"{needed}, to one decimal") from None


def _words(text: str) -> list[str]:
    """The words, with a unit that stands close to its figure taken off: '5.31m' is '5.31 m'."""
    return CLOSE.sub(r"\1 \2", text).split()


def attempt(text: str, unit_said: str = "") -> Attempt:
    """The attempt of these words, `unit_said` where it has no unit of its own; ValueError says what is needed."""
    words = _words(text)
    if unit_said and words[0][0].isdigit() and (len(words) == 1 or words[1] not in UNITS):
        words.insert(1, unit_said)
    first = words[0].casefold()
    if first in ("foul", "pass"):
        return Attempt("foul" if first == "foul" else "pass", **_beside(words[1:], BESIDE))
    if first == "not-measured" or first in ENDS:
        return Attempt("not measured", ended=ENDS.get(first, "completed"), **_beside(words[1:], BESIDE))
    unit = UNITS.get(words[1]) if len(words) > 1 else None
    if unit is None:
        raise ValueError(f"attempts with their unit, like '{ATTEMPTS}', or one of {', '.join(ENDS)}")
    rest = words[2:]
    if rest and "=" not in rest[0]:
        rest[0] = f"wind={rest[0]}"
    return Attempt("mark", _whole(words[0], unit[1], "the mark"), unit[0], **_beside(rest, BESIDE))


def run_through(text: str) -> RunThrough:
    """The run-up of these words; ValueError says what is needed."""
    words = text.split()
    board = _whole(words[0], 1, f"runs like '{RUNS}': at the board")
    return RunThrough(board, **_beside(words[1:], {k: BESIDE[k] for k in OF_RUN}))


MOST_METRES = 100  # no start mark, coach's mark or phase is as far: centimetres are meant
CLOSE = re.compile(r"^\s*([-+]?\d+(?:[.,]\d+)?)(m|cm|s|kg)\b")


def _beside(words: list[str], known: Mapping[str, tuple[str, int]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for word in words:
        key, eq, value = word.partition("=")
        if key == "clip" and eq and "hop" in known:
            found["clip"] = value
        elif not eq or key not in known:
            clip = ("clip",) if "hop" in known else ()
            raise ValueError(f"'{word}' to be one of {', '.join(f'{k}=...' for k in (*known, *clip))}")
        else:
            field, steps = known[key]
            found[field] = length(value) if steps == 100 else _whole(value, steps, key)
    return found


def _whole(text: str, steps: int, what: str) -> int:
    """A figure in whole smallest steps: '5.02' in metres is 502."""
    try:
        value = Decimal(text.replace(",", ".")) * steps
    except InvalidOperation:
        raise ValueError(f"{what} as a number") from None
    if not value.is_finite() or value != value.to_integral_value():
        kind = {100: "metres or seconds to hundredths", 10: "m/s to tenths", 2: "kg to halves"}
        raise ValueError(f"{what} in {kind.get(steps, 'whole numbers')}")
    return int(value)
