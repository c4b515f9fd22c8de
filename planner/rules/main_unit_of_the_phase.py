"""A family that matters this week is led by its main unit of the phase, at its full amount.

'Strength' in a phase of heavy lifting means heavy lifting; 'speed' means flying sprints. Other units of the
family support it. Asked once a week and family, and only where the main unit may be placed in full at all.
"""

from planner.catalogue import family_in_words, unit_in_words
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

STRENGTH = {
    "counts": {"strength": Count(0, 1, 3), "tempo": Count(0, 0, 3)},
    "importance": {"strength": "key"},
    "main_units": {"strength": "heavy-strength", "tempo": "extensive-tempo"},
}
SPARE = {
    **STRENGTH,
    "counts": {"strength": Count(0, 1, 3), "tempo": Count(0, 1, 3)},
    "importance": {"strength": "key", "tempo": "if there is time"},
}
RULE = Rule(
    id="main_unit_of_the_phase",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=5,
    source=Source("common practice", "Which unit leads a family in a phase: common practice, no source."),
    parameters={
        "key": Parameter(4, "parts for a key family", 0, 20),
        "supporting": Parameter(2, "parts for a supporting family", 0, 20),
    },
    examples=(
        Example("heavy-strength | - | power-lifts | -", 0, "led by the heavy lifts; no tempo is planned", {
            "week": STRENGTH, "units": ("extensive-tempo", "heavy-strength", "power-lifts")}),
        Example("heavy-strength | - | easy-run | -", 0, "tempo is for spare time: whatever leads it", {
            "week": SPARE, "units": ("easy-run", "extensive-tempo", "heavy-strength")}),
        Example("power-lifts | - | - | -", 4, "never the heavy lifts, key family", {
            "week": STRENGTH, "units": ("power-lifts", "heavy-strength")}),
        Example("- | - | - | heavy-strength lighter", 4, "only in the lighter form", {"week": STRENGTH}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("heavy-strength", "power-lifts", "extensive-tempo")
    return problem(World(units, days=3, amounts=("full", "lighter"), week=STRENGTH))


def parts(problem: Problem, week: AthleteWeek, family: str) -> int:
    """How much a missing main unit counts; 0 when the family is not planned or only if there is time."""
    importance = week.importance.get(family, "supporting")
    if importance == "if there is time" or week.counts[family].target < 1:
        return 0
    return RULE.number(problem, importance, week.athlete, week.first_day)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for family, unit in sorted(week.main_units.items()):
                mine = [p for d in week.days for p in problem.known_on(athlete, d) if p.unit.id == unit]
                full = [board.placed(p) for p in mine if p.dose.word == "full"]
                if full and family in week.counts:
                    k = parts(problem, week, family)
                    board.at_least([(k, board.any_of(full))], k, Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    possible = {(p.athlete, p.day, p.unit.id) for p in problem.candidates if p.dose.word == "full"}
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            done = {p.unit.id for p in view.in_week(week) if p.dose.word == "full"}
            for family, unit in week.main_units.items():
                if family not in week.counts or unit in done:
                    continue
                amount = parts(problem, week, family)
                if amount and any((athlete, day, unit) in possible for day in week.days):
                    facts = {"family": family.replace("-", " "), "unit": unit.replace("-", " ")}
                    tier = RULE.tier_at(problem, athlete, week.first_day)
                    found.append(Finding(RULE.id, tier, amount, athlete, week.first_day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    unit = unit_in_words(str(finding.facts["unit"]))
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: no {unit} in full, the main work of "
        f"{family_in_words(str(finding.facts['family']))} in this phase. "
        "Maybe take it for another unit of the kind."
    )
