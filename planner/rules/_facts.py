"""Facts of a problem that both faces of a rule may read: what is settled, and on which days to look.

What is settled (history, the calendar, sessions done or handed out) cannot be undone by a plan. So where
settled things alone already go beyond a limit, the limit is what is settled: the plan may add nothing, and
nobody is told off for what cannot be changed.
"""

from __future__ import annotations

from datetime import date, time, timedelta

from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem

AFTER_THE_BLOCK = 7  # days after the block in which a competition still shapes its last days


def settled_on(problem: Problem, athlete: str, day: date) -> tuple[Placement, ...]:
    """Placements of a day that no plan can change."""
    return problem.settled_on(athlete, day)


def settled_neural(problem: Problem, athlete: str, day: date) -> int:
    """The day's neural demand (0-3) that stands whatever is planned: 3 on a competition day."""
    if problem.competition_on(athlete, day):
        return 3
    return max((p.dose.neural for p in settled_on(problem, athlete, day)), default=0)


def judged_days(problem: Problem, athlete: str) -> tuple[date, ...]:
    """The days of the block, and the competition days of the week after it."""
    after = (problem.block.ends + timedelta(days=i) for i in range(1, AFTER_THE_BLOCK + 1))
    return (*problem.days, *(d for d in after if problem.competition_on(athlete, d)))


def calendar_days(week: AthleteWeek) -> tuple[date, ...]:
    """All seven dates of a calendar week, those outside the block included."""
    return tuple(week.begins + timedelta(days=i) for i in range(7))


def week_first_day(problem: Problem, day: date) -> date:
    """The first date of the calendar week of a day."""
    return day - timedelta(days=(day.weekday() - problem.block.week_start) % 7)


def slots_of(problem: Problem, athlete: str, day: date) -> tuple[tuple[str, time], ...]:
    """Slots of a day, and any other in which an athlete may or does train, with their start, in time order.

    A slot starts as the block says; one the block does not know, when its first placement does.
    """
    own = {s.name: s.begins for s in problem.slots_on(day)}
    found = dict(own)
    for p in problem.known_on(athlete, day):
        start = own.get(p.slot, p.begins.time())
        found[p.slot] = min(start, found.get(p.slot, start))
    return tuple(sorted(found.items(), key=lambda s: (s[1], s[0])))


def hours_apart(first: time, second: time) -> float:
    """Hours from one clock time to a later one of the same day."""
    return second.hour - first.hour + (second.minute - first.minute) / 60
