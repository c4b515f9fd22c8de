"""What a re-plan may touch beyond the least change: opened weeks, what the coach fixed since, gains asked for.

Each takes the problem of a least-change re-plan and widens or narrows it; nothing is solved here.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from planner.domain.block import Block, Wish
from planner.domain.facts import CompetitionAdded, CompetitionMoved, CompetitionWithdrawn, Fact, in_force
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.season.replan import FROZEN_HOURS, Stand

LOWERED = ("taper", "easing", "competition")  # kinds of week that a competition makes smaller
Opened = frozenset[tuple[str, date]]


def opened_weeks(before: Problem, after: Problem, news: Iterable[Fact], today: date) -> Opened:
    """(athlete, first day of the week) of weeks that a competition moved, withdrawn or added leaves larger.

    `before` is the block as the present plan knew it, `after` as it stands now. Weeks that are over stay.
    """
    moved = (CompetitionAdded, CompetitionMoved, CompetitionWithdrawn)
    if not any(isinstance(f, moved) for f in in_force(tuple(news))):
        return frozenset()
    whose = (a for a in after.athletes if before.competitions_of(a) != after.competitions_of(a))
    return larger_weeks(whose, before, after, today)


def exams_moved(was: Block, now: Block) -> frozenset[str]:
    """Athletes with other examinations than their plan knew of: another week may be their easier one now."""
    told, tell = ({(a.athlete, a.begins, a.ends) for a in b.away if a.kind == "exam"} for b in (was, now))
    return frozenset(athlete for athlete, _, _ in told ^ tell)


def larger_weeks(athletes: Iterable[str], before: Problem, after: Problem, today: date) -> Opened:
    """Of these athletes the weeks that are not over and ask for more than they did before."""
    found = set()
    for athlete in athletes:
        was = {w.begins: w for w in before.weeks.get(athlete, ())}
        for week in after.weeks[athlete]:
            old = was.get(week.begins)
            if old is not None and week.days[-1] >= today and _opens(old, week):
                found.add((athlete, week.begins))
    return frozenset(found)


def _opens(old: AthleteWeek, new: AthleteWeek) -> bool:
    return new.share > old.share or (old.kind in LOWERED and new.kind not in LOWERED)


def with_opened(asked: Problem, problem: Problem, stand: Stand, opened: Opened, now: datetime) -> Problem:
    """The re-plan's problem with opened weeks free: everything the season offers in them may be placed."""
    if not opened:
        return asked
    free = replace(asked, opened=opened)
    settled = {p.key for p in stand.settled}
    found = {p.key: p for p in asked.candidates}
    for p in problem.candidates:
        if free.opened_on(p.athlete, p.day) and p.begins >= now and p.key not in settled:
            found.setdefault(p.key, p)
    kept = [p for p in asked.kept if p.key in settled or not free.opened_on(p.athlete, p.day)]
    taken = {p.key for p in kept}
    candidates = sorted((p for k, p in found.items() if k not in taken), key=lambda p: p.key)
    return replace(free, candidates=tuple(candidates), kept=tuple(kept))


def fixed_since(was: Block | None, block: Block) -> tuple[Wish, ...]:
    """Rows of the table 'fixed' that came into the file after the plan athletes hold; `was` is what it knew."""
    if was is None:
        return ()
    known = {_asked(w) for w in was.fixed}
    return tuple(w for w in block.fixed if _asked(w) not in known)


def _asked(w: Wish) -> tuple[object, ...]:
    return (w.athlete, w.day, w.slot, w.unit, w.amount)


def with_fixed(asked: Problem, problem: Problem, rows: Iterable[Wish], now: datetime) -> Problem:
    """The re-plan's problem in which what the coach has fixed since may be placed: the file says it must be there.

    The week still holds no more than was handed out, so something else may have to give way for it.
    """
    wanted = {(w.athlete, w.day, w.unit) for w in rows}
    found = {p.key: p for p in asked.candidates}
    stays = {p.key for p in asked.kept}
    for p in problem.candidates:
        if p.fixed and (p.athlete, p.day, p.unit.id) in wanted and p.begins >= now and p.key not in stays:
            found[p.key] = p
    return replace(asked, candidates=tuple(found[k] for k in sorted(found)))


def to_improve(asked: Problem, problem: Problem, stand: Stand, present: Sequence[Placement]) -> Problem:
    """The problem of a re-plan that may move what was handed out for a gain; `present` is the least change.

    Free is what begins in more than 24 hours; what is nearer stays as the least change left it.
    """
    assert asked.now is not None, "a re-plan knows its moment"
    free_from = asked.now + timedelta(hours=FROZEN_HOURS)
    settled = {p.key for p in stand.settled}
    near = [p for p in present if p.begins < free_from or p.key in settled]
    taken = {p.key for p in near}
    found = {p.key: p for p in present if p.key not in taken}
    for p in problem.candidates:
        if p.begins >= free_from and p.key not in taken:
            found.setdefault(p.key, p)
    candidates = tuple(found[k] for k in sorted(found))
    return replace(asked, candidates=candidates, kept=tuple(sorted(near, key=lambda p: p.key)))


def not_before(stand: Stand, since: date | None) -> Stand:
    """With nothing free before a date: what is to come before it counts as settled."""
    if since is None:
        return stand
    stays = [p for p in stand.to_come if p.day < since]
    settled = sorted([*stand.settled, *stays], key=lambda p: p.key)
    return Stand(tuple(settled), tuple(p for p in stand.to_come if p.day >= since))
