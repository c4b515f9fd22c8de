"""Commands of a real week: log, replan, restore, backup, forget."""

from __future__ import annotations

import json
import textwrap
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.facts import fact_from, kinds, told, usage
from planner.cli.making import interruptible, settings_of, told_of_sheets
from planner.cli.options import Budget, File, Json, Now, Paper, SheetsIn, block_file
from planner.cli.words import WIDTH, wrapped
from planner.domain.errors import Told
from planner.domain.names import meant_by

if TYPE_CHECKING:
    from planner.domain.facts import Fact
    from planner.domain.pit_facts import Result
    from planner.domain.problem import Problem

UNDO = "undo"
SHEETS = "sheets"
PACKED = (".pdf", ".xlsx", ".zip")
MOST_READ = 100_000_000  # bytes of a file that is searched for a name
YOURS = (
    "Not touched, and yours to clear: the name in the block file; other blocks' files and ledgers; "
    "copies elsewhere; paper."
)
MOST_NAMED = 8  # files of one folder that are named one by one


class Unsure(Told):
    """Something that is not done without being asked for twice."""


def log(
    file: File,
    kind: Annotated[str, typer.Argument(help="What happened; without one the kinds are listed.")] = "",
    words: Annotated[list[str] | None, typer.Argument(help="key=value for each of its fields.")] = None,
    now: Now = "",
) -> None:
    """Record one fact: done, ill, hurt, venue-closed ... 'planner log FILE' lists all kinds with their keys.

    Example: planner log spring ill athlete='Ada Norrby' begins=2027-03-28 fever=yes
    """
    if not kind:
        print("\n".join(_kinds()))
        return
    from planner.known import at_a_glance, facts_of
    from planner.replan import tell

    file = block_file(file)
    settings = settings_of(now)
    seen, _ = at_a_glance(file)
    before = facts_of(file)
    fact, of_shoe = _in_own_shoe(_fact(kind, words or [], seen, settings.now(seen.block.time_zone)), before, seen)
    (number,) = tell(file, [fact], settings, seen=seen)
    print("\n".join(wrapped(f"Recorded as fact {number}: {told(fact)}.", "")).removeprefix("- "))
    print(f"Take it back with: planner log {file} undo {number}")
    print("\n".join([*of_shoe, *_still_open(fact), *_raised(fact, seen, before), *_another(fact, seen)]), end="")
    print(_and_then(fact, file))


def _in_own_shoe(fact: Fact, before: Sequence[Fact], seen: Problem) -> tuple[Fact, list[str]]:
    """A fact from the pit with the shoe it counts for, and what is said of that where it was not typed."""
    from planner.domain.own_shoes import AtThePit, in_own_shoe, own_shoes

    if not isinstance(fact, AtThePit):
        return fact, []
    own = own_shoes(fact.athlete, seen.block.run_ups, before)
    whole = in_own_shoe(fact, own)
    said = ""
    if whole.worn.said and not fact.worn.said:
        said = f"No shoe was given: taken for the only one of {fact.athlete}, {whole.worn}."
    elif fact.worn.said and own and whole.worn not in own:
        said = f"{whole.worn} is a new shoe of {fact.athlete}: start marks of other shoes stay as they are."
    return whole, [*textwrap.wrap(said, WIDTH), ""] if said else []


def _and_then(fact: Fact, file: Path) -> str:
    """What a fact asks for when all is recorded: a re-plan, or only new numbers on paper."""
    from planner.domain.pit_facts import Result, RunUpReadings, StartMark

    if not isinstance(fact, Result | RunUpReadings | StartMark):
        return f"When all is recorded: planner replan {file}"
    said = "Nothing has to move for it. Its numbers stand on the next sheets:"
    return f"{said}\n  planner print {file} '{fact.athlete}'"


def replan(
    file: File,
    since: Annotated[str, typer.Option("--from", help="Nothing before this day changes, YYYY-MM-DD.")] = "",
    improve: Annotated[
        bool, typer.Option("--improve", help="What was handed out may move for a gain; nothing is added.")
    ] = False,
    show_options: Annotated[
        bool, typer.Option("--options", help="Show up to three ways; with --option all changes of one.")
    ] = False,
    option: Annotated[int, typer.Option("--option", help="Take the way of this number.", min=0)] = 0,
    now: Now = "",
    budget: Budget = "quick",
    paper: Paper = "",
    sheets: SheetsIn = None,
    as_json: Json = False,
) -> None:
    """Change the plan as little as the recorded facts ask for; print only the sheets that change.

    Example: planner replan spring --now '2027-03-28 20:00'
    """
    from planner.asking import Ask, numbered
    from planner.cli.replanned import options_json, options_lines, replanned_json, replanned_lines
    from planner.replan import options
    from planner.replan import replan as run

    file = block_file(file)
    settings = settings_of(now, budget, paper=paper, sheets=sheets)
    ask = Ask(_from(since), improve, option)
    with interruptible(settings) as heard:
        if show_options:
            ways = options(file, heard, ask)
            if option:
                numbered(option, ways)  # there must be such a way
            print(json.dumps(options_json(ways), ensure_ascii=False, indent=2) if as_json
                  else "\n".join(options_lines(ways, file, option)))  # fmt: skip
            return
        made = run(file, heard, ask)
        print(json.dumps(replanned_json(made), ensure_ascii=False, indent=2) if as_json
              else "\n".join(replanned_lines(made, file)))  # fmt: skip
        if made.result.report is not None and not as_json:
            told_of_sheets(made.result, heard)


