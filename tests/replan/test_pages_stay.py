"""Whoever nothing happened to holds the same page to the last byte, and what is private stands on no page of theirs."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from conftest import at
from three_weeks import ADA, IVO, three_weeks

from planner import flow
from planner.cli.facts import fact_from
from planner.replan import replan, tell

NOW = "2027-03-03 21:00"
WORD = "Wimpernschlag"  # planted in a private field
pytestmark = [pytest.mark.needs_pdf]


@pytest.fixture(scope="module")
def planned_weeks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return three_weeks(tmp_path_factory.mktemp("three-weeks"))


def pages(file: Path, folder: Path) -> dict[str, bytes]:
    """Everybody's pages and the board that hangs on the wall, printed into an empty folder."""
    flow.print_again(file, replace(at(NOW), sheets=folder), (ADA, IVO, "board"))
    return {p.name: p.read_bytes() for p in sorted(folder.iterdir()) if p.is_file()}


def test_an_untouched_page_is_the_same_bytes(planned_weeks: Path, tmp_path: Path) -> None:
    """Ada falls ill and her plan changes; Ivo's page, in HTML and as PDF, does not."""
    shutil.copytree(planned_weeks.parent, tmp_path / "own")
    file = tmp_path / "own" / "block.yaml"
    before = pages(file, tmp_path / "before")
    settings = replace(at(NOW), sheets=tmp_path / "replanned")
    words = [f"athlete={ADA}", "begins=2027-03-03", "ends=2027-03-05", "fever=yes", f"note={WORD}"]
    tell(file, [fact_from("ill", words, settings.now("Europe/London"))], settings)
    made = replan(file, settings)
    assert {c.athlete for c in made.changes} == {ADA} and made.unchanged == (IVO,)
    printed = {p.name for p in (tmp_path / "replanned").iterdir()}
    after = pages(file, tmp_path / "after")
    own = {n for n in before if "ivo" in n.lower()}
    hers = {n for n in before if "ada" in n.lower()}
    assert {n.rsplit(".")[-1] for n in own} >= {"html", "pdf"} and own <= set(after)
    for name in sorted(own):
        assert after[name] == before[name], name
    assert hers and any(after[n] != before[n] for n in hers), "her page did change"
    assert not printed & own, "and only what changes was printed again"
    assert date(2027, 3, 5) < made.changes[0].day
    readable = [text for n, text in after.items() if n.endswith(".html")]
    assert readable and not [text for text in readable if WORD.encode() in text or b"fever" in text.lower()]
