"""The young and the new wait for what their bodies are not ready for: age, years of training, sound landing.

A unit's least age and years come from the catalogue. Depth jumps want a sound landing on two legs of everyone
under 18 and of novices. In fast growth there are no bounds, hops or jumps from more than six steps. Full
triple jumps: none under 14, at most three a week under 16. Unknown years count as too few for novices and
under 18, an unknown birth date as grown up. Placements that are settled are not spoken of.
"""

from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import calendar_days, settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

TRIPLE = "full-triple-jumps"
LONG_RUN_UPS = (
    "medium-long-jumps", "medium-triple-jumps", "hop-and-step-run-ups", "run-up-pop-off",
)  # fmt: skip  # from more than six steps, beside the family full-jumps
YOUNG = 18  # years
TRIPLE_FEW = 16  # years; under it the weekly number of full triple jumps holds


def _person(year: int, **more: object) -> dict[str, object]:
    return {"persons": (Athlete("Ada", date(year, 1, 1), **{"level": "developing", **more}),)}  # type: ignore[arg-type]


_LIGHTER = "full-triple-jumps lighter + mobility"
RULE = Rule(
    id="youth_gates",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "common practice",
        "Common practice, no source; reviews of growth and maturation in young track and field athletes "
        "describe more injuries around the growth spurt.",
    ),
    parameters={
        "growth": Parameter(7, "cm a year", 4, 12, "growth above which impacts stop"),
        "triple_jumps": Parameter(3, "jumps a week", 0, 9, "full triple jumps under 16"),
    },
    examples=(
        Example(
            "depth-jumps | -",
            0,
            "15, two years, lands well",
            _person(2012, training_years=2, sound_landing=True),
        ),
        Example("depth-jumps | -", 1, "lands badly", _person(2011, training_years=3)),
        Example(
            "- | depth-jumps", 1, "one year of training", _person(2011, training_years=1, sound_landing=True)
        ),
        Example("depth-jumps | -", 1, "years unknown", _person(2011, sound_landing=True)),
        Example("depth-jumps | -", 0, "18 years, a grown-up", _person(2009)),
        Example(
            "full-triple-jumps | -", 3, "13 years, and five of three jumps", _person(2014, training_years=3)
        ),
        Example("full-triple-jumps | -", 2, "five of three jumps at 15", _person(2012, training_years=3)),
        Example(" | ".join([_LIGHTER] * 4), 0, "the lighter version does not count", _person(2012)),
        Example(
            "- | - | - | - | - | - | - | full-triple-jumps", 0, "16 years", _person(2011, training_years=3)
        ),
        Example("intensive-bounds | full-long-jumps", 2,
                "growth of 8 cm a year", _person(2010, growth_cm_per_year=8)),
        Example("short-long-jumps | low-multi-jumps", 0,
                "growth of 8 cm a year", _person(2010, growth_cm_per_year=8)),
        Example("intensive-bounds | full-long-jumps", 0,
                "growth of 7 cm a year", _person(2010, growth_cm_per_year=7)),
    ),
)


def universe() -> Problem:
    people = (
        Athlete("Ada", date(2012, 3, 2), level="developing", training_years=3),
        Athlete("Bo", date(2011, 1, 1), level="novice", training_years=1, sound_landing=True),
        Athlete("Cy", date(2010, 1, 1), level="developing", training_years=4, growth_cm_per_year=8),
    )
    units = (TRIPLE, "depth-jumps")
    return problem(World(units, days=2, persons=people, history=f"{TRIPLE} lighter", first=MONDAY))


def _gate(problem: Problem, p: Placement) -> str:
    """Why a placement is not for this athlete yet, in words; '' when it is."""
    person, unit = problem.block.athlete(p.athlete), p.unit
    age, years = person.age_on(p.day), person.training_years
    young = age is not None and age < YOUNG
    early = young or person.level == "novice"
    if age is not None and age < unit.least_age:
        return f"from {unit.least_age} years of age on"
    if unit.least_training_years and (early if years is None else years < unit.least_training_years):
        return f"after {unit.least_training_years} years of training"
    if unit.id == "depth-jumps" and early and not person.sound_landing:
        return "once landing on two legs is sound"
    grows = person.growth_cm_per_year > RULE.number(problem, "growth", p.athlete, p.day)
    far = unit.family == "full-jumps" or unit.id in LONG_RUN_UPS
    if grows and (far or p.dose.counters.get("high-contacts")):
        return "after the growth spurt"
    return ""


def _jumps(p: Placement) -> int:
    return p.dose.counters.get("full-jumps", 0) if p.unit.id == TRIPLE else 0


def _triples(problem: Problem, week: AthleteWeek) -> int | None:
    """Most full triple jumps of the week, or what stands if that is more; None when age sets none."""
    age = problem.block.athlete(week.athlete).age_on(week.first_day)
    if age is None or age >= TRIPLE_FEW:
        return None
    settled = [p for d in calendar_days(week) for p in settled_on(problem, week.athlete, d)]
    stands = sum(_jumps(p) for p in settled)
    return max(RULE.number(problem, "triple_jumps", week.athlete, week.first_day), stands)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            slots: dict[str, list[Column]] = {}
            for p in problem.on(athlete, day):
                if p not in problem.settled and _gate(problem, p):
                    slots.setdefault(p.slot, []).append(board.placed(p))
            for slot, columns in slots.items():
                board.at_most([(1, c) for c in columns], 0, Where(athlete, day, slot))
        for week in problem.weeks[athlete]:
            most = _triples(problem, week)
            if most is not None:
                known = [p for d in calendar_days(week) for p in problem.known_on(athlete, d)]
                terms = [(_jumps(p), board.placed(p)) for p in known if _jumps(p)]
                board.at_most(terms, most, Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        why = "" if p in problem.settled else _gate(problem, p)
        if why:
            tier = RULE.tier_at(problem, p.athlete, p.day)
            facts = {"what": f"{p.unit.name} are {why}"}
            found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts=facts))
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            most = _triples(problem, week)
            jumps = 0
            for day in calendar_days(week):
                jumps += sum(_jumps(p) for p in view.on(athlete, day))
            if most is not None and jumps > most:
                first = week.first_day
                facts = {"what": f"{jumps} full triple jumps this week, at most {most} at this age"}
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, jumps - most, athlete, first, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {finding.facts['what']}. "
        "Maybe take a unit from a shorter run-up, or one with less impact."
    )
