"""Blocks that follow each other for seasons: each is read once, and looking needs none of what is on offer."""

from __future__ import annotations

import shutil
from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from commands import TEN_LINES, here

from planner import flow, intake, known
from planner.domain.record import placement_record
from planner.ledger import Ledger

FIRST = date(2027, 3, 1)


@pytest.fixture
def chain(given: Path, tmp_path: Path) -> list[Path]:
    """Six weeks, each a block of its own that names the one before, each with a plan and a fact."""
    files: list[Path] = []
    for n in range(6):
        monday = FIRST + timedelta(weeks=n)
        folder = tmp_path / f"week-{n}"
        folder.mkdir()
        text = TEN_LINES.replace("2027-03-01", str(monday)).replace("2027-03-07", str(monday + timedelta(days=6)))
        if files:
            text = text.replace("block:", f"block:\n  previous: ../{files[-1].parent.name}/block.yaml", 1)
        (folder / "block.yaml").write_text(text, encoding="utf-8")
        shutil.copyfile(given / "block.ledger", folder / "block.ledger")  # any plan will do, whatever its days
        ran = here("log", folder, "weather", f"day={monday}", "rain=yes", "--now", f"{monday} 21:00")
        assert ran.code == 0, ran.said
        files.append(folder / "block.yaml")
    return files


def test_each_earlier_block_is_read_once(chain: list[Path], monkeypatch: pytest.MonkeyPatch) -> None:
    read: Counter[str] = Counter()
    plain = intake.read_block

    def counted(file: Path) -> object:
        read[file.resolve().parent.name] += 1
        return plain(file)

    monkeypatch.setattr(intake, "read_block", counted)
    problem, _ = known.planned(chain[-1])
    assert read == {f"week-{n}": 1 for n in range(6)}
    assert problem.history
    known.at_a_glance(chain[-1])
    assert read == {**{f"week-{n}": 1 for n in range(5)}, "week-5": 2}


def test_blocks_of_more_than_half_a_year_ago_are_left_alone(
    chain: list[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(known, "FOLLOWED_BACK", timedelta(weeks=2))
    read: list[str] = []
    plain = intake.read_block
    monkeypatch.setattr(intake, "read_block", lambda f: (read.append(f.resolve().parent.name), plain(f))[1])
    known.planned(chain[-1])
    assert sorted(read) == ["week-2", "week-3", "week-4", "week-5"], "week-2 is opened to see when it ended"


def test_a_glance_shows_the_plan_that_a_whole_look_shows(given: Path) -> None:
    file = given / "block.yaml"
    words = ("name=Cup", "first_day=2027-03-06", "last_day=2027-03-06", "athletes=Ada Lindmoor")
    assert here("log", given, "competition-added", *words, "--now", "2027-03-01 20:00").code == 0
    assert here("restore", given, "1", "--now", "2027-03-01 21:00").code == 0  # a revision that knows the fact
    whole, stored = known.planned(file)
    glance, seen = known.at_a_glance(file)
    assert [placement_record(p) for p in seen.placements] == [placement_record(p) for p in stored.placements]
    assert glance.block.competitions == whole.block.competitions != ()
    assert (glance.athletes, glance.units) == (whole.athletes, whole.units) and glance.candidates == ()


def test_a_fact_about_a_competition_of_the_earlier_block_is_understood(chain: list[Path]) -> None:
    """Whoever only looks knows this block; a meeting that stands in the earlier file is looked up there."""
    earlier = chain[-2].read_text(encoding="utf-8")
    meet = "competitions:\n  - {name: Late cup, date: 2027-04-20, importance: main}\n"
    chain[-2].write_text(earlier + meet, encoding="utf-8")
    moved = ("competition-moved", "name=Late cup", "was=2027-04-20", "first_day=2027-04-21", "last_day=2027-04-21")
    ran = here("log", chain[-1].parent, *moved, "--now", "2027-04-06 20:00")
    assert ran.code == 0 and "Recorded as fact" in ran.out, ran.said


def test_the_revision_in_which_a_page_last_changed(given: Path) -> None:
    """Told from the rows as they stand, it is what comparing whole plans says."""
    file = given / "block.yaml"
    for n, moment in ((1, "2027-03-01 20:00"), (1, "2027-03-01 21:00")):
        assert here("restore", given, str(n), "--now", moment).code == 0
    problem, stored = known.planned(file)
    with Ledger.open(file, create=False) as ledger:
        assert ledger.last_changes() == {"Ada Lindmoor": 1}
        fewer = stored.outcome.plan.placements[1:]


        outcome = replace(stored.outcome, plan=replace(stored.outcome.plan, placements=fewer))
        made = ledger.record_revision(stored.revision, outcome, ledger.inputs(1))
        assert ledger.last_changes() == {"Ada Lindmoor": made.number} == {"Ada Lindmoor": 4}
        none = replace(stored.outcome, plan=replace(stored.outcome.plan, placements=()))
        ledger.record_revision(stored.revision, none, ledger.inputs(1))
        ledger.record_revision(stored.revision, none, ledger.inputs(1))
        assert ledger.last_changes() == {"Ada Lindmoor": 5}
        found = flow.page_revisions(ledger, problem)
    assert {a: r.number for a, r in found.items()} == {"Ada Lindmoor": 5}
