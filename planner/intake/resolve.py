"""Judged rows to a Block: references, dates, defaults. All problems of a file are gathered, none stops."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path

from planner.domain.block import Block
from planner.domain.finding import Line
from planner.domain.units import Unit
from planner.intake import (
    absence_rows,
    calendar_rows,
    competition_rows,
    mark_rows,
    people_rows,
    plan_rows,
    rule_rows,
    run_up_rows,
)
from planner.intake.calendar_tables import BlockRow
from planner.intake.clashes import look_for_clashes
from planner.intake.complaints import Reporter, quoted
from planner.intake.context import Context, KnownRule
from planner.intake.judge import Read, Sheets
from planner.intake.spelling import suggestion
from planner.intake.unusual import look_for_unusual
from planner.intake.values import Misfit, text_of

LONGEST = 400  # days; a season is several blocks
MINOR_RATIO, ADULTS = 8, 2  # common practice, no source; the club's own rule decides


def resolve(
    path: Path,
    sheets: Sheets,
    report: Reporter,
    *,
    rules: Mapping[str, KnownRule] | None,
    units: Mapping[str, Unit],
) -> Block | None:
    """The block of a file; None when its own row is unusable. Slips and warnings go to `report`."""
    read: Read[BlockRow] | None = next(iter(sheets.of("block")), None)
    ctx = _context(sheets, report, read, rules, units)
    for extra in sheets.of("block")[1:]:
        report.error(extra.line, "a second row in 'block'", "one block a file", "it is another file")
    own_units = rule_rows.make_units(ctx, sheets)
    athletes = people_rows.make_athletes(ctx, sheets)
    slots = calendar_rows.make_slots(ctx, sheets)
    places = calendar_rows.make_places(ctx, sheets)
    openings = calendar_rows.make_openings(ctx, sheets, slots, places)
    presences = calendar_rows.make_presences(ctx, sheets, slots)
    before, last_done = plan_rows.make_before(ctx, sheets, read.it.week_start if read else 0)
    parts = {
        "marks": mark_rows.make_marks(ctx, sheets, athletes),
        "run_ups": run_up_rows.make_run_ups(ctx, sheets, athletes),
        "away": absence_rows.make_away(ctx, sheets),
        "competitions": competition_rows.make_competitions(ctx, sheets, athletes),
        "limits": absence_rows.make_limits(ctx, sheets),
        "themes": plan_rows.make_themes(ctx, sheets),
        "phases": plan_rows.make_phases(ctx, sheets),
        "fixed": plan_rows.make_wishes(ctx, sheets, "fixed", slots),
        "wishes": plan_rows.make_wishes(ctx, sheets, "wishes", slots),
        "weather": plan_rows.make_weather(ctx, sheets),
        "settings": rule_rows.make_settings(ctx, sheets),
    }
    _unknown_in_rows_left_out(ctx, sheets)
    if read is None:
        return None
    row = read.it
    zone = _time_zone(ctx, read)
    _previous(ctx, read, path)
    _check_camp(ctx, read)
    if any((age := a.age_on(ctx.ends)) is not None and age < people_rows.MINOR for a in athletes):
        if row.minor_ratio is None:
            ctx.assume("block", f"athletes under 18 per adult not given: {MINOR_RATIO}")
        if row.adults_present is None:
            ctx.assume("block", f"adults present when athletes under 18 train not given: {ADULTS}")
    block = Block(
        name=row.name,
        begins=ctx.begins,
        ends=ctx.ends,
        squad=row.squad,
        kind=row.kind,
        week_start=row.week_start,
        time_zone=zone,
        previous=row.previous,
        paper=row.paper,
        contact=row.contact,
        minor_ratio=MINOR_RATIO if row.minor_ratio is None else row.minor_ratio,
        adults_present=ADULTS if row.adults_present is None else row.adults_present,
        slots=slots,
        openings=openings,
        presences=presences,
        athletes=athletes,
        before=before,
        last_done=last_done,
        own_units=own_units,
        assumptions=tuple(ctx.assumptions),
        line=read.line,
        camp_begins=row.camp_begins,
        camp_ends=row.camp_ends,
        dusk=row.dusk,
        **parts,  # type: ignore[arg-type]  # each is the tuple its field asks for
    )
    if not report.bad:
        look_for_clashes(block, report)
        look_for_unusual(block, sheets, report)
    return block


def _check_camp(ctx: Context, read: Read[BlockRow]) -> None:
    """A camp has two dates in order, both inside the block."""
    begins, ends = read.it.camp_begins, read.it.camp_ends
    if (begins is None) != (ends is None):
        ctx.report.error(
            read.line, "one of 'camp_from' and 'camp_until' without the other", "both", "add the other one"
        )
    if ctx.in_order(begins, ends, read.at("camp_until")):
        for day, at in ((begins, read.at("camp_from")), (ends, read.at("camp_until"))):
            if day is not None and ctx.dated and not ctx.inside(day):
                ctx.report.error(
                    at, f"{day}, outside the block", f"a date from {ctx.stretch}", "the month is wrong"
                )


def _context(
    sheets: Sheets,
    report: Reporter,
    read: Read[BlockRow] | None,
    rules: Mapping[str, KnownRule] | None,
    units: Mapping[str, Unit],
) -> Context:
    naming = {"athletes": "name", "groups": "name", "slots": "name", "units": "id", "venues": "place"}
    doubtful = {
        table: None if sheets.broken(table) else frozenset(_names(sheets, table, column))
        for table, column in naming.items()
    }
    line = read.line if read else Line()
    begins, ends = (read.it.begins, read.it.ends) if read else (date(2000, 1, 3), date(2000, 1, 3))
    ctx = Context(report, begins, ends, line, read is not None, rules, units, doubtful=doubtful)
    if read is not None and not ctx.in_order(begins, ends, read.at("until")):
        ctx.dated, ctx.ends = False, begins
    elif (ends - begins).days >= LONGEST and read is not None:
        report.error(
            read.at("until"),
            f"a block of {(ends - begins).days + 1} days",
            f"at most {LONGEST} days",
            "the year is wrong; a season is several blocks",
        )
        ctx.dated, ctx.ends = False, begins
    return ctx


def _names(sheets: Sheets, table: str, column: str) -> Iterator[str]:
    """The names in a table's rows, as far as they can be read, those of rows that do not fit included."""
    for row in sheets.rows_of(table):
        with suppress(Misfit):
            yield text_of(row.values.get(column))


