"""Two athletes, one week, every unit of the catalogue and every rule of the book: CP-SAT and HiGHS agree.

Too many plans to try each; two solvers that share nothing but the rows stand in for that. Five instances by
default, which HiGHS proves in two seconds at most; PLANNER_PROOF=50 takes all fifty. HiGHS has LONGEST seconds a
tier for each: beyond the five, an instance that needs longer is skipped by name, so the run's last line counts it.
"""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest

from planner.known import understand
from planner.rules import book
from planner.solve.rows import RowStore, write_rows

from .test_three_ways import NotInTime, by_cp_sat, by_highs

USUAL = 5
NUMBERS = min(50, int(os.environ.get("PLANNER_PROOF", str(USUAL))))
LONGEST = 120.0  # seconds a tier for HiGHS, on a busy machine too; most need less than one
BUDGET = 100.0  # deterministic seconds for CP-SAT
EVENTS = ("100 m", "400 m", "long jump", "high jump", "triple jump", "100 m; long jump")
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat")
BLOCK = """block: {{name: Proof, from: 2027-03-01, until: 2027-03-07}}
slots:
  - {{days: {days}, name: evening, from: "17:00", until: "{until}"}}
athletes:
  - {{name: Ada Lindmoor, events: {one}, level: {level}, take_off_leg: left}}
  - {{name: Bo Harnvik, events: {other}, level: {second}, take_off_leg: right}}
"""


def instance(number: int, folder: Path) -> RowStore:
    """The rows of a week with one or two evenings of training; everything follows from the number."""
    r = Random(number)
    days = sorted(r.sample(DAYS, r.choice((1, 2))), key=DAYS.index)
    text = BLOCK.format(
        days="; ".join(days), until=r.choice(("18:30", "19:00")),
        one=r.choice(EVENTS), level=r.choice(("novice", "developing", "advanced")),
        other=r.choice(EVENTS), second=r.choice(("novice", "developing", "advanced")),
    )  # fmt: skip
    file = folder / "block.yaml"
    file.write_text(text, encoding="utf-8")
    made = understand(file)
    return write_rows(made, book())


@pytest.mark.parametrize("number", range(NUMBERS))
def test_the_same_best_value_with_the_whole_book(number: int, tmp_path: Path) -> None:
    store = instance(number, tmp_path)
    assert len(store.free) > 20, "too little to choose from"
    found = by_cp_sat(store, BUDGET)
    try:
        other = by_highs(store, LONGEST)
    except NotInTime:
        pytest.skip(f"instance {number}: HiGHS needs longer than {LONGEST:.0f} s a tier")
    assert other == found
