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

NAME_MM = 26  # columns of the board
WEEK_MM = 20
BAR_FULL_MM = 18  # length of a board's bar at BAR_FULL_LOAD
BAR_FULL_LOAD = 880  # effort x minutes: a very long fast session (8 x 110); the bar stops here
PAGE_BAR_LOAD_PER_MM = 66  # athlete page: one millimetre of the bar under a plate is 66 effort-minutes
PAGE_BAR_MOST_MM = 8  # a bar never makes its row taller: plate and bar end with the third line
RUNNING_MM = 7  # below the clip: 'Name, week 1 of 2, continued' on a second sheet


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

    @property
    def upper_mm(self) -> float:
        """Height of the upper half of a sheet that folds in the middle, below the clip."""
        return self.height / 2 - self.top

    @property
    def lower_mm(self) -> float:
        """Height of the lower half, above the foot; half a millimetre is left so that nothing breaks."""
        return self.height / 2 - self.bottom - 0.5


BOARDS = {
    "A4": Paper("A4", "297mm 210mm", 297, 210, CLIP_MM, 12, 13, 14),
    "Letter": Paper("Letter", "279.4mm 215.9mm", 279, 215, CLIP_MM, 12, 13, 14),
    "A3": Paper("A3", "420mm 297mm", 420, 297, 13, 13, 14, 16),
}
PAGES = {
    "A4": Paper("A4", "210mm 297mm", 210, 297, CLIP_MM, 12, 12, 14),
    "Letter": Paper("Letter", "215.9mm 279.4mm", 215, 279, CLIP_MM, 12, 12, 14),
}
FOLDED = {  # cards that fold twice, to A6 or a quarter of a Letter sheet
    "A4": Paper("A4", "210mm 297mm", 210, 297, CLIP_MM, 10, 12, 10),
    "Letter": Paper("Letter", "215.9mm 279.4mm", 215, 279, CLIP_MM, 10, 12, 10),
}
PAGE_FOR = {"A4": "A4", "Letter": "Letter", "A3": "A4"}  # athlete pages that go with a board
