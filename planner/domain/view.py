"""A read-only view of a plan that the checks share: a day's demand, loads by region and side, hours, weeks.

The solver's side (`constrain`, the Board) never uses it: two ways of counting keep each other honest.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from planner.domain.plan import Placement, Plan
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import Region, Side

WARM_UP_MINUTES = 25  # once per session; common practice, no source
WARM_UP_EFFORT = 3
PREPARATION_INSIDE_WARM_UP = 15  # minutes of attached drills that the warm-up already holds


@dataclass(frozen=True)
class Session:
    """What one athlete does in one slot, in day-order."""

    athlete: str
    day: date
    slot: str
    placements: tuple[Placement, ...]

    @property
    def begins(self) -> datetime:
        return min(p.begins for p in self.placements)

    @property
    def warm_up(self) -> int:
        return 0 if all(p.unit.recovery_only for p in self.placements) else WARM_UP_MINUTES

    @property
    def minutes(self) -> int:
        """25 + the minutes of its units after warm-up + preparation beyond 15; recovery alone has no 25."""
        preparation = sum(p.dose.preparation_minutes for p in self.placements)
        extra = max(0, preparation - PREPARATION_INSIDE_WARM_UP)
        return self.warm_up + sum(p.dose.minutes for p in self.placements) + extra

    @property
    def load(self) -> int:
        """Effort x minutes of its units, plus the warm-up's minutes x 3."""
        return sum(p.dose.load for p in self.placements) + self.warm_up * WARM_UP_EFFORT


def _in_time(p: Placement) -> tuple[datetime, int, str]:
    return p.begins, p.unit.order, p.unit.id


class PlanView:
    """What a plan amounts to. History before the first day and settled placements are part of it."""

    def __init__(self, plan: Plan | Iterable[Placement], problem: Problem) -> None:
        placements = plan.placements if isinstance(plan, Plan) else tuple(plan)
        self.problem = problem
        self.placements = tuple(sorted({*placements, *problem.kept}, key=lambda p: p.key))
        days: dict[tuple[str, date], list[Placement]] = {}
        for p in (*problem.history, *self.placements):
            days.setdefault((p.athlete, p.day), []).append(p)
        self._days = {key: tuple(sorted(ps, key=_in_time)) for key, ps in days.items()}
        self._slots: dict[tuple[date, str], list[Placement]] = {}
        for p in self.placements:
            self._slots.setdefault((p.day, p.slot), []).append(p)

    def on(self, athlete: str, day: date) -> tuple[Placement, ...]:
        """Placements of a day by start time, then day-order; history counts."""
        return self._days.get((athlete, day), ())

    def of(self, athlete: str) -> tuple[Placement, ...]:
        """All placements of an athlete in time order, history included."""
        found = [p for (name, _), ps in self._days.items() if name == athlete for p in ps]
        return tuple(sorted(found, key=_in_time))

    def neural(self, athlete: str, day: date) -> int:
        """The day's highest neural demand; a competition day is 3, whatever else stands there."""
        if self.problem.competition_on(athlete, day):
            return 3
        return max((p.dose.neural for p in self.on(athlete, day)), default=0)

    def load_on(self, athlete: str, day: date, region: Region, side: Side) -> int:
        """Sum of the day's loads on one region and side."""
        return sum(p.dose.loads.get((region, side), 0) for p in self.on(athlete, day))

    def sessions(self, athlete: str, day: date) -> tuple[Session, ...]:
        slots: dict[str, list[Placement]] = {}
        for p in self.on(athlete, day):
            slots.setdefault(p.slot, []).append(p)
        sessions = (Session(athlete, day, slot, tuple(ps)) for slot, ps in slots.items())
        return tuple(sorted(sessions, key=lambda s: (s.begins, s.slot)))

    def day_load(self, athlete: str, day: date) -> int:
        return sum(s.load for s in self.sessions(athlete, day))

    def day_minutes(self, athlete: str, day: date) -> int:
        return sum(s.minutes for s in self.sessions(athlete, day))

    def in_week(self, week: AthleteWeek) -> tuple[Placement, ...]:
        return tuple(p for day in week.days for p in self.on(week.athlete, day))

    def week_amount(self, week: AthleteWeek, counter: str) -> int:
        return sum(p.dose.counters.get(counter, 0) for p in self.in_week(week))

    def fast_days(self, week: AthleteWeek) -> tuple[date, ...]:
        return tuple(d for d in week.days if self.neural(week.athlete, d) >= 3)

    def training_days(self, week: AthleteWeek) -> tuple[date, ...]:
        return tuple(d for d in week.days if self.on(week.athlete, d))

    def in_slot(self, day: date, slot: str) -> tuple[Placement, ...]:
        return tuple(self._slots.get((day, slot), ()))

    @staticmethod
    def hours_between(earlier: datetime, later: datetime) -> float:
        return (later - earlier) / timedelta(hours=1)
