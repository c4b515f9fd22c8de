"""No family of units comes less often in a week than its minimum.

This weighs on top of the weekly target, so that one below the minimum costs four times one below the target.
"""

from planner.catalogue import family_in_words
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import how_often, times
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

POINTS = {"key": "key", "supporting": "supporting", "if there is time": "if_there_is_time"}
TWO = {
    "counts": {"top-speed": Count(1, 1, 2), "tempo": Count(2, 2, 3)},
    "training_days": Count(2, 2, 4),
    "importance": {"top-speed": "key", "tempo": "if there is time"},
}
RULE = Rule(
    id="weekly_minimum",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=6,
    source=Source(
        "derived",
        "Weekly counts by event, level and phase: common practice; minimum counts fit into a seven-day week "
        "in every case that was computed.",
    ),
    parameters={
        "key": Parameter(15, "parts for each one missing", 1, 60, "a key family"),
        "supporting": Parameter(5, "parts for each one missing", 1, 60, "a supporting family, training days"),
        "if_there_is_time": Parameter(2, "parts for each one missing", 0, 60, "a family for spare time"),
    },
    examples=(
        Example("flying-sprints | - | extensive-tempo | extensive-tempo", 0, "all minima", {"week": TWO}),
        Example("- | extensive-tempo | - | extensive-tempo", 15, "the key unit is missing", {"week": TWO}),
        Example("flying-sprints | - | - | -", 9, "two tempo runs (2 + 2), a day (5)", {"week": TWO}),
        Example("extensive-tempo | - | - | flying-sprints", 2, "one tempo run is missing", {"week": TWO}),
    ),
)  # fmt: skip


def universe() -> Problem:
    return problem(World(("flying-sprints", "extensive-tempo"), days=5, week=TWO))


def factor(problem: Problem, week: AthleteWeek, what: str) -> int:
    """How much one missing counts, by what the week holds to be key, supporting or for spare time."""
    name = POINTS[week.importance.get(what, "supporting")]
    return RULE.number(problem, name, week.athlete, week.first_day)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            where = Where(athlete, week.first_day)
            known = {d: problem.known_on(athlete, d) for d in week.days}
            placed: dict[str, list[Column]] = {}
            for p in (p for ps in known.values() for p in ps if not p.unit.preparation):
                placed.setdefault(p.unit.family, []).append(board.placed(p))
            for family, count in sorted(week.counts.items()):
                k = factor(problem, week, family)
                board.at_least([(k, c) for c in placed.get(family, ())], k * count.minimum, where)
            k = factor(problem, week, "training days")
            days: list[Column] = []
            for day, ps in known.items():
                meets = problem.competition_on(athlete, day)
                days.append(board.always if meets else board.any_of(board.placed(p) for p in ps))
            board.at_least([(k, c) for c in days], k * week.training_days.minimum, where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            placements = [p for p in view.in_week(week) if not p.unit.preparation]
            done = {f: sum(p.unit.family == f for p in placements) for f in week.counts}
            least = {f: count.minimum for f, count in week.counts.items()}
            days = {d for d in week.days if view.on(athlete, d) or problem.competition_on(athlete, d)}
            done["training days"], least["training days"] = len(days), week.training_days.minimum
            for what, n in done.items():
                short = (least[what] - n) * factor(problem, week, what)
                if short > 0:
                    facts = {"what": what.replace("-", " "), "n": n, "least": least[what]}
                    tier = RULE.tier_at(problem, athlete, week.first_day)
                    found.append(Finding(RULE.id, tier, short, athlete, week.first_day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts, what = finding.facts, family_in_words(str(finding.facts["what"]))
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {how_often(what, facts['n'])}, "
        f"at least {times(facts['least'])} is needed this week. Maybe open another slot, "
        "or take it in its lighter version."
    )
