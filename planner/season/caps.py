"""The most an athlete may do in a week, by counter, and the hours of organised training.

Weekly maxima by level and event; a limit's own cap where it is lower. Hours: a minor's age in hours
(statement of a national athletic trainers' association on youth sport: hours a week not above the age in
years), others by the table. Table: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.domain.block import Athlete, Limit
from planner.domain.units import LEVELS, Level
from planner.season import tables
from planner.season.counts import event_type, lower

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
CONTACT_COUNTERS = ("high-contacts", "landings")


def caps_for(athlete: Athlete, limits: Iterable[Limit]) -> dict[str, int]:
    """Weekly maximum by counter. Where the first event's is 0, the second event's counts."""
    found: dict[str, int] = {}
    for event in athlete.events or ("all",):
        kind = event_type(event)
        row_kind = kind if kind in tables.EVENTS_WITH_COUNTS else "combined events"
        for level in _levels(athlete):
            for counter, cap in tables.caps(row_kind, level).items():
                own = lower(athlete.level, athlete.level_for(COUNTER_FAMILY.get(counter, "")))
                if own == level and not found.get(counter):
                    found[counter] = cap
    for limit in limits:
        if limit.contacts_a_week is not None:
            for counter in CONTACT_COUNTERS:
                found[counter] = min(found.get(counter, limit.contacts_a_week), limit.contacts_a_week)
    return dict(sorted(found.items()))


def _levels(athlete: Athlete) -> tuple[Level, ...]:
    wanted = {athlete.level, *athlete.levels.values()}
    return tuple(level for level in LEVELS if level in wanted)


def hours_cap(athlete: Athlete, age: int | None) -> int:
    """Minutes of organised training a week, other sport included."""
    if age is not None and age < 18:
        return age * 60
    kind = event_type((athlete.events or ("all",))[0])
    row_kind = kind if kind in tables.EVENTS_WITH_COUNTS else "combined events"
    return tables.hours(row_kind, athlete.level) * 60
