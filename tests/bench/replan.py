"""Measure a re-plan: seconds from what was recorded to a new revision, on eight athletes and six weeks.

    python tests/bench/replan.py [8x6] [--random-seed 1] [--profile]

A made-up squad is planned and handed out first (quick budget). Then one athlete misses a day, and, in another
copy, one athlete is hurt and a person enters the return stage. Reading the block file and printing are not
counted; the former is shown apart. Every re-plan runs in this process after one that changes nothing, so that no
import is counted. Seconds of the processor stand beside those of the clock: on a busy machine only they compare.
"""

from __future__ import annotations

import argparse
import cProfile
import pstats
import shutil
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

sys.path.insert(0, str(Path(__file__).parent))

from generated import MONDAY, write_file

from planner import flow, intake, known
from planner import replan as real_week
from planner.domain.facts import Done, Fact, Hurt
from planner.domain.plan import Placement
from planner.flow import Result, Settings

DAY = MONDAY + timedelta(days=16)  # Wednesday of the third week
SHOWN = 25  # lines of a profile


def at(moment: datetime) -> Settings:
    return Settings(lambda zone: moment.replace(tzinfo=ZoneInfo(zone)), budget="quick")


def not_printed(file: Path, ledger: object, result: Result, *rest: object, **more: object) -> Result:
    return result


@dataclass
class Reading:
    """Adds up the processor's seconds spent in reading block files."""

    seconds: float = 0.0
    real: object = field(default=intake.read_block)

    def __call__(self, file: Path) -> object:
        begun = time.process_time()
        try:
            return self.real(file)  # type: ignore[operator]
        finally:
            self.seconds += time.process_time() - begun


def planned(folder: Path, athletes: int, weeks: int, seed: int) -> float:
    """Seconds to plan the block; it is handed out."""
    file = write_file(folder, athletes, weeks, seed)
    begun = time.perf_counter()
    flow.build(file, at(datetime.combine(MONDAY - timedelta(days=2), datetime.min.time())))
    flow.hand_out(file, at(datetime.combine(MONDAY - timedelta(days=1), datetime.min.time())))
    return time.perf_counter() - begun


def missed(held: Sequence[Placement], moment: datetime) -> list[Fact]:
    """The first athlete with key work on the day misses all of it."""
    name = next(p.athlete for p in held if p.day == DAY and p.importance == "key")
    return [
        Done(
            recorded_at=moment.replace(tzinfo=UTC), athlete=p.athlete, day=p.day, slot=p.slot, unit=p.unit.id,
            word=p.dose.word, remark="missed",
        )
        for p in held if p.athlete == name and p.day == DAY
    ]  # fmt: skip


def hurt(held: Sequence[Placement], moment: datetime) -> list[Fact]:
    """The same athlete strains a hamstring; the clinician's stage stands beside it."""
    name = next(p.athlete for p in held if p.day == DAY and p.importance == "key")
    return [
        Hurt(
            recorded_at=moment.replace(tzinfo=UTC), athlete=name, day=DAY, region="hamstring", side="left",
            stage=2, entered_by="clinician",
        )
    ]  # fmt: skip


def measure(planned_in: Path, what: str, profile: bool) -> None:
    """One re-plan, with what it took."""
    with tempfile.TemporaryDirectory() as text:
        folder = Path(text) / "own"
        shutil.copytree(planned_in, folder)
        file = folder / "block.yaml"
        moment = datetime.combine(DAY, datetime.min.time()).replace(hour=22)
        held = known.planned(file)[1].placements
        real_week.replan(file, at(moment))
        if what != "nothing":
            real_week.tell(file, (missed if what == "a missed day" else hurt)(held, moment), at(moment))
        reading = Reading()
        intake.read_block = reading  # type: ignore[assignment]
        profiler = cProfile.Profile()
        begun, worked = time.perf_counter(), time.process_time()
        if profile:
            profiler.enable()
        made = real_week.replan(file, at(moment + timedelta(minutes=1)))
        profiler.disable()
        worked = time.process_time() - worked - reading.seconds
        seconds = time.perf_counter() - begun - reading.seconds
        intake.read_block = reading.real  # type: ignore[assignment]
        touched = len({c.athlete for c in made.changes})
        print(
            f"{what}: {seconds:.2f} s to a new revision, {worked:.2f} s of the processor (and "
            f"{reading.seconds:.2f} s reading), "
            f"{len(made.changes)} changes for {touched} of {len(made.result.problem.athletes)} athletes"
        )
        if profile:
            pstats.Stats(profiler).sort_stats("cumtime").print_stats(SHOWN)


def main() -> None:
    """Print one line a measurement."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("size", nargs="?", default="8x6", help="athletes x weeks")
    parser.add_argument("--random-seed", type=int, default=1)
    parser.add_argument("--profile", action="store_true")
    told = parser.parse_args()
    athletes, weeks = map(int, told.size.split("x"))
    flow.publish = not_printed  # type: ignore[assignment]
    with tempfile.TemporaryDirectory() as text:
        folder = Path(text)
        print(f"{told.size}: planned in {planned(folder, athletes, weeks, told.random_seed):.0f} s")
        for what in ("nothing", "a missed day", "an injury with its stage"):
            measure(folder, what, told.profile)


if __name__ == "__main__":
    main()
