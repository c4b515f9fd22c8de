"""One attempt in a field event, as it was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Attempt:
    """One attempt: a mark, a foul or a pass, with wind and gap beside it.

    `gap` is centimetres from the toe to the edge of the board, behind it positive; `start_mark` centimetres
    from the board, as it was used.
    """

    outcome: Literal["mark", "foul", "pass"]
    value: int | None = None
    unit: str = "cm"  # cm, hundredths, half-kg, points
    wind: int | None = None  # tenths of a metre per second
    gap: int | None = None
    start_mark: int | None = None

    @property
    def effective(self) -> int | None:
        """Centimetres from the toe to the landing: what was jumped, wherever the foot stood."""
        return None if self.value is None or self.gap is None or self.unit != "cm" else self.value + self.gap
