"""The solver's part: rows, a greedy plan, better plans, certified bounds, and collisions explained.

Nothing heavy is imported here: the library behind it is loaded when something is solved.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.solve.coaches import assign_coaches
    from planner.solve.compare import Mismatch, verify
    from planner.solve.conflict import Impossible, NotDecided, WayOut
    from planner.solve.denied import cannot_be_had, shortfalls
    from planner.solve.refused import Cause
    from planner.solve.search import BUDGETS, Progress, solve
    from planner.solve.timetable import coached, timetable_slot
    from planner.solve.with_timetable import solve_with_timetable

_HOMES = {
    "assign_coaches": "coaches",
    "Cause": "refused",
    "Impossible": "conflict",
    "NotDecided": "conflict",
    "WayOut": "conflict",
    "cannot_be_had": "denied",
    "shortfalls": "denied",
    "BUDGETS": "search",
    "Progress": "search",
    "solve": "search",
    "Mismatch": "compare",
    "verify": "compare",
    "coached": "timetable",
    "timetable_slot": "timetable",
    "solve_with_timetable": "with_timetable",
}

__all__ = [
    "BUDGETS",
    "Cause",
    "Impossible",
    "Mismatch",
    "NotDecided",
    "Progress",
    "WayOut",
    "assign_coaches",
    "cannot_be_had",
    "coached",
    "shortfalls",
    "solve",
    "solve_with_timetable",
    "timetable_slot",
    "verify",
]


def __getattr__(name: str) -> object:
    """Load a name's own file when it is first asked for."""
    if name not in _HOMES:
        raise AttributeError(f"planner.solve has no '{name}'")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
