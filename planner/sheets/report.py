"""What came of printing: files written, what could not be, cells that do not fit, and warnings."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class NotWritten:
    """A sheet that could not be written or drawn, and why, in a sentence with a remedy."""

    sheet: str
    reason: str
    path: Path | None = None

    def __str__(self) -> str:
        where = f"{self.path}: " if self.path else ""
        return f"{self.sheet}: {where}{self.reason}"


@dataclass(frozen=True)
class Overflow:
    """Text that reaches out of its cell: which sheet, page and cell, by how many millimetres."""

    sheet: str
    page: int
    cell: str
    text: str
    beyond_mm: float

    def __str__(self) -> str:
        return (
            f"{self.sheet}, page {self.page}, {self.cell}: '{self.text}' does not fit "
            f"({self.beyond_mm:.1f} mm too long). Maybe shorten it in the block file."
        )


@dataclass(frozen=True)
class PrintReport:
    """`complete` is False when something could not be written, drawn or fitted (the caller exits 5).

    `unchanged` are files that were there already, whole and just as they would be written again.
    """

    written: tuple[Path, ...] = ()
    not_written: tuple[NotWritten, ...] = ()
    overflow: tuple[Overflow, ...] = ()
    warnings: tuple[str, ...] = ()
    unchanged: tuple[Path, ...] = ()

    @property
    def complete(self) -> bool:
        return not self.not_written and not self.overflow
