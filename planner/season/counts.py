"""How often each family is wanted in a week: minimum, target, maximum.

The first event's row counts; a second event adds its technical families at their minimum. Each family is
read at the athlete's level in it (where the whole and the quality differ, the lower one). Targets and
minima shrink with the days an athlete is there (x days/7, half up), maxima do not. Common practice, no
source; the rows themselves stand in the catalogue.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.catalogue import event, event_type, importance, weekly_counts_for
from planner.domain.block import Athlete
from planner.domain.problem import Count, Importance
from planner.domain.units import FAMILIES, LEVELS, Level

FAST_DAYS = "fast-days"
TRAINING_DAYS = "training-days"


def events_of(athlete: Athlete) -> tuple[str, ...]:
    """The athlete's events, the most important first; 'all' when the file names none."""
    return athlete.events or ("all",)


def lower(one: Level, other: Level) -> Level:
    return LEVELS[min(LEVELS.index(one), LEVELS.index(other))]


def level_in(athlete: Athlete, family: str) -> Level:
    """The athlete's level in a family: where the whole and the quality differ, the lower one."""
    return lower(athlete.level, athlete.level_for(family))


def row_for(athlete: Athlete, name: str, phase: str) -> dict[str, Count]:
    """Counts per 7 days for one event, with 'fast-days' and 'training-days'."""
    found: dict[str, Count] = {}
    for family in FAMILIES:
        found[family] = weekly_counts_for(name, level_in(athlete, family), phase).of(family)
    whole = weekly_counts_for(name, athlete.level, phase)
    return {**found, FAST_DAYS: whole.fast_days, TRAINING_DAYS: whole.training_days}


def with_second(first: Mapping[str, Count], second: Mapping[str, Count], name: str) -> dict[str, Count]:
    """The first event's counts and the second's own families at their minimum.

    A family the second event may do at all is allowed once, even when its minimum is none.
    """
    found = dict(first)
    for family in event(name).families:
        a, b = found[family], second[family]
        once = max(b.minimum, min(1, b.maximum))
        found[family] = Count(max(a.minimum, b.minimum), max(a.target, b.minimum), max(a.maximum, once))
    return found


def scaled(count: Count, days: int) -> Count:
    """Minimum and target x days/7, half up; the maximum stays."""
    minimum = (2 * count.minimum * days + 7) // 14
    target = (2 * count.target * days + 7) // 14
    return Count(minimum, target, count.maximum)


@dataclass(frozen=True)
class Days:
    """How many days of a week an athlete is there, those of them with an opening, and competition days."""

    there: int
    open: int
    competing: int


def row_of(athlete: Athlete, phase: str) -> dict[str, Count]:
    """Counts per 7 days for all events of an athlete together, with 'fast-days' and 'training-days'."""
    names = events_of(athlete)
    row = row_for(athlete, names[0], phase)
    for name in names[1:]:
        row = with_second(row, row_for(athlete, name, phase), name)
    return row


def wanted_families(athlete: Athlete, phase: str) -> frozenset[str]:
    """Families with a target in a whole week: worth offering even in a week too short to ask for them."""
    row = row_of(athlete, phase)
    return frozenset(family for family in FAMILIES if row[family].target > 0)


def counts_for(
    athlete: Athlete, phase: str, days: Days, easier: bool
) -> tuple[dict[str, Count], Count, Count]:
    """Counts by family, fast days and training days of one week.

    Each competition day stands for a fast day; an easier week wants one fast day less, unless a
    competition took it already.
    """
    row = row_of(athlete, phase)
    found = {family: scaled(row[family], days.there) for family in FAMILIES if row[family].maximum > 0}
    less = max(days.competing, int(easier))
    fast = scaled(row[FAST_DAYS], days.there)
    fast = Count(max(0, fast.minimum - less), max(0, fast.target - less), fast.maximum)
    training = scaled(row[TRAINING_DAYS], days.there)
    training = Count(min(training.minimum, days.open), min(training.target, days.open), training.maximum)
    return found, fast, training


def importance_of(athlete: Athlete, phase: str) -> dict[str, Importance]:
    """How much each family matters in a phase, by the first event.

    An event that borrows the combined events' row has its own families as key. What has no target in the
    phase is done only if there is time.
    """
    wanted = wanted_families(athlete, phase)
    name = events_of(athlete)[0]
    borrowed = not event(name).own_table and name != "all"
    found: dict[str, Importance] = {}
    for family in FAMILIES:
        if family not in wanted:
            found[family] = "if there is time"
        elif borrowed and family in event(name).families:
            found[family] = "key"
        else:
            found[family] = importance(event_type(name), athlete.level, phase, family)
    return found
