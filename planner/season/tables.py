"""The catalogue's weekly figures as the season reads them: counts, caps, volumes, taper, stages, key families.

Developing athletes stand halfway between novice and advanced (half up). All figures are the catalogue's;
sources stand there.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from planner.catalogue._read import DATA, read
from planner.domain.problem import Count
from planner.domain.units import Level
from planner.season.phases import COMPETITION, TAPER
from planner.season.shares import BETWEEN_COMPETITIONS, TaperShape

EVENTS_WITH_COUNTS = ("long jump", "triple jump", "sprint", "400 m", "combined events")
NOVICE_MAXIMUM = ("high-multi-jumps", "full-jumps")  # until the level changes


@cache
def _table(name: str) -> dict[str, Any]:
    return read(DATA / f"{name}.toml")


def _half(a: int, b: int) -> int:
    return (a + b + 1) // 2


@cache
def counts(event: str, level: Level, phase: str) -> Mapping[str, Count]:
    """Family -> count per 7 days, with 'fast-days' and 'training-days'."""
    rows = _table("counts")[event]
    if level != "developing":
        return {f: Count(*c) for f, c in rows[level].get(phase, {}).items()}
    low, high = rows["novice"].get(phase, {}), rows["advanced"].get(phase, {})
    found = {}
    for family in sorted({*low, *high}):
        a, b = low.get(family, [0, 0, 0]), high.get(family, [0, 0, 0])
        most = a[2] if family in NOVICE_MAXIMUM else _half(a[2], b[2])
        found[family] = Count((a[0] + b[0]) // 2, min(most, _half(a[1], b[1])), most)
    return found


@cache
def caps(event: str, level: Level) -> Mapping[str, int]:
    """Counter -> the most of a week."""
    row = _table("caps")[level]
    row = row[event] if level == "advanced" else row
    return {c: r[1] for c, r in row.items() if c not in ("hours", "fast-days", "double-days")}


def hours(event: str, level: Level) -> int:
    row = _table("caps")[level]
    return int((row[event] if level == "advanced" else row)["hours"][1])


@cache
def volumes(event: str, level: Level, phase: str) -> Mapping[str, int]:
    """Column -> the top of the usual range in a peak week."""
    rows = _table("volumes")[event]
    if level != "developing":
        return {c: r[1] for c, r in rows[level].get(phase, {}).items()}
    low, high = rows["novice"].get(phase, {}), rows["advanced"].get(phase, {})
    return {c: _half(low[c][1], high[c][1]) for c in sorted({*low} & {*high})}


def fast_share(event: str) -> int:
    return int(_table("volumes")["fast-share"][event])


def taper(event: str, level: Level) -> TaperShape:
    table = _table("taper")
    own = table.get(event, table["combined events"])
    rows = {"advanced": (own, own), "novice": (table["novice"],) * 2, "developing": (table["novice"], own)}[level]
    keys = ("week-2", "week-1", "last-three-days", "days")
    return TaperShape(*(_half(rows[0][k][1], rows[1][k][1]) for k in keys))


def usual_share(phase: str, last_taper_week: int) -> int:
    return {COMPETITION: BETWEEN_COMPETITIONS, TAPER: last_taper_week}.get(phase, 100)


def stage_percent(stage: int) -> int:
    """Percent of the amount at a return stage, the low end."""
    return int(_table("stages")["stages"][str(stage)]["amount"][0])


def return_percent(days: int) -> int:
    """Percent in the first week back after so many days missed, the low end."""
    for first, last, low, _ in _table("stages")["first-week-back"]["gaps"]:
        if first <= days <= last:
            return int(low)
    return 50 if days >= 28 else 100


def key_families(event: str, level: Level, phase: str) -> tuple[str, ...]:
    table = _table("keys")
    rows = table.get(event, table["combined events"])["novice" if level == "novice" else "advanced"]
    return tuple(rows.get(COMPETITION if phase == TAPER else phase, ()))
