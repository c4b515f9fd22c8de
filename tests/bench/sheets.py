"""Measure printing: milliseconds a page, seconds to the first page, memory, and one athlete issued again.

    python tests/bench/sheets.py [SIZE|FOLDER] [--paper A4|Letter|A3]

SIZE (30x6) is athletes x weeks: a generated squad with a plan made cheaply, and its athletes' pages. FOLDER holds
a planned block (planner build FOLDER); without either the Easter block is planned first; both with the board.
Every run is a process of its own, started cold. Processor seconds of both processes stand beside the seconds by
the clock, which depend on what else the machine does.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from datetime import datetime
from importlib.metadata import version
from pathlib import Path
from zoneinfo import ZoneInfo

from generated import MONDAY, size_of, write_file

from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.flow import Settings, record
from planner.known import planned, understand
from planner.ledger import Ledger
from planner.numbers import train_by
from planner.review import review
from planner.rules import book
from planner.season import plan_in_parts
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.build_board import board_view
from planner.sheets.drawing import Sheet, draw_all
from planner.sheets.paper import BOARDS, PAGE_FOR, PAGES

ROOT = Path(__file__).parents[2]
COMMAND = "from planner.cli import main; main()"
# not as a script: a worker would load that again, and all that it imports
THIS = f"import sys; sys.path.insert(0, {str(ROOT / 'tests/bench')!r}); from sheets import main; main()"
MB = 1024  # kilobytes, the unit of a process's peak memory on Linux


def planned_cheaply(folder: Path, size: str) -> None:
    """A generated squad with the first greedy plan, recorded as a draft: pages do not ask how good a plan is."""
    from planner.solve import assign_coaches
    from planner.solve.greedy import greedy
    from planner.solve.rows import write_rows

    file = write_file(folder, *size_of(size), 1)
    problem = understand(file)

    def first(part: Problem) -> Plan:
        return Plan.of((*part.kept, *greedy(write_rows(part, book())).placements()))

    plan = assign_coaches(plan_in_parts(problem, first), problem)
    settings = Settings(lambda zone: datetime(MONDAY.year, MONDAY.month, 1, 9, tzinfo=ZoneInfo(zone)))
    with Ledger.open(file, create=True) as ledger:
        record(ledger, None, problem, review(plan, problem), settings)


def planned_example(folder: Path) -> None:
    """The shipped Easter block."""
    words = ["demo", str(folder), "--now", "2027-03-20 09:00"]
    subprocess.run([sys.executable, "-c", COMMAND, *words], check=True, cwd=ROOT, capture_output=True)


def sheets_of(folder: Path, paper: str, *, board: bool) -> list[Sheet]:
    """Every athlete's page of a planned block, as views; with the squad board where it is asked for."""
    problem, stored = planned(folder / "block.yaml")
    said = revision_view(stored.revision, True)
    page = PAGES[PAGE_FOR[paper]]
    by = train_by(stored.outcome.plan, problem)
    found = [
        Sheet(a.name, a.name, page, athlete_view(a, stored.outcome, problem, said, by))
        for a in problem.block.athletes
    ]
    if board:
        view = board_view(stored.outcome, problem, said, BOARDS[paper], stored.outcome.remarks)
        found.append(Sheet("board", "board", BOARDS[paper], view))
    return found


def one_run(folder: Path, paper: str, processes: int, *, board: bool) -> dict[str, float]:
    """What this process and those it started needed to draw every sheet."""
    at = time.perf_counter()
    sheets = sheets_of(folder, paper, board=board)
    words = time.perf_counter() - at
    before, at, first, pages = _processor(), time.perf_counter(), 0.0, 0
    for _, drawn in draw_all(sheets, processes):
        first = first or time.perf_counter() - at
        pages += drawn.pages
    took = time.perf_counter() - at
    kinds = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    memory = sum(resource.getrusage(kind).ru_maxrss for kind in kinds[:processes]) / MB
    weeks = sum(len(getattr(s.view, "weeks", ())) for s in sheets)
    return {"words": words, "first": first, "took": took, "pages": pages, "weeks": weeks,
            "processor": _processor() - before, "memory": memory}  # fmt: skip


def _processor() -> float:
    found = (resource.getrusage(kind) for kind in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(use.ru_utime + use.ru_stime for use in found)


def command(folder: Path, *words: str) -> tuple[float, float, float]:
    """`planner print` from a cold start: seconds to the first PDF and to the end, processor seconds."""
    sheets = folder / "sheets"
    before = _written(sheets)
    cpu, at, first = _processor(), time.perf_counter(), 0.0
    child = subprocess.Popen(
        [sys.executable, "-c", COMMAND, "print", str(folder), *words, "--now", f"{MONDAY.year}-01-02 09:00"],
        cwd=ROOT, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    while child.poll() is None:
        if not first and _written(sheets) != before:
            first = time.perf_counter() - at
        time.sleep(0.02)
    took = time.perf_counter() - at
    print(f"  {(child.stdout.read() if child.stdout else '').strip()}")
    return first, took, _processor() - cpu


def _written(sheets: Path) -> dict[Path, int]:
    return {p: p.stat().st_mtime_ns for p in sheets.glob("[!.]*.pdf")}


def told(folder: Path, paper: str, *, board: bool) -> None:
    """One line a measurement."""
    for processes in (1, 2):
        words = [sys.executable, "-c", THIS, str(folder), "--paper", paper, "--one-run", str(processes)]
        words += ["--board"] if board else []
        ran = subprocess.run(words, check=True, cwd=ROOT, capture_output=True, text=True)
        of = json.loads(ran.stdout)
        print(
            f"{processes} process(es): {of['pages']} pages of {of['weeks']} weeks in {of['took']:.1f} s,"
            f" {1000 * of['took'] / of['pages']:.0f} ms a page; {of['processor']:.1f} s of processor time,"
            f" {1000 * of['processor'] / of['pages']:.0f} ms a page; first sheet after {of['first']:.1f} s;"
            f" at most {of['memory']:.0f} MB; views before that {of['words']:.1f} s; load {_load()}",
            flush=True,
        )
    problem, _ = planned(folder / "block.yaml")
    one = problem.athletes[0]
    for what, said in (
        ("everything, nothing there yet", ()),
        ("everything again, unchanged", ()),
        (f"one athlete again ({one})", (one, "--fresh")),
    ):
        first, took, cpu = command(folder, *said)
        print(f"planner print, {what}: {took:.1f} s, {cpu:.1f} s of processor time"
              f"{f', first PDF after {first:.1f} s' if first else ''}; load {_load()}", flush=True)  # fmt: skip


def _load() -> str:
    return f"{os.getloadavg()[0]:.1f}"


def main() -> None:
    """Print one line a measurement."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("block", nargs="?", default="")
    asked.add_argument("--paper", default="A4", choices=sorted(BOARDS))
    asked.add_argument("--one-run", type=int, default=0, help=argparse.SUPPRESS)
    asked.add_argument("--board", action="store_true", help=argparse.SUPPRESS)
    given = asked.parse_args()
    if given.one_run:
        print(json.dumps(one_run(Path(given.block), given.paper, given.one_run, board=given.board)))
        return
    print(f"{datetime.now():%d %B %Y, %H:%M}, Python {sys.version.split()[0]}, weasyprint {version('weasyprint')}")
    generated = re.fullmatch(r"\d+x\d+", given.block)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "block" if generated or not given.block else Path(given.block)
        if generated:
            folder.mkdir()
            planned_cheaply(folder, given.block)
        elif not given.block:
            planned_example(folder)
        told(folder, given.paper, board=not generated)


if __name__ == "__main__":
    main()
