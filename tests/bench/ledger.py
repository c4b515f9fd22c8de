"""Measure the ledger after three seasons of thirty athletes: processor seconds of whole commands.

    python tests/bench/ledger.py [--athletes 30] [--seasons 3] [--weeks 52] [--folder FOLDER]

Five blocks of eight weeks a season, each with its own file and ledger, each naming the one before it, as
`planner next` leaves them. Of every block the ledger holds a first draft, a hand-out, and a re-plan a week that
was handed out too; every unit as it was done (one in ten with another amount or in its lighter form, one in thirty
missed), the attempts of every competition, weekly run-up readings of the jumpers, an illness and a hurt region.
Plans are drawn from what the season offers, without a solver: their size counts here, not their worth.

No file may hold three seasons (400 days at most). A season in one file of `--weeks`, re-planned every week in the
same way, is measured beside the chain; its ledger takes a gigabyte of disk. 0 leaves it out.

Then every command runs in a process of its own, on the last block and on copies of its folder where it records.
Interpreter and imports are counted; they are shown apart, for a command that reads nothing (`--help`). With
`--folder` the blocks are made there, or, where they stand already, used again.
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import generated

from planner import known
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.facts import Done, Fact, Hurt, Ill, Result, RunUpReadings
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.problem import Problem
from planner.domain.record import block_record, inputs_hash
from planner.domain.revision import Revision
from planner.ledger import Ledger, ledger_path

ROOT = Path(__file__).parents[2]
WEEKS, BLOCKS = 8, 5  # of a block; of a season
SEASON = 52  # weeks of the one long file
BREAK = 12  # weeks between two seasons
TRAINING_DAYS, UNITS_A_DAY = 5, 3  # of an athlete
ATTEMPTS = 6


def made(folder: Path, athletes: int, seasons: int) -> list[Path]:
    """The block files of all seasons, in order, each with its ledger."""
    first = generated.MONDAY
    files: list[Path] = []
    try:
        for number in range(seasons * BLOCKS):
            weeks = number * WEEKS + number // BLOCKS * BREAK
            generated.MONDAY = first + timedelta(days=7 * weeks)
            own = folder / f"block-{number + 1:02d}"
            own.mkdir(parents=True, exist_ok=True)
            file = generated.write_file(own, athletes, WEEKS, random_seed=number)
            if files:
                text = file.read_text(encoding="utf-8")
                named = f'block:\n  previous: "../{files[-1].parent.name}/block.yaml"'
                file.write_text(text.replace("block:", named, 1), encoding="utf-8")
            files.append(file)
            _recorded(file, random.Random(number))
            print(f"{own.name}: {ledger_path(file).stat().st_size / 1e6:.1f} MB", file=sys.stderr)
    finally:
        generated.MONDAY = first
    return files


def _recorded(file: Path, chance: random.Random) -> None:
    """Everything a block's ledger holds when the block is over."""
    problem = known.understand(file)
    placements = list(_drawn(problem, chance))
    mondays = [w.begins for w in problem.weeks[problem.athletes[0]]]
    with Ledger.open(file, create=True) as ledger:
        moment = datetime.combine(mondays[0] - timedelta(days=2), datetime.min.time(), UTC)
        _planned(ledger, problem, placements, moment, "built")
        ledger.hand_out(1, moment + timedelta(hours=1))
        ledger.record_facts(_of_the_body(problem, mondays))
        for monday, after in pairwise([*mondays, problem.block.ends + timedelta(days=1)]):
            ledger.record_facts([*_week(problem, placements, monday, after, chance)])
            if after == problem.block.ends + timedelta(days=1):
                break
            left = [p for p in placements if p.day < after]
            left += [p for p in placements if p.day >= after and chance.random() > 0.01]
            placements = left
            moment = datetime.combine(after, datetime.min.time(), UTC) - timedelta(hours=2)
            number = _planned(ledger, problem, placements, moment, "re-planned, 3 new facts")
            ledger.hand_out(number, moment + timedelta(hours=1))


