"""A week of organised training stays under its hours, other sport included; a minor's hours under the age.

Minutes of a session: 25 of warm-up, its units after the warm-up, and what preparation takes beyond 15. When
other sport alone is beyond the hours, nothing may be added, and that is all that can be asked of a plan.
"""

from dataclasses import replace
from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES, PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

_GIRL = Athlete("Ada", date(2017, 2, 1), "f", ("all",), "novice", other_sport_minutes={1: 240, 3: 120})
_MINOR: dict[str, object] = {"persons": (_GIRL,)}  # ten years old: 600 minutes, 360 of them other sport
_WOMAN = replace(_GIRL, born=date(2009, 2, 1), other_sport_minutes={1: 1200})
_OF_AGE: dict[str, object] = {"persons": (_WOMAN,)}
_TWO_HOURS: dict[str, object] = {"week": {"hours_cap": 120}}
RULE = Rule(
    id="weekly_hours",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "study",
        "Jayanthi, LaBella, Fischer, Pasulka, Dugas 2015, American Journal of Sports Medicine 43(4):794-801: "
        "injured young athletes more often trained more hours a week than their age; adults' hours common "
        "practice.",
    ),
    examples=(
        Example("flying-sprints | - | mobility | -", 0, "90 and 30 minutes of 120", _TWO_HOURS),
        Example("flying-sprints | - | - | build-ups", 20, "90 and 50 minutes of 120", _TWO_HOURS),
        Example("flying-sprints | - | flying-sprints | build-ups", 0, "230 and 360 minutes of 600", _MINOR),
        Example("flying-sprints | build-ups | build-ups | build-ups", 0, "240 and 360 of 600", _MINOR),
        Example("flying-sprints | build-ups | flying-sprints | build-ups", 40, "280 and 360 minutes", _MINOR),
        Example("flying-sprints | - | - | build-ups", 0, "eighteen: the limit by age is over", _OF_AGE),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "short-long-jumps", "mobility")
    girl = replace(_GIRL, other_sport_minutes={1: 300, 3: 150})
    return problem(World(units, days=4, persons=(girl,), week={"hours_cap": 700}, preparation=True))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            cap = _cap(problem, week)
            if cap is None:
                continue
            other = problem.block.athlete(athlete).other_sport_minutes
            terms: list[Term] = [(other.get(d.weekday(), 0), board.always) for d in week.days]
            sure = sum(n for n, _ in terms)
            for day in week.days:
                slots: dict[str, list[Placement]] = {}
                for p in problem.known_on(athlete, day):
                    slots.setdefault(p.slot, []).append(p)
                for _, there in sorted(slots.items()):
                    terms += _session(board, there)
                    sure += _minutes([p for p in there if p in problem.settled])
            board.at_most(terms, max(cap, sure), Where(athlete, week.first_day))


def _cap(problem: Problem, week: AthleteWeek) -> int | None:
    """Minutes a week may have: the week's own, and a minor's age in hours."""
    age = problem.block.athlete(week.athlete).age_on(week.begins)
    caps = [age * 60] if age is not None and age < 18 else []
    if week.hours_cap is not None:
        caps.append(week.hours_cap)
    return min(caps, default=None)


def _session(board: Board, there: list[Placement]) -> list[Term]:
    known = [(p, board.placed(p)) for p in there]
    drills = [(p.dose.preparation_minutes, c) for p, c in known]
    return [
        (WARM_UP_MINUTES, board.any_of(c for p, c in known if not p.unit.recovery_only)),
        (1, board.over(drills, PREPARATION_INSIDE_WARM_UP)),
        *((p.dose.minutes, c) for p, c in known),
    ]


def _minutes(done: list[Placement]) -> int:
    drills = sum(p.dose.preparation_minutes for p in done)
    warm_up = WARM_UP_MINUTES * any(not p.unit.recovery_only for p in done)
    return warm_up + sum(p.dose.minutes for p in done) + max(0, drills - PREPARATION_INSIDE_WARM_UP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    before = PlanView((), problem)  # what is settled already
    for athlete in problem.block.athletes:
        for week in problem.weeks[athlete.name]:
            minutes = sum(view.day_minutes(athlete.name, d) for d in week.days)
            sure = sum(before.day_minutes(athlete.name, d) for d in week.days)
            other = sum(athlete.other_sport_minutes.get(d.weekday(), 0) for d in week.days)
            cap = week.hours_cap
            age = athlete.age_on(week.begins)
            if age is not None and age < 18:
                cap = age * 60 if cap is None else min(cap, age * 60)
            if cap is not None and minutes + other > max(cap, sure + other):
                day = week.first_day
                facts = {"minutes": minutes, "other": other, "cap": cap}
                tier = RULE.tier_at(problem, athlete.name, day)
                over = minutes + other - max(cap, sure + other)
                found.append(Finding(RULE.id, tier, over, athlete.name, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    other = f" and {facts['other']} of other sport" if facts["other"] else ""
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {facts['minutes']} minutes of training{other}, "
        f"together {facts['cap']} are the most. Maybe leave out a unit, or less other sport in this week."
    )
