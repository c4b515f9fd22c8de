"""One attempt or one run-up as it is typed at the pit: what was measured first, then what stands beside it.

    6.01 m +1.2 gap=4 start=33.20        a mark with wind in m/s, gap in cm, start mark in m
    13.22 m +0.4 hop=5.02 step=3.96 jump=4.30 gap=6 coach=-3 clip=12
    bailed-step hop=5.05                 also bailed-hop, bailed-jump, planned-stop, foul, pass, not-measured
    +12 wind=0.8 start=33.20 coach=6     a run-up: centimetres past the board
"""

from __future__ import annotations

from collections.abc import Mapping
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


def attempt(text: str) -> Attempt:
    """The attempt of these words; ValueError says what is needed."""
    words = text.split()
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
            found[field] = _whole(value, steps, key)
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
