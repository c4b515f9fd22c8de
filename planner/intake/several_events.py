"""Several events of an athlete on one day: the time between them is shown, and a person accepts it."""

from __future__ import annotations

from planner.domain.block import Block, Competition
from planner.domain.competing import SeveralEvents, several_events
from planner.domain.finding import Line
from planner.intake.complaints import Reporter, quoted

MOST_NAMED = 3  # athletes in one warning


def look_for_several_events(block: Block, report: Reporter) -> None:
    """Warn of each row of a main competition with events whose time between them nobody has accepted."""
    rows: dict[tuple[Line, bool], list[tuple[Competition, SeveralEvents]]] = {}
    for c in block.competitions:
        found = several_events(block, c) if c.importance == "main" and c.first_day >= block.begins else None
        if found is not None and not found.accepted:
            rows.setdefault((c.line, bool(found.gaps)), []).append((c, found))
    for (line, timed), entered in rows.items():
        meet = entered[0][0]
        said = "; ".join(f"{quoted(c.athlete)} ({found})" for c, found in entered[:MOST_NAMED])
        more = f" and {len(entered) - MOST_NAMED} more" if len(entered) > MOST_NAMED else ""
        report.warn(
            line,
            f"several events on one day at {quoted(meet.name)}, {meet.first_day}: {said}{more}",
            "a person's word that the time between them is enough, under 'gap_accepted'"
            if timed
            else "their clock times under 'starts', so that the time between them is seen and accepted",
            "take one out with 'events', or write who accepts both and why"
            if timed
            else "the timetable is not out yet; or take one out with 'events'",
        )
