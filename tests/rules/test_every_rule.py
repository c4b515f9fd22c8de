"""What every rule file must keep: its examples, and that its two faces agree wherever its own worlds can tell."""

from __future__ import annotations

from itertools import islice

import pytest
from agreement import Plan, agree, by_findings, by_rows, example_world, plans, rows_of, trials

from planner.domain.view import PlanView
from planner.rules import BookRule, book
from planner.rules._tiny import draw

RULES = list(book().values())
by_name = pytest.mark.parametrize("rule", RULES, ids=lambda r: r.id)


@by_name
def test_faces_agree_on_every_plan(rule: BookRule) -> None:
    made = rule.universe()
    store = rows_of(rule, made)
    kept = broken = 0
    for plan in plans(made):
        findings = rule.check(PlanView(plan, made), made)
        rows, found = by_rows(store, plan), by_findings(rule.rule, made, findings)
        assert agree(rule.rule, rows, found), f"{drawn(plan)}: rows {rows}, check {found}"
        kept += not findings
        broken += bool(findings)
    assert kept and broken, f"a vacuous universe: kept in {kept} plans, broken in {broken}"


@by_name
def test_faces_agree_in_every_trial(rule: BookRule) -> None:
    """Examples, a universe settled in part, and each number of the rule changed from each day on."""
    for trial in trials(rule):
        store = rows_of(rule, trial.made)
        for plan, view in zip(trial.plans, trial.views, strict=True):
            rows, found = by_rows(store, plan), by_findings(rule.rule, trial.made, rule.check(view, trial.made))
            assert agree(rule.rule, rows, found), f"{trial.what}: {drawn(plan)}: rows {rows}, check {found}"


def drawn(plan: Plan) -> list[str]:
    return [f"{p.athlete} {p.day:%a %d} {p.slot} {p.unit.id} {p.dose.word}" for p in plan]


@by_name
def test_examples_counted_by_hand(rule: BookRule) -> None:
    assert any(e.findings == 0 for e in rule.rule.examples), "needs an example that keeps the rule"
    assert any(e.findings for e in rule.rule.examples), "needs an example that breaks the rule"
    for example in rule.rule.examples:
        made = example_world(example.text, dict(example.world))
        found = rule.check(PlanView(draw(made, example.text), made), made)
        assert sum(f.amount for f in found) == example.findings, f"{example.text}: {example.why}: {found}"
        assert all(f.tier == example.tier for f in found if example.tier), f"{example.text}: {found}"


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
