"""Triple jumps one by one: what was jumped, whether it was finished, and what the next target may be.

Centimetres, toe to toe. Attempts that were bailed out of are kept apart from medians, shares and forecasts.
Where nothing else is said: common practice, no source.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planner.domain.attempt import Ended
from planner.numbers.errors import NoNumber
from planner.numbers.lines import metres
from planner.science.errors import OutOfReach
from planner.science.jumps import SHARE_BAND, DistanceRange, Phases, check_total, marks_for, total_from_two_phases

Verdict = Literal["hit", "short", "over", "not measured"]
LEAST_FOR_SHARES = 3  # whole jumps before own shares are spoken of
FIRST, MET = 4, 3  # a target met in three of the first four
BAILED_FOR_CUE = 2
NEXT_PERCENT = 2  # percent more for the next target
NEXT_TO_CM = 5  # marks beside a runway are set to this


@dataclass(frozen=True)
class Attempt:
    """One attempt; phases that were not reached or not measured are None. `gap` is before the line."""

    hop: int | None = None
    step: int | None = None
    jump: int | None = None
    ended: Ended = "completed"
    gap: int | None = None
    wind_mps: float | None = None
    measured: int | None = None  # from the line, as the tape says
    clip: str = ""

    def __post_init__(self) -> None:
        """NoNumber where the phases contradict how the attempt ended, or do not add up."""
        left_out = {"bailed out in the hop": (self.step, self.jump), "bailed out in the step": (self.jump,)}
        if any(p is not None for p in left_out.get(self.ended, ())):
            raise NoNumber(
                f"an attempt {self.ended} has a later phase measured, needed none. Maybe it was completed."
            )
        if self.phases is not None and self.measured is not None:
            check_total(self.phases, self.measured + (self.gap or 0))

    @property
    def bailed(self) -> bool:
        return self.ended.startswith("bailed")

    @property
    def phases(self) -> Phases | None:
        """The whole jump, when all three phases of a completed one were measured."""
        if self.ended != "completed" or self.hop is None or self.step is None or self.jump is None:
            return None
        return Phases(self.hop, self.step, self.jump)


@dataclass(frozen=True)
class Medians:
    """Medians of hop, step, jump over attempts that were not bailed out of; None where none was measured."""

    hop: float | None
    step: float | None
    jump: float | None
    whole: int  # completed with all three phases
    bailed: int


def medians(attempts: Sequence[Attempt]) -> Medians:
    """Completed attempts and planned stops count; bailed ones are only counted as such."""
    good = [a for a in attempts if not a.bailed]

    def middle(name: str) -> float | None:
        values = [v for a in good if (v := getattr(a, name)) is not None]
        return statistics.median(values) if values else None

    return Medians(
        middle("hop"), middle("step"), middle("jump"),
        sum(a.phases is not None for a in good), sum(a.bailed for a in attempts),
    )  # fmt: skip


def own_shares(attempts: Sequence[Attempt]) -> tuple[Fraction, Fraction, Fraction] | None:
    """Shares of hop, step and jump in percent over whole jumps; None with fewer than three."""
    whole = [p for a in attempts if (p := a.phases) is not None]
    if len(whole) < LEAST_FOR_SHARES:
        return None
    total = sum(p.total for p in whole)
    hop, step = (Fraction(100 * sum(getattr(p, n) for p in whole), total) for n in ("hop", "step"))
    return hop, step, 100 - hop - step


def total_range(hop_and_step: int, attempts: Sequence[Attempt]) -> DistanceRange:
    """What two phases would come to, only as a range over the athlete's own jump shares; OutOfReach without."""
    return total_from_two_phases(hop_and_step, [p.shares[2] for a in attempts if (p := a.phases) is not None])


def two_phases(attempts: Sequence[Attempt]) -> int | None:
    """The longest hop and step together of attempts of which the jump was not measured; bailed ones apart."""
    two = [
        a.hop + a.step
        for a in attempts
        if not a.bailed and a.jump is None and a.hop is not None and a.step is not None
    ]
    return max(two, default=None)


