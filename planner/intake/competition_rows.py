"""The table of competitions: one record an athlete, with the clock times of the events where they are known."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from planner.domain.block import Athlete, Competition, EventStart
from planner.domain.finding import Line
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.people_tables import CompetitionRow
from planner.intake.rule_rows import SHORTEST_REASON
from planner.intake.spelling import suggestion

# A competition just behind the block counts for the rest after it, one ahead for the season's phases.
DAYS_BEFORE, DAYS_AFTER = 28, 364


def make_competitions(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[Competition, ...]:
    """One competition an athlete, in file order."""
    events = {a.name: a.events for a in athletes}
    found: list[Competition] = []
    seen: dict[tuple[str, str, date], Line] = {}
    rows: tuple[Read[CompetitionRow], ...] = sheets.of("competitions")
    for read in rows:
        row = read.it
        last = row.until or row.on
        if not ctx.in_order(row.on, row.until, read.at("until")):
            continue
        if row.importance is None:
            ctx.assume(row.name, "importance not given: train-through")
        if ctx.dated and not _near(ctx, read):
            continue
        people = ctx.people(row.athletes, read.at("athletes"))
        _check_starts(ctx, read, [e for p in people for e in row.events or events.get(p, ())])
        for person in people:
            first = seen.setdefault((row.name, person, row.on), read.line)
            if first is not read.line:
                ctx.report.error(
                    read.line,
                    f"{quoted(person)} twice in {quoted(row.name)} on {row.on} ({first})",
                    "one row for an athlete, a competition and a day",
                    "write all events into one row",
                )
                continue
            importance = row.importance or "train-through"
            own = row.events or events.get(person, ())
            starts = tuple(EventStart(event, at) for event, at in row.starts if event in own)
            start = starts[0].at if starts else row.start
            found.append(
                Competition(
                    row.name, person, row.on, last, row.events, importance, read.line, start, starts,
                    row.gap_accepted,
                )
            )  # fmt: skip
    return tuple(found)


def _check_starts(ctx: Context, read: Read[CompetitionRow], entered: Sequence[str]) -> None:
    """Clock times of events must be of events that somebody of the row is entered in, and be said once."""
    row = read.it
    if row.starts and row.start is not None:
        ctx.report.error(
            read.at("start"), "'start' beside 'starts'", "one of the two", "'start' can be deleted"
        )
    for event, _ in row.starts:
        if entered and event not in entered:
            ctx.report.error(
                read.at("starts"),
                f"the clock time of {quoted(event)}, in which nobody of the row is entered",
                f"an event of {quoted(row.name)}: {', '.join(dict.fromkeys(entered))}",
                suggestion(event, entered),
            )
    if row.gap_accepted and (len(row.gap_accepted) < SHORTEST_REASON or not row.starts):
        ctx.report.error(
            read.at("gap_accepted"),
            f"{quoted(row.gap_accepted)}" + ("" if row.starts else " without the clock times of the events"),
            f"a note of at least {SHORTEST_REASON} characters beside 'starts': the gap is seen, then accepted",
            "say who accepts it and why",
        )


def _near(ctx: Context, read: Read[CompetitionRow]) -> bool:
    """Is the competition near enough to matter? One just before the block is warned of."""
    row = read.it
    named = f"the competition {quoted(row.name)} on {row.on}"
    if row.on < ctx.begins - timedelta(DAYS_BEFORE) or row.on > ctx.ends + timedelta(DAYS_AFTER):
        where = "before the block's first day" if row.on < ctx.begins else "over 52 weeks after the last day"
        ctx.report.error(
            read.at("date"),
            f"{named}, {where} ({ctx.stretch})",
            f"a date from {ctx.begins} to {ctx.ends + timedelta(DAYS_AFTER)}",
            "the month or the year is wrong",
        )
        return False
    if row.on < ctx.begins:
        ctx.report.warn(
            read.at("date"),
            f"{named}, before the block's first day ({ctx.begins})",
            f"a date from {ctx.begins}, unless the rest after it should count",
            "it is meant: then only what follows it is planned",
        )
    return True
