"""Where a limit names contacts a week, hops, bounds and take-offs of a calendar week stay within them.

Counted are low contacts and, of high contacts and take-offs, the larger (a bound is both), attached drills
included, on days inside the limit's dates. Contacts that are settled stand; none is added beyond.
"""

from datetime import date, timedelta

from planner.domain.block import Limit
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import calendar_days, settled_on
from planner.rules._limits import region_words
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_SHIN = {"block": {"limits": (Limit("Ada", "shin", "both", 5, contacts_a_week=200),)}}
_LATE = {
    "block": {"limits": (Limit("Ada", "shin", stage=5, contacts_a_week=200, begins=MONDAY + timedelta(1)),)}
}

RULE = Rule(
    id="limit_contacts_a_week",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("coach's decision", "The number is the coach's or clinician's."),
    examples=(
        Example("low-multi-jumps | - | - | -", 0, "160 of 200", _SHIN),
        Example("low-multi-jumps | low-multi-jumps | -", 120, "320 of 200", _SHIN),
        Example("- | - | - | - | - | - | - | low-multi-jumps + intensive-bounds", 40, "160 + 80", _SHIN),
        Example("low-multi-jumps | low-multi-jumps", 0, "Monday is before the limit", _LATE),
    ),
)


def universe() -> Problem:
    units = ("low-multi-jumps", "intensive-bounds")
    limits = (
        Limit("Ada", "shin", "both", 5, contacts_a_week=200, begins=MONDAY + timedelta(1)),
        Limit("Ada", "knee", "left", 5, contacts_a_week=150, ends=MONDAY + timedelta(2)),
    )
    return problem(
        World(units, days=4, amounts=("full", "lighter"), kept="low-multi-jumps", block={"limits": limits})
    )


def contacts(p: Placement) -> int:
    """Ground contacts that a limit counts."""
    counted = p.dose.counters
    return counted.get("low-contacts", 0) + max(counted.get("high-contacts", 0), counted.get("take-offs", 0))


def _judged(problem: Problem, week: AthleteWeek) -> list[tuple[Limit, int, list[date]]]:
    """Limits with a number, and the days of the calendar week they hold on; the number, or what stands."""
    found = []
    for limit in problem.block.limits:
        if limit.athlete != week.athlete or limit.contacts_a_week is None:
            continue
        days = [d for d in calendar_days(week) if limit.active_on(d)]
        settled = sum(contacts(p) for d in days for p in settled_on(problem, week.athlete, d))
        if any(d in week.days for d in days):
            found.append((limit, max(limit.contacts_a_week, settled), days))
    return found


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for limit, most, days in _judged(problem, week):
                known = [p for d in days for p in problem.known_on(athlete, d)]
                terms = [(contacts(p), board.placed(p)) for p in known if contacts(p)]
                board.at_most(terms, most, Where(athlete, week.days[0], line=limit.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for limit, most, days in _judged(problem, week):
                done = 0
                for day in days:
                    for p in view.on(athlete, day):
                        done += contacts(p)
                if done > most:
                    facts = {"where": region_words(limit), "done": done, "most": most, "week": week.begins}
                    first = week.days[0]
                    tier = RULE.tier_at(problem, athlete, first)
                    found.append(Finding(RULE.id, tier, done - most, athlete, first, "", facts, limit.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, limit {f['where']}: {f['done']} contacts in the week of {f['week']:%a %d %b}, "
        f"at most {f['most']}. Maybe take lighter versions, or leave hops and bounds out."
    )
