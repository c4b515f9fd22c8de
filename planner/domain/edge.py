"""What crosses from one block to the next: one frozen record of what came before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from planner.domain.block import Competition, LastDone
from planner.domain.plan import Placement

EDGE_DAYS = 28  # how far back amounts are known day by day; four calendar weeks


@dataclass(frozen=True)
class EdgeWeek:
    """A calendar week just before the edge.

    `amounts`: counter -> what was placed (or done), and 'load', the units' effort x minutes without
    warm-ups; counters at zero are absent.
    """

    athlete: str
    begins: date
    phase: str
    kind: str
    share: int
    amounts: Mapping[str, int] = field(hash=False)


@dataclass(frozen=True)
class Edge:
    """The state of a squad at the end of a day.

    `placements` are those of the last 28 days; `last_done` the last date of every unit, however long ago.
    `competitions` are those of the last 28 days, and for each athlete the next main one. `loaded` is, per
    athlete, how many loading weeks stand since the last easier one: the place in the loading pattern.
    """

    until: date
    weeks: tuple[EdgeWeek, ...] = ()
    placements: tuple[Placement, ...] = ()
    last_done: tuple[LastDone, ...] = ()
    competitions: tuple[Competition, ...] = ()
    loaded: Mapping[str, int] = field(default_factory=dict, hash=False)

    def next_main(self, athlete: str) -> Competition | None:
        """The athlete's next main competition after the edge, as far as it was known."""
        ahead = (c for c in self.competitions if c.athlete == athlete and c.first_day > self.until)
        return next((c for c in ahead if c.importance == "main"), None)
