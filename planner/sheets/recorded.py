"""What was recorded at the pit since the block file was written: plain values that enrich the cards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.domain.block import RunUp
from planner.numbers.attempts import Attempt
from planner.numbers.run_up_card import Logged

RunUpKey = tuple[str, str, int, str]  # athlete, event, steps, take-off leg


@dataclass(frozen=True)
class Recorded:
    """`logged` is the mark in force and the sessions read of a run-up, `run_ups` are later rows, short ones too.

    `attempts` are an athlete's measured triple jumps, oldest first; `cues` what the coach wants said next time.
    The cards work without any of it.
    """

    logged: Mapping[RunUpKey, Logged] = field(default_factory=dict)
    run_ups: Sequence[RunUp] = ()
    attempts: Mapping[str, Sequence[Attempt]] = field(default_factory=dict)
    cues: Mapping[str, str] = field(default_factory=dict)


NOTHING = Recorded()
