"""What the name of a mark says: distance, start, timing, surface, shoes, or the steps of a short run-up.

A test named by its distance alone ('30 m') is a standing start timed by gates from the first movement, in
spikes on a track; a race ('60 m' and longer) is from the gun. Words behind the distance say otherwise: standing,
blocks, flying; hand; grass; flats. 'long jump 8 steps' is a jump from a short run-up. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Start = Literal["standing", "blocks", "race", "flying"]
LONGEST_TEST_M = 50  # metres; a bare distance up to here is a test, from 60 m on a race
STARTS: tuple[Start, ...] = ("standing", "blocks", "flying", "race")
OF_START, OF_TIMING, OF_SURFACE, OF_SHOES = STARTS, ("gates", "hand"), ("track", "grass"), ("spikes", "flats")
USUAL = ("gates", "track", "spikes")  # what is not said in a name
SHORT_JUMPS = ("long jump", "triple jump")
LEAST_STEPS, MOST_STEPS = 2, 24

_RUN = re.compile(r"(?P<flying>flying )?(?P<metres>\d{1,4}) m(?P<words>(?: [a-z]+)*)")
_SHORT = re.compile(r"(?P<event>long jump|triple jump) (?:from )?(?P<steps>\d{1,2}) steps")


@dataclass(frozen=True)
class Run:
    """What the name of a run says: metres, start, timing, surface, shoes."""

    metres: int
    start: Start
    hand: bool = False
    grass: bool = False
    flats: bool = False

    @property
    def base(self) -> str:
        """The event or test without its words: '30 m', 'flying 20 m'."""
        return f"{'flying ' if self.start == 'flying' else ''}{self.metres} m"

    @property
    def name(self) -> str:
        """The one spelling of it: '30 m blocks hand', 'flying 20 m', '60 m'."""
        said = [self.base]
        if self.start == "blocks" or (self.start == "standing" and self.metres > LONGEST_TEST_M):
            said.append(self.start)
        words = ((self.hand, "hand"), (self.grass, "grass"), (self.flats, "flats"))
        return " ".join([*said, *(word for is_so, word in words if is_so)])


def run_of(event: str) -> Run | None:
    """What an event's name says of a run; None for any other event (hurdles are other events).

    None too where two words contradict each other ('hand' beside 'gates', two starts).
    """
    found = _RUN.fullmatch(" ".join(event.lower().split()))
    if not found:
        return None
    said = found["words"].split() + (["flying"] if found["flying"] else [])
    known = {*OF_START, *OF_TIMING, *OF_SURFACE, *OF_SHOES}
    if not known.issuperset(said) or contradiction(said):
        return None
    metres = int(found["metres"])
    start: Start = "standing" if metres <= LONGEST_TEST_M else "race"
    for word in STARTS:
        if word in said:
            start = word
    return Run(metres, start, "hand" in said, "grass" in said, "flats" in said)


def contradiction(words: Iterable[str]) -> tuple[str, str] | None:
    """Two words of one kind that cannot both be so ('gates', 'hand'); None when there are none."""
    said = set(words)
    for kind in (OF_START, OF_TIMING, OF_SURFACE, OF_SHOES):
        both = [w for w in kind if w in said]
        if len(both) > 1:
            return both[0], both[1]
    return None


def short_run_up_of(event: str) -> tuple[str, int] | None:
    """('long jump', 6) from 'long jump 6 steps'; None for any other event."""
    found = _SHORT.fullmatch(" ".join(event.lower().split()))
    return (found["event"], int(found["steps"])) if found else None
