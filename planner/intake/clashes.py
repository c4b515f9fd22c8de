"""Fixed places that contradict each other or the calendar: told before anything is planned."""

from __future__ import annotations

from datetime import date, datetime

from planner.domain.block import Away, Block, Slot, Wish
from planner.intake.complaints import Reporter, quoted
from planner.season.weeks import hindrance, slots_by_day


def look_for_clashes(block: Block, report: Reporter) -> None:
    """Complain of a fixed unit on a competition day or in an absence, and of one twice on a day."""
    slots = slots_by_day(block)
    seen: dict[tuple[str, date, str], Wish] = {}
    for wish in block.fixed:
        what = f"{quoted(wish.unit)} fixed for {quoted(wish.athlete)} on {wish.day}"
        first = seen.setdefault((wish.athlete, wish.day, wish.unit), wish)
        if first is not wish:
            report.error(
                wish.line,
                f"{what} a second time ({first.line})",
                "a unit once a day",
                "delete one of the two, or move it to another day",
            )
        meet = next(
            (c for c in block.competitions
             if c.athlete == wish.athlete and c.first_day <= wish.day <= c.last_day), None
        )  # fmt: skip
        if meet is not None:
            report.error(
                wish.line,
                f"{what}, the day of {quoted(meet.name)} ({meet.line})",
                "a day without a competition",
                "another day is meant",
            )
            continue
        open_to = [s for s in slots.get(wish.day, ()) if wish.slot in ("", s.name)]
        kept_from = [_away(block, wish.athlete, s) for s in open_to]
        absence = kept_from[0] if kept_from else None
        if absence is not None and all(a is not None for a in kept_from):
            report.error(
                wish.line,
                f"{what}, when the athlete is not there ({absence.line})",
                "a slot in which the athlete is there",
                "another day is meant, or the absence is shorter",
            )


def _away(block: Block, athlete: str, slot: Slot) -> Away | None:
    return hindrance(
        block, athlete, datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)
    )
