"""Commands that make something: demo, new, check, build, hand-out, print."""

from __future__ import annotations

import json
import math
import shutil
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import asdict, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.clock import moment
from planner.cli.options import AtMost, Budget, File, Json, Now, Paper, Seed, SheetsIn, block_file
from planner.domain.errors import Told
from planner.domain.units import counted

if TYPE_CHECKING:
    from planner.flow import Result, Settings

DEMO = "easter-block"
NOT_WRITTEN = 5
PRINTABLE = (
    "Athletes, 'board', 'run-up', 'measuring', 'competition', 'session', 'parents', 'look-back', days, slots."
)
LOOK_BACK = "look-back"


class CannotStart(Told):
    """A folder that is already there, or an example that is not."""


def demo(
    folder: Annotated[Path, typer.Argument(help="Where the copy goes.")] = Path("planner-demo"),
    example: Annotated[str, typer.Option("--example", help="Which shipped example to copy.")] = DEMO,
    now: Now = "",
    budget: Budget = "quick",
    paper: Paper = "",
) -> None:
    """Copy a shipped example, plan it and print it.

    Example: planner demo my-first-plan
    """
    source = _example(example)
    if (folder / source.name).exists():
        raise CannotStart(
            f"{folder / source.name}: is already there; a demo overwrites nothing.\n"
            "Maybe name another folder: planner demo another-folder"
        )
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, folder / source.name)
    _build(folder / source.name, now, budget, 0, None, paper, None)


def new(
    folder: Annotated[Path, typer.Argument(help="The folder of the new block.")],
    like: Annotated[str, typer.Option("--like", help="Start from a shipped example or a block file.")] = "",
    workbook: Annotated[bool, typer.Option("--workbook", help="Write a workbook instead of YAML.")] = False,
) -> None:
    """Start a block folder with a commented block file.

    Example: planner new spring --workbook
    """
    from planner.intake import write_new

    source = None
    if like:
        source = Path(like) if Path(like).is_file() else _example(like)
    written = write_new(folder, like=source, workbook=workbook)
    print(f"Wrote {written}. Fill it in, then: planner check {folder}")


def next_block(
    file: File,
    folder: Annotated[Path, typer.Argument(help="The folder of the next block.")],
    now: Now = "",
    as_json: Json = False,
) -> None:
    """Start the next block's file from what was done: dates, marks, run-ups, limits, competitions as they stand.

    Example: planner next spring summer
    """
    from planner.cli.words import wrapped
    from planner.following import next_block as run

    written, made = run(block_file(file), folder, settings_of(now))
    if as_json:
        found = {"file": str(written), "from": str(made.begins), "until": str(made.ends), "remarks": made.remarks}
        print(json.dumps(found, ensure_ascii=False, indent=2))
        return
    print(f"Wrote {written}:")
    for remark in made.remarks:
        print("\n".join(wrapped(remark)))
    print(f"Look at it, then: planner check {folder}")


def check(file: File, as_json: Json = False) -> None:
    """Validate a block file: all problems with places and remedies, what was assumed, what is unusual.

    Example: planner check spring/block.yaml
    """
    from planner.intake import check_block

    file = block_file(file)
    block, warnings = check_block(file)
    later: list[str] = []
    if file.with_suffix(".ledger").is_file():  # else a quick command stays quick
        from planner.replan import differs_from

        later = differs_from(file, block)
    if as_json:
        found = {
            "file": file.name,
            "block": block.name,
            "athletes": len(block.athletes),
            "warnings": [str(w) for w in warnings],
            "assumptions": [asdict(a) for a in block.assumptions],
            "recorded_since": later,
        }
        print(json.dumps(found, ensure_ascii=False, indent=2))
        return
    days = (block.ends - block.begins).days + 1
    much = f"{counted(days, 'days')}, {counted(len(block.athletes), 'athletes')}"
    print(f"{file.name}: '{block.name}', {much}. No mistakes found.")
    for title, lines in (
        ("Unusual", [str(w) for w in warnings]),
        ("Recorded since, and it counts", later),
        ("Assumed, because the file is silent", [f"{a.subject}: {a.text}" for a in block.assumptions]),
    ):
        if lines:
            print(f"\n{title}:")
            for line in lines:
                print("\n".join(_wrapped(line)))


def build(
    file: File,
    now: Now = "",
    budget: Budget = "normal",
    random_seed: Seed = 0,
    at_most: AtMost = None,
    paper: Paper = "",
    sheets: SheetsIn = None,
) -> None:
    """Plan, review, record a draft revision and print its sheets. Ctrl-C keeps the best plan so far.

    Example: planner build spring/block.yaml --budget quick
    """
    _build(block_file(file), now, budget, random_seed, at_most, paper, sheets)


def hand_out(
    file: File,
    until: Annotated[str, typer.Option("--until", help="Given out up to this date, YYYY-MM-DD.")] = "",
    now: Now = "",
    paper: Paper = "",
    sheets: SheetsIn = None,
) -> None:
    """Record that the plan was given to the athletes, and print clean sheets.

    Example: planner hand-out spring/block.yaml --until 2027-03-28
    """
    from planner.flow import hand_out as give

    file = block_file(file)
    settings = settings_of(now, paper=paper, sheets=sheets)
    last = _date(until)
    with interruptible(settings) as heard:
        result = give(file, heard, last)
        print(f"Revision {result.revision.number} is handed out. From now on it changes as little as possible.")
        told_of_sheets(result, heard)


