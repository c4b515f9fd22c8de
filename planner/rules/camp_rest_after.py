"""A short camp may do without its rest day, but then two days of rest follow it.

Short is up to eight days. Counted are the athlete's own days, from arrival to departure: who trained (or
competed) on every one of at least six of them has nothing on the two days after. A longer camp keeps its
weekly rest day like any other week.
"""

from dataclasses import replace
from datetime import date, datetime, timedelta

from planner.domain.block import Away
from planner.domain.camp import CampStay, camp_stay
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._columns import busy
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

SHORT_CAMP = 8  # days
_SIX = " | ".join(["mobility"] * 6)


def _camp(days: int, arrives: int = 0) -> dict[str, object]:
    when = datetime.combine(MONDAY + timedelta(arrives), datetime.min.time()) + timedelta(hours=11)
    away = (Away("Ada", when - timedelta(hours=1), when, "camp arrival"),) if arrives else ()
    dates = {"camp_begins": MONDAY, "camp_ends": MONDAY + timedelta(days - 1)}
    return {"block": {**dates, "away": away}}


RULE = Rule(
    id="camp_rest_after",
    tier="must",
    scope="athlete",
    reach=Reach(back=9),
    source=Source("common practice", "Common practice, no source: recovery, and the life beside it."),
    parameters={
        "days": Parameter(2, "days", 0, 4, "days of rest after a camp without one"),
        "least": Parameter(6, "days", 3, 8, "own camp days from which on this is asked"),
    },
    examples=(
        Example(f"{_SIX} | - | - | mobility", 0, "six days, two of rest", _camp(6)),
        Example(f"{_SIX} | mobility | mobility", 2, "six days, no rest after them", _camp(6)),
        Example(f"{_SIX} | - | mobility", 1, "one day of rest, last edge", _camp(6)),
        Example("mobility | - | " + " | ".join(["mobility"] * 5), 0, "one day off", _camp(6)),
        Example(f"- | {_SIX} | mobility", 1, "six own days after a late arrival", _camp(7, 1)),
        Example(f"{_SIX} | mobility", 0, "five days: nothing is asked", _camp(5)),
        Example(f"{_SIX} | mobility | mobility | mobility | -", 1, "eight days are still short", _camp(8)),
        Example(f"{_SIX} | mobility | mobility | mobility | mobility", 0, "nine are not short", _camp(9)),
        Example(f"{_SIX} | mobility", 0, "no camp"),
    ),
)  # fmt: skip


def universe() -> Problem:
    made = problem(World(("mobility",), days=9, **_camp(6)))  # type: ignore[arg-type]
    free = tuple(p for p in made.candidates if p.day != MONDAY)
    kept = tuple(p for p in made.candidates if p.day == MONDAY)
    return replace(made, candidates=free, kept=kept)


def _short_stay(problem: Problem, athlete: str) -> CampStay | None:
    stay = camp_stay(problem, athlete)
    if stay is None or len(stay.days) > SHORT_CAMP:
        return None
    return stay if len(stay.days) >= RULE.number(problem, "least", athlete, stay.first) else None


def _after(problem: Problem, athlete: str, stay: CampStay) -> list[date]:
    days = RULE.number(problem, "days", athlete, stay.last)
    after = (stay.last + timedelta(days=i) for i in range(1, days + 1))
    return [d for d in after if d <= problem.block.ends]


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        stay = _short_stay(problem, athlete)
        if stay is None:
            continue
        camp = [busy(board, problem, athlete, d) for d in stay.days]
        for day in _after(problem, athlete, stay):
            columns = [*camp, busy(board, problem, athlete, day)]
            if any(c != board.always for c in columns):  # else nothing can be changed any more
                board.at_most([(1, c) for c in columns], len(camp), Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        stay = _short_stay(problem, athlete)
        if stay is None:
            continue

        def taken(day: date, who: str = athlete) -> bool:
            return bool(view.on(who, day)) or problem.competition_on(who, day) is not None

        def stands(day: date, who: str = athlete) -> bool:
            return bool(settled_on(problem, who, day)) or problem.competition_on(who, day) is not None

        for day in _after(problem, athlete, stay):
            days = (*stay.days, day)
            if all(map(taken, days)) and not all(map(stands, days)):
                tier = RULE.tier_at(problem, athlete, day)
                facts = {"n": len(stay.days), "last": stay.last}
                found.append(Finding(RULE.id, tier, 1, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['n']} camp days to {f['last']:%a %d %b} without one of rest, and "
        f"{finding.day:%a %d %b} is no day of rest either; two follow such a camp. Maybe leave it free."
    )
