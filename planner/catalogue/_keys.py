"""Which families matter most in an event and phase."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from planner.catalogue._events import EVENT_TYPES
from planner.catalogue._read import DATA, Row, finish, read
from planner.catalogue._weeks import weekly_counts
from planner.domain.problem import Importance
from planner.domain.units import FAMILIES, Level


@cache
def _keys() -> tuple[Mapping[tuple[str, str, str], tuple[str, ...]], tuple[str, ...]]:
    problems: list[str] = []
    row = Row("keys.toml", "", read(DATA / "keys.toml"), problems)
    last = row.words("if-there-is-time", FAMILIES)
    found = {}
    for name in EVENT_TYPES:
        of_event = row.row(name)
        for level in ("novice", "advanced"):
            of_level = of_event.row(level)
            for phase in of_level.values:
                found[name, level, phase] = of_level.words(phase, FAMILIES)
        of_event.done()
    row.done()
    finish(problems)
    return MappingProxyType(found), last


def key_families(event_type: str, level: Level, phase: str) -> tuple[str, ...]:
    """The key families of an event in a phase, the one that matters most first.

    Developing athletes take the event's own order, novices their own. Taper as competition; bridge and
    transition have none, nor does a family count that the phase does not plan.
    Source: common practice, no source.
    """
    planned = weekly_counts(event_type, level, phase)
    row = "novice" if level == "novice" else "advanced"
    named = _keys()[0].get((event_type, row, "competition" if phase == "taper" else phase), ())
    return tuple(family for family in named if planned.of(family).maximum > 0)


def importance(event_type: str, level: Level, phase: str, family: str) -> Importance:
    """How much a family matters in a phase: key, supporting, or if there is time."""
    if family in key_families(event_type, level, phase):
        return "key"
    return "if there is time" if family in _keys()[1] else "supporting"
