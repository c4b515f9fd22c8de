"""From a plan to the squad board's view: athletes by days and slots, coaches, totals, key."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from planner.domain.plan import Outcome, Placement
from planner.domain.problem import Problem
from planner.domain.view import WARM_UP_EFFORT, PlanView, Session
from planner.sheets import words
from planner.sheets.board_lanes import Lane, Part, lanes_of, parts_of, where_words
from planner.sheets.build_athlete import calendar, squad_foot
from planner.sheets.build_notes import Notes, notes_of
from planner.sheets.looks import BY_FAMILY, LOOKS, look_of
from planner.sheets.paper import BAR_FULL_LOAD, BAR_FULL_MM, Paper, lanes_on
from planner.sheets.view_athlete import EventView, RevisionView
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
    GroupView,
    KeyView,
)

BAR_WORDS = f"effort × minutes; a bar of {BAR_FULL_MM} mm is {BAR_FULL_LOAD}"
OWN_WORK = "own-work"


def board_view(
    outcome: Outcome, problem: Problem, revision: RevisionView, paper: Paper, remarks: tuple[str, ...] | None
) -> BoardView:
    """Every week of the squad. `remarks` None makes the wall's copy, without findings, limits or reasons."""
    plan = PlanView(outcome.plan, problem)
    pages: list[BoardPage] = []
    weeks = _weeks(problem)
    for number, days in enumerate(weeks, 1):
        parts = parts_of(lanes_of(days, plan), lanes_on(paper))
        notes = notes_of(outcome, problem, days, number, remarks)
        key = f"week {number} of {len(weeks)}"
        for i, lanes in enumerate(parts, 1):
            said = notes if i == len(parts) else notes.without_lists()
            which = f"part {i} of {len(parts)}" if len(parts) > 1 else ""
            pages.append(_page(Part(plan, days, tuple(lanes)), key, which, said))
    block = problem.block
    return BoardView(
        title=f"Squad board: {words.clean(block.name)}, {words.span(block.begins, block.ends)}",
        squad=words.clean(block.squad),
        contact=words.clean(block.contact),
        revision=revision,
        own_copy=remarks is not None,
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


def _page(part: Part, key: str, which: str, notes: Notes) -> BoardPage:
    problem = part.plan.problem
    days = part.week
    shown = [lane.day for lane in part.lanes]
    return BoardPage(
        key=f"{key}, {which}" if which else key,
        title=f"{words.title(problem.block.name)}, {key}",
        sub=", ".join(x for x in ("Squad board", words.span(days[0], days[-1]), which) if x),
        foot=f"Squad board, {key}" + (f", {which}" if which else ""),
        days=tuple(
            BoardDay(words.day_of(d), words.short_date(d), shown.count(d)) for d in dict.fromkeys(shown)
        ),
        lanes=tuple(_head(lane, part) for lane in part.lanes),
        rows=_rows(part),
        coaches=tuple(_coach_row(name, part) for name in _coaches(part.plan)),
        keys=_keys(part),
        sure=notes.sure,
        findings=notes.findings,
        cannot=notes.cannot,
        exceptions=notes.exceptions,
        limits=notes.limits,
    )


def _rows(part: Part) -> tuple[BoardRow, ...]:
    plan, problem = part.plan, part.plan.problem
    rows: list[BoardRow] = []
    before = ""
    for athlete in problem.block.athletes:
        name = athlete.name
        minutes = sum(plan.day_minutes(name, d) for d in part.week)
        week = problem.week_of(name, part.week[0])
        rows.append(
            BoardRow(
                name=words.clean(name),
                events=words.listed(tuple(words.clean(e) for e in athlete.events)),
                care=care_word(name, part.week, problem),
                cells=tuple(_cell(name, lane, part) for lane in part.lanes),
                load=str(sum(plan.day_load(name, d) for d in part.week)),
                hours=f"{minutes // 60}:{minutes % 60:02d} h",
                fast=f"{len(plan.fast_days(week)) if week else 0} fast",
                opens_group=bool(rows) and athlete.group != before,
            )
        )
        before = athlete.group
    return tuple(rows)


def care_word(athlete: str, days: Iterable[date], problem: Problem) -> str:
    """All that a shared sheet may say of a body: 'limited', 'lighter', or nothing."""
    active = [x for d in days for x in problem.limits_on(athlete, d) if x.stage < 6 or x.hold_back]
    if any(not x.hold_back for x in active):
        return "limited"
    return "lighter" if active else ""


def _head(lane: Lane, part: Part) -> BoardLane:
    here = len({p.athlete for p in part.plan.in_slot(lane.day, lane.slot)}) if lane.slot else 0
    groups = tuple(GroupView(letter, where) for letter, where in sorted(part.heads[lane].items()))
    return BoardLane(
        words.clean(lane.slot), f"{here} here" if here else "", part.opens_day(lane), lane.narrow, groups
    )


def _cell(name: str, lane: Lane, part: Part) -> BoardCell:
    plan = part.plan
    label = f"{words.clean(name)}, {words.day_of(lane.day)} {words.short_date(lane.day)}"
    sessions = plan.sessions(name, lane.day)
    events = calendar(name, lane.day, plan.problem)
    opens = part.opens_day(lane)
    said = tuple(_said(e) for e in events) if opens else ()
    competition = opens and any(e.kind == "competition" for e in events)
    session = next((s for s in sessions if s.slot == lane.slot), None)
    if session is None:
        return BoardCell(
            label, said=said, competition=competition, rest=opens and not sessions and not events
        )
    group = part.groups[lane].get(name, "")
    where = where_words(session)
    return BoardCell(
        cell=label,
        units=tuple(_unit(p) for p in session.placements),
        bars=_bars(session),
        where="" if part.heads[lane].get(group) == where else where,
        said=said,
        competition=competition,
        group=group,
    )


def _said(event: EventView) -> str:
    """'Spring meeting: 100 m and 200 m', 'Exam until 14:00'; how much it matters is the athlete's page's."""
    if event.kind != "competition" or ";" not in event.text:
        return event.title.rstrip(".")
    return f"{event.title}: {event.text.split(';', maxsplit=1)[0]}"


def _unit(p: Placement) -> BoardUnit:
    look = look_of(p.unit.family)
    number = words.short_amount(p.dose)  # how it is cut up stands on the athlete's page
    name = "Own work" if p.unit.id == OWN_WORK else words.title(p.unit.short or p.unit.name)
    return BoardUnit(look.css, look.letter, name, number, "lighter" if p.dose.word == "lighter" else "")


def _bars(session: Session) -> tuple[BarPart, ...]:
    """One part per unit, its width the unit's load; the warm-up's load is spread over the parts."""
    shares = [(p.unit.family, p.dose.load) for p in session.placements]
    total = sum(load for _, load in shares)
    whole = total + session.warm_up * WARM_UP_EFFORT
    scale = min(whole, BAR_FULL_LOAD) / BAR_FULL_LOAD * BAR_FULL_MM / max(total, 1)
    return tuple(BarPart(look_of(family).css, round(load * scale, 2)) for family, load in shares if load)


def _coaches(plan: PlanView) -> list[str]:
    there = [p.name for p in plan.problem.block.presences if p.coach is not None]
    return list(dict.fromkeys([*there, *sorted(p.coach for p in plan.placements if p.coach)]))


def _coach_row(name: str, part: Part) -> CoachRow:
    cells = []
    for lane in part.lanes:
        here = part.plan.in_slot(lane.day, lane.slot) if lane.slot else ()
        stops: dict[tuple[str, str], set[str]] = {}
        for p in sorted(here, key=lambda p: (p.begins, p.place)):
            if p.coach == name:
                stops.setdefault((words.clock(p.begins), words.clean(p.place)), set()).add(p.athlete)
        there = any(p.name == name for p in part.plan.problem.presences_in(lane.day, lane.slot))
        lines = tuple(f"{time} {place} ({len(who)})" for (time, place), who in stops.items())
        cells.append(CoachCell(lines or (("there",) if there else ())))
    return CoachRow(words.clean(name), tuple(cells))


def _keys(part: Part) -> tuple[KeyView, ...]:
    """The families that stand on this page, and the competition when there is one."""
    problem = part.plan.problem
    looks = {look_of(p.unit.family) for x in part.lanes for p in part.plan.in_slot(x.day, x.slot)}
    if any(problem.competition_on(a, x.day) for a in problem.athletes for x in part.lanes):
        looks.add(BY_FAMILY["competition"])
    return tuple(KeyView(x.css, x.letter, x.name) for x in LOOKS if x in looks)
