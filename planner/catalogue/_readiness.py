"""What an athlete must have done of an event's own skill before a main competition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from planner.catalogue._read import DATA, Row, finish, read
from planner.catalogue._units import units

SPRINTS = ("60 m", "100 m", "200 m")


@dataclass(frozen=True)
class Exposure:
    """Days with one of these units, at the least, as they are called to the coach."""

    what: str
    units: tuple[str, ...]
    least: int


@dataclass(frozen=True)
class Readiness:
    """All that an event asks for within `days` before a competition, and what may be done instead."""

    days: int
    needs: tuple[Exposure, ...]
    instead: str


def readiness(event: str) -> Readiness | None:
    """What an event asks for before a main competition; None for one that asks for nothing."""
    plain = " ".join(event.lower().split())
    if plain in SPRINTS:
        plain = "sprint"
    elif "hurdles" in plain:
        plain = "hurdles"
    return _all().get(plain)


@cache
def _all() -> Mapping[str, Readiness]:
    problems: list[str] = []
    table = Row("readiness.toml", "", read(DATA / "readiness.toml"), problems)
    days = table.whole("days", 1, 84)
    found = {}
    for name in table.values:
        if name == "days":
            continue
        row = table.row(name)
        needs = []
        for i, values in enumerate(row.raw("needs", []), 1):
            entry = Row("readiness.toml", f"{name}.needs[{i}].", values, problems)
            named = entry.words("units", units())
            needs.append(Exposure(entry.text("what"), named, entry.whole("least", 1, 20)))
            entry.done()
        found[name] = Readiness(days, tuple(needs), row.text("instead"))
        row.done()
    table.done()
    finish(problems)
    return MappingProxyType(found)
