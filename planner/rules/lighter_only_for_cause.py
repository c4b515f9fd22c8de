"""A lighter version stands only where something asks for it.

What asks: a limit, an easier, taper, easing, competition or exam week, a competition in the four days ahead
or the three behind, travel within two days, or a fast day the day before.
"""

from datetime import date, datetime, time, timedelta

from planner.domain.block import Away, Competition, Limit
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

LOADING = ("loading", "camp")
_SORE = Limit("Ada", "knee", "left", 4, MONDAY + timedelta(3), MONDAY + timedelta(3))
_MEET = Competition("open meeting", "Ada", MONDAY + timedelta(7), MONDAY + timedelta(7))
_LAST: dict[str, object] = {"block": {"limits": (_SORE,)}}
_THREE = "- | heavy-strength lighter | heavy-strength lighter | heavy-strength lighter"


def _raced(*days: int) -> dict[str, object]:
    dates = [MONDAY + timedelta(d) for d in days]
    return {"block": {"competitions": tuple(Competition("open meeting", "Ada", d, d) for d in dates)}}


def _gone(*days: int) -> dict[str, object]:
    noons = [datetime.combine(MONDAY, time(12)) + timedelta(d) for d in days]
    return {"block": {"away": tuple(Away("Ada", t, t + timedelta(hours=2)) for t in noons)}}


RULE = Rule(
    id="lighter_only_for_cause",
    tier="prefer",
    scope="athlete",
    reach=Reach(back=1),
    weight=1,
    source=Source("common practice", "common practice, no source"),
    parameters={
        "ahead": Parameter(4, "days", 0, 14, "before a competition"),
        "behind": Parameter(3, "days", 0, 14, "after a competition"),
        "travel": Parameter(2, "days", 0, 7, "before or after being away"),
    },
    examples=(
        Example("- | - | - | heavy-strength lighter", 0, "a limit on the last day", _LAST),
        Example("heavy-strength lighter | - | - | -", 1, "nothing asks for it", _LAST),
        Example("flying-sprints | heavy-strength lighter | - | -", 0, "the day after a fast day"),
        Example("flying-sprints | - | - | heavy-strength lighter", 1, "at the last edge"),
        Example(_THREE, 1, "three days after a meeting, four after it, and four before the next", _raced(-2, 7)),
        Example(_THREE, 1, "two days after a journey, three after it, and two before the next", _gone(-1, 5)),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "heavy-strength")
    limit = Limit("Ada", "knee", "left", 4, MONDAY, MONDAY)
    block = {"limits": (limit,), "competitions": (_MEET,)}
    return problem(World(units, 4, amounts=("full", "lighter"), block=block))


def _asked(problem: Problem, athlete: str, day: date) -> bool:
    """Does something that stands in the file or the season ask for lighter work on this day?"""
    week = problem.week_of(athlete, day)
    if week is None or week.kind not in LOADING or week.exam_week or problem.limits_on(athlete, day):
        return True
    ahead = timedelta(RULE.number(problem, "ahead", athlete, day))
    behind = timedelta(RULE.number(problem, "behind", athlete, day))
    near = timedelta(RULE.number(problem, "travel", athlete, day))
    if any(c.first_day - ahead <= day <= c.last_day + behind for c in problem.competitions_of(athlete)):
        return True
    return any(a.begins.date() - near <= day <= a.ends.date() + near for a in problem.away_of(athlete))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            lighter = [p for p in problem.on(athlete, day) if p.dose.word == "lighter"]
            lighter = [p for p in lighter if p not in problem.settled]
            if lighter and not _asked(problem, athlete, day):
                before = problem.known_on(athlete, day - timedelta(1))
                fast = [board.placed(p) for p in before if p.dose.neural >= 3]
                for p in lighter:
                    board.implies(board.placed(p), fast, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for p in view.of(athlete):
            if p.dose.word != "lighter" or p in problem.settled or p.day < problem.block.begins:
                continue
            after_fast = view.neural(athlete, p.day - timedelta(1)) >= 3
            if not after_fast and not _asked(problem, athlete, p.day):
                tier = RULE.tier_at(problem, athlete, p.day)
                found.append(Finding(RULE.id, tier, 1, athlete, p.day, facts={"unit": p.unit.name}))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {finding.facts['unit']} in its lighter version, and "
        "nothing asks for it. Maybe take the full version."
    )
