"""Which rung of a ladder a unit stands on, from what was done of it.

One rung in a calendar week, and only when the last time was done as planned: a lighter or cut-short time is
planned again. After more than 14 days without the unit at most 70 % of what was last completed, after more than
28 from the first rung. Easier weeks have easier rungs; a taper and a competition week keep the rung reached.
Common practice, no source; the figures stand with the ladders.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from planner.catalogue import Ladder, Rung, ladder_rules
from planner.domain.facts import Done
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import Level

KEPT = ("taper", "competition", "easing", "transition")  # kinds of week in which nothing new comes


@dataclass(frozen=True)
class Exposure:
    """One time of a unit: when, how much in the unit's measure, and whether it was done whole as planned."""

    day: date
    amount: int
    whole: bool


@dataclass(frozen=True)
class Standing:
    """The rung for today, its number from 1, and what the paper says about it ('' usually)."""

    rung: Rung
    number: int
    note: str = ""
    why: str = ""


def exposures(placements: Iterable[Placement], done: Sequence[Done]) -> tuple[Exposure, ...]:
    """The times of one unit of one athlete in date order; what was recorded goes before what was planned.

    Missed times are no exposure. An amount below the planned one was cut short.
    """
    told = {(d.day, d.slot, d.word): d for d in done}
    found = []
    for p in placements:
        fact = told.pop((p.day, p.slot, p.dose.word), None)
        amount, whole = p.dose.amount, p.dose.word == "full"
        if fact is not None:
            if fact.remark == "missed":
                continue
            amount = p.dose.amount if fact.amount is None else fact.amount
            whole = whole and fact.remark == "as planned" and amount >= p.dose.amount
        found.append(Exposure(p.day, amount, whole))
    for d in told.values():
        if d.remark != "missed":  # recorded without a placement we know: done, its amount perhaps unknown
            found.append(Exposure(d.day, d.amount or 0, d.remark == "as planned" and d.word == "full"))
    return tuple(sorted(found, key=lambda e: (e.day, e.amount)))


def standing(
    ladder: Ladder, times: Sequence[Exposure], problem: Problem, athlete: str, day: date, amount: int
) -> Standing | None:
    """The rung of a ladder on a day, after the times before it; None for a unit without rungs.

    `amount` is that of the day: it places an athlete whose earlier rungs nobody wrote down.
    """
    if not ladder.rungs:
        return None
    climb = _Climb(ladder, problem, athlete)
    earlier = [e for e in times if e.day < day]
    for exposure in earlier:
        climb.take(exposure)
    week = problem.week_of(athlete, day)
    kind = week.kind if week else "loading"
    if not earlier:
        known = [x.day for x in problem.block.last_done if x.athlete == athlete and x.unit == ladder.unit]
        days = (day - max(known)).days if known else 0
        if days > ladder_rules().anew_after_days:
            return _said(climb, 0, kind, f"{days} days since the last time: from the first step")
        at, why = climb.begin(amount)
        return replace(_said(climb, at, kind, ""), why=why)
    note = climb.gap(day)
    return _said(climb, climb.at, kind, note)


class _Climb:
    """Walks up the loading rungs, one exposure after the other."""

    def __init__(self, ladder: Ladder, problem: Problem, athlete: str) -> None:
        self.ladder = ladder
        self.problem = problem
        self.athlete = athlete
        self.rungs = [r for r in ladder.rungs if not r.easier]
        self.at = 0  # index of the rung to be done next
        self.reached = 0  # index of the last rung done whole
        self.any = False
        self.times = 0
        self.last: Exposure | None = None
        self.week: date | None = None

    def begin(self, amount: int) -> tuple[int, str]:
        """Where an athlete stands whose earlier times nobody wrote down, and why."""
        person = next((a for a in self.problem.block.athletes if a.name == self.athlete), None)
        unit = self.problem.units.get(self.ladder.unit)
        level: Level = person.level_for(unit.family) if person and unit else "developing"
        if self.ladder.kind == "kilograms":
            least = self.ladder.first.get(level, 0)
            fits = [i for i, r in enumerate(self.rungs) if r.percent[1] >= least]
            return (fits[0] if fits else 0), "earlier times are not known: the first percentage of this level"
        if self.ladder.kind in ("jump", "bounds"):
            return 0, ""
        at = _by_amount(self.rungs, amount, ladder_rules().level_percent[level])
        return at, "earlier times are not known: the step that fits the amount"

    def take(self, exposure: Exposure) -> None:
        if self.last is None:
            self.at = 0 if self._long_ago(exposure.day) else self.begin(exposure.amount)[0]
        else:
            self.gap(exposure.day)
        week = self.problem.week_of(self.athlete, exposure.day)
        kept = week is not None and (week.kind == "easier" or week.kind in KEPT)
        monday = exposure.day - timedelta(days=exposure.day.weekday())
        if exposure.whole and not kept:
            self.any = True
            if self.week != monday:
                self.times += 1
                self.reached = self.at
                if self.times >= self.rungs[self.at].times:
                    self.at, self.times = min(self.at + 1, len(self.rungs) - 1), 0
                self.week = monday
        self.last = exposure

    def _long_ago(self, day: date) -> bool:
        known = [x.day for x in self.problem.block.last_done
                 if (x.athlete, x.unit) == (self.athlete, self.ladder.unit)]  # fmt: skip
        return bool(known) and (day - max(known)).days > ladder_rules().anew_after_days

    def gap(self, day: date) -> str:
        """Goes back after days without the unit; says so."""
        if self.last is None:
            return ""
        days, rules = (day - self.last.day).days, ladder_rules()
        if days > rules.anew_after_days:
            self.at = self.reached = self.times = 0
            return f"{days} days since the last time: from the first step"
        if days > rules.restart_after_days:
            most = self.rungs[self.reached].total * rules.restart_percent / 100
            under = [i for i in range(self.reached + 1) if self.rungs[i].total <= most]
            self.at = self.reached = max(under, default=0)
            self.times = 0
            return f"{days} days since the last time: about {rules.restart_percent} % of it is enough"
        return ""


def _said(climb: _Climb, at: int, kind: str, note: str) -> Standing:
    every = climb.ladder.rungs
    if kind in KEPT and climb.any:
        at = min(at, climb.reached)
    rung = climb.rungs[at]
    if kind == "easier":
        place = every.index(climb.rungs[min(at, climb.reached) if climb.any else at])
        rung = next((r for r in every[place:] if r.easier), rung)
    return Standing(rung, every.index(rung) + 1, note)


def _by_amount(rungs: Sequence[Rung], amount: int, percent: int) -> int:
    """The highest rung, up to the largest, whose total at the athlete's level is not above the amount."""
    largest = max(range(len(rungs)), key=lambda i: (rungs[i].total, -i))
    fits = [i for i in range(largest + 1) if rungs[i].total * percent <= amount * 100]
    return max(fits, default=0)
