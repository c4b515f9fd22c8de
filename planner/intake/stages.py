"""Return stages in sequence: a body comes back one stage at a time, unless a person says why not."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read
from planner.intake.people_tables import LimitRow


def check_stages(ctx: Context, rows: Sequence[Read[LimitRow]]) -> None:
    """Complain where the next row of one region and side rises by more than one stage without a note.

    The note is for the file only: it is neither stored nor printed.
    """
    found: dict[tuple[str, str, str], list[tuple[date, Read[LimitRow]]]] = {}
    for read in rows:
        row = read.it
        if row.kind == "limit" and row.region is not None and row.stage is not None:
            key = (row.athlete, row.region, row.side)
            found.setdefault(key, []).append((row.begins or ctx.begins, read))
    for (athlete, region, side), own in sorted(found.items()):
        own.sort(key=lambda entry: entry[0])
        for (_, earlier), (begins, later) in pairwise(own):
            low, high = earlier.it.stage or 0, later.it.stage or 0
            if high > low + 1 and not later.it.note:
                ctx.report.error(
                    later.at("stage"),
                    f"stage {high} from {begins} for {quoted(athlete)} ({region}, {side}), straight after "
                    f"stage {low} ({earlier.line})",
                    "one stage at a time, or a 'note' of who decided it and why",
                    f"'stage: {low + 1}' comes first, or add 'note:' to this row",
                )
