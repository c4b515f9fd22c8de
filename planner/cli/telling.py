"""Commands of a real week: log, replan, restore, backup, forget."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planner.cli.facts import fact_from, kinds, usage
from planner.cli.making import interruptible, settings_of, told_of_sheets
from planner.cli.options import Budget, File, Json, Now, Paper, SheetsIn, block_file
from planner.cli.words import wrapped
from planner.domain.errors import Told

if TYPE_CHECKING:
    from planner.domain.facts import Fact
    from planner.flow import Settings
    from planner.replan import Replanned
    from planner.review.changes import Change

UNDO = "undo"


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
    from planner.replan import tell

    file = block_file(file)
    settings = settings_of(now)
    fact = _fact(file, kind, words or [], settings)
    (number,) = tell(file, [fact], settings)
    print(f"Recorded as fact {number}. Take it back with: planner log {file} undo {number}")
    print(f"When all is recorded: planner replan {file}")


def replan(
    file: File,
    now: Now = "",
    budget: Budget = "quick",
    paper: Paper = "",
    sheets: SheetsIn = None,
    as_json: Json = False,
) -> None:
    """Change the plan as little as the recorded facts ask for; print only the sheets that change.

    Example: planner replan spring --now '2027-03-28 20:00'
    """
    from planner.replan import replan as run

    file = block_file(file)
    with interruptible(settings_of(now, budget, paper=paper, sheets=sheets)) as heard:
        made = run(file, heard)
        _told(made, heard, as_json)


def _told(made: Replanned, settings: Settings, as_json: bool) -> None:
    from planner.review.changes import message

    result = made.result
    people = tuple(dict.fromkeys(c.athlete for c in made.changes))
    if as_json:
        found = {
            "revision": result.revision.number,
            "changes": [
                {"athlete": c.athlete, "date": str(c.day), "was": c.was, "now": c.now, "kind": c.kind}
                for c in made.changes
            ],
            "unchanged": list(made.unchanged),
            "messages": {name: message(name, made.changes) for name in people},
        }
        print(json.dumps(found, ensure_ascii=False, indent=2))
    else:
        print("\n".join(_notice(made.changes, made.unchanged, result.revision.number, result.unchanged)))
        for name in people:
            print("\n".join(wrapped(message(name, made.changes))))
    if result.report is not None and not as_json:
        told_of_sheets(result, settings)


def restore(
    file: File,
    number: Annotated[int, typer.Argument(help="The revision to go back to.")],
    now: Now = "",
) -> None:
    """Make an earlier revision the present one again: as a new revision, nothing is deleted.

    Example: planner restore spring 3
    """
    from planner.flow import planned
    from planner.ledger import Ledger

    file = block_file(file)
    problem, _ = planned(file)
    with Ledger.open(file, create=False) as ledger:
        made = ledger.restore(number, settings_of(now).now(problem.block.time_zone))
    print(f"Revision {made.number} is revision {number} again. Print it with: planner print {file}")


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
    """Blank one person's name and health everywhere in the ledger. Copies, the file and paper stay.

    Example: planner forget spring 'Ada Norrby' --sure
    """
    from planner.flow import planned
    from planner.ledger import Ledger

    file = block_file(file)
    if not sure:
        raise Unsure(f"forget: '{athlete}' would be blanked for good, needed --sure.\nMaybe make a backup first.")
    problem, _ = planned(file)
    with Ledger.open(file, create=False) as ledger:
        ledger.forget(athlete, settings_of(now).now(problem.block.time_zone))
    print(f"The ledger no longer knows the name or the health of '{athlete}'.")
    print(f"Take the name out of {file.name} yourself; copies of the ledger and printed sheets still hold it.")


def _fact(file: Path, kind: str, words: list[str], settings: Settings) -> Fact:
    from planner.domain.facts import Undone
    from planner.flow import planned

    problem, _ = planned(file)
    when: datetime = settings.now(problem.block.time_zone)
    if kind == UNDO:
        if len(words) != 1 or not words[0].isdigit():
            raise Unsure("log undo: needed the number of one fact.\nMaybe look with 'planner history'.")
        return Undone(recorded_at=when, fact=int(words[0]))
    return fact_from(kind, words, when)


def _kinds() -> list[str]:
    lines = ["planner log FILE KIND key=value ...   ([...] may be left out)", ""]
    for kind in kinds():
        lines += wrapped(usage(kind), "")
    return [*lines, *wrapped("undo NUMBER (takes a recorded fact back)", "")]


def _notice(changes: Sequence[Change], unchanged: tuple[str, ...], number: int, same: bool) -> list[str]:
    if same or not changes:
        state = "stands" if same else "is recorded"
        return [f"Nothing moves: revision {number} {state}, everybody keeps what they hold."]
    lines = [f"Revision {number}: {len(changes)} changes."]
    for change in changes:
        lines += wrapped(f"{change.athlete}: {change}")
    if unchanged:
        lines += wrapped(f"unchanged: {', '.join(unchanged)}")
    lines.append("To send:")
    return lines
