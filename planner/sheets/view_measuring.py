"""The measuring sheet as data: one pit in one slot, every attempt in the order it is jumped."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class AttemptRow:
    """One attempt to be written down. `phases` asks for hop, step and jump; `opens` begins a round."""

    number: str
    name: str
    what: str  # steps and start mark
    result: str  # 'no jump' where nothing is measured
    phases: bool
    opens: bool


@dataclass(frozen=True)
class SumRow:
    """A line of the summary box."""

    name: str
    what: str
    planned: str


@dataclass(frozen=True)
class MeasuringView:
    title: str
    heading: str
    sub: str  # day, slot, from when
    jobs: tuple[str, ...]  # who rakes, measures, films
    order: str  # rotation in words
    aims: str  # marks as targets, of triple jumpers
    rows: tuple[AttemptRow, ...]
    sums: tuple[SumRow, ...]
    strip: tuple[str, ...]  # figures under the strip's head, from the left end
    caution: str
    revision: RevisionView
    foot: str
    foot_squad: str = ""
    unfit: tuple[str, ...] = ()

    def shortened(self) -> MeasuringView:
        """No empty rows, before a further sheet."""
        return replace(self, rows=tuple(r for r in self.rows if r.number))
