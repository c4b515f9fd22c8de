"""Random tiny worlds and rules of the trade's shape, for comparing solvers. Everything follows from a number."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from types import ModuleType

from planner.domain.finding import Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule
from planner.rules._board import Board, Column
from planner.rules._rule import Reach, Rule, Source
from planner.rules._tiny import World, problem

Constrain = Callable[[Board, Problem], None]
UNITS = ("flying-sprints", "heavy-strength", "extensive-tempo", "full-run-ups", "mobility")


def rule(id_: str, tier: Tier, constrain: Constrain, weight: int = 1) -> BookRule:
    """A rule with one face: what it says to the solver."""
    module = ModuleType(id_)
    module.__dict__["constrain"] = constrain
    made = Rule(id_, tier, "athlete", Reach(), Source("coach's decision", "a test's own rule"), (), weight=weight)
    module.__dict__["RULE"] = made
    module.__dict__["check"] = _nothing
    return BookRule(made, f"{id_.replace('_', ' ')}.", module)


def _nothing(view: PlanView, made: Problem) -> list[object]:
    return []


def tiny(number: int) -> Problem:
    """A world of at most 6,561 plans: 8 choices of absent, full, lighter, or 12 of absent, full."""
    r = Random(number)
    if r.random() < 0.5:
        return problem(World(sorted(r.sample(UNITS, 2)), days=2, athletes=2, amounts=("full", "lighter")))
    days, people = r.choice(((3, 2), (6, 1), (2, 3)))
    return problem(World(sorted(r.sample(UNITS, 2)), days=days, athletes=people))


def random_rules(number: int, made: Problem) -> dict[str, BookRule]:
    """Rules whose rows use every verb, with whole numbers of either sign, over random candidates."""
    tiers: tuple[Tier, ...] = ("must", "should", "should", "prefer", "prefer")
    found = {}
    for i, tier in enumerate(tiers):
        seed = number * 10 + i
        found[f"r{i}"] = rule(f"r{i}", tier, _random_rows(seed), weight=Random(seed).randint(1, 7))
    return found


def _random_rows(number: int) -> Constrain:
    def constrain(board: Board, made: Problem) -> None:
        r = Random(number)
        for _ in range(5):
            where = Where(r.choice(made.athletes), r.choice(made.days))
            few = [board.placed(p) for p in r.sample(list(made.candidates), 4)]
            _say(r, board, few, where)

    return constrain


def _say(r: Random, board: Board, few: list[Column], where: Where) -> None:
    terms = [(r.randint(1, 4), c) for c in few]
    pick = r.randrange(8)
    if pick == 0:
        board.at_most(terms, r.randint(1, 6), where, step=r.randint(1, 3))
    elif pick == 1:
        board.at_least(terms, r.randint(1, 5), where, step=r.randint(1, 3))
    elif pick == 2:
        board.implies(few[0], few[1:], where)
    elif pick == 3:
        board.at_most([(r.randint(1, 3), board.over(terms, r.randint(1, 4))), (1, few[0])], 2, where)
    elif pick == 4:
        board.at_most([(2, board.rounds_of(terms, r.randint(2, 4)))], r.randint(0, 3), where, step=2)
    elif pick == 5:
        board.at_most([(1, board.reaches(terms, r.randint(2, 5))), (1, board.any_of(few[2:]))], 1, where)
    elif pick == 6:
        board.at_least([(2, board.any_of(few[:2])), (-1, board.any_of(few[2:]))], r.randint(0, 2), where)
    else:
        board.at_least([(1, board.over(terms, 2)), (1, board.rounds_of(terms, 3))], r.randint(1, 4), where)


def every_plan(made: Problem) -> list[tuple[Placement, ...]]:
    """All plans: each unit of a slot absent, or at one of its amounts."""
    places: dict[tuple[object, ...], list[Placement]] = {}
    for p in made.candidates:
        places.setdefault(p.key[:4], []).append(p)
    plans: list[tuple[Placement, ...]] = [()]
    for options in places.values():
        plans += [(*plan, p) for plan in plans for p in options]
    return plans
