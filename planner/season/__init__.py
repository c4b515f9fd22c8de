"""The season: phases, shares of the peak week, weekly counts and caps, amounts, and all placements."""

from planner.season.make import make_problem

__all__ = ["make_problem"]
