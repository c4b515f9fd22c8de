"""Facts from the pit and the runway: results with every attempt, run-up readings, start marks that were set.

The still-wind start mark of an athlete is worked out from these (`planner.numbers.recorded`), never typed over:
its history is the start marks as persons set them and the readings of every session since.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from planner.domain.attempt import Attempt, RunThrough
from planner.domain.fact import Fact
from planner.domain.shoe import Shoe
from planner.domain.units import Side


@dataclass(frozen=True, kw_only=True)
class Result(Fact):
    """What an athlete did in one event on one day, in competition or training: every attempt, in order.

    `rank` 0: not known; `steps` 0: the full run-up; `leg` None: the take-off leg of that day. `target` is the
    distance that the marks beside the runway were set for, in centimetres. `cue` is what the coach said;
    `cue_after` after how many attempts it was first said (None: before the first, or nothing was said).
    """

    kind: ClassVar[str] = "result"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    event: Annotated[str, "squad"]
    competition: Annotated[str, "squad"] = ""
    attempts: Annotated[tuple[Attempt, ...], "athlete"] = ()
    rank: Annotated[int, "squad"] = 0
    steps: Annotated[int, "athlete"] = 0
    leg: Annotated[Side | None, "athlete"] = None
    shoe: Annotated[int | None, "athlete"] = None  # millimetres
    shoe_name: Annotated[str, "athlete"] = ""
    target: Annotated[int | None, "athlete"] = None
    cue: Annotated[str, "athlete"] = ""
    cue_after: Annotated[int | None, "athlete"] = None
    note: Annotated[str, "coach"] = ""

    @property
    def worn(self) -> Shoe:
        """The shoe, as far as it was said."""
        return Shoe(self.shoe_name, self.shoe)


@dataclass(frozen=True, kw_only=True)
class RunUpReadings(Fact):
    """Run-ups without a jump of one athlete on one day: reading at the board, wind, marks, run by run."""

    kind: ClassVar[str] = "run-up readings"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    event: Annotated[str, "squad"]
    runs: Annotated[tuple[RunThrough, ...], "athlete"]
    steps: Annotated[int, "athlete"] = 0  # 0: the full run-up
    leg: Annotated[Side | None, "athlete"] = None  # None: the take-off leg of that day
    shoe: Annotated[int | None, "athlete"] = None  # millimetres
    shoe_name: Annotated[str, "athlete"] = ""
    note: Annotated[str, "coach"] = ""

    @property
    def worn(self) -> Shoe:
        """The shoe, as far as it was said."""
        return Shoe(self.shoe_name, self.shoe)


@dataclass(frozen=True, kw_only=True)
class StartMark(Fact):
    """A person set the still-wind start mark of a run-up anew, from this day on. Centimetres from the board."""

    kind: ClassVar[str] = "start mark"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    event: Annotated[str, "squad"]
    steps: Annotated[int, "athlete"]
    start_mark: Annotated[int, "athlete"]
    coach_mark: Annotated[int | None, "athlete"] = None
    leg: Annotated[Side | None, "athlete"] = None
    shoe: Annotated[int | None, "athlete"] = None  # millimetres
    shoe_name: Annotated[str, "athlete"] = ""
    note: Annotated[str, "coach"] = ""

    @property
    def worn(self) -> Shoe:
        """The shoe, as far as it was said."""
        return Shoe(self.shoe_name, self.shoe)