def _from(text: str) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        raise Unsure(f"--from: found '{text}', needed a date like 2027-03-28.\nMaybe year-month-day.") from None


def restore(
    file: File,
    number: Annotated[int, typer.Argument(help="The revision to go back to.")] = 0,
    rescued: Annotated[
        bool, typer.Option("--rescue", help="Of a damaged ledger: bring back what is whole, keep a copy of it.")
    ] = False,
    copy: Annotated[
        Path | None, typer.Option("--copy", help="With --rescue: an earlier copy takes its place.")
    ] = None,
    now: Now = "",
) -> None:
    """Make an earlier revision the present one again: as a new revision, nothing is deleted.

    Example: planner restore spring 3
    """
    from planner.intake import read_block
    from planner.ledger import Ledger

    file = block_file(file)
    if rescued == (number > 0) or (copy is not None and not rescued):
        raise Unsure("restore: needed the number of a revision, or --rescue (with or without --copy).\n"
                     "Maybe look with 'planner history'.")  # fmt: skip
    if rescued:
        print("\n".join(_rescued(file, copy)))
        return
    moment = settings_of(now).now(read_block(file).time_zone)
    with Ledger.open(file, create=False) as ledger:
        made = ledger.restore(number, moment)
    print(f"Revision {made.number} is revision {number} again. Print it with: planner print {file}")


def _rescued(file: Path, copy: Path | None) -> list[str]:
    """What came back of a damaged ledger, and what did not."""
    from planner.ledger import rescue

    made = rescue(file, copy)
    lines = [*wrapped(made.damage, ""), *wrapped(f"The damaged file is kept as {made.kept.name}.", "")]
    for what, had, lost in (("revision", made.revisions, made.lost), ("fact", made.facts, made.lost_facts)):
        back = f"{len(had)} {what}{'' if len(had) == 1 else 's'} brought back"
        back += f", the last is {what} {max(had)}" if had else ""
        gone = f"; lost: {', '.join(map(str, lost))}" if lost else "; none is known to be lost"
        lines += wrapped(f"{back}{gone}.", "")
    if made.revisions:
        lines += wrapped(f"Look at it with: planner history {file}", "")
    return lines


def backup(
    file: File,
    to: Annotated[Path | None, typer.Argument(help="Where the copy goes; default: beside the ledger.")] = None,
) -> None:
    """Make a whole copy of the ledger, at any moment.

    Example: planner backup spring spring-copy.ledger
    """
    from planner.ledger import Ledger

    file = block_file(file)
    with Ledger.open(file, create=False) as ledger:
        made = ledger.backup(to or ledger.path.with_suffix(".copy.ledger"))
    print(f"Wrote {made}. Put it in the ledger's place to go back to it.")


def forget(
    file: File,
    athlete: Annotated[str, typer.Argument(help="Whose name and health are blanked.")],
    sure: Annotated[bool, typer.Option("--sure", help="Needed: this cannot be taken back.")] = False,
    now: Now = "",
) -> None:
    """Blank one person's name and health everywhere in the ledger; what still holds the name is listed.

    Example: planner forget spring 'Ada Norrby' --sure
    """
    from planner.intake import read_block
    from planner.ledger import Ledger

    file = block_file(file)
    if not sure:
        raise Unsure(f"forget: '{athlete}' would be blanked for good, needed --sure.\nMaybe make a backup first.")
    moment = settings_of(now).now(read_block(file).time_zone)
    with Ledger.open(file, create=False) as ledger:
        ledger.forget(athlete, moment)
    print(f"The ledger no longer knows the name or the health of '{athlete}'.")
    print("\n".join(_still_there(file, athlete)))


def _still_there(file: Path, athlete: str) -> list[str]:
    """What forgetting does not touch: files beside the block file that may still hold the name, and the rest."""
    name = athlete.encode()
    folders = [x for x in (file.parent, file.parent / SHEETS) if x.is_dir()]
    near = [p for folder in folders for p in sorted(folder.iterdir())]
    found = [p.relative_to(file.parent) for p in near if p.is_file() and _holds(p, name)]
    lines = wrapped(YOURS, "")
    if found:
        held = Counter(p.parent for p in found)
        few = [str(p) for p in found if held[p.parent] <= MOST_NAMED]
        many = [f"{n} files in {folder}" for folder, n in held.items() if n > MOST_NAMED]
        lines += wrapped(f"In this folder these still hold it, or may: {', '.join([*few, *many])}", "")
    return lines


