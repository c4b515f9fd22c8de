"""No family of units, and no number of training days, goes beyond its maximum of the week.

A calendar week counts, with what was done in it before the block. A maximum is not scaled to the days
available. Preparation that comes with a unit is not counted. A competition day is a training day.
"""

from datetime import date

from planner.catalogue import family_in_words
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import how_often, times
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

ONE = {"counts": {"top-speed": Count(0, 1, 1)}, "training_days": Count(0, 2, 2)}
RULE = Rule(
    id="weekly_maximum",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source(
        "derived",
        "Weekly counts by event, level and phase: common practice; that targets and spacing fit together in "
        "a seven-day week was checked by computation.",
    ),
    examples=(
        Example("flying-sprints | - | mobility | -", 0, "one of one, two days of two", {"week": ONE}),
        Example("flying-sprints | - | - | flying-sprints", 1, "the second is too many", {"week": ONE}),
        Example("- | mobility | mobility | mobility", 1, "three training days, two at most", {"week": ONE}),
        Example("- | - | - | flying-sprints + build-ups", 1, "two of one family on one day", {"week": ONE}),
    ),
)


def universe() -> Problem:
    return problem(World(("flying-sprints", "mobility"), days=5, week=ONE))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            known = {d: problem.known_on(athlete, d) for d in week.calendar}
            families: dict[str, list[Placement]] = {}
            for p in (p for ps in known.values() for p in ps if not p.unit.preparation):
                families.setdefault(p.unit.family, []).append(p)
            for family, count in sorted(week.counts.items()):
                mine = families.get(family, [])
                limit = max(count.maximum, sum(p in problem.settled for p in mine))
                board.at_most([(1, board.placed(p)) for p in mine], limit, Where(athlete, week.first_day))
            days: list[Term] = []
            sure = 0
            for day, ps in known.items():
                meets = problem.competition_on(athlete, day) is not None
                days.append((1, board.always if meets else board.any_of(board.placed(p) for p in ps)))
                sure += meets or any(p in problem.settled for p in ps)
            board.at_most(days, max(week.training_days.maximum, sure), Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            placements = [p for d in week.calendar for p in view.on(athlete, d) if not p.unit.preparation]
            for family in sorted(week.counts):
                mine = [p for p in placements if p.unit.family == family]
                before = len([p for p in mine if p in problem.settled])
                most = week.counts[family].maximum
                if len(mine) > max(most, before):
                    found.append(_finding(problem, week, family, len(mine), max(most, before)))
            days = [d for d in week.calendar if view.on(athlete, d) or problem.competition_on(athlete, d)]
            fixed = len([d for d in days if _fixed(view, problem, athlete, d)])
            most = week.training_days.maximum
            if len(days) > max(most, fixed):
                found.append(_finding(problem, week, "training days", len(days), max(most, fixed)))
    return found


def _fixed(view: PlanView, problem: Problem, athlete: str, day: date) -> bool:
    if problem.competition_on(athlete, day):
        return True
    return any(p in problem.settled for p in view.on(athlete, day))


def _finding(problem: Problem, week: AthleteWeek, what: str, n: int, most: int) -> Finding:
    day = week.first_day
    facts = {"what": what.replace("-", " "), "n": n, "most": most}
    return Finding(
        RULE.id, RULE.tier_at(problem, week.athlete, day), n - most, week.athlete, day, facts=facts
    )


def explain(finding: Finding) -> str:
    what, most = family_in_words(str(finding.facts["what"])), int(str(finding.facts["most"]))
    said = most if what.endswith("days") else times(most)
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {how_often(what, finding.facts['n'])}, "
        f"the most for this week is {said}. Maybe leave one out, or move it into another week."
    )
