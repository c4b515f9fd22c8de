"""What a re-plan came to, in lines for the terminal and as data: changes, messages, options, what is in doubt."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from planner.cli.words import wrapped
from planner.domain.units import counted

if TYPE_CHECKING:
    from planner.options import Way
    from planner.replan import Replanned
    from planner.review.changes import Change


def replanned_lines(made: Replanned, file: Path) -> list[str]:
    """The changes, a message for each athlete, and what is left to the coach to decide."""
    from planner.review.changes import message

    lines = _notice(made)
    for name in _people(made.changes):
        lines += wrapped(message(name, made.changes))
    for sentence in (*made.unmet, *made.in_doubt, *made.not_ready):
        lines += wrapped(sentence.replace("FILE", str(file)), "")
    if made.choice:
        lines += wrapped(f"There may be other ways: planner replan {file} --options", "")
    return lines


def replanned_json(made: Replanned) -> dict[str, object]:
    """The same for another program."""
    from planner.review.changes import message

    return {
        "revision": made.result.revision.number,
        "changes": change_records(made.changes),
        "unchanged": list(made.unchanged),
        "messages": {name: message(name, made.changes) for name in _people(made.changes)},
        "other_ways": made.choice,
        "not_ready": list(made.not_ready),
        "in_doubt": list(made.in_doubt),
        "unmet": list(made.unmet),
    }


def options_lines(ways: Sequence[Way], file: Path, only: int = 0) -> list[str]:
    """Every way with its sentence and, after the first, where its changes differ from the first one's.

    `only` the way of that number, with all its changes.
    """
    if not ways[0].changes and len(ways) == 1:
        return ["There is nothing to choose: nothing has to move."]
    lines = []
    for number, way in enumerate(ways, 1):
        if only in (0, number):
            lines += wrapped(f"Option {number}. {way.sentence}", "")
            lines += _all_changes(way) if number in (1, only) else _differences(way, ways[0])
    if len(ways) == 1:
        lines.append("No other way was found.")
    elif not only:
        lines += wrapped(f"All changes of one: planner replan {file} --options --option {len(ways)}", "")
    return [*lines, *wrapped(f"Take one with: planner replan {file} --option {only or len(ways)}", "")]


def _all_changes(way: Way) -> list[str]:
    return [line for change in way.changes for line in wrapped(f"{change.athlete}: {change}")]


def _differences(way: Way, first: Way) -> list[str]:
    """What this way changes otherwise than the first, and what stays where the first one changes it."""
    had, lines = set(first.changes), []
    for change in way.changes:
        if change not in had:
            lines += wrapped(f"{change.athlete}: {change}")
    spoken = {(c.athlete, c.day, c.was) for c in way.changes}
    for change in first.changes:
        if (change.athlete, change.day, change.was) not in spoken:
            lines += wrapped(f"not as in option 1: {change.athlete}: {change}")
    same = sum(change in had for change in way.changes)
    if same:
        lines.append(f"  {counted(same, 'changes')} as in option 1.")
    return lines


def options_json(ways: Sequence[Way]) -> dict[str, object]:
    """The same for another program."""
    return {
        "options": [
            {"number": n, "sentence": way.sentence, "changes": change_records(way.changes)}
            for n, way in enumerate(ways, 1)
        ]
    }


def _people(changes: Sequence[Change]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(c.athlete for c in changes))


def change_records(found: Sequence[Change]) -> list[dict[str, str]]:
    """Changes as plain data."""
    return [{"athlete": c.athlete, "date": str(c.day), "was": c.was, "now": c.now, "kind": c.kind} for c in found]


def _notice(made: Replanned) -> list[str]:
    number = made.result.revision.number
    if made.result.unchanged or not made.changes:
        state = "stands" if made.result.unchanged else "is recorded"
        return [f"Nothing moves: revision {number} {state}, everybody keeps what they hold."]
    lines = [f"Revision {number}: {counted(len(made.changes), 'changes')}."]
    for change in made.changes:
        lines += wrapped(f"{change.athlete}: {change}")
    if made.unchanged:
        lines += wrapped(f"unchanged: {', '.join(made.unchanged)}")
    return [*lines, "To send:"]
