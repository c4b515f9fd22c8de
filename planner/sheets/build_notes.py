"""What only the coach's own copy of the board says: findings, what cannot be had, exceptions, limits."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Tier
from planner.domain.plan import Outcome, Plan
from planner.domain.problem import Problem
from planner.sheets import words


@dataclass(frozen=True)
class Notes:
    sure: str = ""
    findings: tuple[str, ...] = ()
    cannot: tuple[str, ...] = ()
    exceptions: tuple[str, ...] = ()
    limits: tuple[str, ...] = ()

    def without_lists(self) -> Notes:
        """For a page that is not the last of its week."""
        return replace(self, findings=(), cannot=(), exceptions=(), limits=())


def notes_of(
    outcome: Outcome, problem: Problem, days: tuple[date, ...], number: int, remarks: tuple[str, ...] | None
) -> Notes:
    """The notes of one week; `remarks` (what cannot be had) stand once, in the first week.

    None as `remarks` makes the wall's copy, which says none of it: points of targets are no athlete's matter.
    """
    if remarks is None:
        return Notes()
    return Notes(
        sure=sureness(outcome.plan),
        findings=_findings(outcome, days, number == 1),
        cannot=tuple(words.sentence(r) for r in remarks) if number == 1 else (),
        exceptions=_exceptions(outcome.plan, problem, days),
        limits=_limits(problem, days),
    )


def sureness(plan: Plan) -> str:
    """How sure we are that no better plan exists: 'Proved best.' or by how much it may be improved."""
    early = " Stopped early: a second run may differ." if plan.stopped_early else ""
    if plan.proved:
        return "Proved best." + early
    tiers: tuple[Tier, ...] = ("should", "prefer")
    open_tiers = [t for t in tiers if t in plan.status and not plan.status[t].proved]
    gap = plan.status[open_tiers[0]].gap if open_tiers else None
    if not plan.status or gap is None:
        return "May be improved; by how much is not known." + early
    of = "targets" if open_tiers[0] == "should" else "preferences"
    return f"May be improved, by at most {gap} {'point' if gap == 1 else 'points'} of {of}." + early


def _findings(outcome: Outcome, days: tuple[date, ...], first: bool) -> tuple[str, ...]:
    """What gives way this week; several places of one rule for one athlete are said once, with their number."""
    from planner.review.findings import sentence

    kinds: dict[tuple[str, str], list[Finding]] = {}
    for f in outcome.findings:
        if f.tier == "should" and (f.day in days or (f.day is None and first)):
            kinds.setdefault((f.athlete, f.rule), []).append(f)
    said = []
    for found in kinds.values():
        worst = max(found, key=lambda f: f.amount)
        more = f" And {len(found) - 1} more of the kind." if len(found) > 1 else ""
        said.append(words.sentence(sentence(worst).split(" Maybe ")[0]) + more)
    return tuple(dict.fromkeys(said))


def _in_force(setting: RuleSetting, days: tuple[date, ...]) -> bool:
    if not setting.is_exception:
        return False
    return (setting.begins or days[0]) <= days[-1] and days[0] <= (setting.ends or days[-1])


def _exceptions(plan: Plan, problem: Problem, days: tuple[date, ...]) -> tuple[str, ...]:
    """Exceptions in force in these days, each with what it costs, or that it no longer bites."""
    from planner.review.exceptions import prices

    if not any(_in_force(s, days) for s in problem.block.settings):
        return ()
    found = []
    for price in prices(plan, problem):
        if _in_force(price.setting, days):
            cost = " ".join(price.said) if price.bites else "It no longer bites in this plan."
            found.append(f"{_exception(price.setting)} {words.clean(cost)}")
    return tuple(found)


def _exception(setting: RuleSetting) -> str:
    who = words.clean(setting.athlete) or "Whole squad"
    rule = setting.rule.replace("_", " ")
    what = (
        "switched off" if setting.parameter == "off" else f"{setting.parameter.replace('_', ' ')} {setting.value}"
    )
    when = ""
    if setting.begins or setting.ends:
        ends = [words.short_date(d) for d in (setting.begins, setting.ends) if d is not None]
        when = f", {' to '.join(dict.fromkeys(ends))}"
    return f"{who}{when}: {rule}, {what}. {words.sentence(setting.reason)}"


def _limits(problem: Problem, days: tuple[date, ...]) -> tuple[str, ...]:
    found = []
    for name in problem.athletes:
        active = [x for x in problem.block.limits if x.athlete == name and any(x.active_on(d) for d in days)]
        said = [words.limit_words(x, days[0], days[-1]) for x in active if x.stage < 6 or x.hold_back]
        said = [x.replace("Lighter days for you", "Lighter days") for x in said]
        if said:
            found.append(f"{words.clean(name)}. {' '.join(dict.fromkeys(said))}")
    return tuple(found)
