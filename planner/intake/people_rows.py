"""Athletes and their groups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Line
from planner.intake.complaints import quoted
from planner.intake.context import ALL, Context
from planner.intake.judge import Read, Sheets
from planner.intake.people_tables import AthleteRow, GroupRow
from planner.intake.reach import JUMPS

YOUNGEST, OLDEST = 5, 99  # years on the first day of the block
MINOR = 18  # years


def make_athletes(ctx: Context, sheets: Sheets) -> tuple[Athlete, ...]:
    """Athletes in file order with their groups; every name once."""
    rows: tuple[Read[AthleteRow], ...] = sheets.of("athletes")
    twice = _named_twice(ctx, sheets)
    found: list[Athlete] = []
    for read in rows:
        row = read.it
        if read.line in twice:
            continue
        if row.name.casefold() == ALL:
            ctx.report.error(
                read.at("name"),
                "an athlete called 'all'",
                "a name; 'all' means everybody",
                "use the athlete's own name",
            )
            continue
        found.append(_athlete(ctx, read))
    ctx.athletes = tuple(a.name for a in found)
    return _grouped(ctx, sheets, found)


def _named_twice(ctx: Context, sheets: Sheets) -> frozenset[Line]:
    """Complain of names that stand twice, in rows that do not fit as well; the lines of the second ones."""
    seen: dict[str, Line] = {}
    twice: set[Line] = set()
    for row in sheets.rows_of("athletes"):
        name = row.values.get("name")
        if not isinstance(name, str):
            continue
        first = seen.setdefault(name.strip().casefold(), row.line)
        if first is not row.line:
            twice.add(row.line)
            ctx.report.error(
                row.at("name"),
                f"the athlete {quoted(name)} a second time (first: {first})",
                "each athlete once",
                "add the family name, or delete one row",
            )
    return frozenset(twice)


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
    if row.training_years is None:
        ctx.assume(row.name, "training years not given: no unit is ruled out for want of them")
    if row.other_sport and "other_sport" in read.row.values:
        cell = read.row.values["other_sport"]
        if (
            len(row.other_sport) == 7
            and not isinstance(cell, (dict, list))
            and str(cell).strip()[:1].isdigit()
        ):
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
        needs=row.needs,
    )


def _born(ctx: Context, read: Read[AthleteRow]) -> date | None:
    row = read.it
    if row.born is not None and row.age is not None:
        ctx.report.error(read.at("age"), "both 'born' and 'age'", "one of the two", "delete the age")
    if row.born is not None:
        age = (ctx.begins - row.born).days // 365
        if ctx.dated and not YOUNGEST <= age <= OLDEST:
            ctx.report.error(
                read.at("born"),
                f"born {row.born}, {max(age, 0)} years old on the first day",
                f"an age from {YOUNGEST} to {OLDEST}",
                "a digit of the year is wrong",
            )
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
            ctx.report.error(
                read.at("name"),
                f"the name {quoted(name)} for a group, taken already",
                "a name no athlete and no other group has",
                "choose another word",
            )
            continue
        for member in read.it.athletes:
            known = ctx.athlete(member, read.at("athletes"))
            if known is None:
                continue
            if group_of.setdefault(known, name) != name:
                ctx.report.error(
                    read.at("athletes"),
                    f"{quoted(known)} in two groups ({line_of[known]})",
                    "one training group for an athlete",
                    "name them singly elsewhere",
                )
                continue
            line_of.setdefault(known, read.line)
            members = ctx.groups.get(name, ())
            ctx.groups[name] = members if known in members else (*members, known)
    for a in athletes:
        if a.group in ctx.athletes or a.group.casefold() == ALL:
            ctx.report.error(
                a.line,
                f"the name {quoted(a.group)} for a group, taken already",
                "a name no athlete has",
                "choose another word",
            )
    return tuple(replace(a, group=group_of.get(a.name, "")) for a in athletes)
