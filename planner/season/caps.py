"""The most an athlete may do in a week, by counter, and the hours of organised training.

Weekly maxima by level and event (a limit's own caps have rules of their own). Hours: a minor's age in hours
(statement of a national athletic trainers' association on youth sport: hours a week not above the age in
years), others by the table. Table: common practice, no source.
"""

from __future__ import annotations

from planner.catalogue import event_type, weekly_caps
from planner.domain.block import Athlete
from planner.season.counts import events_of, level_in

COUNTER_FAMILY = {
    "fast-metres": "top-speed",
    "quick-metres": "top-speed",
    "tempo-metres": "tempo",
    "short-jumps": "technical-jumps",
    "full-jumps": "full-jumps",
    "run-ups": "run-ups",
    "low-contacts": "low-multi-jumps",
    "high-contacts": "high-multi-jumps",
    "heavy-sets": "strength",
}
ONE_LEG = "take-offs-one-leg"  # take-offs at 90 % effort or more on the take-off leg


def caps_for(athlete: Athlete) -> dict[str, int]:
    """Weekly maximum by counter. Where the first event does none of it, the next event's counts."""
    found: dict[str, int] = {}
    for name in events_of(athlete):
        kind = event_type(name)
        for counter, family in COUNTER_FAMILY.items():
            cap = weekly_caps(kind, level_in(athlete, family)).high.get(counter)
            if cap is not None and not found.get(counter):
                found[counter] = cap
        found.setdefault(ONE_LEG, weekly_caps(kind, level_in(athlete, "full-jumps")).take_offs_one_leg)
    return dict(sorted(found.items()))


def hours_cap(athlete: Athlete, age: int | None) -> int:
    """Minutes of organised training a week, other sport included."""
    if age is not None and age < 18:
        return age * 60
    return weekly_caps(event_type(events_of(athlete)[0]), athlete.level).hours[1] * 60
