"""What is wished and what was: themes, phases, fixed and wished units, weeks before the block, weather."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise

from planner.domain.block import BeforeWeek, LastDone, PhaseSpan, Slot, Theme, Weather, Wish
from planner.domain.finding import Line
from planner.domain.units import COUNTERS
from planner.intake.calendar_tables import WeatherRow
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.plan_tables import BeforeRow, PhaseRow, ThemeRow, WishRow


def make_themes(ctx: Context, sheets: Sheets) -> tuple[Theme, ...]:
    found: list[Theme] = []
    rows: tuple[Read[ThemeRow], ...] = sheets.of("themes")
    for read in rows:
        row = read.it
        if not ctx.in_order(row.begins, row.ends, read.at("until")):
            continue
        if not ctx.touches(row.begins, row.ends):
            ctx.report.warn(
                read.line, "a theme outside the block", f"dates from {ctx.stretch}", "the year is wrong"
            )
        units = [ctx.unit(u, read.at("units"), families=True) for u in row.units]
        kept = tuple(u for u in units if u is not None)
        for person in ctx.people(row.athlete, read.at("athlete")):
            found.append(Theme(person, row.aim, row.measure, row.begins, row.ends, kept, read.line))
    return tuple(found)


def make_phases(ctx: Context, sheets: Sheets) -> tuple[PhaseSpan, ...]:
    """Phases as given. For one athlete (or all) they follow each other day on day and cover the block."""
    found: list[PhaseSpan] = []
    rows: tuple[Read[PhaseRow], ...] = sheets.of("phases")
    for read in rows:
        row = read.it
        if not ctx.in_order(row.begins, row.ends, read.at("until")):
            continue
        for person in ctx.people_or_all(row.athlete, read.at("athlete")):
            found.append(PhaseSpan(person, row.phase, row.begins, row.ends, row.share, read.line))
    for person in dict.fromkeys(p.athlete for p in found):
        _check_chain(ctx, sorted((p for p in found if p.athlete == person), key=lambda p: (p.begins, p.ends)))
    return tuple(found)


def _check_chain(ctx: Context, spans: Sequence[PhaseSpan]) -> None:
    one_day = timedelta(days=1)
    for a, b in pairwise(spans):
        if b.begins <= a.ends:
            ctx.report.error(
                b.line,
                f"the phase '{b.phase}' from {b.begins}, before '{a.phase}' ends on {a.ends} ({a.line})",
                "phases that do not overlap",
                f"'from: {a.ends + one_day}' is meant",
            )
        elif b.begins > a.ends + one_day:
            ctx.report.error(
                b.line,
                f"days without a phase between '{a.phase}', which ends on {a.ends} "
                f"({a.line}), and '{b.phase}' from {b.begins}",
                "phases day on day",
                f"'from: {a.ends + one_day}' is meant",
            )
    if ctx.dated and spans:
        if spans[0].begins > ctx.begins:
            ctx.report.error(
                spans[0].line,
                f"days without a phase from {ctx.begins} ({ctx.line}) to {spans[0].begins}",
                "phases that cover the block",
                f"'from: {ctx.begins}' is meant",
            )
        if spans[-1].ends < ctx.ends:
            ctx.report.error(
                spans[-1].line,
                f"days without a phase from {spans[-1].ends} to {ctx.ends} ({ctx.line})",
                "phases that cover the block",
                f"'until: {ctx.ends}' is meant",
            )


def make_wishes(ctx: Context, sheets: Sheets, table: str, slots: Sequence[Slot]) -> tuple[Wish, ...]:
    """The rows of `fixed` or `wishes`, one an athlete."""
    found: list[Wish] = []
    seen: dict[tuple[str, date, str, str], Line] = {}
    rows: tuple[Read[WishRow], ...] = sheets.of(table)
    for read in rows:
        row = read.it
        people = ctx.people(row.athlete, read.at("athlete"))
        unit = ctx.unit(row.unit, read.at("unit"))
        if row.amount and row.amount not in ("full", "lighter") and not re.match(r"\d", row.amount):
            ctx.report.error(
                read.at("amount"),
                quoted(row.amount),
                "full, lighter, or a figure such as 240 m",
                "'lighter' is meant",
            )
        if not ctx.inside(row.on):
            ctx.report.error(
                read.at("date"),
                f"{row.on}, outside the block",
                f"a date from {ctx.stretch}",
                "the month or the year is wrong",
            )
            continue
        if row.slot and ctx.slot(row.slot, read.at("slot")) is None:
            continue
        there = [s for s in slots if s.day == row.on and row.slot in ("", s.name)]
        if slots and ctx.dated and not there:
            which = f"slot {quoted(row.slot)}" if row.slot else "slot"
            ctx.report.error(
                read.at("date"),
                f"no {which} on {row.on}",
                "a day with that slot",
                "another day is meant, or a row of 'slots' is missing",
            )
            continue
        for person in people if unit is not None else ():
            first = seen.setdefault((person, row.on, unit or "", row.slot), read.line)
            if first is not read.line:
                ctx.report.error(
                    read.line,
                    f"{quoted(unit)} of {quoted(person)} on {row.on} twice ({first})",
                    "one row for an athlete, a day and a unit",
                    "delete one of them",
                )
                continue
            found.append(Wish(person, row.on, unit or "", row.slot, row.amount, read.line))
    return tuple(found)


def make_before(
    ctx: Context, sheets: Sheets, week_start: int
) -> tuple[tuple[BeforeWeek, ...], tuple[LastDone, ...]]:
    """Weeks before the block (each begins on the block's week start) and last dates of units."""
    weeks: list[BeforeWeek] = []
    last: list[LastDone] = []
    seen: dict[tuple[str, date], Line] = {}
    rows: tuple[Read[BeforeRow], ...] = sheets.of("before")
    for read in rows:
        row = read.it
        name = ctx.athlete(row.athlete, read.at("athlete"))
        counters = {c: v for c in (*COUNTERS, "load") if (v := getattr(row, c.replace("-", "_"))) is not None}
        if not _before_fits(ctx, read, bool(counters)):
            continue
        if row.week is not None and name is not None:
            monday = row.week - timedelta(days=(row.week.weekday() - week_start) % 7)
            first = seen.setdefault((name, monday), read.line)
            if first is not read.line:
                ctx.report.error(
                    read.line,
                    f"the week of {monday} of {quoted(name)} twice ({first})",
                    "one row for an athlete and a week",
                    "another week is meant",
                )
                continue
            weeks.append(BeforeWeek(name, monday, counters, read.line))
        if row.unit is not None and row.last is not None:
            unit = ctx.unit(row.unit, read.at("unit"))
            if unit is not None and name is not None:
                last.append(LastDone(name, unit, row.last, read.line))
    return tuple(weeks), tuple(last)


def _before_fits(ctx: Context, read: Read[BeforeRow], counted: bool) -> bool:
    row = read.it
    fits = True
    if (row.week is None) != (not counted):
        found = "amounts without a week" if row.week is None else "a week without amounts"
        ctx.report.error(read.line, found, "'week' and at least one amount", "add 'fast_metres: 0'")
        fits = False
    if (row.unit is None) != (row.last is None):
        ctx.report.error(read.line, "one of 'unit' and 'last' without the other", "both", "add the other one")
        fits = False
    if row.week is None and row.unit is None and not counted:
        ctx.report.error(
            read.line, "a row that says nothing", "'week' and amounts, or 'unit' and 'last'", "delete the row"
        )
        fits = False
    for column, day in (("week", row.week), ("last", row.last)):
        if day is not None and ctx.dated and day >= ctx.begins:
            ctx.report.error(
                read.at(column),
                f"{day}, which is not before the block",
                f"a date before {ctx.begins}",
                "the month or the year is wrong",
            )
            fits = False
    return fits


def make_weather(ctx: Context, sheets: Sheets) -> tuple[Weather, ...]:
    found: list[Weather] = []
    rows: tuple[Read[WeatherRow], ...] = sheets.of("weather")
    for read in rows:
        row = read.it
        if not ctx.inside(row.on):
            ctx.report.warn(
                read.at("date"),
                f"weather of {row.on}, outside the block",
                f"dates from {ctx.stretch}",
                "the month is wrong",
            )
        if row.slot and ctx.slot(row.slot, read.at("slot")) is None:
            continue
        sky = (row.wbgt, row.rain, row.wind, row.wind_from)
        found.append(Weather(row.on, row.slot, *sky, read.line, row.air))
    return tuple(found)
