"""Whoever nothing happened to holds the same page to the last byte; nothing private stands on what others read."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from week import at

from planner import flow
from planner.cli.facts import fact_from
from planner.ledger import Ledger
from planner.replan import replan, tell

ASTA, ALONE = "Asta Brunnvik", ("Ivo Telmark", "Suvi Ranholm", "Elo Markwist")
NOW = "2027-03-09 08:05"
WORD = "Wimpernschlag"  # planted in a private field
pytestmark = [pytest.mark.needs_pdf]


def pages(file: Path, folder: Path) -> dict[str, bytes]:
    """Everybody's pages and the board that hangs on the wall, printed into an empty folder."""
    flow.print_again(file, replace(at(NOW), sheets=folder), (ASTA, *ALONE, "board"))
    return {p.name: p.read_bytes() for p in sorted(folder.iterdir()) if p.is_file()}


def of(found: dict[str, bytes], *names: str) -> set[str]:
    """The files that are pages of these athletes."""
    return {file for file in found for n in names if n.split()[0].lower() in file.lower()}


def test_an_untouched_page_is_the_same_bytes(squad: Path, tmp_path: Path) -> None:
    """In the second week Asta falls ill and her plan changes; the others' pages, in HTML and as PDF, do not."""
    shutil.copytree(squad, tmp_path / "own")
    file = tmp_path / "own" / "block.yaml"
    before = pages(file, tmp_path / "before")
    settings = replace(at(NOW), sheets=tmp_path / "replanned")
    words = [f"athlete={ASTA}", "begins=2027-03-09", "ends=2027-03-11", "fever=yes", f"note={WORD}"]
    tell(file, [fact_from("ill", words, settings.now("Europe/London"))], settings)
    made = replan(file, settings)
    assert {c.athlete for c in made.changes} == {ASTA} and set(made.unchanged) == set(ALONE)
    printed = {p.name: b"" for p in (tmp_path / "replanned").iterdir()}
    with Ledger.open(file, create=False) as ledger:  # until it is, every page says 'draft'
        ledger.hand_out(made.result.revision.number, settings.now("Europe/London"))
    after = pages(file, tmp_path / "after")
    others = of(before, *ALONE)
    assert {n.rsplit(".")[-1] for n in others} >= {"html", "pdf"} and len(others) >= 2 * len(ALONE)
    assert [n for n in sorted(others) if after.get(n) != before[n]] == []
    assert any(after[n] != before[n] for n in of(before, ASTA)), "her page did change"
    assert of(printed, ASTA) and not of(printed, *ALONE), "only what changes was printed again"
    shared = [text.lower() for n, text in after.items() if n.endswith(".html") and n not in of(after, ASTA)]
    assert shared and not [text for text in shared if WORD.lower().encode() in text or b"fever" in text]
