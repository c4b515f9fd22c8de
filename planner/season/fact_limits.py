"""Limits that follow from recorded facts: the body by region and side, illness, hold-backs, lighter days.

Stages come from people only; the program turns them into dated limits and never moves one by itself.
Between the file and the facts the later date wins: a recorded stage holds from its day until the file's own
next limit for that region begins, or another fact.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from planner.domain.block import Away, Block, Limit
from planner.domain.dates import said_day
from planner.domain.facts import Fact, HoldBack, Hurt, Ill, LighterDayAsked, Setback, StageChanged
from planner.domain.finding import Line
from planner.domain.units import SIDES

DAY = timedelta(days=1)
CLEARED = 6  # return stage
WATCHED_DAYS = 28  # after clearing; common practice, no source
NO_TRAINING_STAGE = 0  # with fever or below the neck; 1 would be own work, which is training
EASY_STAGE = 2  # fast and tiring work at most 1: a cold, and the easy days after an illness
EASY_DAYS_LEAST = 2  # one for every day ill, two at least; a rule of thumb, no strong evidence
OPEN_ILLNESS_DAYS = 1  # an illness that is not over is taken to last through tomorrow
STOP_STAGE = 4  # nothing fast on the day of a stop and the day after; common practice, no source
LIGHTER_STAGE = 4
LAST_MINUTE = time(23, 59)

WithStage = Hurt | StageChanged | Setback


def line_of(fact: Fact) -> Line:
    """Where a value stands that comes from the ledger; names no kind, so it may be printed."""
    return Line(f"recorded {fact.recorded_at:%Y-%m-%d %H:%M}", key=f"fact {fact.id}" if fact.id else "")


def limits_of(block: Block, facts: Sequence[Fact], today: date) -> tuple[Limit, ...]:
    """The block's limits with what the facts (in force, in order) make of them."""
    staged = [f for f in facts if isinstance(f, WithStage)]
    touched = {(f.athlete, f.region) for f in staged}
    found = [x for x in block.limits if x.hold_back or (x.athlete, x.region) not in touched]
    for athlete, region in sorted(touched):
        of_file = [x for x in block.limits if (x.athlete, x.region) == (athlete, region) and not x.hold_back]
        own = [f for f in staged if (f.athlete, f.region) == (athlete, region)]
        found += _both_sides(x for side in SIDES for x in _timeline(block, of_file, own, side))
        found += [_stop(f) for f in own if not isinstance(f, StageChanged) and f.stage > STOP_STAGE]
    found += [x for ill in illnesses(facts, today) for x in ill.limits()]
    held = {(f.athlete, f.begins): f for f in facts if isinstance(f, HoldBack)}  # the last word counts
    found += [
        Limit(f.athlete, "whole", "both", f.stage, f.begins, f.ends, hold_back=True, line=line_of(f))
        for _, f in sorted(held.items())
    ]
    asked = {(f.athlete, f.day): f for f in facts if isinstance(f, LighterDayAsked)}
    found += [
        Limit(
            f.athlete, "whole", "both", LIGHTER_STAGE, f.day, f.day, hold_back=True,
            line=line_of(f), lighter_only=True,
        )
        for _, f in sorted(asked.items())
    ]  # fmt: skip
    return tuple(found)


def _stop(fact: WithStage) -> Limit:
    begins, ends = fact.day, fact.day + DAY
    return Limit(
        fact.athlete, "whole", "both", STOP_STAGE, begins, ends, hold_back=True, line=line_of(fact)
    )


@dataclass(frozen=True)
class _Entry:
    """A limit on the line of time of one region and side."""

    begins: date
    recorded: bool
    limit: Limit


