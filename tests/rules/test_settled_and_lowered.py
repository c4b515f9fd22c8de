"""A rule where everything is settled already, and where a coach lowers a must (see agreement.py for the rest)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from agreement import rows_of, trials

from planner.domain.view import PlanView
from planner.rules import BookRule, book

RULES = list(book().values())
by_name = pytest.mark.parametrize("rule", RULES, ids=lambda r: r.id)


@by_name
def test_nothing_left_to_choose_is_never_impossible(rule: BookRule) -> None:
    made = rule.universe()
    kept = {(p.athlete, p.day, p.slot, p.unit.id): p for p in made.candidates}
    settled = tuple(sorted({*made.kept, *kept.values()}, key=lambda p: p.key))
    done = replace(made, candidates=(), kept=settled)
    assert not rows_of(rule, done).evaluate(frozenset()).broken
    assert not [f for f in rule.check(PlanView((), done), done) if f.tier == "must"]


@by_name
def test_a_must_lowered_to_a_should_has_findings_to_compare(rule: BookRule) -> None:
    if rule.rule.tier != "must":
        return
    lowered = [t for t in trials(rule) if t.what == "the universe, as a should"]
    assert len(lowered) == 1
    findings = [f for view in lowered[0].views for f in rule.check(view, lowered[0].made)]
    assert findings and all(f.tier == "should" for f in findings)
