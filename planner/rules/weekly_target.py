"""Every family of units comes as often in a week as its target says: not less, and not more either.

What is missing weighs by how much the family matters in this phase: key, supporting, if there is time. More
than the target weighs little: the maximum is a ceiling, never a recipe. Training days and fast days have
targets too; a competition is a training day but not one of the fast days meant here.
"""

from collections.abc import Iterator

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
    "counts": {"top-speed": Count(0, 1, 2), "tempo": Count(0, 2, 3)},
    "fast_days": Count(0, 1, 3),
    "training_days": Count(0, 2, 4),
    "importance": {"top-speed": "key", "tempo": "if there is time"},
}
RULE = Rule(
    id="weekly_target",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=2,
    source=Source(
        "derived",
        "Weekly counts by event, level and phase: common practice; that targets and spacing fit together in "
        "a seven-day week was checked by computation. What gives way first: common practice, no source.",
    ),
    parameters={
        "key": Parameter(15, "parts for each one missing", 1, 60, "a key family"),
        "supporting": Parameter(5, "parts for each one missing", 1, 60, "a supporting family, training days"),
        "if_there_is_time": Parameter(2, "parts for each one missing", 0, 60, "a family for spare time"),
        "above": Parameter(1, "parts for each one above", 0, 60, "any of them beyond its target"),
    },
    examples=(
        Example("flying-sprints | - | extensive-tempo | extensive-tempo", 1, "a day too many", {"week": TWO}),
        Example("flying-sprints + extensive-tempo | - | - | extensive-tempo", 0, "as wanted", {"week": TWO}),
        Example("- | extensive-tempo | - | extensive-tempo", 20, "key unit 15, fast day 5", {"week": TWO}),
        Example(
            "flying-sprints | - | - | flying-sprints",
            6,
            "two fast units and days where one is wanted (1 + 1), two tempo runs missing (2 + 2)",
            {"week": TWO},
        ),
    ),
)  # fmt: skip


def universe() -> Problem:
    return problem(World(("flying-sprints", "extensive-tempo", "mobility"), days=4, week=TWO))


def factor(problem: Problem, week: AthleteWeek, what: str) -> int:
    """How much one missing counts, by what the week holds to be key, supporting or for spare time."""
    name = POINTS[week.importance.get(what, "supporting")]
    return RULE.number(problem, name, week.athlete, week.first_day)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            where = Where(athlete, week.first_day)
            above = RULE.number(problem, "above", athlete, week.first_day)
            for what, count, columns in _counted(board, problem, week):
                k = factor(problem, week, what)
                board.at_least([(k, c) for c in columns], k * count.target, where)
                board.at_most([(above, c) for c in columns], above * count.target, where)


def _counted(board: Board, problem: Problem, week: AthleteWeek) -> Iterator[tuple[str, Count, list[Column]]]:
    known = {d: problem.known_on(week.athlete, d) for d in week.days}
    placed: dict[str, list[Column]] = {}
    for p in (p for ps in known.values() for p in ps if not p.unit.preparation):
        placed.setdefault(p.unit.family, []).append(board.placed(p))
    for family, count in sorted(week.counts.items()):
        yield family, count, placed.get(family, [])
    meets = {d for d in week.days if problem.competition_on(week.athlete, d)}
    fast = [
        board.any_of(board.placed(p) for p in known[d] if p.dose.neural >= 3) for d in known if d not in meets
    ]
    yield "fast days", week.fast_days, fast
    yield "training days", week.training_days, [
        board.always if d in meets else board.any_of(board.placed(p) for p in ps) for d, ps in known.items()
    ]  # fmt: skip


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            done = {family: 0 for family in week.counts}
            for p in view.in_week(week):
                if p.unit.family in done and not p.unit.preparation:
                    done[p.unit.family] += 1
            wanted = {**week.counts, "fast days": week.fast_days, "training days": week.training_days}
            meets = {d for d in week.days if problem.competition_on(athlete, d)}
            done["fast days"] = len(set(view.fast_days(week)) - meets)
            done["training days"] = len(set(view.training_days(week)) | meets)
            for what, count in wanted.items():
                missing = count.target - done[what]
                above = RULE.number(problem, "above", athlete, week.first_day)
                parts = max(missing * factor(problem, week, what), -missing * above)
                if parts:
                    facts = {"what": what.replace("-", " "), "n": done[what], "target": count.target}
                    tier = RULE.tier_at(problem, athlete, week.first_day)
                    found.append(Finding(RULE.id, tier, parts, athlete, week.first_day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    n, target = int(str(facts["n"])), int(str(facts["target"]))
    what = family_in_words(str(facts["what"]))
    aim = target if what.endswith("days") else times(target)
    remedy = "add one where the days allow it" if n < target else "leave one out"
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {how_often(what, n)}, the target is {aim}. "
        f"Maybe {remedy}, or accept it if the week asks for it."
    )
