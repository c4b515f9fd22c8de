"""What is new to an athlete: not done in the four calendar weeks before. Facts that both faces may read.

A week is judged only where those four weeks are known day by day: because they lie in the block, or because
an earlier block's plan and ledger tell of them. A coach's few figures of the time before do not say what was not
done.
"""

from __future__ import annotations

from datetime import date, timedelta

from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem

WEEKS = 4
DAYS = 7 * WEEKS
_FROM_A_DATE_ALONE = "before"  # the slot of what is known by its last date only


def known_since(problem: Problem, athlete: str) -> date:
    """From which day on all that the athlete did is known: the block's first, or four weeks before it."""
    begins = problem.block.begins
    told = any(p.athlete == athlete and p.slot != _FROM_A_DATE_ALONE for p in problem.history)
    return begins - timedelta(days=DAYS) if problem.block.previous and told else begins


def known_before(problem: Problem, athlete: str, day: date) -> bool:
    """Are the four weeks before a day known day by day?"""
    return day - timedelta(days=DAYS) >= known_since(problem, athlete)


def days_before(day: date) -> tuple[date, ...]:
    """The four weeks before a day, the earliest first."""
    return tuple(day - timedelta(days=i) for i in range(DAYS, 0, -1))


def is_open(problem: Problem, week: AthleteWeek) -> bool:
    """Is there anything in the week that a plan may still choose?"""
    return any(p not in problem.settled for d in week.days for p in problem.on(week.athlete, d))


def known_in(problem: Problem, athlete: str, days: tuple[date, ...]) -> tuple[Placement, ...]:
    """All that stands or may stand on these days."""
    return tuple(p for d in days for p in problem.known_on(athlete, d))
