"""The base of all facts, and who may read a field of one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, ClassVar, Literal

Audience = Literal["coach", "athlete", "squad", "outside"]
AUDIENCES: tuple[Audience, ...] = ("coach", "athlete", "squad", "outside")  # each reads less than the last


@dataclass(frozen=True, kw_only=True)
class Fact:
    """The base of all facts. `id` is the ledger's number, 0 while it is not recorded."""

    kind: ClassVar[str] = ""
    kind_audience: ClassVar[Audience] = "squad"
    shared_word: ClassVar[str] = ""

    recorded_at: Annotated[datetime, "coach"]
    id: Annotated[int, "coach"] = 0
