"""Last time at the pit in one line: the marks that were set, the cue, the result, and what that asks for today.

Two or more attempts bailed out of put the coach's cue on the next page, with the medians before and after it was
given. A next target is offered by `attempts.next_target`, never while anybody bails out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.domain.facts import Fact, Result
from planner.domain.units import Level
from planner.numbers.attempts import (
    Attempt,
    Cue,
    Medians,
    PhaseMarks,
    cue_for,
    next_target,
    total_words,
    two_phases,
    verdict_words,
)
from planner.numbers.case import Shares
from planner.numbers.errors import NoNumber
from planner.numbers.jumps import shares_for
from planner.numbers.lines import metres
from planner.numbers.recorded import attempts_of, triple_jumps
from planner.science.errors import OutOfReach


@dataclass(frozen=True)
class LastTime:
    """What one day's attempts in one event say; every text is whole, '' where there is nothing to say."""

    day: date
    event: str
    told: str  # 'marks for 13.40 m, best 13.22 m (+0.4), 2 of 5 bailed out of'
    cue: str  # the coach's words
    cue_due: bool  # it has to stand on the next page
    medians: str  # 'hop 5.05 then 4.98 m', before and after the cue was given
    today: str  # 'the marks stay at 13.40 m', 'marks for 13.65 m'


def last_time(
    facts: Sequence[Fact], athlete: str, before: date, level: Level, shares: Shares | None = None
) -> LastTime | None:
    """The last recorded attempts of an athlete before a day, whole event by event; None without any.

    Of several events on that day the one recorded last is told. Attempts that contradict themselves are left out.
    """
    mine = [f for f in facts if isinstance(f, Result) and f.athlete == athlete and f.day < before and f.attempts]
    if not mine:
        return None
    day = max(f.day for f in mine)
    result = [f for f in mine if f.day == day][-1]
    try:
        attempts = attempts_of(result) if result.event == "triple jump" else ()
    except (NoNumber, OutOfReach):
        attempts = ()
    cue = cue_for(attempts, result.cue_after)
    marks = _marks(result, attempts, level, shares)
    return LastTime(
        day, result.event, _told(result, attempts, marks, facts), result.cue,
        cue.on_next_page and bool(result.cue), _medians(cue), _today(marks, attempts),
    )  # fmt: skip


def _marks(
    result: Result, attempts: Sequence[Attempt], level: Level, shares: Shares | None
) -> PhaseMarks | None:
    """The marks that were set for the target; None without one."""
    if not result.target or not attempts:
        return None
    try:
        return PhaseMarks.of(result.target, shares_for(level, shares)[0])
    except OutOfReach:
        return None


def _told(
    result: Result, attempts: Sequence[Attempt], marks: PhaseMarks | None, facts: Sequence[Fact]
) -> str:
    """What the marks stood for, the best, what two phases come to by own shares, how many were bailed out of."""
    hits = verdict_words(marks, attempts) if marks else ""
    said = [f"marks for {metres(result.target)} m" + (f" ({hits})" if hits else "")] if result.target else []
    whole = [a for a in result.attempts if a.outcome == "mark" and a.ended == "completed"]
    far = [a for a in whole if a.unit == "cm" and a.value]
    begun = sum(a.outcome != "pass" for a in result.attempts)
    if far:
        best = max(far, key=lambda a: a.value or 0)
        wind = "" if best.wind is None else f" ({best.wind / 10:+.1f})"
        said.append(f"best {metres(best.value or 0)} m{wind}")
    elif not any(a.bailed for a in result.attempts):
        said.append(f"{begun} without a measured jump")
    two = two_phases(attempts)
    if two is not None and (come := total_words(two, triple_jumps(facts, result.athlete))):
        said.append(come)
    bailed = sum(a.bailed for a in result.attempts)
    if bailed:
        said.append(f"{bailed} of {begun} bailed out of")
    return ", ".join(said)


def _medians(cue: Cue) -> str:
    if cue.before is None or cue.after is None:
        return ""
    said = []
    for name in ("hop", "step", "jump"):
        one, other = (getattr(m, name) for m in (cue.before, cue.after))
        if one is not None and other is not None:
            said.append(f"{name} {metres(round(one))} then {metres(round(other))} m")
    bailed = _bailed(cue.before, cue.after)
    return ", ".join([*said, *([bailed] if bailed else [])])


def _bailed(before: Medians, after: Medians) -> str:
    return f"bailed out {before.bailed} then {after.bailed}" if before.bailed or after.bailed else ""


def _today(marks: PhaseMarks | None, attempts: Sequence[Attempt]) -> str:
    if marks is None:
        return ""
    try:
        offer = next_target(marks, attempts)
    except OutOfReach:
        return ""
    if offer.total:
        return f"marks for {metres(offer.total)} m: {offer.why}"
    return f"marks stay at {metres(marks.total)} m: {offer.why.removesuffix(': the target stays')}"