def _holds(path: Path, name: bytes) -> bool:
    """Whether a name stands in a file, or may: packed (PDF, workbooks) and huge ones are not searched."""
    try:
        unread = path.suffix.casefold() in PACKED or path.stat().st_size > MOST_READ
        return unread or name in path.read_bytes()
    except OSError:
        return True


UNITS = (
    "start_mark, coach_mark and target are in metres, or with their unit: '30.40 m', '3040 cm'; shoe is "
    "its name, its length, or both where it is new: 'spikes 26.2 cm'; it may be left out where the athlete has "
    "only one; wind is in m/s, air and wbgt (wet-bulb globe temperature) in degrees Celsius: wind=1.2 air=6 "
    "wbgt=28.5. A date without a clock time is the whole day. "
    "The beginning of a name will do where only one begins so."
)


def with_whole_names(fact: Fact, problem: Problem) -> Fact:
    """The fact with names in full where they were typed short; a name that is not known stays as it is.

    Unsure where an event is none.
    """
    from planner.domain.facts import CompetitionAdded, PersonAway

    told: dict[str, object] = {}
    if hasattr(fact, "athlete"):
        told["athlete"] = meant_by(fact.athlete, problem.athletes) or fact.athlete
    if hasattr(fact, "athletes"):
        told["athletes"] = tuple(meant_by(n, problem.athletes) or n for n in fact.athletes)
    for key in ("competition", "name"):
        if hasattr(fact, key) and not isinstance(fact, CompetitionAdded | PersonAway):
            typed = getattr(fact, key)
            told[key] = meant_by(typed, dict.fromkeys(c.name for c in problem.block.competitions)) or typed
    if hasattr(fact, "event"):
        told["event"] = _event(fact.event, problem)
    return replace(fact, **told)  # type: ignore[arg-type]  # names take the place of names


def _event(text: str, problem: Problem) -> str:
    """The event as the block file spells it; Unsure where nobody knows such an event or test."""
    from planner.domain.mark_names import run_of
    from planner.intake.reach import EVENTS, REACH
    from planner.intake.spelling import find, suggestion

    block = problem.block
    known = (*REACH, *EVENTS, *(e for a in block.athletes for e in a.events), *(m.event for m in block.marks))
    found = find(text, known) or (text if run_of(text) else None)
    if found is None:
        maybe = suggestion(text, known, else_say="mind the spelling: long jump, 100 m")
        raise Unsure(f"log: event: found '{text}', needed an event or a test.\nMaybe {maybe}.")
    return found


def _fact(kind: str, words: list[str], problem: Problem, when: datetime) -> Fact:
    from planner.domain.facts import Undone

    if kind == UNDO:
        if len(words) != 1 or not words[0].isdigit():
            maybe = "Maybe look with 'planner history FILE --facts'."
            raise Unsure(f"log undo: needed the number of one fact.\n{maybe}")
        return Undone(recorded_at=when, fact=int(words[0]))
    return with_whole_names(fact_from(kind, words, when), problem)


def _still_open(fact: Fact) -> list[str]:
    """What an illness without an end is taken for, so that nobody waits for the plan to know."""
    from planner.domain.facts import Ill

    if not isinstance(fact, Ill) or fact.ends is not None:
        return []
    said = (
        "No end is given: each re-plan takes the illness to last through the day after it. "
        f"When it is over, record it again with begins={fact.begins} and ends=..."
    )
    return [*textwrap.wrap(said, WIDTH), ""]


def _raised(fact: Fact, problem: Problem, before: Sequence[Fact]) -> list[str]:
    """What speaks for waiting where a person raises a return stage; it is recorded all the same."""
    from planner.domain.facts import StageChanged
    from planner.season.stage_raised import raised_soon

    said = raised_soon(fact, problem, before) if isinstance(fact, StageChanged) else ""
    return [*textwrap.wrap(said, WIDTH), ""] if said else []


def _another(fact: Fact, problem: Problem) -> list[str]:
    """What is said of a run the athlete does not train for, and of a mark that the wind made."""
    from planner.domain.pit_facts import Result
    from planner.review.own_events import another_run

    if not isinstance(fact, Result):
        return []
    said = [another_run(fact, problem.block), *_wind_aided(fact)]
    lines = [line for text in said for line in textwrap.wrap(text, WIDTH)]
    return [*lines, ""] if lines else []


def _wind_aided(fact: Result) -> list[str]:
    """What is said of the best attempt where only the wind made it."""
    from planner.domain.attempt import best_attempt
    from planner.domain.block import Mark
    from planner.domain.following import aided_words
    from planner.science.wind import wind_aided

    best = best_attempt(fact.attempts)
    if best is None or best.value is None or not wind_aided(fact.event, best.wind):
        return []
    return [f"{aided_words(Mark(fact.athlete, fact.event, best.value, best.unit, best.wind))}."]


def _kinds() -> list[str]:
    lines = ["planner log FILE KIND key=value ...   ([...] may be left out)", ""]
    for kind in kinds():
        lines += wrapped(usage(kind), "")
    lines += wrapped("undo NUMBER (takes a recorded fact back)", "")
    return [*lines, "", *textwrap.wrap(UNITS, WIDTH)]
