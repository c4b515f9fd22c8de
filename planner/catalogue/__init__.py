"""What can be trained, and how much of it: units, phases, weekly figures, limits, as data with sources.

The figures stand in `data/*.toml`, each file with its meaning, units and source at the top. All of them
are defaults that a coach may change. Loading is pure and cached; nothing here reads a clock.
"""

from planner.catalogue._read import CatalogueError
from planner.catalogue._units import LIMIT_REGIONS, PLACE_KINDS, unit, units, units_from

__all__ = ["LIMIT_REGIONS", "PLACE_KINDS", "CatalogueError", "unit", "units", "units_from"]
