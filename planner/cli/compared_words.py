"""Two revisions side by side, in lines for the terminal and as data."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING

from planner.cli.replanned import change_records
from planner.cli.words import WIDTH, wrapped
from planner.domain.dates import said_day
from planner.domain.units import counted

if TYPE_CHECKING:
    from planner.comparing import Compared


def narrowed(found: Compared, athletes: Sequence[str] = (), day: date | None = None) -> Compared:
    """Only what these athletes (all when none is named) read of it, or what it says of one day."""
    return replace(
        found,
        changes=tuple(
            c for c in found.changes if (not athletes or c.athlete in athletes) and day in (None, c.day)
        ),
        unchanged=tuple(a for a in found.unchanged if not athletes or a in athletes),
    )


def compared_lines(found: Compared, name: str) -> list[str]:
    """What differs, by athlete and day; then for whom nothing does."""
    both = f"revision {found.revision.number} beside revision {found.against.number}"
    lines = _broken(f"{name}: {both}, {counted(len(found.changes), 'changes')}.")
    if found.why:
        lines += _broken(f"Recorded between: {'; '.join(found.why)}.")
    for athlete, own in groupby(found.changes, key=lambda c: c.athlete):
        lines += ["", athlete]
        for day, changes in groupby(own, key=lambda c: c.day):
            lines.append(f"  {said_day(day)}")
            lines += [line for change in changes for line in wrapped(change.what, "    ")]
    if found.unchanged:
        lines += ["", *_broken(f"Unchanged: {', '.join(found.unchanged)}.")]
    return lines


def compared_json(found: Compared) -> dict[str, object]:
    """The same for another program."""
    return {
        "revision": found.revision.number,
        "against": found.against.number,
        "recorded_between": list(found.why),
        "changes": change_records(found.changes),
        "unchanged": list(found.unchanged),
    }


def _broken(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent="  ")
