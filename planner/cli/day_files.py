"""The command `day` with files: the day's sheet, blank and filled in, and timing files."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from planner.cli.words import wrapped
from planner.domain.facts import Done
from planner.domain.plan import Placement
from planner.domain.problem import Problem

if TYPE_CHECKING:
    from planner.flow import Settings

SHEET_ENDINGS = (".csv", ".tsv", ".xlsx")


def write_blank(path: Path, here: Sequence[Placement], problem: Problem, file: Path) -> list[str]:
    """Write the sheet of these placements; what is said of it."""
    from planner.intake.day_sheet import write_day_sheet

    write_day_sheet(path, here, problem)
    return [
        f"Wrote {path}, {len(here)} units. Fill in only what was otherwise than planned,",
        f"then: planner day {file} --from {path}",
    ]


def record_sheet(file: Path, sheet: Path, on: date | None, settings: Settings) -> None:
    """Record what a filled-in sheet says, all of it or nothing."""
    from planner.intake.day_sheet import read_day_sheet
    from planner.known import at_a_glance
    from planner.replan import tell

    problem, stored = at_a_glance(file)
    now = settings.now(problem.block.time_zone)
    filled = read_day_sheet(sheet, stored.placements, problem, now, on)
    done = [fact for _, fact in filled.facts]
    tell(file, done, settings, at=[line for line, _ in filled.facts], wrong=filled.wrong, seen=problem)
    days = sorted({f.day for f in done})
    print(f"Recorded {summed(done, ', '.join(f'{d:%a %d %b}' for d in days))}.")
    told = {(f.athlete, f.day, f.slot, f.unit) for f in done}
    left = [p for p in stored.placements if p.day in days and p.key[:4] not in told]
    if left:
        said = "; ".join(f"{p.athlete}, {p.short}" for p in left)
        print("\n".join(wrapped(f"Not in the sheet, so nothing is recorded of: {said}")))
    if otherwise(done):
        print(f"When all is recorded: planner replan {file}")


def record_timing(file: Path, path: Path, columns: str, on: date | None, settings: Settings) -> None:
    """Record the runs of a timing file, all of them or none; what its columns mean is kept beside the block."""
    from planner.intake.timing import columns_from, columns_path, read_columns, read_timing, write_columns
    from planner.known import at_a_glance
    from planner.replan import tell

    problem, _ = at_a_glance(file)
    now = settings.now(problem.block.time_zone)
    kept = columns_path(file)
    means = columns_from(columns, "--columns") if columns else read_columns(kept)
    timed = read_timing(path, means, problem, now, on or now.date())
    tell(
        file,
        [fact for _, fact in timed.facts],
        settings,
        at=[line for line, _ in timed.facts],
        wrong=timed.wrong,
        seen=problem,
    )
    runs = sum(len(fact.attempts) for _, fact in timed.facts)
    people = len({fact.athlete for _, fact in timed.facts})
    print(f"Recorded {runs} runs of {people} {'athlete' if people == 1 else 'athletes'}.")
    if columns:
        write_columns(kept, means)
        print(f"What the columns mean is kept in {kept.name}; next time leave --columns out.")


def otherwise(done: Sequence[Done]) -> int:
    """How many units were done otherwise than planned."""
    return sum(f.remark != "as planned" or f.amount is not None for f in done)


def summed(done: Sequence[Done], days: str) -> str:
    """'8 units of Tue 02 Mar: 6 as planned, 2 otherwise'."""
    other = otherwise(done)
    return f"{len(done)} units of {days}: {len(done) - other} as planned, {other} otherwise"
