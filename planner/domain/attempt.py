"""What was measured at the pit: one attempt in a field event, and one run-up without a jump."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Ended = Literal[
    "completed", "planned stop", "bailed out in the hop", "bailed out in the step", "bailed out in the jump"
]


@dataclass(frozen=True)
class Attempt:
    """One attempt: a mark, a foul, a pass, or a jump that nobody measured as a whole, with wind and gap beside it.

    `gap` is centimetres from the toe to the edge of the board, behind it positive; `start_mark` centimetres from
    the board, as it was used; `coach_mark` the reading at the coach's mark in centimetres, + too close to the pit.
    `hop`, `step` and `jump` are phases of a triple jump, toe to toe in centimetres; `clip` names the film.
    """

    outcome: Literal["mark", "foul", "pass", "not measured"]
    value: int | None = None
    unit: str = "cm"  # cm, hundredths, half-kg, points
    wind: int | None = None  # tenths of a metre per second
    gap: int | None = None
    start_mark: int | None = None
    coach_mark: int | None = None
    hop: int | None = None
    step: int | None = None
    jump: int | None = None
    ended: Ended = "completed"
    clip: str = ""

    @property
    def effective(self) -> int | None:
        """Centimetres from the toe to the landing: what was jumped, wherever the foot stood."""
        return None if self.value is None or self.gap is None or self.unit != "cm" else self.value + self.gap

    @property
    def bailed(self) -> bool:
        """Broken off in a phase that was meant to be finished; a planned stop is none."""
        return self.ended.startswith("bailed")


def best_attempt(attempts: Sequence[Attempt]) -> Attempt | None:
    """The best valid attempt that was finished, the first of equal ones; None without any. Wind is not asked."""
    valid = [a for a in attempts if a.outcome == "mark" and a.value is not None and a.ended == "completed"]
    if not valid:
        return None
    smaller = valid[0].unit == "hundredths"
    return min(valid, key=lambda a: (a.value or 0) if smaller else -(a.value or 0))


@dataclass(frozen=True)
class RunThrough:
    """One run-up without a jump, or the run-up of a jump. Centimetres.

    `board` is the toe from the edge of the board, + past it, - short of it; `start_mark` from the board as it was
    used (None: the mark in force); `coach_mark` the reading at the coach's mark, + too close to the pit. `wind` in
    tenths of a metre per second, + from behind.
    """

    board: int
    wind: int | None = None
    start_mark: int | None = None
    coach_mark: int | None = None
