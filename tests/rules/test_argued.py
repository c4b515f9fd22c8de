"""The table of argued survivors names rules and mutants that exist; a few rules are examined whole."""

from __future__ import annotations

import pytest
from mutation import argued, examine, mutants_of, shared

from planner.rules import book

QUICK = ("easy_day_after_fast", "even_spread", "weekly_maximum")


def test_every_entry_names_a_rule_and_a_mutant_of_it() -> None:
    wrong = []
    for rule, entries in argued().items():
        if rule not in book() and rule not in shared():
            wrong.append(f"argued.toml: there is no rule '{rule}'. Maybe it was renamed, or the entries can go.")
            continue
        known = {m.where for m in mutants_of(rule)}
        wrong += [
            f"argued.toml, {rule}: no mutant '{e['where']}'. Maybe the line changed: run mutation.py"
            for e in entries
            if e["where"] not in known
        ]
    assert not wrong, "\n".join(wrong)


def test_every_entry_says_why_once() -> None:
    for rule, entries in argued().items():
        wheres = [e["where"] for e in entries]
        assert len(wheres) == len(set(wheres)), f"argued.toml, {rule}: an entry stands twice"
        for e in entries:
            assert set(e) == {"where", "why"}, f"argued.toml, {rule}: {e}"
            assert e["why"].endswith(".") and len(e["why"].split()) > 5, f"argued.toml, {rule}: {e}"


@pytest.mark.parametrize("rule", QUICK)
def test_a_few_rules_have_no_open_survivor(rule: str) -> None:
    report = examine(rule, seconds=120)
    assert report.tried > 10
    assert not report.open and not report.stale and not report.not_examined
