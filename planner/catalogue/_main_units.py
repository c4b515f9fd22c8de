"""Which unit leads its family in a phase."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from planner.catalogue._read import DATA, CatalogueError, problem, read
from planner.catalogue._units import units
from planner.domain.units import FAMILIES


@cache
def main_units(phase: str) -> Mapping[str, tuple[str, ...]]:
    """Family -> the units that may lead it in a phase, best first; empty for a phase without any."""
    found: dict[str, tuple[str, ...]] = {}
    wrong: list[str] = []
    for family, names in read(DATA / "main_units.toml").get(phase, {}).items():
        if family not in FAMILIES:
            where = f"{phase}.{family}"
            wrong.append(problem("main_units.toml", where, family, "a family", "mind the spelling."))
        for name in names:
            if name not in units():
                where = f"{phase}.{family}"
                wrong.append(problem("main_units.toml", where, name, "a unit", "mind the spelling."))
        found[family] = tuple(names)
    if wrong:
        raise CatalogueError(wrong)
    return MappingProxyType(found)
