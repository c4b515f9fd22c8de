"""An athlete's own bests, told apart by start, timing, surface and run-up; never mixed without a word.

What a mark's name says is read by `planner.domain.mark_names`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from planner.domain.block import Block, Mark
from planner.domain.mark_names import LONGEST_TEST_M, Run, Start, run_of, short_run_up_of
from planner.numbers.errors import NoNumber
from planner.science.pace import HAND_TO_GATES
from planner.science.sprint import Split, Timing
from planner.science.wind import wind_aided

STARTS: dict[str, Start] = {"standing": "standing", "blocks": "blocks", "race": "race", "flying": "flying"}
LEAST_SPLITS = 2  # times of one day that may be called splits; a fit needs more, and says so
MOST_RATIO = 2  # between two own distances only when one is at most so many times the other

@dataclass(frozen=True)
class Best:
    """An own best in hundredths of a second (gates unless `hand`), where from, and what may be wrong with it."""

    value: int
    words: str  # 'own 30 m of 4.20 s'
    hand: bool = False
    doubt: str = ""


def of_athlete(block: Block, athlete: str) -> tuple[Mark, ...]:
    """All marks of one athlete."""
    return tuple(m for m in block.marks if m.athlete == athlete)


def best_mark(marks: Iterable[Mark], event: str, unit: str) -> Mark | None:
    """The best mark of one event, a wind-aided one only without another; NoNumber where a unit does not fit."""
    found: Mark | None = None
    for mark in marks:
        if mark.event != event:
            continue
        if mark.unit != unit:
            raise NoNumber(
                f"{mark.athlete}'s mark for the {event} is counted in {mark.unit}, needed {unit}. "
                "Maybe it belongs to another event."
            )
        if found is None or _better(mark, found):
            found = mark
    return found


def _better(mark: Mark, other: Mark) -> bool:
    """Whether a mark is the better of two of one event: one that counts before one with too much wind."""
    aided, was = (wind_aided(m.event, m.wind) for m in (mark, other))
    if aided != was:
        return was
    return mark.value < other.value if mark.unit == "hundredths" else mark.value > other.value


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
    Bests on grass or in flats are not taken for spikes on a track. None: a test is needed.
    """
    known: dict[tuple[bool, int], Mark] = {}
    for mark in marks:
        run = run_of(mark.event)
        if run is None or run.grass or run.flats or not _serves(run, start):
            continue
        if mark.unit != "hundredths":
            raise NoNumber(
                f"{mark.athlete}'s mark for {mark.event} is counted in {mark.unit}, needed a time in seconds. "
                "Maybe it belongs to another event."
            )
        before = known.get((run.hand, run.metres))
        if before is None or _better(mark, before):
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


def splits_of(marks: Iterable[Mark], start: Start) -> tuple[date, tuple[Split, ...]] | None:
    """Times of one day over growing distances, with one start, timing, surface and shoes: the splits of a run.

    Of several days the one with the most distances, then the latest. None where no day has two of them.
    """
    groups: dict[tuple[date, bool, bool, bool], dict[int, int]] = {}
    for mark in marks:
        run = run_of(mark.event)
        if run is None or mark.day is None or mark.unit != "hundredths" or run.start != start:
            continue
        here = groups.setdefault((mark.day, run.hand, run.grass, run.flats), {})
        here[run.metres] = min(mark.value, here.get(run.metres, mark.value))
    known = [(len(times), day, not hand, hand, times) for (day, hand, _, _), times in groups.items()]
    most = max(known, key=lambda g: g[:3], default=None)
    if most is None or most[0] < LEAST_SPLITS:
        return None
    timing: Timing = "hand" if most[3] else "gates"
    return most[1], tuple(Split(m, value / 100, timing) for m, value in sorted(most[4].items()))


def other_start(marks: Iterable[Mark], metres: int, start: Start) -> str:
    """What to say when only a best of another kind is known: 'own 30 m blocks is from blocks'; '' if none is."""
    how = {"blocks": "from blocks", "race": "a race from the gun", "flying": "with a flying start"}
    for mark in sorted(marks, key=lambda m: (m.event, m.value)):
        run = run_of(mark.event)
        if run is None or run.metres != metres:
            continue
        if not _serves(run, start):
            return f"own {run.name} is {how.get(run.start, 'from a standing start')}, so it gives no target here"
        if run.grass or run.flats:
            return f"own {run.name} was run {'on grass' if run.grass else 'in flats'}, so it gives no target here"
    return ""


__all__ = [
    "STARTS", "Best", "Run", "Start", "best_mark", "best_run", "of_athlete", "other_start", "run_of",
    "short_run_up_of", "splits_of",
]  # fmt: skip