def _drawn(problem: Problem, chance: random.Random) -> Iterator[Placement]:
    """A plan's size of what may be placed: some days a week of each athlete, some units a day."""
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            days = [d for d in week.days if problem.on(athlete, d)]
            for day in sorted(chance.sample(days, min(TRAINING_DAYS, len(days)))):
                offered = problem.on(athlete, day)
                slot = chance.choice(offered).slot
                full = [p for p in offered if p.slot == slot and p.dose.word == "full"]
                for p in chance.sample(full, min(UNITS_A_DAY, len(full))):
                    yield replace(p, coach="Reyk", starts=p.begins + timedelta(minutes=25))


def _planned(ledger: Ledger, problem: Problem, own: list[Placement], at: datetime, reason: str) -> int:
    plan = replace(Plan.of(own), status={"should": TierStatus(400, 300), "prefer": TierStatus(90)})
    revision = Revision(0, at, reason, inputs_hash=inputs_hash(problem.block), program="bench")
    outcome = Outcome(plan, (), {"should": {"weekly_target": 400}, "prefer": {"train_together": 90}})
    return ledger.record_revision(revision, outcome, block_record(problem.block)).number


def _of_the_body(problem: Problem, mondays: Sequence[date]) -> Iterator[Fact]:
    at = datetime.combine(mondays[0], datetime.min.time(), UTC)
    ill, hurt = problem.athletes[3 % len(problem.athletes)], problem.athletes[-1]
    yield Ill(recorded_at=at, athlete=ill, begins=mondays[0], ends=mondays[0] + timedelta(days=2), fever=True)
    yield Hurt(
        recorded_at=at, athlete=hurt, day=mondays[0], region="hamstring", side="left", stage=4, entered_by="physio"
    )


