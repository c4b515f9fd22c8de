"""Where a limit names contacts a week, those of a calendar week stay within them: all, or the hard ones.

Hard contacts are those at 90 % effort or more: of high contacts, take-offs and landings the largest (a bound
is all three). All contacts are these and the low ones, attached drills included. Counted on days inside the
limit's dates. Contacts that are settled stand; none is added beyond.
"""

from collections.abc import Callable
from dataclasses import dataclass
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
_HARD = {"block": {"limits": (Limit("Ada", "knee", "left", 5, hard_contacts_a_week=80),)}}

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
        Example("low-multi-jumps | intensive-bounds | -", 0, "80 of 80 hard; low ones do not count", _HARD),
    ),
)


def universe() -> Problem:
    units = ("low-multi-jumps", "intensive-bounds")
    limits = (
        Limit("Ada", "shin", "both", 5, contacts_a_week=200, begins=MONDAY + timedelta(1)),
        Limit("Ada", "knee", "left", 5, hard_contacts_a_week=60, ends=MONDAY + timedelta(2)),
    )
    return problem(
        World(units, days=4, amounts=("full", "lighter"), kept="low-multi-jumps", block={"limits": limits})
    )


def hard_contacts(p: Placement) -> int:
    """Ground contacts at 90 % effort or more."""
    return max(p.dose.counters.get(c, 0) for c in ("high-contacts", "take-offs", "landings"))


def contacts(p: Placement) -> int:
    """All ground contacts that a limit counts."""
    return p.dose.counters.get("low-contacts", 0) + hard_contacts(p)


@dataclass(frozen=True)
class _Number:
    """One number of a limit: what it counts, the most of it (or what stands), and on which days."""

    limit: Limit
    what: str
    count: Callable[[Placement], int]
    most: int
    days: list[date]


def _judged(problem: Problem, week: AthleteWeek) -> list[_Number]:
    """The numbers that limits put on a calendar week."""
    found = []
    for limit in problem.block.limits:
        days = [d for d in calendar_days(week) if limit.active_on(d)]
        if limit.athlete != week.athlete:
            continue
        for what, count, most in (
            ("contacts", contacts, limit.contacts_a_week),
            ("hard contacts", hard_contacts, limit.hard_contacts_a_week),
        ):
            if most is not None:
                settled = sum(count(p) for d in days for p in settled_on(problem, week.athlete, d))
                found.append(_Number(limit, what, count, max(most, settled), days))
    return found


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for n in _judged(problem, week):
                known = [p for d in n.days for p in problem.known_on(athlete, d)]
                terms = [(n.count(p), board.placed(p)) for p in known if n.count(p)]
                board.at_most(terms, n.most, Where(athlete, week.first_day, line=n.limit.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for n in _judged(problem, week):
                done = 0
                for day in n.days:
                    for p in view.on(athlete, day):
                        done += n.count(p)
                if done > n.most:
                    first, where = week.first_day, f"limit {region_words(n.limit)}"
                    facts = {"where": where, "n": f"{done} {n.what}", "most": n.most, "week": week.begins}
                    tier = RULE.tier_at(problem, athlete, first)
                    over = done - n.most
                    found.append(Finding(RULE.id, tier, over, athlete, first, "", facts, n.limit.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, {f['where']}: {f['n']} in the week of {f['week']:%a %d %b}, "
        f"at most {f['most']}. Maybe take lighter versions, or leave hops and bounds out."
    )
