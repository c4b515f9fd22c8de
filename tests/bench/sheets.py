"""Measure printing: milliseconds a page, in one process and in two.

    python tests/bench/sheets.py [FOLDER] [--paper A4|Letter|A3]

FOLDER holds a planned block (planner build FOLDER); without it the Easter block is planned first. Starting
Python and reading the ledger are not counted, importing the PDF engine is shown apart.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from planner.flow import planned
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.build_board import board_view
from planner.sheets.drawing import Sheet, draw_all
from planner.sheets.paper import BOARDS, PAGE_FOR, PAGES

ROOT = Path(__file__).parents[2]


def sheets_of(folder: Path, paper: str) -> list[Sheet]:
    """Every sheet of a planned block, as views."""
    problem, stored = planned(folder / "block.yaml")
    said = revision_view(stored.revision, True)
    page = PAGES[PAGE_FOR[paper]]
    found = [
        Sheet(a.name, a.name, page, athlete_view(a, stored.outcome, problem, said)) for a in problem.block.athletes
    ]
    board = board_view(stored.outcome, problem, said, BOARDS[paper], stored.outcome.remarks)
    return [Sheet("board", "board", BOARDS[paper], board), *found]


def main() -> None:
    """Print one line a measurement."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("folder", nargs="?", type=Path)
    asked.add_argument("--paper", default="A4", choices=sorted(BOARDS))
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        folder = given.folder or Path(scratch) / "demo"
        if given.folder is None:
            words = ["demo", str(folder), "--now", "2027-03-20 09:00"]
            code = "from planner.cli import main; main()"
            subprocess.run([sys.executable, "-c", code, *words], check=True, cwd=ROOT, capture_output=True)
        at = time.perf_counter()
        sheets = sheets_of(folder, given.paper)
        print(f"words and layout of {len(sheets)} sheets: {1000 * (time.perf_counter() - at):.0f} ms")
    at = time.perf_counter()
    import weasyprint  # noqa: F401

    print(f"import of the PDF engine: {1000 * (time.perf_counter() - at):.0f} ms")
    for processes in (1, 2):
        at, cpu = time.perf_counter(), time.process_time()
        drawn = draw_all(sheets, processes)
        took, pages = time.perf_counter() - at, sum(d.pages for d in drawn)
        own = time.process_time() - cpu
        print(f"{processes} process(es): {pages} pages in {took:.1f} s, {1000 * took / pages:.0f} ms a page"
              f" ({own:.1f} s of processor time in this process)")  # fmt: skip


if __name__ == "__main__":
    main()
