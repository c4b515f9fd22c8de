"""Slots, places, openings and who is there: from weekday and date rows to dated records."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from itertools import pairwise
from typing import Any

from planner.domain.block import Coach, Opening, Place, Presence, Slot
from planner.domain.finding import Line
from planner.intake.calendar_tables import Attendance, CoachRow, HelperRow, OpeningRow, SlotRow, VenueRow
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.fields import PLACE_KINDS
from planner.intake.judge import Read, Sheets
from planner.intake.spelling import find, suggestion

JUMPS_PER_HOUR = 40  # at one pit with a raker; common practice, no source
INDOOR_KINDS = ("gym", "pool")
DEFAULT_SLOT = ("training", time(17), time(19), tuple(range(6)))  # Monday to Saturday
MANY_AT_ONCE = 99
Span = tuple[time, time]


def minutes(span: Span) -> int:
    return (span[1].hour - span[0].hour) * 60 + span[1].minute - span[0].minute


def common(a: Span, b: Span) -> Span | None:
    """The time two spans share; None when they share none."""
    begins, ends = max(a[0], b[0]), min(a[1], b[1])
    return (begins, ends) if begins < ends else None


def without(span: Span | None, gap: Span) -> Span | None:
    """A span less a gap; a gap in the middle leaves the longer part (the first of two equal ones)."""
    if span is None or common(span, gap) is None:
        return span
    left, right = (span[0], max(span[0], gap[0])), (min(span[1], gap[1]), span[1])
    longest = left if minutes(left) >= minutes(right) else right
    return longest if minutes(longest) > 0 else None


def counts_on(row: SlotRow | OpeningRow | Attendance, day: date) -> bool:
    """Does a row speak of this date? Without days and dates it speaks of every date."""
    if row.on is not None:
        return day in row.on
    if row.days is not None and day.weekday() not in row.days:
        return False
    return (row.first_day or day) <= day <= (row.last_day or day)


def _check_when(ctx: Context, read: Read[Any]) -> None:
    row = read.it
    if row.on is not None and row.days is not None:
        ctx.report.error(
            read.at("date"), "both 'days' and 'date'", "weekdays or dates", "this should be two rows"
        )
    if row.on and not any(ctx.inside(d) for d in row.on):
        ctx.report.warn(
            read.at("date"),
            f"dates outside the block: {row.on[0]}",
            f"dates from {ctx.stretch}",
            "the month or the year is wrong",
        )
    ctx.in_order(row.first_day, row.last_day, read.at("last_day"))
    if row.begins is not None and row.ends is not None and row.ends <= row.begins:
        ctx.report.error(
            read.at("until"),
            f"an end {row.ends:%H:%M} that is not after {row.begins:%H:%M}",
            "an end later on the same day",
            "the two clock times have changed places",
        )


def make_slots(ctx: Context, sheets: Sheets) -> tuple[Slot, ...]:
    """Dated slots in time order. A date wins over a weekday, else the later row over the earlier."""
    rows: tuple[Read[SlotRow], ...] = sheets.of("slots")
    if "slots" not in sheets.given:
        name, begins, ends, weekdays = DEFAULT_SLOT
        ctx.assume("slots", f"no slots given: Mon-Sat {begins:%H:%M}-{ends:%H:%M}, called '{name}'")
        ctx.slot_names = (name,)
        return tuple(Slot(d, name, begins, ends) for d in ctx.days if d.weekday() in weekdays)
    if sheets.empty("slots"):
        ctx.report.error(
            sheets.lines["slots"],
            "an empty table 'slots'",
            "at least one slot",
            "leave the whole table out: then Mon-Sat 17:00-19:00 is assumed",
        )
        return ()
    for read in rows:
        _check_slot(ctx, read)
    _check_twice(ctx, rows)
    found: dict[tuple[date, str], Slot] = {}
    for read in sorted(rows, key=lambda r: r.it.on is not None):  # stable: file order otherwise
        row = read.it
        for day in (d for d in ctx.days if counts_on(row, d)):
            if row.closed:
                for key in [k for k in found if k[0] == day and row.name in (None, k[1])]:
                    del found[key]
                continue
            key = (day, row.name or DEFAULT_SLOT[0])
            old = found.get(key)
            opens = row.begins or (old.begins if old else None)
            shuts = row.ends or (old.ends if old else None)
            if opens and shuts and opens < shuts:
                found[key] = Slot(day, key[1], opens, shuts, read.line)
    slots = tuple(sorted(found.values(), key=lambda s: (s.day, s.begins, s.name)))
    ctx.slot_names = tuple(dict.fromkeys(r.it.name or DEFAULT_SLOT[0] for r in rows if not r.it.closed))
    _check_overlaps(ctx, slots)
    if rows and not slots and ctx.dated and not ctx.report.bad:
        ctx.report.error(
            rows[0].line,
            "slots on no day of the block",
            f"a slot on a day from {ctx.stretch}",
            "the weekdays or dates are others",
        )
    return slots


def _check_slot(ctx: Context, read: Read[SlotRow]) -> None:
    row = read.it
    _check_when(ctx, read)
    if row.on is None and row.days is None:
        ctx.report.error(read.line, "neither 'days' nor 'date'", "weekdays or dates", "add 'days: Mon-Sat'")
    if row.on is None and not row.closed and (row.begins is None or row.ends is None):
        ctx.report.error(read.line, "a slot without clock times", "'from' and 'until'", "add 'from: 17:00'")
    if (
        row.on is not None
        and row.name is None
        and not row.closed
        and (row.begins is None or row.ends is None)
    ):
        ctx.report.error(
            read.line, "a slot without clock times", "'from' and 'until'", "it should be 'closed: yes'"
        )


def _check_twice(ctx: Context, rows: Sequence[Read[SlotRow]]) -> None:
    seen: dict[tuple[str, object], Line] = {}
    for read in rows:
        row = read.it
        if row.closed or row.first_day or row.last_day:
            continue
        name = row.name or DEFAULT_SLOT[0]
        for when in row.on if row.on is not None else row.days or ():
            first = seen.setdefault((name, when), read.line)
            if first is not read.line:
                ctx.report.error(
                    read.line,
                    f"the slot {quoted(name)} a second time on a day (first: {first})",
                    "one row for a slot and day",
                    "the two need different names",
                )
                break


def _check_overlaps(ctx: Context, slots: Sequence[Slot]) -> None:
    told: set[tuple[Line, Line]] = set()
    for a, b in pairwise(slots):
        if a.day == b.day and b.begins < a.ends and (a.line, b.line) not in told:
            told.add((a.line, b.line))
            ctx.report.error(
                b.line,
                f"the slot {quoted(b.name)} that begins at {b.begins:%H:%M}, before "
                f"{quoted(a.name)} ends ({a.line})",
                "slots of a day one after the other",
                "join the two, or change a clock time",
            )


def make_places(ctx: Context, sheets: Sheets) -> tuple[Place, ...]:
    """The places of all venues in file order; one venue with every kind of place when none is given."""
    rows: tuple[Read[VenueRow], ...] = sheets.of("venues")
    if not rows:
        if not sheets.rows_of("venues"):
            ctx.assume(
                "venues",
                "no venues given: one venue 'track' with every kind of place, always open; "
                f"one pit, {JUMPS_PER_HOUR} jumps an hour",
            )
        kinds = [k for k in PLACE_KINDS if k != "anywhere"]
        return tuple(_place("track", k, k, Line()) for k in kinds)
    found: dict[tuple[str, str], Place] = {}
    for read in rows:
        row = read.it
        name = row.place or row.kind
        kind = row.kind or (find(row.place, PLACE_KINDS) if row.place else None)
        if name is None or kind is None:
            ctx.report.error(
                read.line,
                "a place whose kind is not said",
                f"'kind': {', '.join(PLACE_KINDS)}",
                suggestion(row.place or "", PLACE_KINDS, else_say="add 'kind: track'"),
            )
            continue
        if (row.venue, name) in found:
            first = found[row.venue, name].line
            ctx.report.error(
                read.line,
                f"the place {quoted(name)} a second time (first: {first})",
                "each place of a venue once",
                "give the second a name of its own",
            )
            continue
        if kind == "pit" and row.jumps_per_hour is None:
            ctx.assume(f"{row.venue}, {name}", f"jumps per hour not given: {JUMPS_PER_HOUR}")
        found[row.venue, name] = _place(row.venue, name, kind, read.line, row)
    for read in rows:
        _check_crossing(ctx, read, {name for venue, name in found if venue == read.it.venue})
    return tuple(found.values())


def _check_crossing(ctx: Context, read: Read[VenueRow], names: set[str]) -> None:
    for name in read.it.crosses:
        if name not in names:
            ctx.report.error(
                read.at("crosses"),
                f"the unknown place {quoted(name)}",
                "another place of the same venue",
                suggestion(name, names),
            )


def _place(venue: str, name: str, kind: str, line: Line, row: VenueRow | None = None) -> Place:
    jumps = row.jumps_per_hour if row and row.jumps_per_hour is not None else JUMPS_PER_HOUR
    outdoor = row.outdoor if row and row.outdoor is not None else kind not in INDOOR_KINDS
    return Place(
        venue,
        name,
        kind,
        row.capacity if row else MANY_AT_ONCE,
        jumps if kind == "pit" else 0,
        outdoor,
        row.lit if row else True,
        line,
        row.crosses if row else (),
        row.dusk if row else None,
    )


def make_openings(
    ctx: Context, sheets: Sheets, slots: Sequence[Slot], places: Sequence[Place]
) -> tuple[Opening, ...]:
    """Which place is open in which slot. A place without an open weekday row is open in every slot."""
    rows: tuple[Read[OpeningRow], ...] = sheets.of("openings")
    aimed = [(read, _aim(ctx, read, places)) for read in rows]
    used: set[int] = set()
    found: list[Opening] = []
    for place in places:
        mine = [read for read, aims in aimed if place in aims]
        weekly = [r for r in mine if r.it.on is None]
        dated = [r for r in mine if r.it.on is not None]
        only_rows = any(not r.it.closed for r in weekly)
        for slot in slots:
            span: Span | None = None if only_rows else (slot.begins, slot.ends)
            line = place.line
            on_day = [r for r in dated if _speaks(r.it, slot)]
            if any(not r.it.closed for r in on_day):
                span = None
                weekly_here: list[Read[OpeningRow]] = []
            else:
                weekly_here = [r for r in weekly if _speaks(r.it, slot)]
            for read in (*weekly_here, *on_day):
                before, span = span, _opened(span, read.it, slot)
                if span != before:
                    line = read.line
                if read.it.closed or common((slot.begins, slot.ends), _times(read.it, slot)):
                    used.add(id(read))
            if span:
                found.append(Opening(slot.day, slot.name, place, span[0], span[1], line))
    for read, aims in aimed:
        if aims and id(read) not in used and slots and ctx.dated:
            ctx.report.warn(
                read.line,
                "an opening that meets no slot",
                "a time inside a slot of the block",
                "the slots begin earlier or later; look at 'slots'",
            )
    return tuple(sorted(found, key=lambda o: (o.day, o.begins, o.slot, o.place.venue, o.place.name)))


def _speaks(row: OpeningRow, slot: Slot) -> bool:
    return counts_on(row, slot.day) and (row.slot is None or slot.name in row.slot)


def _times(row: OpeningRow, slot: Slot) -> Span:
    return (row.begins or slot.begins, row.ends or slot.ends)


def _opened(span: Span | None, row: OpeningRow, slot: Slot) -> Span | None:
    times = _times(row, slot)
    if row.closed:
        return without(span, times)
    return common((slot.begins, slot.ends), times) or span


def _aim(ctx: Context, read: Read[OpeningRow], places: Sequence[Place]) -> tuple[Place, ...]:
    row = read.it
    _check_when(ctx, read)
    for slot in row.slot or ():
        ctx.slot(slot, read.at("slot"))
    venues = tuple(dict.fromkeys(p.venue for p in places))
    if row.venue is not None and row.venue not in venues:
        ctx.report.error(
            read.at("venue"),
            f"the unknown venue {quoted(row.venue)}",
            "a venue of the table 'venues'",
            suggestion(row.venue, venues),
        )
        return ()
    at_venue = [p for p in places if row.venue in (None, p.venue)]
    for name in row.place or ():
        if name not in {p.name for p in at_venue} and not ctx.doubts("venues", name):
            ctx.report.error(
                read.at("place"),
                f"the unknown place {quoted(name)}",
                "a place of the table 'venues'",
                suggestion(name, {p.name for p in at_venue}),
            )
    return tuple(p for p in at_venue if row.place is None or p.name in row.place)


def make_presences(ctx: Context, sheets: Sheets, slots: Sequence[Slot]) -> tuple[Presence, ...]:
    """Coaches and helpers in each slot, with the minutes of their hours that lie inside it."""
    coaches: tuple[Read[CoachRow], ...] = sheets.of("coaches")
    helpers: tuple[Read[HelperRow], ...] = sheets.of("helpers")
    found: list[Presence] = []
    if not sheets.rows_of("coaches"):
        ctx.assume("coaches", "no coaches given: one coach for everything, there in every slot")
        alone = Coach("Coach")
        found += [Presence(s.day, s.name, alone.name, s.minutes, alone) for s in slots]
    for table, people in (("coaches", coaches), ("helpers", helpers)):
        seen: dict[str, Line] = {}
        for read in people:
            first = seen.setdefault(read.it.name, read.line)
            if first is not read.line:
                ctx.report.error(
                    read.at("name"),
                    f"{quoted(read.it.name)} a second time (first: {first})",
                    f"each name of '{table}' once",
                    "write all hours in one row: 'hours: Mon 16:00-18:00; Thu 17:00-19:00'",
                )
                continue
            there = _there(ctx, read, slots)
            if not there and slots and ctx.dated:
                ctx.report.warn(
                    read.line,
                    f"{quoted(read.it.name)} in no slot",
                    "hours that meet a slot",
                    "the days or clock times are others",
                )
            found += there
    return tuple(sorted(found, key=lambda p: (p.day, p.slot, p.coach is None, p.name)))


def _there(ctx: Context, read: Read[Any], slots: Sequence[Slot]) -> list[Presence]:
    row = read.it
    _check_when(ctx, read)
    for name in row.slots or ():
        ctx.slot(name, read.at("slots"))
    if row.hours and (row.days or row.on or row.begins or row.ends):
        ctx.report.error(
            read.at("hours"),
            "'hours' beside 'days', 'date', 'from' or 'until'",
            "one of the two",
            "everything belongs into 'hours'",
        )
    coach = None
    if isinstance(row, CoachRow):
        coach = Coach(row.name, row.families, row.minors, read.line)
    tasks = row.tasks if isinstance(row, HelperRow) else ()
    found = []
    for slot in slots:
        whole = (slot.begins, slot.ends)
        if slot.day in row.away or not counts_on(row, slot.day) or (row.slots and slot.name not in row.slots):
            continue
        if row.hours:
            spans = [(b, e) for days, b, e in row.hours if slot.day.weekday() in days]
        else:
            spans = [(row.begins or slot.begins, row.ends or slot.ends)]
        hours = tuple(sorted(s for s in (common(whole, span) for span in spans) if s))
        shared = min(sum(minutes(s) for s in hours), slot.minutes)
        if shared > 0:
            hours = () if hours == (whole,) else hours
            found.append(Presence(slot.day, slot.name, row.name, shared, coach, tasks, read.line, hours))
    return found