def _timeline(block: Block, of_file: Sequence[Limit], own: Sequence[WithStage], side: str) -> list[Limit]:
    """The limits of one side, one after another; () when neither file nor facts speak of it."""
    entries = [
        _Entry(x.begins or block.begins, False, replace(x, side=side))
        for x in of_file
        if x.side in (side, "both", "")
    ]
    here = [f for f in own if f.side in (side, "both", "")]
    for f in sorted(here, key=lambda f: (f.day, f.recorded_at, f.id)):
        before = [e.limit for e in entries if e.limit.active_on(f.day) and e.begins <= f.day]
        base = before[-1] if before else Limit(f.athlete, f.region, side)
        ends = f.day + (WATCHED_DAYS - 1) * DAY if f.stage >= CLEARED else None
        made = replace(base, stage=f.stage, begins=f.day, ends=ends, line=line_of(f))
        entries.append(_Entry(f.day, True, made))
    found = []
    for i, entry in enumerate(entries):
        later = [
            e.begins for j, e in enumerate(entries)
            if (e.recorded and (e.begins, j) > (entry.begins, i))
            or (entry.recorded and not e.recorded and e.begins > entry.begins)
        ]  # fmt: skip
        cut = min(later) - DAY if later else None
        ends = min((d for d in (entry.limit.ends, cut) if d is not None), default=None)
        if ends is None or ends >= entry.begins:
            found.append(replace(entry.limit, ends=ends))
    return found


def _both_sides(limits: Iterable[Limit]) -> list[Limit]:
    """Two limits that differ in the side only are one for both sides."""
    sides: dict[Limit, list[str]] = {}
    for x in limits:
        sides.setdefault(replace(x, side="both"), []).append(x.side)
    found = [replace(x, side="both" if len(s) > 1 else s[0]) for x, s in sides.items()]
    return sorted(found, key=lambda x: (x.begins or date.min, x.side))


@dataclass(frozen=True)
class Illness:
    """An illness from a first to a last day; when it is not over, to the last day taken for it."""

    athlete: str
    first: date
    last: date
    fever: bool
    line: Line
    over: bool = True

    def limits(self) -> list[Limit]:
        """No training with fever, then an easy day for every day ill; without fever easy work only."""
        if not self.fever:
            return [self._limit(EASY_STAGE, self.first, self.last)]
        easy = max(EASY_DAYS_LEAST, (self.last - self.first).days + 1)
        return [
            self._limit(NO_TRAINING_STAGE, self.first, self.last),
            self._limit(EASY_STAGE, self.last + DAY, self.last + easy * DAY),
        ]

    def _limit(self, stage: int, begins: date, ends: date) -> Limit:
        return Limit(self.athlete, "illness", "both", stage, begins, ends, line=self.line)

    def away(self) -> list[Away]:
        """With fever the athlete is simply away: what others read says no more."""
        if not self.fever:
            return []
        begins, ends = datetime.combine(self.first, time(0)), datetime.combine(self.last, LAST_MINUTE)
        return [Away(self.athlete, begins, ends, line=self.line)]


def still_ill(facts: Sequence[Fact], today: date) -> tuple[str, ...]:
    """What each illness without an end is taken for, for the coach; `facts` are those in force."""
    return tuple(
        f"{x.athlete}: ill since {said_day(x.first)} and no last day is recorded; taken to "
        f"last through {said_day(x.last)}. Maybe log the last day, or a later one: planner log "
        f"FILE ill athlete='{x.athlete}' begins={x.first} ends={x.last}{' fever=yes' if x.fever else ''}"
        for x in illnesses(facts, today)
        if not x.over
    )


def illnesses(facts: Sequence[Fact], today: date) -> list[Illness]:
    """Illnesses in order; of two that begin on the same day the one recorded last counts."""
    told = {(f.athlete, f.begins): f for f in facts if isinstance(f, Ill)}
    found = []
    for (athlete, first), f in sorted(told.items()):
        last = f.ends if f.ends is not None else max(first, today + OPEN_ILLNESS_DAYS * DAY)
        found.append(Illness(athlete, first, last, f.fever, line_of(f), f.ends is not None))
    return found
