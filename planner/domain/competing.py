"""What a person must decide about a competition: entered under a limit of the body, or in several events.

A person set the limit's return stage and only a person changes it; whether the time between two events is enough
is no less for a person to say. What is found here is said, not decided.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from planner.domain.block import Block, Competition, EventStart, Limit

COMPETES_FROM = 5  # return stage; below it nothing is at full effort (the catalogue's stages)


def limits_against(block: Block, competition: Competition) -> tuple[Limit, ...]:
    """The athlete's own limits below that stage on its first day; a coach's hold-back is none of them."""
    return tuple(
        x
        for x in block.limits
        if x.athlete == competition.athlete
        and not x.hold_back
        and x.stage < COMPETES_FROM
        and x.active_on(competition.first_day)
    )


@dataclass(frozen=True)
class Gap:
    """Two events of an athlete one after the other on one day: minutes from start to start."""

    first: EventStart
    then: EventStart

    @property
    def minutes(self) -> int:
        first, then = (x.at.hour * 60 + x.at.minute for x in (self.first, self.then))
        return then - first

    def __str__(self) -> str:
        first, then = (f"{x.event} {x.at:%H:%M}" for x in (self.first, self.then))
        return f"{first} and {then}, {self.minutes} minutes from start to start"


@dataclass(frozen=True)
class SeveralEvents:
    """Several events of an athlete on one day of competition; `gaps` is empty while a start is not known."""

    events: tuple[str, ...]
    gaps: tuple[Gap, ...] = ()
    accepted: bool = False

    def __str__(self) -> str:
        if self.gaps:
            return "; ".join(map(str, self.gaps))
        return f"{' and '.join(self.events)}, the time between them is not known"


def is_combined(event: str) -> bool:
    """Whether an event's name stands for several: 'heptathlon', 'combined events', 'all'."""
    return "athlon" in event or event in ("combined events", "all")


def several_events(block: Block, competition: Competition) -> SeveralEvents | None:
    """The events, when an athlete is entered in more than one on a single day; None otherwise.

    Combined events are one event, and so is 'all', which says only that a novice tries everything.
    """
    events = competition.events or block.athlete(competition.athlete).events
    events = tuple(e for e in dict.fromkeys(events) if not is_combined(e))
    if len(events) < 2 or competition.first_day != competition.last_day:
        return None
    known = {x.event for x in competition.starts}
    if not known >= set(events):
        return SeveralEvents(events)
    gaps = tuple(Gap(first, then) for first, then in pairwise(competition.starts))
    return SeveralEvents(events, gaps, accepted=bool(competition.gap_accepted))
