"""Which weekly figures an event takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from planner.catalogue._phases import PHASES
from planner.catalogue._read import DATA, CatalogueError, Row, finish, problem, read
from planner.domain.units import FAMILIES

EVENT_TYPES = ("long jump", "triple jump", "sprint", "400 m", "combined events")


@dataclass(frozen=True)
class Event:
    """An event as weekly figures see it.

    `figures` is one of EVENT_TYPES; with `own_table` False these are borrowed: the event's own `families`
    at target, other technical ones at minimum.
    """

    name: str
    figures: str
    own_table: bool
    families: tuple[str, ...]


@cache
def _events() -> tuple[Mapping[str, Event], tuple[str, ...]]:
    problems: list[str] = []
    row = Row("events.toml", "", read(DATA / "events.toml"), problems)
    technical = row.words("technical", FAMILIES)
    table = row.row("events")
    found = {}
    for name in table.values:
        entry = table.row(name)
        found[name] = Event(
            name,
            entry.text("figures", among=EVENT_TYPES),
            entry.flag("own-table") if "own-table" in entry.values else True,
            entry.words("families", FAMILIES),
        )
        entry.done()
    row.done()
    finish(problems)
    return MappingProxyType(found), technical


def technical_families() -> tuple[str, ...]:
    """Families that are an event's technique: jumps, run-ups, hurdles, throws."""
    return _events()[1]


def event(name: str) -> Event:
    """The event of that name, however its distance or height is written ('110 m hurdles').

    Unknown events take the figures of combined events without a family of their own.
    """
    known = _events()[0]
    plain = " ".join(name.lower().split())
    if plain in known:
        return known[plain]
    for part in ("hurdles", "relay", "heptathlon", "decathlon", "pentathlon"):
        if part in plain:
            return known[part]
    if plain.startswith("4 x"):
        return known["relay"]
    return Event(name, "combined events", False, ())


def event_type(name: str) -> str:
    """The event whose weekly figures are used: one of EVENT_TYPES."""
    return event(name).figures


def has_own_table(name: str) -> bool:
    """Whether the event's weekly figures are its own, not those of combined events."""
    return event(name).own_table


def check_phase(phase: str) -> None:
    """CatalogueError when there is no such phase."""
    if phase not in PHASES:
        needed = "one of " + ", ".join(PHASES)
        raise CatalogueError([problem("phases", "phase", phase, needed, "it is misspelt.")])
