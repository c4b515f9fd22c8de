"""Sizes of the paper and of what stands on it. Millimetres unless a name says points.

Sizes of hand-held sheets follow common practice, no source: 11 pt for what is read at arm's length
while moving, 14 pt for key numbers, 8.5 pt (3 mm) for labels, 8 mm for a row written in with a cold
hand, 5 mm for a tick box, 20 mm at the top for a clipboard's clip.
"""

from __future__ import annotations

from dataclasses import dataclass

CLIP_MM = 20  # free at the top of every sheet that is held in the hand
READ_PT = 11  # read while training
KEY_PT = 14  # key numbers
LABEL_PT = 8.5  # labels; nothing is smaller
BOARD_PT = 9.5  # words in a board's cells
TICK_MM = 5
WRITE_MM = 8

LANE_MM = 33  # least width of a board's lane: 'Long special endurance' takes two lines at 10 pt
NAME_MM = 27
WEEK_MM = 17
BAR_FULL_MM = 26  # width of a board's bar at BAR_FULL_LOAD
BAR_FULL_LOAD = 520  # effort x minutes: a long fast session (8 x 65); longer ones stop here
PAGE_BAR_LOAD_PER_MM = 16  # athlete page: one millimetre of a unit's bar is 16 effort-minutes


@dataclass(frozen=True)
class Paper:
    """One paper: width and height in millimetres as it lies (boards lie on the long side)."""

    name: str
    css: str  # the size property of @page
    width: int
    height: int
    top: int  # margins
    right: int
    bottom: int
    left: int

    @property
    def inner_width(self) -> int:
        return self.width - self.left - self.right


BOARDS = {
    "A4": Paper("A4", "297mm 210mm", 297, 210, CLIP_MM, 12, 13, 14),
    "Letter": Paper("Letter", "279.4mm 215.9mm", 279, 215, CLIP_MM, 12, 13, 14),
    "A3": Paper("A3", "420mm 297mm", 420, 297, 13, 13, 14, 16),
}
PAGES = {
    "A4": Paper("A4", "210mm 297mm", 210, 297, CLIP_MM, 12, 16, 16),
    "Letter": Paper("Letter", "215.9mm 279.4mm", 215, 279, CLIP_MM, 12, 16, 16),
}
PAGE_FOR = {"A4": "A4", "Letter": "Letter", "A3": "A4"}  # athlete pages that go with a board


def lanes_on(paper: Paper) -> int:
    """How many lanes fit beside the names and the week's totals without shrinking a letter."""
    return max(1, (paper.inner_width - NAME_MM - WEEK_MM) // LANE_MM)