def _unknown_in_rows_left_out(ctx: Context, sheets: Sheets) -> None:
    """Athletes nobody knows in rows that did not fit for another reason, so that both are said at once."""
    for table, raw in sheets.raw.items():
        fit = {id(read.row) for read in sheets.of(table)}
        for row in () if raw.broken else raw.rows:
            cell = row.values.get("athlete")
            if id(row) not in fit and isinstance(cell, str) and cell.strip() and "athlete" not in row.spoilt:
                ctx.people((text_of(cell),), row.at("athlete"))


def _time_zone(ctx: Context, read: Read[BlockRow]) -> str:
    from zoneinfo import ZoneInfo, available_timezones

    zone = read.it.time_zone
    if not zone:
        ctx.assume("block", "time zone not given: UTC, which matters for calendars only")
        return "UTC"
    try:
        ZoneInfo(zone)
    except (LookupError, ValueError, OSError):
        ctx.report.error(
            read.at("time_zone"),
            f"the unknown time zone {quoted(zone)}",
            "a zone such as Europe/Oslo",
            suggestion(zone, available_timezones(), else_say="'UTC' will do"),
        )
    return zone


def _previous(ctx: Context, read: Read[BlockRow], path: Path) -> None:
    previous = read.it.previous
    if not previous:
        return
    if Path(previous).is_absolute() or not previous.casefold().endswith((".yaml", ".yml", ".xlsx")):
        ctx.report.error(
            read.at("previous"),
            quoted(previous),
            "the earlier block file, named from this folder",
            "'../spring/block.yaml' is the form",
        )
    elif not (path.parent / previous).is_file():
        ctx.report.warn(
            read.at("previous"),
            f"no file {quoted(previous)}",
            "the earlier block file",
            "it was moved; what came before counts as unknown",
        )
