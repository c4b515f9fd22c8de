"""What the coach's exceptions cost: what each rule would say without them, and which no longer bite."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule, book

# Rules whose exceptions let fast days, or nearly fast ones, follow each other.
FAST_DAYS = (
    "no_two_fast_days_running", "two_day_sum", "two_day_sum_low", "easy_day_after_fast", "hours_to_recover_floor",
    "hours_to_recover",
)  # fmt: skip
RUN_UPS = ("run-ups", "full-jumps")  # families
USUAL_SUM = 4  # two-day sum of neural demand a coach keeps to; common practice, no source


@dataclass(frozen=True)
class Price:
    """An exception in force: `bites` is False when the plan would keep the rule without it.

    `amount` is how far the plan goes beyond the rule as it stands without the exception, in the rule's own
    steps; `said` is what the rule would say there, and what such days need.
    """

    setting: RuleSetting
    bites: bool
    amount: int
    said: tuple[str, ...]

    def __str__(self) -> str:
        who = self.setting.athlete or "the whole squad"
        rule = self.setting.rule.replace("_", " ")
        if not self.bites:
            return f"{who}: the exception from '{rule}' no longer bites. Maybe take it out of the file."
        return f"{who}: exception from '{rule}' ({self.setting.reason}): {' '.join(self.said)}"


def prices(plan: Plan, problem: Problem) -> tuple[Price, ...]:
    """The price of every dated exception of the block, in file order."""
    known = book()
    found = []
    for setting in problem.block.settings:
        if setting.is_exception and setting.rule in known:
            found.append(_price(plan, problem, setting, known[setting.rule]))
    return tuple(found)


def _price(plan: Plan, problem: Problem, setting: RuleSetting, rule: BookRule) -> Price:
    others = tuple(s for s in problem.block.settings if s is not setting)
    strict = replace(problem, block=replace(problem.block, settings=others))
    with_it = {f.place: f.amount for f in rule.check(PlanView(plan, problem), problem)}
    more: list[Finding] = []
    for f in rule.check(PlanView(plan, strict), strict):
        if f.amount > with_it.get(f.place, 0):
            more.append(f)
    said = [rule.explain(f).split(" Maybe ")[0] for f in more]
    if more and setting.rule in FAST_DAYS:
        said += _following_days(plan, problem, more)
    return Price(setting, bool(more), sum(f.amount for f in more), tuple(said))


def _following_days(plan: Plan, problem: Problem, findings: list[Finding]) -> list[str]:
    """The two-day sum, the easy day it needs, and what to watch."""
    view = PlanView(plan, problem)
    said = []
    for athlete, day in sorted({(f.athlete, f.day) for f in findings if f.day is not None}):
        for first in (day - timedelta(1), day):
            second, after = first + timedelta(1), first + timedelta(2)
            total = view.neural(athlete, first) + view.neural(athlete, second)
            if total > USUAL_SUM:
                easy = "is easy" if view.neural(athlete, after) <= 1 else "should be easy and is not"
                said.append(
                    f"{first:%a %d} and {second:%a %d %b} come to {total} on the two-day scale (usual: "
                    f"{USUAL_SUM}); {after:%a %d %b} {easy}. {_watch(view, athlete, second)}"
                )
    return list(dict.fromkeys(said))


def _watch(view: PlanView, athlete: str, day: date) -> str:
    """What to look at on the second of two such days, and the line at which to stop, in the units' own words."""
    hardest = view.neural(athlete, day)
    units = [p.unit for p in view.on(athlete, day) if p.dose.neural == hardest]
    lines = list(dict.fromkeys(f"{u.name}: {u.stop_rule}" for u in units if u.stop_rule))
    first = "run-ups" if any(u.family in RUN_UPS for u in units) else "runs"
    stop = f" Stop line: {'; '.join(lines)}." if lines else ""
    return f"On the second day look at the first two {first} before going on.{stop}"
