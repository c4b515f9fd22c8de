"""The page of the rule book says what the rule files say."""

from __future__ import annotations

from pathlib import Path

from planner.rules import book
from planner.rules._page import page

PAGE = Path(__file__).parents[2] / "planner" / "rules" / "README.md"


def test_the_page_is_current() -> None:
    remedy = "run: python -m planner.rules._page > planner/rules/README.md"
    assert PAGE.read_text(encoding="utf-8") == page(), remedy


def test_every_rule_stands_on_it_with_its_source() -> None:
    text = page()
    for rule in book().values():
        assert f"`{rule.id}`" in text and rule.rule.source.text in text
