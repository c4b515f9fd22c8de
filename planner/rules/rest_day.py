"""Every whole calendar week has at least one day with nothing on it, neither training nor competition.

Judged in weeks that lie wholly inside the block; the young have a rule of their own about days off sport. A
week in a camp of up to eight days is exempt; two rest days follow it. Days that are settled stand;
no more are filled.
"""

from datetime import date, timedelta

from planner.domain.block import Competition, RuleSetting
from planner.domain.camp import camp_stay
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._columns import busy
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

SHORT_CAMP = 8  # days
LEAST_CAMP_DAYS = 6  # own days in a week from which on it may miss its rest day
_MEET = {"competitions": (Competition("Meeting", "Ada", MONDAY, MONDAY),)}
_CAMP = {"camp_begins": MONDAY, "camp_ends": MONDAY + timedelta(5)}
_TWO = {"settings": (RuleSetting("rest_day", "days", 2),)}
_FIVE = "mobility | mobility | - | mobility | mobility | mobility"

RULE = Rule(
    id="rest_day",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("common practice", "Common practice, no source: recovery, and the life beside it."),
    parameters={"days": Parameter(1, "days a week", 0, 3, "days with nothing on them")},
    examples=(
        Example(f"{_FIVE} | -", 0, "Wednesday and Sunday off"),
        Example("- | " + " | ".join(["mobility"] * 6), 0, "six days"),
        Example(" | ".join(["mobility"] * 7), 1, "seven days in the first week"),
        Example(" | ".join(["-"] * 7 + ["mobility"] * 7), 1, "seven days in the last week"),
        Example(" | ".join(["mobility"] * 6), 0, "the week is not whole"),
        Example(f"- | {_FIVE}", 0, "a competition on Monday, Wednesday off", {"block": _MEET}),
        Example(f"mobility | {_FIVE}", 0, "Thursday off"),
        Example(" | ".join(["mobility"] * 8), 0, "a camp of eight days", {"block": {"kind": "camp"}}),
        Example(" | ".join(["mobility"] * 7), 0, "six days of the week in a camp", {"block": _CAMP}),
        Example("- | " + " | ".join(["mobility"] * 6), 1, "two are asked of her, one is there", {"block": _TWO}),
        Example(" | ".join(["-"] + ["mobility"] * 6), 1, "and a competition on Monday", {"block": _MEET}),
    ),
)


def universe() -> Problem:
    world = World(("mobility",), days=7, athletes=2, amounts=("full",), block=_MEET, kept="- | mobility")
    return problem(world)


def _weeks(problem: Problem, athlete: str) -> list[AthleteWeek]:
    stay = camp_stay(problem, athlete)
    camp = stay.days if stay is not None and len(stay.days) <= SHORT_CAMP else ()
    whole = [w for w in problem.weeks[athlete] if len(w.days) == 7]
    return [w for w in whole if sum(d in camp for d in w.days) < LEAST_CAMP_DAYS]


def _taken(problem: Problem, athlete: str, day: date) -> bool:
    """Is the day no rest day whatever is planned?"""
    return bool(settled_on(problem, athlete, day)) or problem.competition_on(athlete, day) is not None


def _most(problem: Problem, week: AthleteWeek) -> int:
    rest = RULE.number(problem, "days", week.athlete, week.first_day)
    return max(7 - rest, sum(_taken(problem, week.athlete, d) for d in week.days))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in _weeks(problem, athlete):
            terms = [(1, busy(board, problem, athlete, d)) for d in week.days]
            board.at_most(terms, _most(problem, week), Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in _weeks(problem, athlete):
            free = [d for d in week.days if not view.on(athlete, d) and not _taken(problem, athlete, d)]
            needed = 7 - _most(problem, week)
            if len(free) < needed:
                first = week.first_day
                facts = {"free": len(free), "needed": needed, "week": week.begins}
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, needed - len(free), athlete, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: the week of {f['week']:%a %d %b} has "
        f"{counted(f['free'], 'rest days')}, needed: {f['needed']}. "
        "Maybe leave out the session that matters least."
    )
