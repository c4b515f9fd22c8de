"""Athletes and what belongs to each of them: groups, marks, run-ups, absences, competitions, limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any

from planner.domain.block import Athlete, Away, Competition, Limit, Mark, RunUp
from planner.domain.finding import Line
from planner.intake.complaints import quoted
from planner.intake.context import ALL, Context
from planner.intake.judge import Read, Sheets
from planner.intake.reach import EVENTS, JUMPS, REACH, UNIT_WORDS
from planner.intake.tables import (
    AthleteRow,
    AwayRow,
    CompetitionRow,
    GroupRow,
    LimitRow,
    MarkRow,
    RunUpRow,
)

YOUNGEST, OLDEST = 5, 99  # years on the first day of the block
MINOR = 18  # years
HOLD_BACK_STAGE = 4  # a ceiling without a number: sub-maximal work; common practice, no source
DAYS_BEFORE, DAYS_AFTER = 14, 183  # competitions further off than this have no bearing on the block
LAST_MINUTE = time(23, 59)  # a date without a clock lasts to the end of its day
RUN_UP_EVENTS = (*JUMPS, "javelin")
ONE_REGION = ("illness", "whole")  # have no side


def make_athletes(ctx: Context, sheets: Sheets) -> tuple[Athlete, ...]:
    """Athletes in file order with their groups; every name once."""
    rows: tuple[Read[AthleteRow], ...] = sheets.of("athletes")
    seen: dict[str, Line] = {}
    found: list[Athlete] = []
    for read in rows:
        row = read.it
        first = seen.setdefault(row.name.casefold(), read.line)
        if first is not read.line:
            ctx.report.error(read.at("name"), f"the athlete {quoted(row.name)} a second time (first: {first})",
                             "each athlete once", "add the family name, or delete one row")  # fmt: skip
            continue
        if row.name.casefold() == ALL:
            ctx.report.error(read.at("name"), "an athlete called 'all'", "a name; 'all' means everybody",
                             "use the athlete's own name")  # fmt: skip
            continue
        found.append(_athlete(ctx, read))
    ctx.athletes = tuple(a.name for a in found)
    return _grouped(ctx, sheets, found)


def _athlete(ctx: Context, read: Read[AthleteRow]) -> Athlete:
    row = read.it
    for what, given, taken in (
        ("events", row.events, "training for all events"),
        ("level", row.level, "developing"),
    ):
        if given is None or given == ():
            ctx.assume(row.name, f"{what} not given: {taken}")
    events = row.events or ("all",)
    if row.take_off_leg is None and any(e in JUMPS for e in events):
        ctx.assume(row.name, "take-off leg not given: left")
    if row.other_sport and "other_sport" in read.row.values:
        cell = read.row.values["other_sport"]
        if len(row.other_sport) == 7 and not isinstance(cell, (dict, list)) and str(cell).strip()[:1].isdigit():
            ctx.assume(row.name, "hours of other sport given for the week: spread evenly over its days")
    return Athlete(
        name=row.name,
        born=_born(ctx, read),
        sex=row.sex,
        events=events,
        level=row.level or "developing",
        levels=row.levels,
        training_years=row.training_years,
        take_off_leg=row.take_off_leg or "left",
        growth_cm_per_year=row.growth,
        sound_landing=bool(row.sound_landing),
        other_sport_minutes=row.other_sport,
        group=row.group,
        line=read.line,
    )


def _born(ctx: Context, read: Read[AthleteRow]) -> date | None:
    row = read.it
    if row.born is not None and row.age is not None:
        ctx.report.error(read.at("age"), "both 'born' and 'age'", "one of the two", "delete the age")
    if row.born is not None:
        age = (ctx.begins - row.born).days // 365
        if ctx.dated and not YOUNGEST <= age <= OLDEST:
            ctx.report.error(read.at("born"), f"born {row.born}, {max(age, 0)} years old on the first day",
                             f"an age from {YOUNGEST} to {OLDEST}", "a digit of the year is wrong")  # fmt: skip
        return row.born
    if row.age is not None:
        ctx.assume(row.name, f"date of birth not given: {row.age} years old throughout the block")
        day = min(ctx.begins.day, 28) if ctx.begins.month == 2 else ctx.begins.day
        return date(ctx.begins.year - row.age, ctx.begins.month, day)
    ctx.assume(row.name, "age not given: planned as an adult")
    return None


def _grouped(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[Athlete, ...]:
    """Athletes with the group of their own row or of the groups table; two different ones are an error."""
    group_of = {a.name: a.group for a in athletes if a.group}
    line_of = {a.name: a.line for a in athletes if a.group}
    for a in athletes:
        if a.group:
            ctx.groups[a.group] = (*ctx.groups.get(a.group, ()), a.name)
    seen: dict[str, Line] = {}
    rows: tuple[Read[GroupRow], ...] = sheets.of("groups")
    for read in rows:
        name = read.it.name
        first = seen.setdefault(name, read.line)
        if first is not read.line or name in ctx.athletes or name.casefold() == ALL:
            ctx.report.error(read.at("name"), f"the name {quoted(name)} for a group, taken already",
                             "a name no athlete and no other group has", "choose another word")  # fmt: skip
            continue
        for member in read.it.athletes:
            known = ctx.athlete(member, read.at("athletes"))
            if known is None:
                continue
            if group_of.setdefault(known, name) != name:
                ctx.report.error(read.at("athletes"), f"{quoted(known)} in two groups ({line_of[known]})",
                                 "one training group for an athlete", "name them singly elsewhere")  # fmt: skip
                continue
            line_of.setdefault(known, read.line)
            members = ctx.groups.get(name, ())
            ctx.groups[name] = members if known in members else (*members, known)
    for a in athletes:
        if a.group in ctx.athletes or a.group.casefold() == ALL:
            ctx.report.error(a.line, f"the name {quoted(a.group)} for a group, taken already",
                             "a name no athlete has", "choose another word")  # fmt: skip
    return tuple(replace(a, group=group_of.get(a.name, "")) for a in athletes)


def make_marks(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[Mark, ...]:
    sex = {a.name: a.sex for a in athletes}
    found: list[Mark] = []
    rows: tuple[Read[MarkRow], ...] = sheets.of("marks")
    for read in rows:
        row = read.it
        name = ctx.athlete(row.athlete, read.at("athlete"))
        unit, value = row.mark
        reach = REACH[row.event]
        shown = quoted(read.row.values.get("mark"))
        if unit != reach.unit:
            ctx.report.error(read.at("mark"), f"{shown} for the {row.event}", UNIT_WORDS[reach.unit],
                             "the unit or the event is another")  # fmt: skip
            continue
        if reach.beyond(value, sex.get(row.athlete, "")):
            ctx.report.error(read.at("mark"), f"{shown} for the {row.event}, beyond human reach",
                             "a mark a human can reach", "a digit or the decimal point is wrong")  # fmt: skip
            continue
        if reach.unusual(value):
            ctx.report.warn(read.at("mark"), f"{shown} for the {row.event}, far from usual",
                            "a mark of that event", "a digit or the unit is wrong")  # fmt: skip
        if row.on is not None and ctx.dated and row.on > ctx.ends:
            ctx.report.warn(read.at("date"), f"a mark dated {row.on}, after the block", "a day that has been",
                            "the year is wrong")  # fmt: skip
        if name is not None:
            found.append(Mark(name, row.event, value, unit, row.wind, row.on, read.line))
    return tuple(found)


def make_run_ups(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[RunUp, ...]:
    leg = {a.name: a.take_off_leg for a in athletes}
    found: list[RunUp] = []
    rows: tuple[Read[RunUpRow], ...] = sheets.of("run_ups")
    for read in rows:
        row = read.it
        name = ctx.athlete(row.athlete, read.at("athlete"))
        if row.event not in RUN_UP_EVENTS:
            ctx.report.error(read.at("event"), f"a run-up for {quoted(row.event)}",
                             "an event with a run-up: " + ", ".join(e for e in RUN_UP_EVENTS if e != "all"),
                             "the row belongs to 'marks'")  # fmt: skip
            continue
        if row.check_steps is not None and row.check_steps >= row.steps:
            ctx.report.error(read.at("check_steps"), f"a check mark at step {row.check_steps} of {row.steps}",
                             "a step before the last", "the two numbers have changed places")  # fmt: skip
        if name is not None:
            found.append(RunUp(name, row.event, row.steps, row.start_mark, row.check_steps, row.check_mark,
                               row.coach_mark, row.shoe, row.board, row.leg or leg[name], row.on, read.line))  # fmt: skip
    return tuple(found)


def _first_moment(when: date | datetime) -> datetime:
    return when if isinstance(when, datetime) else datetime.combine(when, time(0))


def _last_moment(when: date | datetime) -> datetime:
    return when if isinstance(when, datetime) else datetime.combine(when, LAST_MINUTE)


def make_away(ctx: Context, sheets: Sheets) -> tuple[Away, ...]:
    """Absences with clock times; a date alone means the whole day. Arrival and departure have one end open."""
    found: list[Away] = []
    rows: tuple[Read[AwayRow], ...] = sheets.of("away")
    for read in rows:
        row = read.it
        people = ctx.people(row.athlete, read.at("athlete"))
        span = _away_span(ctx, read)
        if span is None:
            continue
        if span[1] < span[0]:
            ctx.report.error(read.at("until"), f"an end {span[1]:%Y-%m-%d %H:%M} before the beginning "
                             f"{span[0]:%Y-%m-%d %H:%M}", "an end after the beginning",
                             "the two have changed places")  # fmt: skip
            continue
        if not ctx.touches(span[0].date(), span[1].date()):
            ctx.report.warn(read.line, f"an absence outside the block ({span[0]:%Y-%m-%d})",
                            f"dates from {ctx.stretch}", "the month or the year is wrong")  # fmt: skip
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
            ctx.report.error(read.line, "a camp arrival without 'until'", "'until': when the athlete is there",
                             "write the moment of arrival under 'until'")  # fmt: skip
            return None
        first = _first_moment(begins) if begins else datetime.combine(min(ctx.begins, _day(ends)), time(0))
        return first, ends if isinstance(ends, datetime) else _last_moment(ends)
    if begins is None:
        ctx.report.error(read.line, "an absence without 'from'", "'from': a date, or a date and a clock",
                         "add 'from'")  # fmt: skip
        return None
    if row.kind == "camp departure" and ends is None:
        return _first_moment(begins), datetime.combine(max(ctx.ends, _day(begins)), LAST_MINUTE)
    if ends is None:
        return _first_moment(begins), datetime.combine(_day(begins), LAST_MINUTE)
    return _first_moment(begins), _last_moment(ends)


def _day(when: date | datetime) -> date:
    return when.date() if isinstance(when, datetime) else when


def make_competitions(ctx: Context, sheets: Sheets) -> tuple[Competition, ...]:
    """One competition an athlete, in file order."""
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
        early, late = ctx.begins - timedelta(DAYS_BEFORE), ctx.ends + timedelta(DAYS_AFTER)
        if ctx.dated and not early <= row.on <= late:
            ctx.report.warn(read.at("date"), f"the competition {quoted(row.name)} on {row.on}, far from the block",
                            f"a date near {ctx.stretch}", "the year is wrong, or it is not needed here")  # fmt: skip
        for person in ctx.people(row.athletes, read.at("athletes")):
            first = seen.setdefault((row.name, person, row.on), read.line)
            if first is not read.line:
                ctx.report.error(read.line, f"{quoted(person)} twice in {quoted(row.name)} on {row.on} ({first})",
                                 "one row for an athlete, a competition and a day",
                                 "write all events into one row")  # fmt: skip
                continue
            importance = row.importance or "train-through"
            found.append(Competition(row.name, person, row.on, last, row.events, importance, read.line))
    return tuple(found)


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
            ctx.assume(row.athlete, f"ceiling of the hold-back not given: {HOLD_BACK_STAGE}, sub-maximal work")
        banned = [ctx.unit(b, read.at("banned"), families=True) for b in row.banned]
        region = "whole" if held else row.region or ""
        stage = row.stage if row.stage is not None else HOLD_BACK_STAGE if held else 6
        if name is not None:
            found.append(
                Limit(
                    name, region, "both" if region in ONE_REGION else row.side, stage, row.begins, row.ends,
                    row.days_between, row.contacts_a_week, row.landings_a_session, row.run_up_steps,
                    row.speed_percent, held, tuple(b for b in banned if b is not None), read.line,
                )
            )  # fmt: skip
    return tuple(found)


def _limit_fits(ctx: Context, read: Read[LimitRow]) -> bool:
    row: Any = read.it
    if not ctx.in_order(row.begins, row.ends, read.at("until")):
        return False
    if not ctx.touches(row.begins, row.ends):
        ctx.report.warn(read.line, "a limit outside the block", f"dates from {ctx.stretch}", "the year is wrong")
    if row.kind == "hold back":
        if row.region not in (None, "whole"):
            ctx.report.error(read.at("region"), f"a hold-back with the region {quoted(row.region)}",
                             "no region: it holds for the whole athlete", "'kind: limit' is meant")  # fmt: skip
            return False
        return True
    if row.region in (None, "whole"):
        ctx.report.error(read.at("region"), "a limit without a region of the body", "'region'",
                         "'kind: hold back' is meant, which needs none")  # fmt: skip
        return False
    caps = (row.days_between, row.contacts_a_week, row.landings_a_session, row.run_up_steps, row.speed_percent)
    if row.stage is None and not row.banned and all(c is None for c in caps):
        ctx.report.error(read.line, "a limit that limits nothing", "a return stage from 0 to 6, or an own cap",
                         "add 'stage: 4'")  # fmt: skip
        return False
    return True


KNOWN_EVENTS = EVENTS  # what the events of an athlete or a competition may be
