"""Paper: the squad board and the athlete page, as PDF and HTML. Views hold words, templates hold none."""

from planner.sheets.press import BOARD, print_notice, print_sheets
from planner.sheets.report import NotWritten, Overflow, PrintReport

__all__ = ["BOARD", "NotWritten", "Overflow", "PrintReport", "print_notice", "print_sheets"]
