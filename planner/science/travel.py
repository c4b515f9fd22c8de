"""Time zones: how many hours apart two places are on a date, and the usual days until a body follows.

Sources: time-zone database of IANA; Janse van Rensburg DC, Fowler P, Racinais S 2021, Practical tips to
manage travel fatigue and jet lag in athletes, British Journal of Sports Medicine 55(15):821-822; Janse van
Rensburg DC and others 2021, Sports Medicine 51:2029-2050. The evidence is thin; direction, light, sleep and
person matter.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from planner.science.errors import OutOfReach, within

JET_LAG_ABOVE_ZONES = 3  # hours between the zones; fewer give travel fatigue only
WORST_DAYS = (2, 4)  # days after arrival on which athletes often feel worse than on the first


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        raise OutOfReach(
            f"no time zone is called {name!r}, needed a name such as 'Europe/London'. "
            "Maybe name the nearest big city."
        ) from None


def zones_east(home: str, away: str, on: date) -> float:
    """Hours that the clock of `away` is ahead of `home` at noon UTC of a date; below 0 to the west.

    The nearer way round, so never beyond 12. OutOfReach for an unknown zone.
    """
    noon = datetime.combine(on, time(12), tzinfo=UTC)
    there, here = noon.astimezone(_zone(away)).utcoffset(), noon.astimezone(_zone(home)).utcoffset()
    assert there is not None and here is not None  # a ZoneInfo always knows its offset
    hours = (there - here).total_seconds() / 3600
    return hours - 24 if hours > 12 else hours + 24 if hours < -12 else hours


def jet_lag(zones: float) -> bool:
    """Whether so many zones (+ east, - west) bring jet lag and not only a tiring trip: more than three."""
    within(zones, -12, 12, "the zones are", "hours", "count the shorter way round.")
    return abs(zones) > JET_LAG_ABOVE_ZONES


def days_to_adapt(zones: float) -> float:
    """Usual days until a body follows: one a zone to the east (+), half a day to the west (-).

    A rule of thumb as restated by a national team, no trial. 0 where there is no jet lag.
    """
    if not jet_lag(zones):
        return 0.0
    return zones if zones > 0 else -zones / 2
