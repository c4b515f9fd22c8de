"""What every rule file must keep: its examples, and that its two faces agree in its own tiny universe."""

from __future__ import annotations

from itertools import islice, product

import pytest

from planner.domain.finding import Finding
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import BookRule, book
from planner.rules._tiny import World, draw, problem
from planner.solve.rows import RowStore

MOST_PLANS = 20_000
RULES = list(book().values())
by_name = pytest.mark.parametrize("rule", RULES, ids=lambda r: r.id)


def plans(made: Problem) -> list[tuple[Placement, ...]]:
    """Every plan of a tiny world: each unit of a slot is absent, or placed at one of its amounts."""
    choices: dict[tuple[str, object, str, str], list[Placement]] = {}
    for p in made.candidates:
        choices.setdefault((p.athlete, p.day, p.slot, p.unit.id), []).append(p)
    count = 1
    for options in choices.values():
        count *= len(options) + 1
    assert count <= MOST_PLANS, f"{count} plans in the universe, at most {MOST_PLANS}"
    every = product(*[[None, *options] for options in choices.values()])
    return [tuple(p for p in plan if p is not None) for plan in every]


def points(rule: BookRule, made: Problem, findings: list[Finding]) -> dict[str, int]:
    total: dict[str, int] = {}
    for f in findings:
        if f.tier != "must":
            weight = rule.rule.weight_at(made, f.athlete, f.day)
            total[f.tier] = total.get(f.tier, 0) + f.amount * weight
    return total


@by_name
def test_faces_agree_on_every_plan(rule: BookRule) -> None:
    made = rule.universe()
    store = RowStore(made)
    rule.constrain(store.board(rule.rule), made)
    kept = broken = 0
    for plan in plans(made):
        findings = rule.check(PlanView(plan, made), made)
        result = store.evaluate(frozenset(plan))
        musts = [f for f in findings if f.tier == "must"]
        drawn = [f"{p.athlete} {p.day:%a} {p.slot} {p.unit.id} {p.dose.word}" for p in plan]
        priced = {t: sum(r.values()) for t, r in result.price.items()}
        if rule.rule.stricter:
            assert not musts or result.broken, f"the solver allows what the check refuses: {drawn}"
        else:
            assert bool(result.broken) == bool(musts), f"{drawn}: rows {result.broken}, check {musts}"
            assert priced == points(rule, made, findings), f"{drawn}: {findings}"
        kept += not findings
        broken += bool(findings)
    assert kept and broken, f"a vacuous universe: kept in {kept} plans, broken in {broken}"


@by_name
def test_examples_counted_by_hand(rule: BookRule) -> None:
    assert any(e.findings == 0 for e in rule.rule.examples), "needs an example that keeps the rule"
    assert any(e.findings for e in rule.rule.examples), "needs an example that breaks the rule"
    for example in rule.rule.examples:
        made = example_world(example.text, dict(example.world))
        found = rule.check(PlanView(draw(made, example.text), made), made)
        assert sum(f.amount for f in found) == example.findings, f"{example.text}: {example.why}: {found}"


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


@by_name
def test_sentences_of_findings(rule: BookRule) -> None:
    made = rule.universe()
    solver_words = ("constraint", "variable", "infeasible", "objective", "penalty", "literal", "solver")
    said = 0
    for plan in plans(made):
        for finding in islice(rule.check(PlanView(plan, made), made), 3):
            text = rule.explain(finding)
            assert text.endswith(".") and "Maybe" in text, text
            assert not any(w in text.lower() for w in solver_words), text
            said += 1
        if said > 200:
            break
    assert said


@by_name
def test_windows_equal_the_whole(rule: BookRule) -> None:
    """A finding on a day depends on nothing beyond the rule's reach: cut the plan there, find it again."""
    from datetime import timedelta

    made = rule.universe()
    reach = rule.rule.reach
    for plan in islice(plans(made), 0, None, 37):
        for finding in rule.check(PlanView(plan, made), made):
            if finding.day is None:
                continue
            first, last = finding.day - timedelta(reach.back), finding.day + timedelta(reach.forward)
            if reach.whole_weeks:
                first -= timedelta(first.weekday())
                last += timedelta(6 - last.weekday())
            window = tuple(p for p in plan if first <= p.day <= last)
            again = rule.check(PlanView(window, made), made)
            assert any(f.place == finding.place and f.amount == finding.amount for f in again), finding


def test_the_folder_is_the_registry() -> None:
    assert RULES
    for rule in RULES:
        assert rule.rule.source.text.strip()
        assert rule.sentence.endswith((".", ":")) or rule.sentence[0].isupper()
