"""A competition day worked back from the start: so many minutes before, and the order of the warm-up.

Of several events on one day the earliest one has meal, arrival and the whole warm-up; each later one a short
warm-up again. How long an event lasts only tells where two of them are in each other's way. All of it is common
practice, no source.
The meeting's own times for call room and warm-up go first, which the card says.
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
    """The acts of one kind of event, the order of its warm-up, and what is written down of each attempt.

    `again` is the short warm-up after another event, `again_order` its order; `lasts` are minutes from the start.
    """

    acts: tuple[Act, ...]
    warm_up: tuple[str, ...]
    columns: tuple[str, ...]
    rows: int
    row_word: str
    again: Act
    again_order: tuple[str, ...]
    lasts: int

    @property
    def later(self) -> tuple[Act, ...]:
        """The acts when another event was done before: no meal, no arrival, no second whole warm-up."""
        call = next(i for i, act in enumerate(self.acts) if act.said == CALL_ROOM)
        return (self.again, *self.acts[call:])

    @property
    def shortly(self) -> tuple[Act, ...]:
        """Of those the ones that another event can get in the way of: warm-up, call room, start."""
        return tuple(act for act in self.later if act in (self.again, self.acts[-1]) or act.said == CALL_ROOM)


CALL_ROOM = "call room"
JUMPS_LAST, BARS_LAST, RUNS_LAST = 75, 120, 10  # minutes; a dozen athletes, a minute an attempt
EAT = Act(210, "light meal, drink")
ARRIVE = Act(100, "arrive; number, shoes, order of start")
WARM = Act(90, "warm-up begins")
RUN_WARM = Act(75, "warm-up begins")
CALL = Act(45, CALL_ROOM)
AGAIN = Act(55, "short warm-up again")
RUN_AGAIN = Act(35, "short warm-up again, spikes on")

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
    AGAIN, ("easy running, 5 min", "2 build-ups, the last one fast", "1 run-up start of 4 to 6 steps"), JUMPS_LAST,
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
    AGAIN, ("easy running, 5 min", "2 build-ups, one on a curve", "1 run-up with a pop-up"), BARS_LAST,
)  # fmt: skip
RUN = DayPlan(
    (
        EAT, ARRIVE, RUN_WARM, Act(35, "last build-ups, spikes on"), Act(25, CALL_ROOM),
        Act(8, "set the blocks, 2 starts"), Act(3, "one cue, quiet"), Act(0, "start"),
    ),
    (
        "easy running and mobility, 15 min", "running drills, 10 min", "3 or 4 build-ups, the last one fast",
        "2 starts over 20 to 30 m, full rest",
    ),
    ("lane", "time s", "wind m/s", "place"), 4, "round",
    RUN_AGAIN, ("easy running, 5 min", "2 build-ups, the last one fast", "1 start over 20 m"), RUNS_LAST,
)  # fmt: skip
OTHER = DayPlan(
    (
        EAT, ARRIVE, WARM, Act(50, "last build-ups"), CALL, Act(30, "at the place, practice attempts"),
        Act(5, "jacket on, one cue"), Act(0, "competition begins"),
    ),
    ("easy running and mobility, 15 min", "drills of the event, 10 min", "3 build-ups",
     "2 easy attempts, 1 at speed"),
    ("result", "wind m/s", "place", "next from"), 7, "",
    AGAIN, ("easy running, 5 min", "2 build-ups", "1 easy attempt"), JUMPS_LAST,
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
