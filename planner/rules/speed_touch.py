"""Once fast running is part of training, no more than ten days go by without a touch of top speed.

A touch is a unit with metres at 95 % and faster, beyond the first steps of a start; a competition is one too.
Asked for in specific preparation, pre-competition and competition. Where nothing of the kind can be placed
within those days, nothing is asked for.
"""

from datetime import date, timedelta

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

PHASES = ("specific-preparation", "pre-competition", "competition")
TOO_SHORT = ("short-accelerations", "block-starts")  # top speed is not reached in them
_TWO: dict[str, object] = {"block": {"settings": (RuleSetting("speed_touch", "days", 2),)}}
RULE = Rule(
    id="speed_touch",
    tier="should",
    scope="athlete",
    reach=Reach(back=30),
    weight=8,
    source=Source(
        "common practice",
        "Common practice, no source; that a touch lost for five days is lost is a disputed claim.",
    ),
    parameters={"days": Parameter(10, "days", 2, 30, "from one touch of top speed to the next")},
    examples=(
        Example("flying-sprints | - | flying-sprints | -", 0, "the next touch two days later", _TWO),
        Example("flying-sprints | - | - | flying-sprints", 1, "three days, two are the most", _TWO),
        Example("- | flying-sprints | short-accelerations | -", 1, "starts are no touch, last edge", _TWO),
        Example("- | - | - | flying-sprints", 0, "not part of training before", _TWO),
        Example("- | - | - | flying-sprints", 1, "it was, before", {**_TWO, "history": "flying-sprints"}),
        Example("- | - | flying-sprints | -", 0, "two days without, the first in general preparation", {
            **_TWO, "history": "flying-sprints", "first": MONDAY - timedelta(1),
            "weeks": {0: {"phase": "general-preparation"}}}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "short-accelerations")
    settings = (RuleSetting(RULE.id, "days", 2),)
    return problem(World(units, days=5, history="flying-sprints | -", block={"settings": settings}))


def _is_touch(p: Placement) -> bool:
    return bool(p.dose.counters.get("fast-metres")) and p.unit.id not in TOO_SHORT


def _asked(problem: Problem, athlete: str, days: list[date]) -> bool:
    """Do all these days (inside the block) lie in phases that ask, and can a touch be placed there?"""
    weeks = [problem.week_of(athlete, d) for d in days if d >= problem.block.begins]
    if any(w is None or w.phase not in PHASES for w in weeks):
        return False
    return any(
        problem.competition_on(athlete, d) or any(_is_touch(p) for p in problem.known_on(athlete, d))
        for d in days
    )


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        columns: dict[date, Column] = {}
        for day in problem.days:
            gap = RULE.number(problem, "days", athlete, day)
            window = [day - timedelta(i) for i in range(gap + 1)]  # the last day first
            for d in window:
                if d not in columns:
                    columns[d] = _touch(board, problem, athlete, d)
            if _asked(problem, athlete, window[:-1]):
                board.implies(columns[window[-1]], [columns[d] for d in window[:-1]], Where(athlete, day))


def _touch(board: Board, problem: Problem, athlete: str, day: date) -> Column:
    if problem.competition_on(athlete, day):
        return board.always
    return board.any_of(board.placed(p) for p in problem.known_on(athlete, day) if _is_touch(p))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        last: date | None = None
        longest = RULE.parameters["days"].high
        for day in (problem.block.begins + timedelta(i) for i in range(-longest, len(problem.days))):
            meets = problem.competition_on(athlete, day)
            if meets or any(_is_touch(p) for p in view.on(athlete, day)):
                last = day
            if last is None or day < problem.block.begins:
                continue
            gap = RULE.number(problem, "days", athlete, day)
            since = [last + timedelta(i) for i in range(1, (day - last).days + 1)]
            if len(since) == gap and _asked(problem, athlete, since):
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, 1, athlete, day, facts={"last": last, "gap": gap}))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: from {finding.facts['last']:%a %d %b} to {finding.day:%a %d %b} no touch of top "
        f"speed, {finding.facts['gap']} days are the most. Maybe add a short one to a fast day."
    )
