"""An athlete's own bests, told apart by start, timing, surface and run-up; never mixed without a word.

A test named by its distance alone ('30 m') is a standing start timed by gates from the first movement, in
spikes on a track; a race ('60 m' and longer) is from the gun. Words in the name say otherwise: blocks,
standing, flying, hand, grass; 'long jump 6 steps' is a jump from a short run-up. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from planner.domain.block import Block, Mark
from planner.numbers.errors import NoNumber
from planner.science.pace import HAND_TO_GATES

Start = Literal["standing", "blocks", "race", "flying"]
STARTS: dict[str, Start] = {"standing": "standing", "blocks": "blocks", "race": "race", "flying": "flying"}
LONGEST_TEST_M = 50  # metres; a bare distance up to here is a test, from 60 m on a race
MOST_RATIO = 2  # between two own distances only when one is at most so many times the other

_RUN = re.compile(
    r"(?P<flying>flying )?(?P<metres>\d{1,4}) m(?P<words>(?: (?:standing|blocks|flying|hand|grass))*)"
)
_SHORT = re.compile(r"(?P<event>long jump|triple jump) (?:from )?(?P<steps>\d{1,2}) steps")


@dataclass(frozen=True)
class Run:
    """What the name of a run says: metres, start, timing, surface."""

    metres: int
    start: Start
    hand: bool = False
    grass: bool = False


@dataclass(frozen=True)
class Best:
    """An own best in hundredths of a second (gates unless `hand`), where from, and what may be wrong with it."""

    value: int
    words: str  # 'own 30 m of 4.20 s'
    hand: bool = False
    doubt: str = ""


def run_of(event: str) -> Run | None:
    """What an event's name says of a run; None for any other event (hurdles are other events)."""
    found = _RUN.fullmatch(" ".join(event.lower().split()))
    if not found:
        return None
    metres, said = int(found["metres"]), set(found["words"].split())
    start: Start = "standing" if metres <= LONGEST_TEST_M else "race"
    starts: tuple[Start, ...] = ("standing", "blocks", "flying")
    for word in starts:
        if word in said:
            start = word
    if found["flying"]:
        start = "flying"
    return Run(metres, start, "hand" in said, "grass" in said)


def short_run_up_of(event: str) -> tuple[str, int] | None:
    """('long jump', 6) from 'long jump 6 steps'; None for any other event."""
    found = _SHORT.fullmatch(" ".join(event.lower().split()))
    return (found["event"], int(found["steps"])) if found else None


def of_athlete(block: Block, athlete: str) -> tuple[Mark, ...]:
    """All marks of one athlete."""
    return tuple(m for m in block.marks if m.athlete == athlete)


def best_mark(marks: Iterable[Mark], event: str, unit: str) -> Mark | None:
    """The best mark of one event; NoNumber when a mark of it stands in another unit."""
    found: Mark | None = None
    for mark in marks:
        if mark.event != event:
            continue
        if mark.unit != unit:
            raise NoNumber(
                f"{mark.athlete}'s mark for the {event} is counted in {mark.unit}, needed {unit}. "
                "Maybe it belongs to another event."
            )
        better = found is None or (mark.value < found.value if unit == "hundredths" else mark.value > found.value)
        if better:
            found = mark
    return found


def _said(run: Run, mark: Mark) -> str:
    day = f", {_date(mark.day)}" if mark.day else ""
    whole = f"{mark.value // 100}.{mark.value % 100:02d}"
    return f"{mark.event} of {whole} s{day}"


def _date(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def best_run(marks: Iterable[Mark], metres: int, start: Start) -> Best | None:
    """The own best over a distance with that start, by gates if there is one, else by hand; else between two.

    Between the next shorter and next longer own distance with the same start and timing, when one is at most
    twice the other: a straight line, an estimate good to about 2 %. Nothing is guessed beyond own marks.
    Bests on grass are not taken for track. None: a test is needed.
    """
    known: dict[tuple[bool, int], Mark] = {}
    for mark in marks:
        run = run_of(mark.event)
        if run is None or run.grass or not _serves(run, start):
            continue
        if mark.unit != "hundredths":
            raise NoNumber(
                f"{mark.athlete}'s mark for {mark.event} is counted in {mark.unit}, needed a time in seconds. "
                "Maybe it belongs to another event."
            )
        before = known.get((run.hand, run.metres))
        if before is None or mark.value < before.value:
            known[run.hand, run.metres] = mark
    for hand in (False, True):
        timed = {m: mark for (by_hand, m), mark in known.items() if by_hand is hand}
        found = _over(timed, metres, hand, start)
        if found:
            return found
    return None


def _serves(run: Run, start: Start) -> bool:
    if start == "race":  # the longer runs start standing or rolling; both kinds of mark are taken, races first
        return run.start == "race" or (run.start == "standing" and run.metres > LONGEST_TEST_M)
    return run.start == start


def _over(timed: dict[int, Mark], metres: int, hand: bool, start: Start) -> Best | None:
    doubt = []
    if start == "race":
        doubt.append("a race is timed from the gun, a run in training from the first movement")
    if hand:
        doubt.append(f"timed by hand; by gates about 0.{HAND_TO_GATES} s more")
    if metres in timed:
        mark = timed[metres]
        run = Run(metres, start, hand)
        return Best(mark.value, f"own {_said(run, mark)}", hand, "; ".join(doubt))
    shorter, longer = [m for m in timed if m < metres], [m for m in timed if m > metres]
    if start == "flying" or not shorter or not longer:
        return _flying(timed, metres, hand, doubt) if start == "flying" else None
    low, high = max(shorter), min(longer)
    if high > MOST_RATIO * low:
        return None
    one, two = timed[low], timed[high]
    value = one.value + (two.value - one.value) * (metres - low) // (high - low)
    doubt.insert(0, "an estimate between two own distances, good to about 2 %")
    return Best(value, f"own {one.event} and {two.event}", hand, "; ".join(doubt))


def _flying(timed: dict[int, Mark], metres: int, hand: bool, doubt: list[str]) -> Best | None:
    """Over a flying zone speed is nearly even: the nearest own zone, in proportion."""
    if not timed:
        return None
    zone = min(timed, key=lambda m: (abs(m - metres), m))
    if max(zone, metres) > 3 * min(zone, metres):
        return None
    mark = timed[zone]
    value = (2 * mark.value * metres + zone) // (2 * zone)
    said = [f"in proportion from the own {mark.event}", *doubt]
    return Best(value, f"own {_said(Run(zone, 'flying', hand), mark)}", hand, "; ".join(said))


def other_start(marks: Iterable[Mark], metres: int, start: Start) -> str:
    """What to say when only a best with another start is known: 'the own 30 m is from blocks'; '' if none is."""
    for mark in sorted(marks, key=lambda m: (m.event, m.value)):
        run = run_of(mark.event)
        if run and run.metres == metres and not _serves(run, start):
            how = {"blocks": "from blocks", "race": "a race from the gun", "flying": "with a flying start"}
            return f"own {mark.event} is {how.get(run.start, 'from a standing start')}, so it gives no target here"
    return ""
