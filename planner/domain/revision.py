"""An immutable numbered state of the plan, and when it was given to athletes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Revision:
    """`made_at` carries the block's time zone. `replaces` is the number of the revision before, 0 for none.

    `status` is draft or handed out. `inputs_hash` is the SHA-256 of the resolved inputs (hexadecimal).
    """

    number: int
    made_at: datetime
    reason: str
    status: str = "draft"
    replaces: int = 0
    inputs_hash: str = ""
    random_seed: int = 0
    budget: str = "normal"
    program: str = ""  # version of this program and of the solver


@dataclass(frozen=True)
class HandOut:
    """That a revision was given to athletes, whole or up to a date."""

    revision: int
    handed_out_at: datetime
    until: str = ""  # ISO date, empty for the whole block