def total_words(hop_and_step: int, attempts: Sequence[Attempt]) -> str:
    """'hop and step 9.45 m come to 13.62-14.10 m by own shares'; '' while there are no own shares."""
    if own_shares(attempts) is None:
        return ""
    try:
        span = total_range(hop_and_step, attempts)
    except OutOfReach:  # a share that no jump has: measured wrongly, so nothing is said to follow from it
        return ""
    whole = sum(a.phases is not None for a in attempts)
    return (
        f"hop and step {metres(hop_and_step)} m come to {metres(span.low)}-{metres(span.high)} m by own shares "
        f"of {whole} whole jumps"
    )


@dataclass(frozen=True)
class PhaseMarks:
    """Marks beside the runway for a target: where hop and step land, from the line, with a band either way."""

    total: int
    hop: int
    step_at: int
    band: int

    @staticmethod
    def of(total: int, shares: Sequence[float | Fraction]) -> PhaseMarks:
        hop, step_at = marks_for(total, shares)
        return PhaseMarks(total, hop, step_at, total * SHARE_BAND // 100)

    def verdicts(self, attempt: Attempt) -> tuple[Verdict, Verdict]:
        """Hit, short or over, for hop and for step."""
        landed = None if attempt.hop is None or attempt.step is None else attempt.hop + attempt.step
        return self._one(attempt.hop, self.hop), self._one(landed, self.step_at)

    def _one(self, found: int | None, mark: int) -> Verdict:
        if found is None:
            return "not measured"
        if found < mark - self.band:
            return "short"
        return "over" if found > mark + self.band else "hit"

    def met(self, attempt: Attempt) -> bool:
        """Hop on its mark and step on or past it, in an attempt that was not bailed out of."""
        hop, step = self.verdicts(attempt)
        return not attempt.bailed and hop == "hit" and step in ("hit", "over")


def verdict_words(marks: PhaseMarks, attempts: Sequence[Attempt]) -> str:
    """'hop 3 hit, 1 short; step 2 hit, 2 over' of attempts not bailed out of; '' where nothing was measured."""
    kinds: tuple[Verdict, ...] = ("hit", "short", "over")
    said = []
    for i, phase in enumerate(("hop", "step")):
        found = [marks.verdicts(a)[i] for a in attempts if not a.bailed]
        counts = [f"{found.count(kind)} {kind}" for kind in kinds if kind in found]
        if counts:
            said.append(f"{phase} {', '.join(counts)}")
    return "; ".join(said)


@dataclass(frozen=True)
class Offer:
    """The next target, when one is offered (0: none), and why."""

    total: int
    why: str


def next_target(marks: PhaseMarks, attempts: Sequence[Attempt]) -> Offer:
    """The next target when this one was met in three of the first four; never while anybody bails out."""
    bailed = sum(a.bailed for a in attempts)
    if bailed:
        one = "attempt was" if bailed == 1 else "attempts were"
        return Offer(0, f"{bailed} {one} bailed out of: the target stays")
    met = sum(marks.met(a) for a in attempts[:FIRST])
    if met < MET:
        return Offer(0, f"met in {met} of the first {min(FIRST, len(attempts))}: the target stays")
    more = marks.total * (100 + NEXT_PERCENT) // 100 // NEXT_TO_CM * NEXT_TO_CM
    return Offer(max(more, marks.total + NEXT_TO_CM), f"met in {met} of the first {FIRST}")


@dataclass(frozen=True)
class Cue:
    """Whether the coach's cue goes on the next page, and the medians before and after it was given."""

    on_next_page: bool
    before: Medians | None
    after: Medians | None


def cue_for(attempts: Sequence[Attempt], given_after: int | None = None) -> Cue:
    """Two or more bailed attempts put the cue on the next page. `given_after` attempts it was given, if it was."""
    due = sum(a.bailed for a in attempts) >= BAILED_FOR_CUE
    if given_after is None:
        return Cue(due, None, None)
    if not 0 <= given_after <= len(attempts):
        raise NoNumber(
            f"the cue is said to come after attempt {given_after} of {len(attempts)}, needed one of them. "
            "Maybe an attempt is missing."
        )
    return Cue(due, medians(attempts[:given_after]), medians(attempts[given_after:]))
