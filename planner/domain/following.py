"""What the next block starts from: decided from what was done, before any file is written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from planner.domain.block import Competition, Limit, Mark, RunUp
from planner.domain.units import Side


@dataclass(frozen=True)
class Following:
    """The next block: its dates, and what differs from the file before. Everything else is carried on.

    `previous` is the earlier file as seen from the new folder. `legs` are take-off legs that were changed. `marks`
    are those that grew; `run_ups` start marks as they stand for still wind; `competitions` and `limits` stand in
    place of the old tables. `remarks` say for the coach, in sentences, what was changed and why.
    """

    name: str
    begins: date
    ends: date
    previous: str
    legs: Mapping[str, Side] = field(default_factory=dict, hash=False)
    marks: tuple[Mark, ...] = ()
    run_ups: tuple[RunUp, ...] = ()
    competitions: tuple[Competition, ...] = ()
    limits: tuple[Limit, ...] = ()
    remarks: tuple[str, ...] = ()


def aided_words(mark: Mark) -> str:
    """'15.12 s, wind +2.4: wind-aided, not counted as a best'."""
    return f"{mark_words(mark)}, wind {(mark.wind or 0) / 10:+.1f}: wind-aided, not counted as a best"


def mark_words(mark: Mark | None) -> str:
    """'6.35 m', '11.92 s', '1:52.30', '120 kg', '4780 points', as a block file takes it."""
    if mark is None:
        return ""
    value = mark.value
    match mark.unit:
        case "cm":
            return f"{value // 100}.{value % 100:02d} m"
        case "hundredths" if value >= 6000:
            return f"{value // 6000}:{value % 6000 // 100:02d}.{value % 100:02d}"
        case "hundredths":
            return f"{value // 100}.{value % 100:02d} s"
        case "half-kg":
            return f"{value // 2}{'.5' if value % 2 else ''} kg"
        case _:
            return f"{value} points"
