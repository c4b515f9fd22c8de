"""The command `day`: today with everybody as planned; only the exceptions are typed."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli import day_files
from planner.cli.making import settings_of
from planner.cli.options import File, Now, block_file
from planner.cli.words import amount_words
from planner.domain.elsewhere import was_elsewhere
from planner.domain.errors import Told
from planner.domain.facts import Done
from planner.domain.plan import Placement
from planner.domain.problem import Problem

if TYPE_CHECKING:
    from planner.flow import Settings

HOW = """Type exceptions, one athlete a line; an empty line ends. Everybody else is as planned.
  Ada: missed
  Ada: run-ups 4 of 6, lifting lighter, flat
  Bo: effort 8, slept badly"""
EFFORT = r"(?:(?P<slot>.+?) )?effort (?P<effort>\d+)"  # of a session as the athlete felt it
MOST_EFFORT = 10


class BadLine(Told):
    """An exception that cannot be read. Nothing was recorded."""


def day(
    file: File,
    on: Annotated[str, typer.Argument(help="The day, YYYY-MM-DD; default: today.")] = "",
    exceptions: Annotated[
        Path | None, typer.Option("--from", help="Read exceptions (.txt) or a filled-in sheet (.csv, .xlsx).")
    ] = None,
    blank: Annotated[
        Path | None, typer.Option("--blank", help="Write the day's sheet to fill in (.csv or .xlsx).")
    ] = None,
    timing: Annotated[Path | None, typer.Option("--timing", help="Read a timing gate's table of times.")] = None,
    columns: Annotated[
        str, typer.Option("--columns", help="What its columns mean, kept: 'athlete=Name; 30 m=Time'.")
    ] = "",
    show: Annotated[bool, typer.Option("--show", help="Only show the day; record nothing.")] = False,
    now: Now = "",
) -> None:
    """Record a day: everybody as planned, but for the exceptions typed (or piped in), one athlete a line.

    Example: planner day spring 2027-03-25
    """
    from planner.known import at_a_glance

    file = block_file(file)
    asked = [name for name, given in (("--from", exceptions), ("--blank", blank), ("--timing", timing)) if given]
    if len(asked) > 1 or (columns and not timing):
        found = " and ".join(asked) if len(asked) > 1 else "--columns without --timing"
        raise BadLine(f"day: found {found}, needed one thing at a time.\nMaybe run the command twice.")
    settings = settings_of(now)
    if timing is not None:
        day_files.record_timing(file, timing, columns, _day(on), settings)
        return
    if exceptions is not None and exceptions.suffix.casefold() in day_files.SHEET_ENDINGS:
        day_files.record_sheet(file, exceptions, _day(on), settings)
        return
    problem, stored = at_a_glance(file)
    moment = settings.now(problem.block.time_zone)
    when = _day(on) or moment.date()
    here = sorted((p for p in stored.placements if p.day == when and not was_elsewhere(p)), key=lambda p: p.key)
    if not here:
        print(f"Nothing is planned on {when:%a %d %b %Y}.")
        return
    if blank is not None:
        print("\n".join(day_files.write_blank(blank, here, problem, file)))
        return
    for p in here:
        print(f"  {p.athlete}: {p.short}, {amount_words(p)}")
    if not show:
        _record_typed(file, facts_of(_lines(exceptions), here, moment), when, settings, problem)


def _record_typed(file: Path, done: Sequence[Done], when: date, settings: Settings, seen: Problem) -> None:
    from planner.replan import tell

    tell(file, done, settings, seen=seen)
    print(f"Recorded {day_files.summed(done, f'{when:%a %d %b}')}.")
    if day_files.otherwise(done):
        print(f"When all is recorded: planner replan {file}")


def facts_of(lines: Iterable[str], here: Sequence[Placement], now: datetime) -> list[Done]:
    """One fact for every unit of the day. BadLine names every line that cannot be read."""
    remarks: dict[object, dict[str, object]] = {}
    wrong: list[str] = []
    for number, line in enumerate(lines, 1):
        if line.strip():
            wrong += [f"line {number}: {text}" for text in _read(line, here, remarks)]
    if wrong:
        raise BadLine("\n".join(wrong) + "\nMaybe: Ada: run-ups 4 of 6, lifting lighter, flat")
    return [
        Done(
            recorded_at=now, athlete=p.athlete, day=p.day, slot=p.slot, unit=p.unit.id, word=p.dose.word,
            **remarks.get(p.key, {}),  # type: ignore[arg-type]  # read below: remark, amount, felt
        )
        for p in here
    ]  # fmt: skip


def _read(line: str, here: Sequence[Placement], remarks: dict[object, dict[str, object]]) -> list[str]:
    name, colon, rest = line.partition(":")
    people = sorted({p.athlete for p in here if p.athlete.lower().startswith(name.strip().lower())})
    if not colon or len(people) != 1 or not name.strip():
        known = ", ".join(sorted({p.athlete for p in here}))
        return [f"found '{line.strip()}', needed one athlete of that day and a colon ({known})"]
    own = [p for p in here if p.athlete == people[0]]
    wrong = []
    for part in rest.split(","):
        words = part.strip().lower()
        if words in ("missed", "lighter"):
            for p in own:
                remarks.setdefault(p.key, {})["remark"] = words
            continue
        if felt := re.fullmatch(EFFORT, words):
            wrong += _effort(felt["slot"] or "", int(felt["effort"]), own, remarks)
            continue
        found = re.fullmatch(r"(.+?)\s+(missed|lighter|(\d+)(?:\s*(?:of|/)\s*\d+)?)", words)
        unit = _unit(found[1], own) if found else None
        if found and unit is None:
            names = ", ".join(p.unit.short or p.unit.name for p in own)
            wrong.append(f"found '{found[1]}', needed one unit of {people[0]} that day ({names})")
        elif found and unit is not None:
            told = remarks.setdefault(unit.key, {})
            told.update({"amount": int(found[3])} if found[3] else {"remark": found[2]})
        elif words:
            for p in own:
                remarks.setdefault(p.key, {})["felt"] = part.strip()
    return wrong


def _effort(
    slot: str, effort: int, own: Sequence[Placement], remarks: dict[object, dict[str, object]]
) -> list[str]:
    """How hard a session was felt to be: of the one session of that day, or of the slot named."""
    slots = sorted({p.slot for p in own})
    meant = [s for s in slots if s.lower() == slot] if slot else slots
    if len(meant) != 1:
        return [f"found 'effort {effort}', needed the slot before it: {' or '.join(slots)}, as in "
                f"'{slots[0]} effort {effort}'"]  # fmt: skip
    if effort > MOST_EFFORT:
        return [f"found 'effort {effort}', needed 0 to {MOST_EFFORT}"]
    for p in own:
        if p.slot == meant[0]:
            remarks.setdefault(p.key, {})["effort"] = effort
    return []


def _unit(words: str, own: Sequence[Placement]) -> Placement | None:
    """The one unit of the day whose name holds all these words; None when none or several do."""
    wanted = words.replace("-", " ").split()

    def names(p: Placement) -> str:
        unit = p.unit
        return f"{p.name} {p.short} {unit.name} {unit.short} {unit.id} {unit.family}".lower().replace("-", " ")

    found = [p for p in own if all(w in names(p) for w in wanted)]
    return found[0] if len(found) == 1 else None


def _lines(path: Path | None) -> list[str]:
    if path is not None:
        try:
            return path.read_text(encoding="utf-8").splitlines()
        except (OSError, UnicodeDecodeError) as error:
            why = getattr(error, "strerror", "") or "letters that are not UTF-8"
            raise BadLine(f"{path}: found {why}, needed a text file.\nMaybe mind the path.") from None
    if not sys.stdin.isatty():
        return sys.stdin.read().splitlines()
    print(HOW)
    found: list[str] = []
    while line := input("> ").strip():
        found.append(line)
    return found


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadLine(f"found '{text}', needed a date like 2027-03-25.\nMaybe year-month-day.") from None
