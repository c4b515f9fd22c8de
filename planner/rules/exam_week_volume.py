"""In an exam week there is clearly less to do: about three fifths of the usual volume, in short sessions.

Volume is effort x minutes of the units without warm-ups, compared with the average of the loading weeks among
the four weeks before (where the block has none yet: with the highest week known from before it).
"""

from dataclasses import replace
from fractions import Fraction
from math import ceil, gcd

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

LOOK_BACK = 4  # weeks
STEP = 100  # effort x minutes that make one step of the price: a short easy unit
LOADING = ("loading", "camp")
_EXAMS: dict[str, object] = {
    "week": {"exam_week": True, "kind": "easier", "reference": {"load": 1000}, "reference_known": True}
}
_UNKNOWN: dict[str, object] = {"week": {"exam_week": True, "kind": "easier"}}
_METRES: dict[str, object] = {
    "week": {"exam_week": True, "kind": "easier", "reference": {"fast-metres": 300}, "reference_known": True}
}
RULE = Rule(
    id="exam_week_volume",
    tier="should",
    scope="athlete",
    reach=Reach(back=34, whole_weeks=True),
    weight=40,
    source=Source("common practice", "common practice, no source: 40-50 % less in an exam week"),
    parameters={"percent": Parameter(60, "percent of the loading weeks", 20, 100, "volume that may stay")},
    examples=(
        Example("flying-sprints | - | - | -", 0, "load 455 of 600", _EXAMS),
        Example("flying-sprints | - | - | extensive-tempo", 2, "load 705 of 600: two started steps", _EXAMS),
        Example("- | extensive-tempo | - | flying-sprints", 2, "the same at the last edge", _EXAMS),
        Example("flying-sprints | - | - | flying-sprints", 0, "no exam in this week"),
        Example("flying-sprints | - | - | flying-sprints", 0, "no usual week is known", _UNKNOWN),
        Example("flying-sprints | - | - | flying-sprints", 0, "of the usual week no load is known", _METRES),
    ),
)


def universe() -> Problem:
    """Six weeks that are planned on Mondays; exams in the first, when nothing was done yet, and in the last."""
    units = ("flying-sprints", "extensive-tempo")
    usual = {"reference": {"load": 1000}, "reference_known": True}
    made = problem(World(units, 36, week=usual))
    kinds = ("camp", "loading", "easier", "loading", "camp", "loading")
    weeks = [replace(w, kind=kind) for w, kind in zip(made.weeks["Ada"], kinds, strict=True)]
    weeks[0], weeks[-1] = (replace(w, exam_week=True) for w in (weeks[0], weeks[-1]))
    mondays = tuple(p for p in made.candidates if p.day.weekday() == 0)
    return replace(made, weeks={"Ada": tuple(weeks)}, candidates=mondays)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        weeks = problem.weeks[athlete]
        for week in (w for w in weeks if w.exam_week):
            where = Where(athlete, week.days[0])
            percent = RULE.number(problem, "percent", athlete, week.days[0])
            before = [w for w in weeks if 0 < week.index - w.index <= LOOK_BACK and w.kind in LOADING]
            usual = week.reference.get("load", 0) if week.reference_known and not before else 0
            if not before and not usual:
                continue
            times = 100 * max(1, len(before))
            part = gcd(times, percent)
            terms: list[Term] = []
            for own, days in ((times, week.days), *((-percent, w.days) for w in before)):
                for day in days:
                    known = problem.known_on(athlete, day)
                    terms.extend((own // part * p.dose.load, board.placed(p)) for p in known)
            board.at_most(terms, percent // part * usual, where, step=times // part * STEP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        loads: dict[int, int] = {}  # week number -> volume of a loading week
        for week in problem.weeks[athlete]:
            own = sum(p.dose.load for p in view.in_week(week))
            recent = [n for i, n in loads.items() if i >= week.index - LOOK_BACK]
            if not recent and week.reference_known and week.reference.get("load", 0):
                recent = [week.reference["load"]]
            if week.kind in LOADING:
                loads[week.index] = own
            if not week.exam_week or not recent:
                continue
            day = week.days[0]
            percent = RULE.number(problem, "percent", athlete, day)
            most = Fraction(percent * sum(recent), 100 * len(recent))
            if own > most:
                facts = {"n": own, "most": int(most)}
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, ceil((own - most) / STEP), athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.athlete}, exam week of {finding.day:%a %d %b}: volume {facts['n']} (effort x minutes "
        f"without warm-ups), {facts['most']} would do. Maybe keep one or two short sessions only."
    )
