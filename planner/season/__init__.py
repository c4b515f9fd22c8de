"""The season: phases, shares of the peak week, weekly counts and caps, amounts, and all placements."""

from planner.season.edge import edge_after
from planner.season.make import all_units, make_problem
from planner.season.outline import Outline, OutlineWeek, outline_of
from planner.season.parts import parts_of, plan_in_parts

__all__ = [
    "Outline",
    "OutlineWeek",
    "all_units",
    "edge_after",
    "make_problem",
    "outline_of",
    "parts_of",
    "plan_in_parts",
]
