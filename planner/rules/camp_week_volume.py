"""A camp week is at most a third above the usual week, and the week after it is clearly less.

Volume is effort x minutes of the units without warm-ups. The usual week is the average of the weeks of the
table 'before' that give a load (the four before the block); where none does, nothing is judged. A camp week
is a calendar week with at least four own camp days. In a taper the rule about it decides.
"""

from datetime import timedelta
from fractions import Fraction
from math import ceil

from planner.domain.block import BeforeWeek
from planner.domain.camp import MOST_OF_A_WEEK, camp_stay
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import week_first_day
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

LOOK_BACK = timedelta(weeks=4)
STEP = 100  # effort x minutes that make one step of the price: a short easy unit


def _before(*loads: int) -> tuple[BeforeWeek, ...]:
    """The last week first; of one week only the take-offs are known, and the block's own is not before it."""
    known = [BeforeWeek("Ada", MONDAY - timedelta(weeks=i), {"load": n}) for i, n in enumerate(loads, start=1)]
    own = BeforeWeek("Ada", MONDAY, {"load": 9000})
    return (*known, own, BeforeWeek("Ada", MONDAY - timedelta(weeks=2), {"take-offs": 40}))


def _camp(first: int, days: int, *loads: int) -> dict[str, object]:
    begins = MONDAY + timedelta(first)
    ends = begins + timedelta(days - 1)
    return {"block": {"camp_begins": begins, "camp_ends": ends, "before": _before(*loads)}}


_FOUR, _FIVE = _camp(0, 4, 350, 350, 350, 1), _camp(0, 4, 350, 350, 350, 350, 1)
_REST = " | ".join(["-"] * 6)
RULE = Rule(
    id="camp_week_volume",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=14,
    source=Source("common practice", "Common practice, no source: 120-130 % in a camp, 60-70 % after it."),
    parameters={
        "camp": Parameter(130, "percent of the usual week", 100, 200, "most in a camp week"),
        "after": Parameter(70, "percent of the usual week", 30, 130, "most in the week after"),
    },
    examples=(
        Example("flying-sprints | - | - | -", 0, "load 455 of 130 % of 350", _camp(0, 4, 300, 400)),
        Example("flying-sprints | - | - | flying-sprints", 5, "910, 455 beyond", _camp(0, 4, 300, 400)),
        Example("flying-sprints | - | - | flying-sprints", 0, "three camp days only", _camp(0, 3, 300, 400)),
        Example(f"{_REST} | - | flying-sprints", 3, "the week after: 455 of 70 % of 300", _camp(2, 4, 300)),
        Example("flying-sprints | - | - | -", 0, "a week five weeks ago no longer counts", _FIVE),
        Example("flying-sprints | - | - | -", 2, "one four weeks ago does: 341 of the 455", _FOUR),
        Example("flying-sprints | - | - | flying-sprints", 0, "no usual week known", _camp(0, 4)),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "extensive-tempo")
    return problem(World(units, 6, MONDAY - timedelta(4), **_camp(-4, 4, 0, 500)))  # type: ignore[arg-type]


def _usual(problem: Problem, athlete: str) -> Fraction:
    begins = problem.block.begins
    earliest = week_first_day(problem, begins) - LOOK_BACK
    rows = [w for w in problem.block.before if w.athlete == athlete and "load" in w.counters]
    loads = [w.counters["load"] for w in rows if earliest <= w.week_begins < begins]
    return Fraction(sum(loads), len(loads)) if loads else Fraction(0)


def _percent(problem: Problem, athlete: str) -> list[tuple[AthleteWeek, str]]:
    """The weeks that are judged, and by which parameter."""
    stay = camp_stay(problem, athlete)
    found: list[tuple[AthleteWeek, str]] = []
    if stay is None or not _usual(problem, athlete):
        return found
    before = False
    for week in problem.weeks[athlete]:
        own = sum(stay.first <= d <= stay.last for d in week.calendar)
        now = own >= MOST_OF_A_WEEK
        if week.kind != "taper" and (now or before):
            found.append((week, "camp" if now else "after"))
        before = now
    return found


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        usual = _usual(problem, athlete)
        for week, name in _percent(problem, athlete):
            day = week.days[0]
            most = int(usual * RULE.number(problem, name, athlete, day) / 100)
            known = [p for d in week.days for p in problem.known_on(athlete, d)]
            terms = [(p.dose.load, board.placed(p)) for p in known]
            board.at_most(terms, most, Where(athlete, day), step=STEP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week, name in _percent(problem, athlete):
            day = week.days[0]
            percent = RULE.number(problem, name, athlete, day)
            most = int(_usual(problem, athlete) * percent / 100)
            volume = sum(p.dose.load for d in week.days for p in view.on(athlete, d))
            if volume > most:
                steps = ceil((volume - most) / STEP)
                facts = {"n": volume, "most": most, "percent": percent, "what": name}
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, steps, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    which = "camp week" if f["what"] == "camp" else "week after the camp,"
    return (
        f"{finding.athlete}, {which} of {finding.day:%a %d %b}: volume {f['n']} (effort x minutes without "
        f"warm-ups), {f['percent']} % of the usual week are {f['most']}. Maybe leave out what matters least."
    )