def print_sheets(
    file: File,
    names: Annotated[list[str] | None, typer.Argument(help=PRINTABLE)] = None,
    now: Now = "",
    paper: Paper = "",
    sheets: SheetsIn = None,
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Draw unchanged sheets too, as after a change of the system's fonts.")
    ] = False,
) -> None:
    """Print the sheets of the present plan again: all of them, or those named. Unchanged ones are left alone.

    'run-up', 'measuring', 'competition' and 'session' are single sheets; athletes, days and slots named beside
    them narrow them down. A day alone prints everything of that day. Without a day, measuring sheets and the
    coach's session pages are those of the coming seven days. 'parents' are times, places and what to bring, in big
    type, for everybody under 18. 'look-back' says what was planned and what was done, of the whole block so far or
    from one day to another.

    Example: planner print spring/block.yaml board --paper A3

    Example: planner print spring/block.yaml session 2027-03-23 afternoon
    """
    from planner.flow import print_again

    file = block_file(file)
    settings = replace(settings_of(now, paper=paper, sheets=sheets), fresh=fresh)
    if LOOK_BACK in (names or ()):
        _print_back(file, settings, [n for n in names or () if n != LOOK_BACK])
        return
    with interruptible(settings) as heard:
        told_of_sheets(print_again(file, heard, tuple(names or ())), heard)


def _print_back(file: Path, settings: Settings, names: list[str]) -> None:
    """The look back on paper; dates among the names are its first and last day."""
    from planner.cli.words import sheet_lines
    from planner.looking_back import Days, print_back

    dates: list[date] = []
    people: list[str] = []
    for name in names:
        try:
            dates.append(date.fromisoformat(name))
        except ValueError:
            people.append(name)
    days = Days(min(dates, default=None), max(dates, default=None))
    report = print_back(file, settings, tuple(people), days)
    print("\n".join(sheet_lines(report)))
    if not report.complete:
        raise typer.Exit(NOT_WRITTEN)


def _build(
    file: Path, now: str, budget: str, seed: int, at_most: float | None, paper: str, sheets: Path | None
) -> None:
    from planner.cli.progress import Teller
    from planner.cli.words import build_summary
    from planner.flow import Interrupted
    from planner.flow import build as run

    teller = Teller(sys.stderr)
    settings = replace(settings_of(now, budget, seed, at_most, paper, sheets), progress=teller.tell)
    with interruptible(settings) as heard:
        try:
            result = run(file, heard)
        except Told as error:
            from planner.solve import NotDecided

            if not isinstance(error, NotDecided) or not was_interrupted(heard):
                raise
            kept = "no whole plan was found by then, nothing new is recorded"
            raise Interrupted(f"Interrupted: {kept}.\nMaybe give it more time.") from None
        finally:
            teller.done()
        print("\n".join(build_summary(result, file)))
        told_of_sheets(result, heard)


def settings_of(
    now: str,
    budget: str = "normal",
    seed: int = 0,
    at_most: float | None = None,
    paper: str = "",
    sheets: Path | None = None,
) -> Settings:
    from planner.flow import Settings

    if budget not in ("quick", "normal", "long"):
        raise CannotStart(f"--budget: found '{budget}', needed quick, normal or long.\nMaybe try quick.")
    if at_most is not None and not 0 <= at_most < math.inf:
        raise CannotStart(f"--at-most: found {at_most:g}, needed seconds from 0 up.\nMaybe leave it out.")
    sizes = {"a4": "A4", "letter": "Letter", "a3": "A3", "": ""}
    if paper.lower() not in sizes:
        raise CannotStart(f"--paper: found '{paper}', needed A4, Letter or A3 (board).\nMaybe try A4.")
    moment(now)  # a wrong --now is told before anything is read
    return Settings(
        lambda zone: moment(now, zone), budget, seed, at_most, sizes[paper.lower()], sheets
    )


@contextmanager
def interruptible(settings: Settings) -> Iterator[Settings]:
    """Settings that hear Ctrl-C. Once: stop looking, keep the best. Twice: leave at once."""
    pressed: list[int] = []

    def note(number: int, frame: object) -> None:
        if pressed:
            raise KeyboardInterrupt
        pressed.append(number)

    before = signal.signal(signal.SIGINT, note)
    try:
        yield replace(settings, stop=lambda: bool(pressed))
    finally:
        signal.signal(signal.SIGINT, before)


def was_interrupted(settings: Settings) -> bool:
    return settings.stop is not None and settings.stop()


def told_of_sheets(result: Result, settings: Settings) -> None:
    """Say what was printed; exit 5 when something could not be written or drawn, 130 after Ctrl-C."""
    report = result.report
    assert report is not None
    from planner.cli.words import sheet_lines

    print("\n".join(sheet_lines(report)))
    if was_interrupted(settings):
        from planner.flow import Interrupted

        differ = "; a second run may differ" if result.outcome.plan.stopped_early else ""
        raise Interrupted(f"Interrupted: revision {result.revision.number} is recorded{differ}.")
    if not report.complete:
        raise typer.Exit(NOT_WRITTEN)


def _example(name: str) -> Path:
    from planner.catalogue.shipped import shipped

    folder = shipped("examples") / name
    if folder.is_dir():
        return folder / "block.yaml"
    known = ", ".join(sorted(p.name for p in shipped("examples").iterdir() if p.is_dir()))
    raise CannotStart(f"--example: found '{name}', needed one of: {known}.\nMaybe leave it out.")


def _date(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise CannotStart(
            f"--until: found '{text}', needed a date like 2027-03-28.\nMaybe mind the order year-month-day."
        ) from None


def _wrapped(text: str) -> list[str]:
    from planner.cli.words import wrapped

    return wrapped(text)
