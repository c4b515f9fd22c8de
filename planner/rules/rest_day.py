"""Every whole calendar week has a day with nothing on it; the young have two, free of other sport as well.

Judged in weeks that lie wholly inside the block. The young are under 16, or under 18 and novices. A camp of
up to eight days is exempt; two rest days follow it. Days that are settled stand; no more are filled.
"""

from datetime import date

from planner.domain.block import Athlete, Competition
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._columns import busy
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

SHORT_CAMP = 8  # days
_MEET = {"competitions": (Competition("Meeting", "Ada", MONDAY, MONDAY),)}
_CHILD = {"persons": (Athlete("Ada", date(2014, 5, 1), level="novice", other_sport_minutes={2: 60}),)}
_FIVE = "mobility | mobility | - | mobility | mobility | mobility"

RULE = Rule(
    id="rest_day",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "consensus",
        "Published recommendations for youth sport (two days a week off organised sport); common practice "
        "for adults.",
    ),
    parameters={
        "days": Parameter(1, "days a week", 0, 3, "rest days of adults"),
        "young_days": Parameter(2, "days a week", 0, 4, "rest days of the young"),
    },
    examples=(
        Example(f"{_FIVE} | -", 0, "Wednesday and Sunday off"),
        Example("- | " + " | ".join(["mobility"] * 6), 0, "six days"),
        Example(" | ".join(["mobility"] * 7), 1, "seven days in the first week"),
        Example(" | ".join(["-"] * 7 + ["mobility"] * 7), 1, "seven days in the last week"),
        Example(" | ".join(["mobility"] * 6), 0, "the week is not whole"),
        Example(f"- | {_FIVE}", 0, "a competition on Monday, Wednesday off", {"block": _MEET}),
        Example(f"{_FIVE} | -", 1, "a child with other sport on Wednesday", _CHILD),
    ),
)


def universe() -> Problem:
    people = (
        Athlete("Ada", date(2000, 1, 1), level="advanced"),
        Athlete("Bo", date(2010, 1, 1), level="novice", other_sport_minutes={2: 60}),
    )
    return problem(World(("mobility",), days=7, persons=people, block=_MEET, kept="mobility"))


def _is_young(athlete: Athlete, day: date) -> bool:
    age = athlete.age_on(day)
    return age is not None and (age < 16 or (age < 18 and athlete.level == "novice"))


def _weeks(problem: Problem, athlete: str) -> list[AthleteWeek]:
    if problem.block.kind == "camp" and len(problem.days) <= SHORT_CAMP:
        return []
    return [w for w in problem.weeks[athlete] if len(w.days) == 7]


def _taken(problem: Problem, athlete: str, day: date) -> bool:
    """Is the day no rest day whatever is planned?"""
    person = problem.block.athlete(athlete)
    other_sport = _is_young(person, day) and person.other_sport_minutes.get(day.weekday(), 0) > 0
    settled = bool(settled_on(problem, athlete, day))
    return other_sport or settled or problem.competition_on(athlete, day) is not None


def _most(problem: Problem, week: AthleteWeek) -> int:
    first = week.days[0]
    young = _is_young(problem.block.athlete(week.athlete), first)
    rest = RULE.number(problem, "young_days" if young else "days", week.athlete, first)
    return max(7 - rest, sum(_taken(problem, week.athlete, d) for d in week.days))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in _weeks(problem, athlete):
            terms = [
                (1, board.always if _taken(problem, athlete, d) else busy(board, problem, athlete, d))
                for d in week.days
            ]
            board.at_most(terms, _most(problem, week), Where(athlete, week.days[0]))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in _weeks(problem, athlete):
            free = [d for d in week.days if not view.on(athlete, d) and not _taken(problem, athlete, d)]
            missing = 7 - len(free) - _most(problem, week)
            if missing > 0:
                first = week.days[0]
                facts = {"free": len(free), "needed": len(free) + missing, "week": week.begins}
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, missing, athlete, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: the week of {f['week']:%a %d %b} has {f['free']} rest days, "
        f"{f['needed']} are needed. Maybe leave out the session that matters least."
    )
