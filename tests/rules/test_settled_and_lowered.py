"""Both faces of every rule agree also where part of the plan is settled, and where a coach lowers a must."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, product

import pytest

from planner.domain.block import RuleSetting
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule, book
from planner.solve.rows import RowStore

RULES = list(book().values())
SAMPLES = 400
by_name = pytest.mark.parametrize("rule", RULES, ids=lambda r: r.id)


def some_plans(made: Problem) -> list[tuple[Placement, ...]]:
    """Plans taken evenly from all that there are: each unit of a slot absent or at one amount."""
    choices: dict[tuple[str, object, str, str], list[Placement | None]] = {}
    for p in made.candidates:
        choices.setdefault((p.athlete, p.day, p.slot, p.unit.id), [None]).append(p)
    count = 1
    for options in choices.values():
        count *= len(options)
    apart = max(1, count // SAMPLES) | 1  # odd, so that the last unit does not always stand the same
    every = islice(product(*choices.values()), 0, None, apart)
    return [tuple(p for p in plan if p is not None) for plan in every]


def agree(rule: BookRule, made: Problem) -> int:
    """Compare rows and findings over some plans; how many plans had any finding."""
    store = RowStore(made)
    rule.constrain(store.board(rule.rule), made)
    found = 0
    for plan in some_plans(made):
        findings = rule.check(PlanView(plan, made), made)
        result = store.evaluate(frozenset(plan))
        musts = [f for f in findings if f.tier == "must"]
        priced = {t: sum(r.values()) for t, r in result.price.items()}
        points: dict[str, int] = {}
        for f in findings:
            if f.tier != "must":
                weight = rule.rule.weight_at(made, f.athlete, f.day)
                points[f.tier] = points.get(f.tier, 0) + f.amount * weight
        drawn = [f"{p.athlete} {p.day:%a %d} {p.slot} {p.unit.id} {p.dose.word}" for p in plan]
        assert bool(result.broken) == bool(musts), f"{drawn}: rows {result.broken}, check {musts}"
        assert priced == points, f"{drawn}: {findings}"
        found += bool(findings)
    return found


@by_name
def test_with_a_part_settled(rule: BookRule) -> None:
    if rule.rule.stricter:
        pytest.skip("on purpose stricter")
    made = rule.universe()
    for first in range(2):
        kept = {(p.athlete, p.day, p.slot, p.unit.id): p for p in made.candidates[first::3]}
        free = tuple(p for p in made.candidates if (p.athlete, p.day, p.slot, p.unit.id) not in kept)
        settled = tuple(sorted({*made.kept, *kept.values()}, key=lambda p: p.key))
        agree(rule, replace(made, candidates=free, kept=settled))


@by_name
def test_nothing_left_to_choose_is_never_impossible(rule: BookRule) -> None:
    made = rule.universe()
    kept = {(p.athlete, p.day, p.slot, p.unit.id): p for p in made.candidates}
    settled = tuple(sorted({*made.kept, *kept.values()}, key=lambda p: p.key))
    done = replace(made, candidates=(), kept=settled)
    store = RowStore(done)
    rule.constrain(store.board(rule.rule), done)
    assert not store.evaluate(frozenset()).broken
    assert not [f for f in rule.check(PlanView((), done), done) if f.tier == "must"]


@by_name
def test_with_a_must_lowered_to_a_should(rule: BookRule) -> None:
    if rule.rule.tier != "must" or rule.rule.stricter:
        return
    made = rule.universe()
    lowered = RuleSetting(rule.id, "tier", "should")
    block = replace(made.block, settings=(*made.block.settings, lowered))
    assert agree(rule, replace(made, block=block)), "no plan of the sample has a finding"
