"""The day after an arrival or a journey is better not yet fast, even when the journey was short.

After journeys of more than six hours or overnight this is a must of the rule about travel. What is settled is
not spoken of.
"""

from datetime import date, datetime, timedelta

from planner.domain.block import Away
from planner.domain.finding import Finding, Line, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import settled_neural
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._travel import trips

DEMANDS = (1, 2, 3)  # levels of neural demand above none
_AT = datetime.combine(MONDAY, datetime.min.time())


def _arrives(day: int, hours: int) -> Away:
    when = _AT + timedelta(days=day, hours=11)
    return Away("Ada", when - timedelta(days=3), when, "camp arrival", hours)


_MONDAY = {"block": {"away": (_arrives(0, 6),)}}
_LONG = {"block": {"away": (_arrives(0, 7),)}}
_BY_DATE = {"block": {"away": (Away("Ada", _AT, _AT, "camp arrival", 4),)}}
_MIDNIGHT = {"block": {"away": (Away("Ada", _AT, _AT + timedelta(days=1), "travel", 4),)}}

RULE = Rule(
    id="day_after_arrival",
    tier="should",
    weight=40,
    scope="athlete",
    reach=Reach(),
    source=Source(
        "consensus",
        "Janse van Rensburg and others 2021, Sports Medicine: travel fatigue clears after a night's sleep; "
        "the day of grace is common practice.",
    ),
    parameters={"most": Parameter(2, "level of demand, 0-3", 0, 2, "highest demand on the day after")},
    examples=(
        Example("mobility | short-long-jumps", 0, "medium on the day after", _MONDAY),
        Example("mobility | flying-sprints", 1, "fast on the day after", _MONDAY),
        Example("- | - | flying-sprints", 1, "the last edge", {"block": {"away": (_arrives(1, 2),)}}),
        Example("- | - | flying-sprints", 0, "two days after", _MONDAY),
        Example("- | flying-sprints", 0, "after seven hours: another rule", _LONG),
        Example("- | flying-sprints", 1, "the file gives Monday's date alone", _BY_DATE),
        Example("- | flying-sprints", 1, "until midnight is Monday", _MIDNIGHT),
    ),
)


def universe() -> Problem:
    away = {"away": (_arrives(0, 4), _arrives(2, 1))}
    units = ("flying-sprints", "short-long-jumps")
    return problem(
        World(units, days=4, amounts=("full", "lighter"), kept="- | - | - | low-multi-jumps", block=away)
    )


def _days(problem: Problem, athlete: str) -> dict[date, Line]:
    short = (t for t in trips(problem, athlete) if not t.long and t.away.kind != "camp departure")
    return {t.arrives + timedelta(1): t.away.line for t in short}


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day, line in sorted(_days(problem, athlete).items()):
            if problem.competition_on(athlete, day):
                continue
            known = problem.known_on(athlete, day)
            most = max(RULE.number(problem, "most", athlete, day), settled_neural(problem, athlete, day))
            for level in DEMANDS[most:]:
                high = board.any_of(board.placed(p) for p in known if p.dose.neural >= level)
                board.at_most([(1, high)], 0, Where(athlete, day, line=line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day, line in sorted(_days(problem, athlete).items()):
            most = max(RULE.number(problem, "most", athlete, day), settled_neural(problem, athlete, day))
            above = max((p.dose.neural for p in view.on(athlete, day)), default=0) - most
            if above > 0 and not problem.competition_on(athlete, day):
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, above, athlete, day, line=line))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} follows the arrival and is too fast for it by "
        f"{finding.amount} level{'s' * (finding.amount > 1)}. Maybe start with a medium day."
    )
