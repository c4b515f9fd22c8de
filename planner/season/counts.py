"""How often each family is wanted in a week: minimum, target, maximum.

The first event's row counts; a second event adds its technical families at their minimum. Events without
a row of their own take the combined-events row of the level: own family at target, other technical
families at minimum. Targets and minima shrink with the days an athlete is there (x days/7, half up),
maxima do not. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.block import Athlete
from planner.domain.problem import Count
from planner.domain.units import FAMILIES, LEVELS, Level
from planner.season import tables

FAST_DAYS = "fast-days"
TRAINING_DAYS = "training-days"
NOTHING = Count(0, 0, 0)
TECHNICAL = ("run-ups", "technical-jumps", "full-jumps", "hurdles", "throws")
OWN_FAMILIES: Mapping[str, tuple[str, ...]] = {
    "long jump": ("run-ups", "technical-jumps", "full-jumps"),
    "triple jump": ("run-ups", "technical-jumps", "full-jumps"),
    "high jump": ("technical-jumps", "full-jumps"),
    "sprint": ("acceleration", "top-speed", "speed-endurance"),
    "400 m": ("speed-endurance", "special-endurance"),
    "hurdles": ("hurdles",),
    "throws": ("throws",),
    "combined events": TECHNICAL,
    "all": TECHNICAL,
}
JUMP_EVENTS = ("long jump", "triple jump", "high jump")


def event_type(event: str) -> str:
    """The kind of event, as the tables know it: 'sprint' for 60 to 200 m, 'throws' for the throws ..."""
    if event in ("60 m", "100 m", "200 m"):
        return "sprint"
    if event in ("heptathlon", "decathlon", "combined events", "pentathlon"):
        return "combined events"
    if event in ("shot put", "javelin", "discus"):
        return "throws"
    if "hurdles" in event:
        return "hurdles"
    return event if event in OWN_FAMILIES else "all"


def lower(one: Level, other: Level) -> Level:
    return LEVELS[min(LEVELS.index(one), LEVELS.index(other))]


def level_in(athlete: Athlete, family: str) -> Level:
    """The athlete's level in a family: where the whole and the quality differ, the lower one."""
    return lower(athlete.level, athlete.level_for(family))


def row_for(athlete: Athlete, event: str, phase: str) -> dict[str, Count]:
    """Counts per 7 days for one event; each family by the athlete's level in it."""
    kind = event_type(event)
    row_kind = kind if kind in tables.EVENTS_WITH_COUNTS else "combined events"
    found: dict[str, Count] = {}
    for family in (*FAMILIES, FAST_DAYS, TRAINING_DAYS):
        level = level_in(athlete, family)
        count = tables.counts(row_kind, level, phase).get(family, NOTHING)
        if row_kind != kind and kind != "all" and family in TECHNICAL and family not in OWN_FAMILIES[kind]:
            count = Count(count.minimum, count.minimum, count.maximum)
        found[family] = count
    return found


def with_second(first: Mapping[str, Count], second: Mapping[str, Count], event: str) -> dict[str, Count]:
    """The first event's counts and the second's technical families at their minimum."""
    found = dict(first)
    for family in OWN_FAMILIES[event_type(event)]:
        a, b = found.get(family, NOTHING), second.get(family, NOTHING)
        once = max(b.minimum, min(1, b.maximum))
        found[family] = Count(max(a.minimum, b.minimum), max(a.target, b.minimum), max(a.maximum, once))
    return found


def scaled(count: Count, days: int) -> Count:
    """Minimum and target x days/7, half up; the maximum stays."""
    target = (2 * count.target * days + 7) // 14
    minimum = (2 * count.minimum * days + 7) // 14
    return Count(min(minimum, count.maximum), min(target, count.maximum), count.maximum)


def counts_for(
    athlete: Athlete, phase: str, days: int, open_days: int, competition_days: int, easier: bool
) -> tuple[dict[str, Count], Count, Count]:
    """Counts by family, fast days and training days of one week.

    `days`: those the athlete is there; `open_days`: those of them with an opening; an easier week wants
    one fast day less, and each competition day stands for one.
    """
    events = athlete.events or ("all",)
    row = row_for(athlete, events[0], phase)
    for event in events[1:]:
        row = with_second(row, row_for(athlete, event, phase), event)
    found = {family: scaled(row[family], days) for family in FAMILIES if row[family].maximum > 0}
    fast = scaled(row[FAST_DAYS], days)
    less = competition_days + int(easier)
    fast = Count(max(0, fast.minimum - less), max(0, fast.target - less), fast.maximum)
    training = scaled(row[TRAINING_DAYS], days)
    training = Count(min(training.minimum, open_days), min(training.target, open_days), training.maximum)
    return found, fast, training
