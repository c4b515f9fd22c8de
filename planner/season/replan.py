"""Re-planning is planning with more known: what is done and what was handed out stand in the same problem.

Whatever began before now is settled as it was done. Whoever nothing happened to keeps the plan they hold. For
the others each handed-out unit may stay, become lighter, give way to another of its family or to what may stand
in for it, go to another slot of its day, or, when it is a key unit, move by two days at most. Nothing else may be
added, but for what the coach fixes by hand, and in a week that a moved competition opens: that is planned anew.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from planner.domain.block import Block, Competition, RuleSetting
from planner.domain.facts import Done, Fact, LoadElsewhere, in_force, people_of
from planner.domain.plan import Placement, PlacementKey, Plan
from planner.domain.problem import Problem
from planner.season.done import done_history
from planner.season.ways import Given, ways_for

EXAMS, ARRIVAL, LAST_DATES = "exam_week_volume", "day_after_arrival", "last_dates_before_competition"  # rules
RAIN = "wet_runway"
FROZEN_HOURS = 24  # sessions nearer than this change only for those whom a fact touches; coach's decision


@dataclass(frozen=True)
class Stand:
    """Where a handed-out plan stands at a moment: what is settled, what is still to come, what was missed."""

    settled: tuple[Placement, ...]
    to_come: tuple[Placement, ...]
    missed: tuple[Placement, ...] = ()


def standing(problem: Problem, held: Sequence[Placement], facts: Iterable[Fact], now: datetime) -> Stand:
    """Split the plan athletes hold at `now` (the block's own time, without a zone).

    What began before now counts as it was recorded, and as planned where nothing was recorded. A session of
    which something was recorded already is settled too, whenever it begins.
    """
    told = in_force(tuple(facts))
    _, done = done_history(told, problem, held)
    spoken = {(f.athlete, f.day, f.slot, f.unit) for f in told if isinstance(f, Done)}
    left = {_place(p) for p in done}
    settled_otherwise, gone = spoken | left, spoken - left

    past = [p for p in held if p.begins < now and _place(p) not in settled_otherwise]
    to_come = [p for p in held if p.begins >= now and _place(p) not in spoken]
    missed = [p for p in held if _place(p) in gone]
    settled = sorted([*done, *(replace(p, fixed=True) for p in past)], key=lambda p: p.key)
    return Stand(tuple(settled), tuple(to_come), tuple(missed))


def _place(p: Placement) -> tuple[str, date, str, str]:
    return (p.athlete, p.day, p.slot, p.unit.id)


def named_by(facts: Iterable[Fact]) -> frozenset[str]:
    """The athletes that facts name: these may be planned anew."""
    return frozenset(name for f in in_force(tuple(facts)) for name in people_of(f))


@dataclass(frozen=True)
class Asked:
    """What a re-plan is asked for.

    `touched` are the athletes to whom something happened; `opened` those whose sessions may change.
    `moved_before` names key units (athlete, unit, day) that were moved once already and stay where they are.
    `lighter` are handed-out placements that come in their lighter form now.
    """

    touched: frozenset[str]
    opened: frozenset[str]
    now: datetime
    moved_before: frozenset[tuple[str, str, date]] = frozenset()
    lighter: frozenset[PlacementKey] = frozenset()


def problem_for_replan(
    problem: Problem, stand: Stand, held: Sequence[Placement], asked: Asked, before: Problem | None = None
) -> Problem:
    """The problem of a re-plan: `problem` is the block as the facts have left it, everything still open.

    `before` is the same block as it stood when the held plan was made.
    """
    soon = asked.now + timedelta(hours=FROZEN_HOURS)

    def stays(p: Placement) -> bool:
        return p.athlete not in asked.opened or (p.athlete not in asked.touched and p.begins < soon)

    given = Given(
        open=tuple(p for p in stand.to_come if not stays(p)),
        missed=tuple(p for p in stand.missed if p.athlete in asked.touched),
        held=tuple(held),
        moved_before=asked.moved_before,
        lighter=asked.lighter,
    )
    return replace(
        problem,
        candidates=ways_for(problem, given, asked.now),
        kept=tuple(sorted([*stand.settled, *filter(stays, stand.to_come)], key=lambda p: p.key)),
        handed_out=tuple(held),
        now=asked.now,
        untouched=asked.opened - asked.touched,
        come_in=_come_in(before, problem),
    )


def as_handed_out(plan: Plan, problem: Problem) -> Plan:
    """The plan with the sessions that are kept just as they were handed out, partners who left included.

    So that the page of somebody to whom nothing happened stays the same to the last letter: what is over as it
    was planned too. What starts at another time than before, or has a coach who is no longer there, is taken as it
    is now.
    """
    held = {p.key: p for p in problem.kept}
    given = {p.key: p for p in problem.handed_out}

    def as_it_was(p: Placement) -> Placement:
        was, first = held.get(p.key), given.get(p.key)
        over = problem.now is not None and p.begins < problem.now
        if over and was is not None and first is not None and first.dose == p.dose:
            return first
        if was is None or was.starts != p.starts:
            return p
        there = {x.name for x in problem.presences_in(p.day, p.slot)}
        return was if was.coach in there or was.coach == p.coach else p

    return replace(plan, placements=tuple(as_it_was(p) for p in plan.placements))


def _come_in(before: Problem | None, problem: Problem) -> tuple[Competition, ...]:
    """Competitions the held plan did not know, beyond those that left the same week of the athlete.

    One that moves inside its week takes no second fast day: the plan had made room for it.
    """
    if before is None:
        return ()
    had, has = before.block.competitions, problem.block.competitions
    left = [c for c in had if not _on_a_day_of(c, has)]
    found = []
    for c in has:
        if _on_a_day_of(c, had):
            continue
        gone = next((x for x in left if x.athlete == c.athlete and _week(problem, x) == _week(problem, c)), None)
        if gone is None:
            found.append(c)
        else:
            left.remove(gone)
    return tuple(found)


def _on_a_day_of(c: Competition, others: Iterable[Competition]) -> bool:
    """Does the athlete compete in one of these on the first or last day of `c`?"""
    return any(
        x.athlete == c.athlete and any(x.first_day <= d <= x.last_day for d in (c.first_day, c.last_day))
        for x in others
    )


def _week(problem: Problem, c: Competition) -> date | None:
    week = problem.week_of(c.athlete, c.first_day)
    return week.begins if week else None


def lighter_after_more(
    facts: Iterable[Fact], stand: Stand, held: Sequence[Placement], problem: Problem
) -> frozenset[PlacementKey]:
    """The next session after load from elsewhere that counts the same: it comes in its lighter form."""
    found = set()
    for f in in_force(tuple(facts)):
        if not isinstance(f, LoadElsewhere):
            continue
        unit = problem.units.get(f.unit)
        counted = {c for c, n in f.counters.items() if n} | set(unit.counters if unit else ())
        after = [
            p
            for p in sorted(held, key=lambda p: (p.begins, p.key))
            if p.athlete == f.athlete and p.day > f.day and any(p.dose.counters.get(c, 0) for c in counted)
        ]
        if after:
            to_come = {p.key for p in stand.to_come}
            first = {p.key for p in after if (p.day, p.slot) == (after[0].day, after[0].slot)}
            found |= {k for k in first if k in to_come and k[-1] == "full"}
    return frozenset(found)


def newly_away(was: Block, asked: Problem) -> tuple[RuleSetting, ...]:
    """What must hold since somebody's calendar changed, however much was handed out.

    A week to come that has become an exam week holds clearly less; the day after a new arrival is not fast;
    the last hard lift and full jumps lie far enough before a competition that came in.
    `was` are the inputs the plan athletes hold was made from.
    """
    assert asked.now is not None, "a re-plan knows its moment"
    known = {(a.athlete, a.kind, a.begins, a.ends) for a in was.away}
    found = []
    for a in asked.block.away:
        if (a.athlete, a.kind, a.begins, a.ends) in known or a.athlete not in asked.athletes:
            continue
        if a.kind == "exam":
            week = asked.week_of(a.athlete, a.begins.date())
            if week is not None and week.begins > asked.now.date():
                found.append(RuleSetting(EXAMS, "tier", "must", a.athlete, week.begins, week.days[-1]))
        elif a.kind == "camp arrival":
            day = a.ends.date() + timedelta(days=1)
            found.append(RuleSetting(ARRIVAL, "tier", "must", a.athlete, day, day))
    tomorrow = asked.now.date() + timedelta(days=1)
    for c in asked.block.competitions:
        if c.first_day > tomorrow and not _on_a_day_of(c, was.competitions) and not _later_than(was, asked, c):
            found.append(RuleSetting(LAST_DATES, "tier", "must", c.athlete, tomorrow, c.first_day))
    return tuple(found)


def _later_than(was: Block, asked: Problem, c: Competition) -> bool:
    """Did a competition of the week before it go? Then it only moved back, and last dates move with it."""
    return any(
        x.athlete == c.athlete and timedelta(0) < c.first_day - x.first_day <= timedelta(days=7)
        and not _on_a_day_of(x, asked.block.competitions)
        for x in was.competitions
    )  # fmt: skip


def rain_since(was: Block | None, problem: Problem) -> tuple[RuleSetting, ...]:
    """Rain that the plan athletes hold did not know of: nobody keeps full run-ups on a wet runway."""
    known = {(w.day, w.slot) for w in was.weather if w.rain} if was is not None else set()
    days = {w.day for w in problem.block.weather if w.rain and (w.day, w.slot) not in known}
    return tuple(RuleSetting(RAIN, "tier", "must", "", day, day) for day in sorted(days))