def _week(
    problem: Problem, placements: Sequence[Placement], first: date, after: date, chance: random.Random
) -> Iterator[Fact]:
    """What was done in a week, read in the evening of each day."""
    for p in placements:
        if first <= p.day < after:
            at = datetime.combine(p.day, datetime.min.time(), UTC) + timedelta(hours=21)
            drawn = chance.random()
            done = Done(
                recorded_at=at, athlete=p.athlete, day=p.day, slot=p.slot, unit=p.unit.id, word=p.dose.word,
                effort=6, felt="flat" if drawn > 0.95 else "",
            )  # fmt: skip
            if drawn < 1 / 30:
                done = replace(done, remark="missed", effort=None)
            elif drawn < 1 / 20:
                done = replace(done, remark="lighter")
            elif drawn < 1 / 10:
                done = replace(done, amount=max(1, p.dose.amount * 2 // 3))
            yield done
    for c in problem.block.competitions:
        if first <= c.first_day < after:
            yield _result(c.athlete, c.first_day, c.name, chance)
    for athlete in problem.block.athletes:
        if "jump" in athlete.events[0]:
            at = datetime.combine(first, datetime.min.time(), UTC) + timedelta(hours=21)
            runs = tuple(RunThrough(chance.randint(-12, 12), chance.randint(-15, 25)) for _ in range(ATTEMPTS))
            who, event = athlete.name, athlete.events[0]
            yield RunUpReadings(recorded_at=at, athlete=who, day=first, event=event, runs=runs)


def _result(athlete: str, day: date, name: str, chance: random.Random) -> Result:
    attempts = tuple(
        Attempt("mark", chance.randint(480, 690), wind=chance.randint(-20, 25), gap=chance.randint(0, 18))
        for _ in range(ATTEMPTS)
    )
    at = datetime.combine(day, datetime.min.time(), UTC) + timedelta(hours=21)
    return Result(
        recorded_at=at, athlete=athlete, day=day, event="long jump", competition=name, attempts=attempts, rank=4
    )


def seconds(*words: str) -> float:
    """Processor seconds (user and system) of one command; its words are thrown away."""
    before = _spent()
    ran = subprocess.run(
        [sys.executable, "-c", "from planner.cli import main; main()", *words],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, stdin=subprocess.DEVNULL, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    if ran.returncode not in (0, 5):
        raise SystemExit(f"{words}: {ran.returncode}\n{ran.stdout}{ran.stderr}")
    return _spent() - before


def _spent() -> float:
    found = resource.getrusage(resource.RUSAGE_CHILDREN)
    return found.ru_utime + found.ru_stime


def one_file(folder: Path, athletes: int, weeks: int) -> Path:
    """A season in one block file, with its ledger; one that stands there already is used again."""
    own = folder / "season"
    if not (own / "block.yaml").is_file():
        own.mkdir(parents=True, exist_ok=True)
        _recorded(generated.write_file(own, athletes, weeks, random_seed=0), random.Random(0))
    return own / "block.yaml"


def measured(file: Path, *, looks_only: bool = False) -> None:
    """Print a line a command, the quickest of three runs; `looks_only` leaves out what records or copies."""
    with Ledger.open(file, create=False) as ledger:
        rows, facts = ledger.history(), ledger.facts()
    size = ledger_path(file).stat().st_size / 1e6
    print(
        f"the ledger of {file.parent.name}: {len(rows)} revisions of {rows[-1].placements} units, "
        f"{len(facts)} facts, {size:.0f} MB"
    )
    athlete, day = next((f.athlete, f.day) for f in reversed(facts) if isinstance(f, Done))
    evening = f"{day} 22:00"
    looks: tuple[tuple[str, ...], ...] = (
        ("--help",),
        ("show",),
        ("show", "--athlete", athlete),
        ("show", "--day", str(day)),
        ("history",),
        ("check",),
        ("day", str(day), "--show", "--now", evening),
        ("show", "--back", "--now", evening),  # this one may also ask what the earlier blocks left behind
    )
    records: tuple[tuple[str, ...], ...] = (
        ("day", str(day + timedelta(days=1)), "--now", f"{day + timedelta(days=1)} 22:00"),
        ("log", "weather", f"day={day}", "rain=yes", "--now", evening),
        ("backup",),
    )
    for words in looks:
        told = words if words == ("--help",) else (words[0], str(file.parent), *words[1:])
        print(f"{min(seconds(*told) for _ in range(3)):6.2f} s  planner {' '.join(words)}", flush=True)
    for words in () if looks_only else records:
        taken = min(_on_a_copy(file, words) for _ in range(3))
        print(f"{taken:6.2f} s  planner {' '.join(words)}", flush=True)


def _on_a_copy(file: Path, words: tuple[str, ...]) -> float:
    """Seconds of a command that records, on a copy of the block's folder beside it."""
    with tempfile.TemporaryDirectory(dir=file.parents[1]) as text:
        own = Path(text)
        for path in file.parent.iterdir():
            if path.is_file():
                shutil.copy(path, own)
        return seconds(words[0], str(own), *words[1:])


def main() -> None:
    """Make the blocks, or take those that stand there, and print one line a command."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--athletes", type=int, default=30)
    parser.add_argument("--seasons", type=int, default=3)
    parser.add_argument("--weeks", type=int, default=SEASON)
    parser.add_argument("--folder", type=Path)
    told = parser.parse_args()
    with tempfile.TemporaryDirectory() as text:
        folder = told.folder or Path(text)
        files = sorted(folder.glob("block-*/block.yaml")) or made(folder, told.athletes, told.seasons)
        print(f"{len(files)} blocks of {WEEKS} weeks, {told.athletes} athletes")
        measured(files[-1])
        if told.weeks:
            season = one_file(folder, told.athletes, told.weeks)
            print(f"one file of {told.weeks} weeks, {told.athletes} athletes")
            measured(season, looks_only=True)


if __name__ == "__main__":
    main()
