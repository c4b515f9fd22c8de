"""What keeps an athlete from training as usual: absences, limits of the body."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any

from planner.domain.block import Away, Limit
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.people_tables import AwayRow, LimitRow
from planner.intake.stages import check_stages

HOLD_BACK_STAGE = 4  # a ceiling without a number: sub-maximal work; common practice, no source
LAST_MINUTE = time(23, 59)  # a date without a clock lasts to the end of its day
ONE_REGION = ("illness", "whole")  # have no side


def _first_moment(when: date | datetime) -> datetime:
    return when if isinstance(when, datetime) else datetime.combine(when, time(0))


def _last_moment(when: date | datetime) -> datetime:
    return when if isinstance(when, datetime) else datetime.combine(when, LAST_MINUTE)


def make_away(ctx: Context, sheets: Sheets) -> tuple[Away, ...]:
    """Absences with clock times; a date alone is the whole day. Arrival and departure have one end open."""
    found: list[Away] = []
    rows: tuple[Read[AwayRow], ...] = sheets.of("away")
    for read in rows:
        row = read.it
        people = ctx.people(row.athlete, read.at("athlete"))
        span = _away_span(ctx, read)
        if span is None:
            continue
        if span[1] < span[0]:
            ctx.report.error(
                read.at("until"),
                f"an end {span[1]:%Y-%m-%d %H:%M} before the beginning {span[0]:%Y-%m-%d %H:%M}",
                "an end after the beginning",
                "the two have changed places",
            )
            continue
        if not ctx.touches(span[0].date(), span[1].date()):
            ctx.report.warn(
                read.line,
                f"an absence outside the block ({span[0]:%Y-%m-%d})",
                f"dates from {ctx.stretch}",
                "the month or the year is wrong",
            )
        found += [
            Away(p, span[0], span[1], row.kind, row.travel_hours, row.zones, row.overnight, read.line)
            for p in people
        ]
    return tuple(found)


def _away_span(ctx: Context, read: Read[AwayRow]) -> tuple[datetime, datetime] | None:
    row = read.it
    begins, ends = row.begins, row.ends
    if row.kind == "camp arrival":
        if ends is None:
            ctx.report.error(
                read.line,
                "a camp arrival without 'until'",
                "'until': when the athlete is there",
                "write the moment of arrival under 'until'",
            )
            return None
        first = _first_moment(begins) if begins else datetime.combine(min(ctx.begins, _day(ends)), time(0))
        return first, ends if isinstance(ends, datetime) else _last_moment(ends)
    if begins is None:
        ctx.report.error(
            read.line, "an absence without 'from'", "'from': a date, or a date and a clock", "add 'from'"
        )
        return None
    if row.kind == "camp departure" and ends is None:
        return _first_moment(begins), datetime.combine(max(ctx.ends, _day(begins)), LAST_MINUTE)
    if ends is None:
        return _first_moment(begins), datetime.combine(_day(begins), LAST_MINUTE)
    return _first_moment(begins), _last_moment(ends)


def _day(when: date | datetime) -> date:
    return when.date() if isinstance(when, datetime) else when


def make_limits(ctx: Context, sheets: Sheets) -> tuple[Limit, ...]:
    found: list[Limit] = []
    rows: tuple[Read[LimitRow], ...] = sheets.of("limits")
    for read in rows:
        row = read.it
        name = ctx.athlete(row.athlete, read.at("athlete"))
        held = row.kind == "hold back"
        if not _limit_fits(ctx, read):
            continue
        if held and row.stage is None:
            ctx.assume(
                row.athlete, f"ceiling of the hold-back not given: {HOLD_BACK_STAGE}, sub-maximal work"
            )
        banned = [ctx.unit(b, read.at("banned"), families=True) for b in row.banned]
        region = "whole" if held else row.region or ""
        stage = row.stage if row.stage is not None else HOLD_BACK_STAGE if held else 6
        if name is not None:
            found.append(
                Limit(
                    name,
                    region,
                    "both" if region in ONE_REGION else row.side,
                    stage,
                    row.begins,
                    row.ends,
                    row.days_between,
                    row.contacts_a_week,
                    row.landings_a_session,
                    row.run_up_steps,
                    row.speed_percent,
                    held,
                    tuple(b for b in banned if b is not None),
                    read.line,
                    row.lighter_only,
                    row.hard_contacts_a_week,
                )
            )
    check_stages(ctx, rows)
    return tuple(found)


def _limit_fits(ctx: Context, read: Read[LimitRow]) -> bool:
    row: Any = read.it
    if not ctx.in_order(row.begins, row.ends, read.at("until")):
        return False
    if not ctx.touches(row.begins, row.ends):
        ctx.report.warn(
            read.line, "a limit outside the block", f"dates from {ctx.stretch}", "the year is wrong"
        )
    if row.kind == "hold back":
        if row.region not in (None, "whole"):
            ctx.report.error(
                read.at("region"),
                f"a hold-back with the region {quoted(row.region)}",
                "no region: it holds for the whole athlete",
                "'kind: limit' is meant",
            )
            return False
        return True
    if row.region in (None, "whole"):
        ctx.report.error(
            read.at("region"),
            "a limit without a region of the body",
            "'region'",
            "'kind: hold back' is meant, which needs none",
        )
        return False
    caps = (
        row.days_between,
        row.contacts_a_week,
        row.hard_contacts_a_week,
        row.landings_a_session,
        row.run_up_steps,
        row.speed_percent,
    )
    if row.stage is None and not row.banned and all(c is None for c in caps):
        ctx.report.error(
            read.line,
            "a limit that limits nothing",
            "a return stage from 0 to 6, or an own cap",
            "add 'stage: 4'",
        )
        return False
    return True
