"""Cards, measuring sheets and the coach's pages of every shipped example: nothing overflows or is missing."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from planned_examples import planned

from planner.domain.revision import Revision
from planner.sheets import Beside, print_sheets
from planner.sheets.build_measuring import at_pits
from planner.solve.timetable import timetable

EXAMPLES = ("easter-block", "juniors", "indoor-to-outdoor", "heat-camp", "club-camp")
MADE = Revision(1, datetime(2027, 1, 4, 9, tzinfo=ZoneInfo("UTC")), "built")


@pytest.mark.needs_pdf
@pytest.mark.parametrize("name", EXAMPLES)
def test_the_fullest_day_of_an_example_fits_its_sheets(tmp_path: Path, name: str) -> None:
    problem, outcome, _ = planned(name)
    slots = Counter((p.day, p.slot) for p in outcome.plan.placements)
    pits = [p for p in outcome.plan.placements if at_pits([p], problem)]
    most = Counter(p.day for p in pits).most_common(1)
    day = most[0][0] if most else slots.most_common(1)[0][0][0]
    here = tuple(p for p in outcome.plan.placements if p.day == day)
    tables, clashes = timetable(replace(outcome.plan, placements=here), problem)
    beside = Beside(problem.block.begins, tables=tables, clashes={(c.day, c.slot): c for c in clashes})
    for paper, words in (("A4", ("session", "measuring", str(day))), ("Letter", ("run-up", "competition"))):
        report = print_sheets(
            outcome, problem, MADE, tmp_path, paper=paper, names=words, beside=beside, processes=1
        )
        assert report.complete and not report.warnings, (report.overflow, report.not_written, report.warnings)
    written = {p.name for p in tmp_path.iterdir() if p.suffix == ".html"}
    for slot in {s for d, s in slots if d == day}:
        assert any(n.startswith(f"session-{day}-{slot.replace(' ', '-')}") for n in written), slot
    assert sum(n.startswith("run-up-") for n in written) == len(
        {r.athlete for r in problem.block.run_ups if r.event in ("long jump", "triple jump")}
    )
    inside = [c for c in problem.block.competitions if problem.block.begins <= c.first_day <= problem.block.ends]
    assert sum(n.startswith("competition-") for n in written) == len(inside)
    said = " ".join(p.read_text(encoding="utf-8").lower() for p in tmp_path.iterdir() if p.suffix == ".html")
    assert " nan " not in said and ">nan<" not in said and "none<" not in said
