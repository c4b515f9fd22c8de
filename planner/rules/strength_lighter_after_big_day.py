"""Strength on the day after a big day is planned in its lighter form from the start.

Big is a fast day with a load of 120 % of the usual fast day, three fast units, or 110 working minutes. Days
that are settled on both sides are not spoken of.
"""

from datetime import timedelta

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._big_day import PARAMETERS, big_column, is_big
from planner.rules._board import Board
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

_BIG = "flying-sprints + full-long-jumps"

RULE = Rule(
    id="strength_lighter_after_big_day",
    tier="should",
    weight=12,
    scope="athlete",
    reach=Reach(back=1),
    source=Source("common practice", "Common practice, no source: the lift goes on, its weight does not."),
    parameters=PARAMETERS,
    examples=(
        Example(f"{_BIG} | heavy-strength lighter | -", 0, "lighter on the day after"),
        Example(f"{_BIG} | heavy-strength | -", 1, "full on the day after, at the first edge"),
        Example(f"- | {_BIG} | power-lifts + heavy-strength", 1, "at the last edge, the day counts once"),
        Example(f"{_BIG} + heavy-strength | -", 0, "on the day itself"),
        Example("flying-sprints | heavy-strength", 0, "not a big day"),
        Example("power-lifts | -", 1, "big on the day before the block", {"history": _BIG}),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "medium-long-jumps", "heavy-strength")
    return problem(World(units, days=3, history=_BIG, kept="- | power-lifts | heavy-strength lighter"))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            big = big_column(RULE, board, problem, athlete, day - timedelta(1))
            known = problem.known_on(athlete, day)
            lifts = [p for p in known if p.unit.family == "strength" and p.dose.word == "full"]
            full = board.any_of(board.placed(p) for p in lifts)
            if not big == full == board.always:
                board.at_most([(1, big), (1, full)], 1, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    stands = PlanView((), problem)
    for athlete in problem.athletes:
        for day in problem.days:
            before = day - timedelta(1)
            lifts = [p for p in view.on(athlete, day) if p.unit.family == "strength"]
            full = [p for p in lifts if p.dose.word == "full"]
            if not full or not is_big(RULE, view, athlete, before):
                continue
            settled = settled_on(problem, athlete, day)
            if is_big(RULE, stands, athlete, before) and any(p in settled for p in full):
                continue
            facts = {"before": before, "unit": full[0].unit.name}
            tier = RULE.tier_at(problem, athlete, day)
            found.append(Finding(RULE.id, tier, 1, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.facts['unit']} on {finding.day:%a %d %b} is in full after the big day "
        f"of {finding.facts['before']:%a %d %b}. Maybe take its lighter version, or lift a day later."
    )
