"""From a plan to the squad board's view: athletes by days and slots, coaches, totals, key."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from planner.domain.plan import Outcome, Placement
from planner.domain.problem import Problem
from planner.domain.revision import Revision
from planner.domain.view import WARM_UP_EFFORT, PlanView, Session
from planner.sheets import words
from planner.sheets.build_athlete import calendar, revision_view, squad_foot
from planner.sheets.build_notes import Notes, notes_of
from planner.sheets.looks import LOOKS, look_of
from planner.sheets.paper import BAR_FULL_LOAD, BAR_FULL_MM, Paper, lanes_on
from planner.sheets.view_board import (
    BarPart,
    BoardCell,
    BoardDay,
    BoardLane,
    BoardPage,
    BoardRow,
    BoardUnit,
    BoardView,
    CoachCell,
    CoachRow,
    KeyView,
)

BAR_WORDS = f"effort × minutes; a bar of {BAR_FULL_MM} mm is {BAR_FULL_LOAD}"
OWN_WORK = "own-work"


@dataclass(frozen=True)
class _Lane:
    day: date
    slot: str  # '' for a day on which nobody trains


def board_view(
    outcome: Outcome, problem: Problem, revision: Revision, paper: Paper, draft: bool, remarks: tuple[str, ...] | None
) -> BoardView:
    """Every week of the squad. `remarks` None makes the wall's copy, without findings, limits or reasons."""
    plan = PlanView(outcome.plan, problem)
    own_copy = remarks is not None
    pages: list[BoardPage] = []
    weeks = _weeks(problem)
    for number, days in enumerate(weeks, 1):
        parts = _parts(_lanes(days, plan), lanes_on(paper))
        notes = notes_of(outcome, problem, days, number, remarks or (), own_copy)
        for i, lanes in enumerate(parts, 1):
            part = f"part {i} of {len(parts)}" if len(parts) > 1 else ""
            last = i == len(parts)
            pages.append(
                _page(plan, days, lanes, f"week {number} of {len(weeks)}", part, notes if last else notes.without_lists())
            )
    block = problem.block
    return BoardView(
        title=f"Squad board: {words.clean(block.name)}, {words.span(block.begins, block.ends)}",
        squad=words.clean(block.squad),
        contact=words.clean(block.contact),
        revision=revision_view(revision, draft),
        own_copy=own_copy,
        pages=tuple(pages),
        bar_words=BAR_WORDS,
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _weeks(problem: Problem) -> list[tuple[date, ...]]:
    """The block's days, cut at the week's first day."""
    weeks: dict[date, list[date]] = {}
    for day in problem.days:
        monday = day - timedelta(days=(day.weekday() - problem.block.week_start) % 7)
        weeks.setdefault(monday, []).append(day)
    return [tuple(days) for _, days in sorted(weeks.items())]


def _lanes(days: tuple[date, ...], plan: PlanView) -> list[_Lane]:
    """One lane for each slot that somebody uses, in order of time; a day without any has one."""
    order = {s.key: i for i, s in enumerate(sorted(plan.problem.block.slots, key=lambda s: (s.day, s.begins, s.name)))}
    lanes = []
    for day in days:
        used = {p.slot for p in plan.placements if p.day == day}
        for slot in sorted(used, key=lambda s: (order.get((day, s), len(order)), s)):
            lanes.append(_Lane(day, slot))
        if not used:
            lanes.append(_Lane(day, ""))
    return lanes


def _parts(lanes: list[_Lane], most: int) -> list[list[_Lane]]:
    """Whole days together, as evenly as they go: a half week on a small paper."""
    if len(lanes) <= most:
        return [lanes]
    days: dict[date, list[_Lane]] = {}
    for lane in lanes:
        days.setdefault(lane.day, []).append(lane)
    wanted = -(-len(lanes) // most)
    goal = -(-len(lanes) // wanted)
    parts: list[list[_Lane]] = [[]]
    for group in days.values():
        full = len(parts[-1]) + len(group) > most or len(parts[-1]) >= goal
        if parts[-1] and full:
            parts.append([])
        parts[-1].extend(group)
    return parts


def _page(
    plan: PlanView, days: tuple[date, ...], lanes: list[_Lane], key: str, part: str, notes: Notes
) -> BoardPage:
    problem = plan.problem
    groups = {lane: _together(plan.in_slot(lane.day, lane.slot)) for lane in lanes if lane.slot}
    rows = []
    before = ""
    for athlete in problem.block.athletes:
        name = athlete.name
        cells = tuple(_cell(name, lane, lanes, plan, groups.get(lane, {})) for lane in lanes)
        load = sum(plan.day_load(name, d) for d in days)
        minutes = sum(plan.day_minutes(name, d) for d in days)
        week = problem.week_of(name, days[0])
        fast = len(plan.fast_days(week)) if week else 0
        rows.append(
            BoardRow(
                name=words.clean(name),
                events=words.listed(tuple(words.clean(e) for e in athlete.events)),
                care=care_word(name, days, problem),
                cells=cells,
                load=str(load),
                hours=f"{minutes // 60}:{minutes % 60:02d} h",
                fast=f"{fast} fast",
                opens_group=bool(rows) and athlete.group != before,
            )
        )
        before = athlete.group
    shown = [lane.day for lane in lanes]
    title = f"{words.title(problem.block.name)}, {key}"
    return BoardPage(
        key=f"{key}, {part}" if part else key,
        title=title,
        sub=", ".join(x for x in ("Squad board", words.span(days[0], days[-1]), part) if x),
        foot=f"Squad board, {key}" + (f", {part}" if part else ""),
        days=tuple(BoardDay(words.day_of(d), words.short_date(d), shown.count(d)) for d in dict.fromkeys(shown)),
        lanes=tuple(_head(lane, i, lanes, plan) for i, lane in enumerate(lanes)),
        rows=tuple(rows),
        coaches=tuple(_coach_row(name, lanes, plan) for name in _coaches(problem, plan)),
        keys=_keys(plan, lanes, problem),
        sure=notes.sure,
        findings=notes.findings,
        cannot=notes.cannot,
        exceptions=notes.exceptions,
        limits=notes.limits,
    )


def care_word(athlete: str, days: Iterable[date], problem: Problem) -> str:
    """All that a shared sheet may say of a body: 'limited', 'lighter', or nothing."""
    active = [x for d in days for x in problem.limits_on(athlete, d) if x.stage < 6 or x.hold_back]
    if any(not x.hold_back for x in active):
        return "limited"
    return "lighter" if active else ""


def _head(lane: _Lane, i: int, lanes: list[_Lane], plan: PlanView) -> BoardLane:
    here = len({p.athlete for p in plan.in_slot(lane.day, lane.slot)}) if lane.slot else 0
    opens = i == 0 or lanes[i - 1].day != lane.day
    return BoardLane(words.clean(lane.slot), f"{here} here" if here else "", opens)


def _cell(name: str, lane: _Lane, lanes: list[_Lane], plan: PlanView, groups: Mapping[str, str]) -> BoardCell:
    label = f"{name}, {words.day_of(lane.day)} {words.short_date(lane.day)}"
    session = next((s for s in plan.sessions(name, lane.day) if s.slot == lane.slot), None)
    first_of_day = next(x for x in lanes if x.day == lane.day) == lane
    events = calendar(name, lane.day, plan.problem) if first_of_day else ()
    said = tuple(_said(e.title, e.text if e.kind == "competition" else "") for e in events)
    competition = any(e.kind == "competition" for e in events)
    if session is None:
        anything = bool(plan.sessions(name, lane.day)) or bool(calendar(name, lane.day, plan.problem))
        return BoardCell(label, said=said, competition=competition, rest=first_of_day and not anything)
    return BoardCell(
        cell=label,
        units=tuple(_unit(p) for p in session.placements),
        bars=_bars(session),
        where=_where(session),
        said=said,
        competition=competition,
        group=groups.get(name, ""),
    )


def _said(title: str, text: str) -> str:
    events = text.split(";")[0]
    return f"{title}: {events}" if text and ";" in text else title.rstrip(".")


def _unit(p: Placement) -> BoardUnit:
    look = look_of(p.unit.family)
    number, note = words.amount(p.dose)
    del note  # the athlete page has it; a board's cell holds the key number only
    name = "Own work" if p.unit.id == OWN_WORK else words.title(p.unit.name)
    return BoardUnit(look.css, look.letter, name, number, "lighter" if p.dose.word == "lighter" else "")


def _bars(session: Session) -> tuple[BarPart, ...]:
    """One part per unit, its width the unit's load; the warm-up's load is spread over the parts."""
    shares = [(p.unit.family, p.dose.load) for p in session.placements]
    total = sum(load for _, load in shares)
    whole = total + session.warm_up * WARM_UP_EFFORT
    scale = min(whole, BAR_FULL_LOAD) / BAR_FULL_LOAD * BAR_FULL_MM / max(total, 1)
    return tuple(BarPart(look_of(family).css, round(load * scale, 2)) for family, load in shares if load)


def _where(session: Session) -> str:
    """'17:00 north pit, Marit Lo; 18:30 gym'."""
    said = []
    last = ("", "", "")
    for p in session.placements:
        here = (words.clock(p.begins), words.clean(p.place), words.clean(p.coach))
        if here != last:
            time = f"{here[0]} " if here[0] != last[0] else ""
            place = here[1] if here[1] != last[1] or time else ""
            said.append(", ".join(x for x in (f"{time}{place}".strip(), here[2] if here[2] != last[2] else "") if x))
        last = here
    return "; ".join(x for x in said if x)


def _together(placements: tuple[Placement, ...]) -> Mapping[str, str]:
    """Athlete -> letter of the group that trains together in a slot; those alone have none."""
    group = {name: name for name in sorted({p.athlete for p in placements})}

    def head(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    for p in placements:
        for other in p.partners:
            if other in group:
                a, b = sorted((head(p.athlete), head(other)))
                group[b] = a
    size: dict[str, int] = {}
    for name in group:
        size[head(name)] = size.get(head(name), 0) + 1
    letters: dict[str, str] = {}
    for name in group:
        if size[head(name)] > 1:
            letters.setdefault(head(name), chr(ord("a") + len(letters) % 26))
    return {name: letters[head(name)] for name in group if head(name) in letters}


def _coaches(problem: Problem, plan: PlanView) -> list[str]:
    there = [p.name for p in problem.block.presences if p.coach is not None]
    watching = [p.coach for p in plan.placements if p.coach]
    return list(dict.fromkeys([*there, *sorted(watching)]))


def _coach_row(name: str, lanes: list[_Lane], plan: PlanView) -> CoachRow:
    cells = []
    for lane in lanes:
        watched = [p for p in plan.in_slot(lane.day, lane.slot) if p.coach == name] if lane.slot else []
        there = any(p.name == name for p in plan.problem.presences_in(lane.day, lane.slot))
        stops: dict[tuple[str, str], set[str]] = {}
        for p in sorted(watched, key=lambda p: (p.begins, p.place)):
            stops.setdefault((words.clock(p.begins), words.clean(p.place)), set()).add(p.athlete)
        lines = tuple(f"{time} {place} ({len(who)})" for (time, place), who in stops.items())
        cells.append(CoachCell(lines or (("there",) if there else ()), there))
    return CoachRow(words.clean(name), tuple(cells))


def _keys(plan: PlanView, lanes: list[_Lane], problem: Problem) -> tuple[KeyView, ...]:
    """The families that stand on this page, and the competition when there is one."""
    families = {p.unit.family for lane in lanes for p in plan.in_slot(lane.day, lane.slot)}
    looks = {look_of(f) for f in families}
    days = {lane.day for lane in lanes}
    competes = any(problem.competition_on(a, d) for a in problem.athletes for d in days)
    return tuple(
        KeyView(x.css, x.letter, x.name) for x in LOOKS if x in looks or (competes and x.family == "competition")
    )
