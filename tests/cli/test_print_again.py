"""Printing twice: what stands there unchanged is said to be, and a plan that is only printed needs no offers."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from commands import here

from planner.domain.plan import Plan
from planner.domain.problem import Problem

NOW = "2027-02-27 12:00"
WHO = "Ada Lindmoor"

pytestmark = pytest.mark.needs_pdf


@pytest.fixture
def draft(built: Path, tmp_path: Path) -> Path:
    """A copy of the built block with its sheets."""
    return Path(shutil.copytree(built, tmp_path / "draft"))


def test_what_build_printed_is_not_drawn_again(draft: Path) -> None:
    """The page of a problem with everything that may be placed is that of one without."""
    ran = here("print", draft, WHO, "--now", NOW)
    assert (ran.code, ran.out.split(" in ")[0]) == (0, "2 sheets unchanged"), ran.said
    ran = here("print", draft, WHO, "--fresh", "--now", NOW)
    assert (ran.code, ran.out.split(" in ")[0]) == (0, "2 sheets"), ran.said
    ran = here("build", draft, "--now", NOW, "--budget", "quick")
    assert ran.code == 0 and "stands unchanged" in ran.out and "6 sheets unchanged in" in ran.out, ran.said


def test_handing_out_prints_clean_pages_once(draft: Path) -> None:
    pages = draft / "sheets" / "athlete-ada-lindmoor-A4.html"
    assert "Draft" in pages.read_text(encoding="utf-8")
    ran = here("hand-out", draft, "--now", NOW)
    assert ran.code == 0 and "unchanged" not in ran.out, ran.said
    assert "Draft" not in pages.read_text(encoding="utf-8")
    again = here("print", draft, "--now", NOW)
    assert again.code == 0 and "sheets unchanged in" in again.out and "\n" not in again.out.strip(), again.said


def test_a_slot_is_printed_with_all_that_could_stand_in_it(draft: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Why a slot has no timetable names what could stand there instead, so its problem holds the offers."""
    from planner.solve import timetable as homes

    plain, seen = homes.timetable, []

    def timetable(plan: Plan, problem: Problem, *rest: Any) -> Any:
        seen.append(len(problem.candidates))
        return plain(plan, problem, *rest)

    monkeypatch.setattr(homes, "timetable", timetable)
    assert here("print", draft, "session", "2027-03-01", "--now", NOW).code == 0
    assert len(seen) == 1 and seen[0] > 0
