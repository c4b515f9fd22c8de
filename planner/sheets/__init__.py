"""Paper: boards, athlete pages, cards and the coach's own pages, as PDF and HTML. Templates hold no logic.

Nothing heavy is imported here: a command that prints nothing loads the looks of families only.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planner.sheets.build_parents import is_child
    from planner.sheets.press import print_look_back, print_notice, print_sheets
    from planner.sheets.recorded import Recorded, recorded_from
    from planner.sheets.report import NotWritten, Overflow, PrintReport
    from planner.sheets.selection import (
        AHEAD_DAYS,
        BOARD,
        CARDS,
        COMPETITION,
        KINDS,
        OF_A_SLOT,
        PARENTS,
        RUN_UP,
        select,
    )
    from planner.sheets.singles import Beside

_HOMES = {
    "AHEAD_DAYS": "selection",
    "BOARD": "selection",
    "CARDS": "selection",
    "COMPETITION": "selection",
    "KINDS": "selection",
    "OF_A_SLOT": "selection",
    "PARENTS": "selection",
    "RUN_UP": "selection",
    "Beside": "singles",
    "NotWritten": "report",
    "Overflow": "report",
    "PrintReport": "report",
    "Recorded": "recorded",
    "is_child": "build_parents",
    "print_look_back": "press",
    "print_notice": "press",
    "print_sheets": "press",
    "recorded_from": "recorded",
    "select": "selection",
}

__all__ = [
    "AHEAD_DAYS",
    "BOARD",
    "CARDS",
    "COMPETITION",
    "KINDS",
    "OF_A_SLOT",
    "PARENTS",
    "RUN_UP",
    "Beside",
    "NotWritten",
    "Overflow",
    "PrintReport",
    "Recorded",
    "is_child",
    "print_look_back",
    "print_notice",
    "print_sheets",
    "recorded_from",
    "select",
]


def __getattr__(name: str) -> object:
    """Load a name's own file when it is first asked for."""
    if name not in _HOMES:
        raise AttributeError(f"planner.sheets has no '{name}'")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
