"""A competition day worked back from the start: so many minutes before, and the order of the warm-up.

Common practice, no source. The meeting's own times for call room and warm-up go first, which the card says.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from planner.numbers.marks import run_of

Kind = Literal["jump", "bar", "run", "other"]


@dataclass(frozen=True)
class Act:
    """Something done `minutes` before the start."""

    minutes: int
    said: str


@dataclass(frozen=True)
class DayPlan:
    """The acts of one kind of event, the order of its warm-up, and what is written down of each attempt."""

    acts: tuple[Act, ...]
    warm_up: tuple[str, ...]
    columns: tuple[str, ...]
    rows: int
    row_word: str


EAT = Act(210, "light meal, drink")
ARRIVE = Act(100, "arrive; number, shoes, order of start")
WARM = Act(90, "warm-up begins")
RUN_WARM = Act(75, "warm-up begins")
CALL = Act(45, "call room")

JUMP = DayPlan(
    (
        EAT, ARRIVE, WARM, Act(50, "last build-ups, change shoes"), CALL,
        Act(30, "on the runway: marks down by tape"), Act(25, "run-through 1, controlled"),
        Act(18, "run-through 2, full speed"), Act(12, "one jump from a short run-up"),
        Act(5, "jacket on, one cue"), Act(0, "competition begins"),
    ),
    (
        "easy running and mobility, 15 min", "running drills, take-off drills, 10 min",
        "3 or 4 build-ups, the last one fast", "2 run-up starts of 4 to 6 steps",
        "a stride every 5 or 6 min while you wait",
    ),
    ("start mark m", "wind m/s", "board cm", "mark m"), 6, "attempt",
)  # fmt: skip
BAR = DayPlan(
    (
        EAT, ARRIVE, WARM, Act(50, "last build-ups, change shoes"), CALL,
        Act(30, "at the bed: marks down by tape"), Act(25, "2 or 3 run-ups, then over a low bar"),
        Act(5, "jacket on, one cue"), Act(0, "competition begins"),
    ),
    (
        "easy running and mobility, 15 min", "running drills, take-off drills, 10 min",
        "3 build-ups, one on a curve", "run-ups with a pop-up",
    ),
    ("height m", "1st", "2nd", "3rd"), 6, "height",
)  # fmt: skip
RUN = DayPlan(
    (
        EAT, ARRIVE, RUN_WARM, Act(35, "last build-ups, spikes on"), Act(25, "call room"),
        Act(8, "set the blocks, 2 starts"), Act(3, "one cue, quiet"), Act(0, "start"),
    ),
    (
        "easy running and mobility, 15 min", "running drills, 10 min", "3 or 4 build-ups, the last one fast",
        "2 starts over 20 to 30 m, full rest",
    ),
    ("lane", "time s", "wind m/s", "place"), 4, "round",
)  # fmt: skip
OTHER = DayPlan(
    (
        EAT, ARRIVE, WARM, Act(50, "last build-ups"), CALL, Act(30, "at the place, practice attempts"),
        Act(5, "jacket on, one cue"), Act(0, "competition begins"),
    ),
    ("easy running and mobility, 15 min", "drills of the event, 10 min", "3 build-ups",
     "2 easy attempts, 1 at speed"),
    ("result", "wind m/s", "place", "next from"), 7, "",
)  # fmt: skip
PLANS: dict[Kind, DayPlan] = {"jump": JUMP, "bar": BAR, "run": RUN, "other": OTHER}


def kind_of(event: str) -> Kind:
    """Long and triple jump, the two with a bar, races of any length with or without hurdles, all others."""
    named = event.lower()
    if named in ("long jump", "triple jump"):
        return "jump"
    if named in ("high jump", "pole vault"):
        return "bar"
    if run_of(event) or re.match(r"\d+ ?m\b", named):
        return "run"
    return "other"
