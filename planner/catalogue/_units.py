"""The units of data/units.toml as frozen records, and a coach's own units made from one of them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from planner.catalogue._read import DATA, CatalogueError, Row, finish, problem, read
from planner.domain.units import (
    COUNTERS,
    FAMILIES,
    LEVELS,
    REGIONS,
    AmountRange,
    Demand,
    Level,
    Unit,
)

PLACE_KINDS = (
    "pit", "straight", "track", "gym", "grass", "pool", "bed", "circle", "hurdles", "anywhere",
)  # fmt: skip
SIDES_TAKEN = ("", "take-off", "other", "trail", "front", "throwing")
LIMIT_REGIONS = (*REGIONS, "ankle", "shin", "hip", "shoulder", "illness")

MOST_MINUTES = 300
MOST_AMOUNT = 20_000  # no unit is done in larger numbers a session
MOST_HUNDREDTHS = 100_000


def _demand(row: Row) -> Demand:
    loads: Mapping[str, int] = row.numbers("loads", 0, 3, REGIONS, need=True)
    for region in REGIONS:
        if region not in loads:
            row.wrong(f"loads.{region}", "nothing", "a load from 0 to 3", "the region was left out.")
    return Demand(
        neural=row.whole("neural", 0, 3),
        metabolic=row.whole("metabolic", 0, 3),
        loads={r: loads.get(r, 0) for r in REGIONS},
        effort=row.pair("effort", 0, 10),
        minutes=row.pair("minutes", 0, MOST_MINUTES),
        percent=row.whole("percent", 0, 100, default=0),
    )


def _amounts(row: Row) -> Mapping[Level, AmountRange]:
    inner = row.row("amounts")
    found: dict[Level, AmountRange] = {}
    for level in LEVELS:
        value: Any = inner.raw(level, None)
        well = (
            isinstance(value, list)
            and len(value) in (2, 3)
            and type(value[0]) is int
            and type(value[1]) is int
            and 0 <= value[0] <= value[1] <= MOST_AMOUNT
        )
        if not well:
            inner.wrong(level, value, "[low, high] or [low, high, note]", "low and high are swapped.")
            continue
        found[level] = AmountRange(value[0], value[1], str(value[2]) if len(value) == 3 else "")
    inner.done()
    return found


def _harder_from(row: Row) -> tuple[int, int] | None:
    value = row.raw("harder_from", ())
    if not value:
        return None
    if not isinstance(value, list) or len(value) != 2 or any(type(v) is not int for v in value):
        row.wrong("harder_from", value, "[amount, neural]", "a number is missing.")
        return None
    return (value[0], value[1])


def _companions(row: Row) -> tuple[tuple[str, int, int], ...]:
    found = []
    for entry in row.raw("companions", []):
        if not isinstance(entry, list) or [type(v) for v in entry] != [str, int, int]:
            row.wrong("companions", entry, "[units, times, days]", "a number is missing.")
            continue
        found.append((entry[0], entry[1], entry[2]))
    return tuple(found)


def _unit(where: str, unit_id: str, values: Mapping[str, Any], problems: list[str]) -> Unit:
    row = Row(where, f"{unit_id}.", values, problems)
    lighter = row.row("lighter")
    fixed: Mapping[str, int] = lighter.numbers("amounts", 0, MOST_AMOUNT, LEVELS)
    counted = lighter.numbers("counters", 0, MOST_HUNDREDTHS, COUNTERS)
    unit = Unit(
        id=unit_id,
        name=row.text("name"),
        short=row.text("short", ""),
        family=row.text("family", among=FAMILIES),
        purpose=row.text("purpose"),
        demand=_demand(row),
        lighter=_demand(lighter),
        measure=row.text("measure"),
        increment=row.whole("increment", 1, MOST_AMOUNT),
        amounts=_amounts(row),
        lighter_share=lighter.whole("share", 1, 100, default=50),
        lighter_text=row.text("lighter_text"),
        lighter_name=row.text("lighter_name", ""),
        lighter_short=row.text("lighter_short", ""),
        counters=row.numbers("counters", 0, MOST_HUNDREDTHS, COUNTERS, need=True),
        place_kinds=row.words("place_kinds", PLACE_KINDS),
        eyes=row.whole("eyes", 0, 2),
        hours_neural=row.whole("hours_neural", 0, 168),
        hours_region=row.whole("hours_region", 0, 168),
        order=row.whole("order", 0, 99),
        heavy_legs=row.flag("heavy_legs"),
        takes_side=row.text("takes_side", "", SIDES_TAKEN),
        take_off_share=row.whole("take_off_share", 0, 100, default=0),
        preparation=row.flag("preparation"),
        prepares=tuple(row.numbers("prepares", 1, MOST_AMOUNT).items()),
        recovery_only=row.flag("recovery_only"),
        stop_rule=row.text("stop_rule", ""),
        recovery=row.text("recovery", ""),
        target=row.text("target", ""),
        shoes=row.text("shoes", ""),
        limits_note=row.text("limits_note", ""),
        cautions=row.words("cautions", LIMIT_REGIONS),
        least_age=row.whole("least_age", 0, 99, default=0),
        least_training_years=row.whole("least_training_years", 0, 50, default=0),
        pairs_after=row.words("pairs_after"),
        avoid_with=row.words("avoid_with"),
        never_with=row.words("never_with"),
        companions=_companions(row),
        harder_from=_harder_from(row),
        source=row.text("source"),
        lighter_amounts={v: fixed[v] for v in LEVELS if v in fixed},
        lighter_measure=lighter.text("measure", ""),
        lighter_counters=counted if "counters" in lighter.values else None,
        least_stage=tuple(row.numbers("least_stage", 0, 6, LIMIT_REGIONS).items()),
    )
    lighter.done()
    row.done()
    return unit


def _references(where: str, found: Mapping[str, Unit], problems: list[str]) -> None:
    known = {*found, *FAMILIES}
    for unit in found.values():
        named = {
            "prepares": [name for name, _ in unit.prepares],
            "pairs_after": list(unit.pairs_after),
            "avoid_with": list(unit.avoid_with),
            "never_with": list(unit.never_with),
            "companions": [name for names, _, _ in unit.companions for name in names.split("|")],
        }
        for key, names in named.items():
            for name in names:
                if name not in known:
                    needed = "a unit or family of the catalogue"
                    problems.append(problem(where, f"{unit.id}.{key}", name, needed, "it is misspelt."))


def units_from(path: Path) -> Mapping[str, Unit]:
    """All units of a TOML file by id, in file order; CatalogueError lists every problem at once."""
    problems: list[str] = []
    found = {key: _unit(path.name, key, values, problems) for key, values in read(path).items()}
    _references(path.name, found, problems)
    finish(problems)
    return MappingProxyType(found)


@cache
def units() -> Mapping[str, Unit]:
    """Every unit of the catalogue by id, in file order (families together)."""
    return units_from(DATA / "units.toml")


def unit(unit_id: str) -> Unit:
    """The unit of that id; CatalogueError with the nearest names when there is none."""
    found = units().get(unit_id)
    if found is not None:
        return found
    import difflib

    near = difflib.get_close_matches(unit_id, list(units()), n=2, cutoff=0.5)
    maybe = "you mean " + " or ".join(near) + "." if near else "see the list of units."
    raise CatalogueError([problem("units", "id", unit_id, "the id of a unit", maybe)])
