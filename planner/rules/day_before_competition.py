"""The day before a competition is light: rest, mobility or a primer, thirty-five minutes at most.

That holds before a main and a supporting competition. Before one that is trained through, light technical
work is allowed: nothing near-maximal, no fast unit.
"""

from dataclasses import replace
from datetime import date, timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _meet(day: int, importance: str, athlete: str = "Ada") -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("open meeting", athlete, on, on, ("long jump",), importance)


_MAIN: dict[str, object] = {"block": {"competitions": (_meet(3, "main"),)}}
_DONE: dict[str, object] = {**_MAIN, "kept": "- | - | mobility + active-recovery"}
_NEXT: dict[str, object] = {"block": {"competitions": (_meet(4, "supporting"),)}}  # the day after the block
_THROUGH: dict[str, object] = {"block": {"competitions": (_meet(1, "train-through"),)}}
RULE = Rule(
    id="day_before_competition",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "common practice, no source"),
    parameters={
        "minutes": Parameter(35, "minutes", 0, 90, "before a main or a supporting competition"),
        "neural": Parameter(1, "fast-and-explosive demand 0-3", 0, 3, "before one that is trained through"),
    },
    examples=(
        Example("- | - | primer | -", 0, "a primer of 35 minutes before a main competition", _MAIN),
        Example("- | - | primer + mobility | -", 30, "65 minutes, 35 allowed", _MAIN),
        Example("- | - | primer | -", 35, "70 minutes are done already, none can be added", _DONE),
        Example("- | - | - | medicine-ball", 1, "throws before a supporting one, last edge", _NEXT),
        Example("medicine-ball | - | - | -", 0, "light work before one that is trained through", _THROUGH),
        Example("full-run-ups | - | - | -", 1, "run-ups before one that is trained through", _THROUGH),
    ),
)


def universe() -> Problem:
    meets = (_meet(1, "train-through"), _meet(3, "supporting"), _meet(4, "main"))
    units = ("primer", "mobility", "medicine-ball", "full-run-ups")
    made = problem(World(units, days=3, block={"competitions": meets[:2]}))
    return replace(made, candidates=tuple(map(_own, made.candidates)))


def _own(p: Placement) -> Placement:
    """A coach's own recovery unit may ask for more than light work; then it has no place here."""
    return replace(p, dose=replace(p.dose, neural=2)) if p.unit.id == "mobility" else p


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            day = meet.first_day - timedelta(1)
            if day not in problem.days:
                continue
            known = problem.known_on(athlete, day)
            where = Where(athlete, day, line=meet.line)
            barred = [p for p in known if _barred(problem, meet, p)]
            sure = sum(p in problem.settled for p in barred)
            board.at_most([(1, board.placed(p)) for p in barred], sure, where)
            if meet.importance != "train-through":
                minutes = [(p.dose.minutes, p) for p in known if p not in barred]
                most = RULE.number(problem, "minutes", athlete, day)
                most = max(most, sum(n for n, p in minutes if p in problem.settled))
                board.at_most([(n, board.placed(p)) for n, p in minutes], most, where)


def _barred(problem: Problem, meet: Competition, p: Placement) -> bool:
    """Does this never belong on the day before? Recovery units and the primer always may stand there."""
    if meet.importance == "train-through":
        return p.dose.neural > RULE.number(problem, "neural", p.athlete, p.day)
    return not p.unit.recovery_only or p.dose.neural > 1


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for meet in problem.competitions_of(athlete):
                if meet.first_day - day == timedelta(1):
                    found += _before(view, problem, meet, day)
    return found


def _before(view: PlanView, problem: Problem, meet: Competition, day: date) -> list[Finding]:
    tier = RULE.tier_at(problem, meet.athlete, day)
    strict = meet.importance != "train-through"
    most_neural = RULE.number(problem, "neural", meet.athlete, day)
    wrong: list[Placement] = []
    light: list[Placement] = []
    for p in view.on(meet.athlete, day):
        fits = p.unit.recovery_only and p.dose.neural <= 1 if strict else p.dose.neural <= most_neural
        (light if fits else wrong).append(p)
    found = []
    new = [p for p in wrong if p not in problem.settled]
    if new:
        facts: dict[str, object] = {"meet": meet.name, "units": ", ".join(p.unit.name for p in new)}
        found.append(Finding(RULE.id, tier, len(new), meet.athlete, day, facts=facts, line=meet.line))
    minutes = sum(p.dose.minutes for p in light)
    before = sum(p.dose.minutes for p in light if p in problem.settled)
    most = max(RULE.number(problem, "minutes", meet.athlete, day), before)
    if strict and minutes > most:
        facts = {"meet": meet.name, "minutes": minutes, "most": most}
        found.append(Finding(RULE.id, tier, minutes - most, meet.athlete, day, facts=facts, line=meet.line))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    head = f"{finding.athlete}, {finding.day:%a %d %b}, the day before {facts['meet']}:"
    if "units" in facts:
        return f"{head} {facts['units']} is too much. Maybe rest, mobility or the primer instead."
    return f"{head} {facts['minutes']} minutes, {facts['most']} are the most. Maybe leave one of the two out."
