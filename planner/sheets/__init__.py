"""Paper: boards, athlete pages, cards and the coach's own pages, as PDF and HTML. Templates hold no logic."""

from planner.sheets.press import print_look_back, print_notice, print_sheets
from planner.sheets.recorded import Recorded, recorded_from
from planner.sheets.report import NotWritten, Overflow, PrintReport
from planner.sheets.selection import AHEAD_DAYS, BOARD, CARDS, KINDS, OF_A_SLOT, RUN_UP, select
from planner.sheets.singles import Beside

__all__ = [
    "AHEAD_DAYS",
    "BOARD",
    "CARDS",
    "KINDS",
    "OF_A_SLOT",
    "RUN_UP",
    "Beside",
    "NotWritten",
    "Overflow",
    "PrintReport",
    "Recorded",
    "print_look_back",
    "print_notice",
    "print_sheets",
    "recorded_from",
    "select",
]
