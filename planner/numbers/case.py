"""One unit of one athlete on one day, with all that its numbers depend on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from planner.catalogue import Ladder, limit_regions, return_stage
from planner.domain.block import Athlete, Limit, Mark, RunUp
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import SIDES, Level
from planner.numbers.progress import Exposure, Standing, standing

FULL_EFFORT = 100  # percent of own best speed
Shares = tuple[float, float, float]  # hop, step, jump in percent


@dataclass(frozen=True, eq=False)
class Case:
    """What a line is made from. `shares` are the athlete's own, None while no whole jumps are measured."""

    placement: Placement
    problem: Problem
    athlete: Athlete
    ladder: Ladder | None
    times: Sequence[Exposure] = ()
    marks: tuple[Mark, ...] = ()
    run_ups: tuple[RunUp, ...] = ()
    shares: Shares | None = None
    kinds: Mapping[tuple[str, str], str] = field(default_factory=dict, hash=False)  # (venue, place) -> kind

    @property
    def easy(self) -> bool:
        return self.placement.dose.word == "lighter"

    @property
    def level(self) -> Level:
        return self.athlete.level_for(self.placement.unit.family)

    @cached_property
    def week(self) -> AthleteWeek | None:
        return self.problem.week_of(self.athlete.name, self.placement.day)

    @cached_property
    def standing(self) -> Standing | None:
        if self.ladder is None:
            return None
        p = self.placement
        return standing(self.ladder, self.times, self.problem, p.athlete, p.day, p.dose.amount)

    @property
    def on_grass(self) -> bool:
        return self.kinds.get((self.placement.venue, self.placement.place)) == "grass"

    @cached_property
    def most_speed(self) -> int | None:
        """Percent of own best speed that a limit or its return stage allows on the day; None without one."""
        limits = self.problem.limits_on(self.athlete.name, self.placement.day)
        caps = [x.speed_percent for x in limits if x.speed_percent is not None]
        stages = [return_stage(x.stage).most_percent for x in limits if not x.hold_back and self._loads(x)]
        return min((*caps, *(c for c in stages if c < FULL_EFFORT)), default=None)

    def _loads(self, limit: Limit) -> bool:
        sides = SIDES if limit.side not in SIDES else (limit.side,)
        loads = self.placement.dose.loads
        return any(loads.get((r, s), 0) for r in limit_regions(limit.region) for s in sides)

    @cached_property
    def most_steps(self) -> int | None:
        """Steps of a run-up that a limit allows on the day; None without one."""
        caps = [x.run_up_steps for x in self.problem.limits_on(self.athlete.name, self.placement.day)]
        return min((c for c in caps if c is not None), default=None)

    def capped(self, percent: tuple[int, int]) -> tuple[int, int]:
        """A band of speed held under the day's ceiling."""
        if self.most_speed is None:
            return percent
        return min(percent[0], self.most_speed), min(percent[1], self.most_speed)
