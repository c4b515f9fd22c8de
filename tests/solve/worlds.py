"""Random tiny worlds and rules of a test's own, for comparing solvers. Everything follows from a number."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise
from random import Random
from types import ModuleType

from planner.domain.finding import Finding, Line, Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule
from planner.rules._board import Board, Column
from planner.rules._rule import Reach, Rule, Source
from planner.rules._tiny import World, problem

Constrain = Callable[[Board, Problem], None]
UNITS = ("flying-sprints", "heavy-strength", "extensive-tempo", "full-run-ups", "mobility")


def rule(
    id_: str,
    tier: Tier,
    constrain: Constrain,
    weight: int = 1,
    check: Callable[[PlanView, Problem], list[Finding]] | None = None,
) -> BookRule:
    """A rule of a test's own: what it says to the solver and, where given, how it is checked."""
    source = Source("coach's decision", "a test's own rule")
    made = Rule(id_, tier, "athlete", Reach(), source, (), weight=weight)
    module = ModuleType(id_)
    module.__dict__.update(RULE=made, constrain=constrain, check=check or _nothing, explain=_explain)
    return BookRule(made, f"{id_.replace('_', ' ')}.", module)


def _nothing(view: PlanView, made: Problem) -> list[Finding]:
    return []


def _explain(finding: Finding) -> str:
    return f"{finding.athlete}, {finding.day:%a %d %b}: {finding.facts['said']}. Maybe leave it."


def required(asked: Sequence[tuple[str, date, str, int]], tier: Tier = "must") -> BookRule:
    """'Must be here': athlete, day, unit, and the line of the coach's file that says so."""

    def constrain(board: Board, made: Problem) -> None:
        for athlete, day, unit, line in asked:
            ways = [p for p in made.on(athlete, day) if p.unit.id == unit]
            board.at_least([(1, board.placed(p)) for p in ways], 1, Where(athlete, day, "", file_line(line)))

    def check(view: PlanView, made: Problem) -> list[Finding]:
        return [
            Finding("required", tier, 1, athlete, day, facts={"said": f"{unit} is missing", "unit": unit},
                    line=file_line(line))
            for athlete, day, unit, line in asked
            if all(p.unit.id != unit for p in view.on(athlete, day))
        ]  # fmt: skip

    return rule("required", tier, constrain, 5, check)


def one_at_a_time(unit: str) -> BookRule:
    """Only one athlete of the squad does a unit on a day: something shared is scarce."""

    def constrain(board: Board, made: Problem) -> None:
        for day in made.days:
            ways = [p for a in made.athletes for p in made.on(a, day) if p.unit.id == unit]
            board.at_most([(1, board.placed(p)) for p in ways], 1, Where("", day))

    return rule("one_at_a_time", "must", constrain)


def a_training_week(scarce: bool = True) -> dict[str, BookRule]:
    """Rules of a test's own that leave something to choose: targets, a cap, tiring pairs, one pit, order."""
    found = {
        "apart": rule("apart", "must", _fast_days_apart),
        "cap": rule("cap", "must", _cap),
        "targets": rule("targets", "should", _targets, 3),
        "tiring": rule("tiring", "should", _tiring, 2),
        "early": rule("early", "prefer", _early),
    }
    return {**found, "one_at_a_time": one_at_a_time("flying-sprints")} if scarce else found


def _fast_days_apart(board: Board, made: Problem) -> None:
    for athlete in made.athletes:
        fast = [board.any_of(board.placed(p) for p in made.on(athlete, d) if p.dose.neural >= 3)
                for d in made.days]  # fmt: skip
        for day, pair in zip(made.days[1:], pairwise(fast), strict=True):
            board.at_most([(1, c) for c in pair], 1, Where(athlete, day))


def _cap(board: Board, made: Problem) -> None:
    """At most 300 minutes after warm-ups a week: full amounts of everything do not fit."""
    for athlete in made.athletes:
        for week in made.weeks[athlete]:
            placed = [(p.dose.minutes, board.placed(p)) for d in week.days for p in made.on(athlete, d)]
            board.at_most(placed, 300, Where(athlete, week.days[0]))


def _targets(board: Board, made: Problem) -> None:
    """Three of each unit a week, counted in halves: lighter counts one half."""
    for athlete in made.athletes:
        for week in made.weeks[athlete]:
            units = sorted({p.unit.id for d in week.days for p in made.on(athlete, d)})
            for unit in units:
                terms = [
                    (2 if p.dose.word == "full" else 1, board.placed(p))
                    for d in week.days for p in made.on(athlete, d) if p.unit.id == unit
                ]  # fmt: skip
                board.at_least(terms, 5, Where(athlete, week.days[0]))


def _tiring(board: Board, made: Problem) -> None:
    """A day's minutes over 75, by started quarters of an hour; two days' over 120, by half hours."""
    for athlete in made.athletes:
        minutes = [[(p.dose.minutes, board.placed(p)) for p in made.on(athlete, d)] for d in made.days]
        for day, terms in zip(made.days, minutes, strict=True):
            board.at_most(terms, 75, Where(athlete, day), step=15)
        for day, (one, other) in zip(made.days[1:], pairwise(minutes), strict=True):
            board.at_most([(1, board.over([*one, *other], 120))], 0, Where(athlete, day), step=30)


def _early(board: Board, made: Problem) -> None:
    """Rather early in the week."""
    for p in made.candidates:
        if p.day.weekday() > 3:
            board.at_most([(1, board.placed(p))], 0, Where(p.athlete, p.day))


def file_line(number: int) -> Line:
    return Line("block.yaml", number)


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
