"""Where a plan departs from a rule, and where a value in the coach's file stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal, NamedTuple

Tier = Literal["must", "should", "prefer"]
TIERS: tuple[Tier, ...] = ("must", "should", "prefer")


@dataclass(frozen=True, order=True)
class Line:
    """Where in the coach's file a value stands: 'squad.yaml' line 12, or 'squad.xlsx' sheet athletes B4."""

    file: str = ""
    line: int = 0
    column: int = 0
    cell: str = ""  # 'athletes!B4' for a workbook
    key: str = ""  # 'athletes[2].born'

    def __str__(self) -> str:
        if self.cell:
            return f"{self.file}, sheet {self.cell.replace('!', ', cell ')}"
        return f"{self.file}, line {self.line}" if self.line else self.file or "(default)"


@dataclass(frozen=True)
class Finding:
    """One place where a plan departs from a rule. `amount` is a whole number of the rule's own steps."""

    rule: str
    tier: Tier
    amount: int
    athlete: str = ""  # empty: the whole squad
    day: date | None = None
    slot: str = ""
    facts: Mapping[str, object] = field(default_factory=dict, hash=False)  # what explain() needs
    line: Line | None = None  # the coach's input line that caused it

    @property
    def place(self) -> tuple[str, date | None, str]:
        return (self.athlete, self.day, self.slot)


class Where(NamedTuple):
    """What a row of the model belongs to; the rule's id is added by the board."""

    athlete: str = ""
    day: date | None = None
    slot: str = ""
    line: Line | None = None
