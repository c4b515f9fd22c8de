"""Where the two faces of a rule must agree, place by place: trials made from what stands in the rule's file.

A trial is a world and some plans of it. Rows and findings are compared by tier, athlete, day and slot, because
a coach's dated exception reaches both by these. The tests and the mutation run share the trials.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property
from itertools import islice, product
from random import Random

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Tier
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule
from planner.rules._rule import Example, Rule
from planner.rules._tiny import World, draw, problem
from planner.solve.rows import RowStore

Plan = tuple[Placement, ...]
Place = tuple[Tier, str, date | None, str]
Counted = dict[Place, int]  # points of a should or prefer; 1 for a must, however often it is broken there

MOST_PLANS = 20_000  # of a universe
SPREAD = 4000  # plans of the universe itself that a trial takes
SETTLED = ((0, 2), (1, 2), (0, 3), (1, 3), (2, 5))  # first candidate that is settled, and how many to the next
FEW = 60  # plans of the universe under one changed setting
AT_RANDOM = 24  # plans of an example's world beside the one drawn


@dataclass(frozen=True)
class Trial:
    """A world and plans of it on which the faces are compared."""

    what: str
    made: Problem
    plans: Sequence[Plan]
    example: Example | None = None  # its drawn plan is the first one

    @cached_property
    def views(self) -> list[PlanView]:
        return [PlanView(plan, self.made) for plan in self.plans]


def choices(made: Problem) -> list[list[Placement | None]]:
    """Per unit of a slot: absent, or placed at one of its amounts."""
    found: dict[tuple[str, object, str, str], list[Placement | None]] = {}
    for p in made.candidates:
        found.setdefault((p.athlete, p.day, p.slot, p.unit.id), [None]).append(p)
    return list(found.values())


def plans(made: Problem, most: int = MOST_PLANS) -> list[Plan]:
    """Plans of a tiny world, all of them or about as many as asked for, evenly spread."""
    options = choices(made)
    count = 1
    for some in options:
        count *= len(some)
    assert count <= MOST_PLANS, f"{count} plans in the universe, at most {MOST_PLANS}"
    apart = 1 if count <= most else count // most | 1  # odd, so that the last unit does not always stand the same
    every = islice(product(*options), 0, None, apart)
    return [tuple(p for p in plan if p is not None) for plan in every]


def example_world(text: str, extra: dict[str, object]) -> Problem:
    """The world of an example: the units it draws, as many days as it has cells."""
    words = {w for line in text.splitlines() for w in line.replace("|", " ").replace("+", " ").split()}
    slots = tuple(s for s in ("morning", "evening") if f"{s}:" in words) or ("evening",)
    units = sorted(w for w in words - {"-", "lighter", "full"} if not w.endswith(":"))
    fields: dict[str, object] = {
        "units": units,
        "days": max(len(line.split("|")) for line in text.strip().splitlines()),
        "athletes": len(text.strip().splitlines()),
        "slots": slots,
        "amounts": ("full", "lighter") if "lighter" in words else ("full",),
    }
    return problem(World(**{**fields, **extra}))  # type: ignore[arg-type]


def trials(rule: BookRule) -> Iterator[Trial]:
    """Examples and universe as they stand, and the same worlds after a coach changed or settled something."""
    for example in rule.rule.examples:
        trial = _of_example(example)
        yield trial
        yield from _lowered(rule.rule, trial)
        drawn = trial.plans[0]
        for kept in (drawn[:1], drawn[:-1], drawn[1:]):
            partly = settled(trial.made, kept)
            free = set(partly.candidates)
            rest = [tuple(p for p in plan if p in free) for plan in trial.plans]
            begun = Trial(f"{trial.what}, partly settled", partly, rest)
            yield begun
            yield from _lowered(rule.rule, begun)
    made = rule.universe()
    yield Trial("the universe", made, plans(made, SPREAD))
    yield from _lowered(rule.rule, Trial("the universe", made, plans(made, SPREAD // 10)))
    for first, apart in SETTLED:
        partly = settled(made, made.candidates[first::apart])
        trial = Trial(f"each {apart}. candidate settled, from {first}", partly, plans(partly, SPREAD // 10))
        yield trial
        yield from _lowered(rule.rule, trial)
    few = plans(made, FEW)
    for changed in settings(rule.rule, made):
        what = f"{changed.parameter} {changed.value} for {changed.athlete or 'all'} from {changed.begins}"
        yield Trial(what, under(made, changed), few)


def settled(made: Problem, kept: Sequence[Placement]) -> Problem:
    """The same world where these stand already, at one amount each."""
    stand = {(p.athlete, p.day, p.slot, p.unit.id): p for p in kept}
    free = tuple(p for p in made.candidates if (p.athlete, p.day, p.slot, p.unit.id) not in stand)
    return replace(made, candidates=free, kept=tuple(sorted({*made.kept, *stand.values()}, key=lambda p: p.key)))


def under(made: Problem, setting: RuleSetting) -> Problem:
    """The same world where the coach set this."""
    return replace(made, block=replace(made.block, settings=(*made.block.settings, setting)))


def _lowered(rule: Rule, trial: Trial) -> Iterator[Trial]:
    """The trial with a must lowered to a should: then not only places but amounts are compared."""
    if rule.tier == "must":
        made = under(trial.made, RuleSetting(rule.id, "tier", "should"))
        yield Trial(f"{trial.what}, as a should", made, trial.plans)


def _of_example(example: Example) -> Trial:
    """The drawn plan, the same without one placement, and others of its world at random (always the same)."""
    made = example_world(example.text, dict(example.world))
    drawn = draw(made, example.text)
    fewer = [(*drawn[:i], *drawn[i + 1 :]) for i in range(len(drawn))]
    chance = Random(example.text)
    options = choices(made)
    others = [
        tuple(p for some in options if (p := chance.choice(some)) is not None and chance.random() < share)
        for share in (0.3, 0.6, 1.0)
        for _ in range(AT_RANDOM // 3)
    ]
    return Trial(example.text, made, [drawn, *fewer, *others], example)


def settings(rule: Rule, made: Problem) -> Iterator[RuleSetting]:
    """A coach's other tier or number from a day on: every number of the rule, every day of the world.

    For one athlete, or for all where the rule is about a slot or the squad.
    """
    athlete = made.athletes[0] if rule.scope == "athlete" else ""
    for day in made.days:
        yield RuleSetting(rule.id, "tier", "prefer" if rule.tier == "should" else "should", athlete, day)
    for name, parameter in rule.parameters.items():
        beside = {max(parameter.low, parameter.default - 1), min(parameter.high, parameter.default + 1)}
        for value in sorted({*beside, parameter.low, parameter.high} - {parameter.default}):
            for day in made.days:
                yield RuleSetting(rule.id, name, value, athlete, day)


def rows_of(rule: BookRule, made: Problem) -> RowStore:
    store = RowStore(made)
    rule.constrain(store.board(rule.rule), made)
    return store


def by_rows(store: RowStore, plan: Plan) -> Counted:
    """What the rows say of a plan."""
    values = store.values(frozenset(plan))
    total: Counted = {}
    for row in store.rows:
        steps = row.breach(sum(k * values[c] for k, c in row.terms))
        if steps:
            place = (row.tier, row.where.athlete, row.where.day, row.where.slot)
            total[place] = 1 if row.tier == "must" else total.get(place, 0) + steps * row.weight
    return total


def by_findings(rule: Rule, made: Problem, findings: Sequence[Finding]) -> Counted:
    """What the check says of a plan."""
    total: Counted = {}
    for f in findings:
        place = (f.tier, *f.place)
        points = f.amount * rule.weight_at(made, f.athlete, f.day)
        total[place] = 1 if f.tier == "must" else total.get(place, 0) + points
    return total


def agree(rule: Rule, rows: Counted, findings: Counted) -> bool:
    """Do both say the same; or, where the rows are on purpose stricter, do they break what the check refuses?"""
    if rule.stricter:
        return all(place in rows for place in findings if place[0] == "must")
    return rows == findings
