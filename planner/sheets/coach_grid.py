"""The grid of the coach's session page: columns for coaches and places, a line for every five minutes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import GRID, UNIT, SlotTimetable, Watched
from planner.domain.units import AmountWord
from planner.sheets import words
from planner.sheets.looks import look_of
from planner.sheets.view_coach import CellView, ColumnView, EntryView, LineView

STEP = timedelta(minutes=GRID)
TIME_MM = 14.0
FREE = "Any free spot"
GAP_LINES = 3  # lines in a row in which nobody does anything become one
WARM_UP = "warm-up"
MOST_NAMES = 12  # in a cell; a larger group is counted

Spot = tuple[str, str]  # venue and place; a coach's column has ('coach', name)


@dataclass(frozen=True)
class Stretch:
    """One group at one spot from when until when; `ends` equal to `begins` where nobody knows."""

    spot: Spot
    begins: datetime
    ends: datetime
    entry: EntryView


def stretches(
    table: SlotTimetable | None, placements: Sequence[Placement], problem: Problem, short: Mapping[str, str]
) -> list[Stretch]:
    """What happens where; without a timetable each unit when its place opens, with no end."""
    if table is None:
        return _by_openings(placements, short)
    doses = {(p.athlete, p.unit.id): p for p in placements}
    groups: dict[tuple[Spot, datetime, datetime, str], list[tuple[int, str]]] = {}
    amounts: dict[tuple[Spot, datetime, datetime, str], list[AmountWord]] = {}
    for x in table.lines:
        spot = (x.venue, x.place) if x.place else ("", "")
        placed = doses.get((x.athlete, x.unit)) if x.part == UNIT else None
        much = f" {placed.dose.amount}" if placed and x.turn else ""
        light = " lighter" if x.amount == "lighter" else ""
        name = f"{short[x.athlete]}{much}{light}"
        key = (spot, x.begins, x.ends, x.unit or x.part)
        groups.setdefault(key, []).append((x.turn, name))
        amounts.setdefault(key, []).append("lighter" if light else "full")
    found = [
        Stretch(key[0], key[1], key[2], _entry(key[3], people, amounts[key], problem, words.clock(key[2])))
        for key, people in groups.items()
    ]
    for station in table.stations:
        found.append(
            Stretch(
                ("coach", station.coach), station.begins, station.ends,
                _stands(station.place, station.watches, words.clock(station.ends), short),
            )
        )  # fmt: skip
    return sorted(found, key=lambda s: (s.begins, s.spot, s.entry.what, s.entry.who))


def _entry(
    what: str, people: Sequence[tuple[int, str]], amounts: Sequence[AmountWord], problem: Problem, until: str
) -> EntryView:
    """Who is numbered where an order is needed; a lighter row goes by its own name, beside the full one's."""
    ordered = sorted(people)
    turns = len({t for t, _ in ordered if t}) > 1
    names = [f"{i} {name}" if turns else name for i, (_, name) in enumerate(ordered, 1)]
    who = ", ".join(names) if len(names) <= MOST_NAMES else f"{len(names)} athletes"
    unit = problem.units.get(what)
    if unit is None:
        return EntryView("", "", what, who, until)
    look = look_of(unit.family)
    called = dict.fromkeys(words.clean(unit.called_short(a)) for a in sorted(amounts))  # full first
    return EntryView(look.css, look.letter, " / ".join(called), who, until)


def _stands(place: str, watches: Sequence[Watched], until: str, short: Mapping[str, str]) -> EntryView:
    """Where the coach stands and whom they watch: in full first, those nearby in brackets."""
    full = [", ".join(short[n] for n in w.athletes) for w in watches if w.full]
    near = [", ".join(short[n] for n in w.athletes) for w in watches if not w.full]
    who = "; ".join(full) + (f" ({'; '.join(near)})" if near else "")
    return EntryView("", "", words.title(place) or "free", who.strip(), until, bool(full))


def _by_openings(placements: Sequence[Placement], short: Mapping[str, str]) -> list[Stretch]:
    groups: dict[tuple[Spot, datetime, str], list[Placement]] = {}
    for p in placements:
        begins = (p.starts or p.begins).replace(tzinfo=None)
        groups.setdefault(((p.venue, p.place), begins, p.unit.id), []).append(p)
    found = []
    for (spot, begins, _), here in groups.items():
        look = look_of(here[0].unit.family)
        who = ", ".join(short[p.athlete] for p in here)
        what = " / ".join(dict.fromkeys(words.clean(p.short) for p in here))
        entry = EntryView(look.css, look.letter, what, who, "")
        found.append(Stretch(spot, begins, begins, entry))
    return sorted(found, key=lambda s: (s.begins, s.spot, s.entry.what))


def columns(found: Sequence[Stretch], width: float, venues: int) -> list[tuple[Spot, ColumnView]]:
    """Coaches first, then free spots, then places in order of first use."""
    spots = list(dict.fromkeys(s.spot for s in found))
    coaches = sorted(s for s in spots if s[0] == "coach")
    places = [s for s in spots if s[0] != "coach" and s != ("", "")]
    free = [("", "")] if ("", "") in spots else []
    order = [*coaches, *free, *places]
    each = round((width - TIME_MM) / max(1, len(order)), 2)
    return [(spot, ColumnView(_title(spot, venues), spot[0] == "coach", each)) for spot in order]


def _title(spot: Spot, venues: int) -> str:
    if spot == ("", ""):
        return FREE
    if spot[0] == "coach":
        return f"{words.shorter(spot[1], 22)} stands at"
    place = words.title(spot[1])
    return f"{place}, {words.shorter(spot[0], 16)}" if venues > 1 and spot[0] else place


def grid(found: Sequence[Stretch], spots: Sequence[Spot]) -> tuple[LineView, ...]:
    """A line for every five minutes from the first to the last; long stretches of nothing are one line."""
    if not found:
        return ()
    now = _floor(min(s.begins for s in found))
    last = max(max(s.ends, s.begins + STEP) for s in found)
    lines: list[LineView] = []
    idle: list[datetime] = []
    while now < last:
        cells = tuple(_cell(found, spot, now) for spot in spots)
        if any(c.busy or c.entries for c in cells):
            lines += _idle(idle, now)
            idle = []
            lines.append(LineView(words.clock(now), cells, any(c.entries for c in cells)))
        else:
            idle.append(now)
        now += STEP
    return tuple(lines)


def _idle(idle: Sequence[datetime], until: datetime) -> list[LineView]:
    if len(idle) < GAP_LINES:
        return [LineView(words.clock(t), ()) for t in idle]
    return [LineView(words.clock(idle[0]), (), gap=f"nobody until {words.clock(until)}")]


def _cell(found: Sequence[Stretch], spot: Spot, now: datetime) -> CellView:
    here = [s for s in found if s.spot == spot]
    entries = tuple(s.entry for s in here if now <= s.begins < now + STEP)
    busy = any(s.begins < now + STEP and now < s.ends for s in here)
    return CellView(f"{words.clock(now)}, {spot[1] or FREE}", entries, busy)


def _floor(moment: datetime) -> datetime:
    return moment - timedelta(minutes=moment.minute % GRID, seconds=moment.second)
