"""From a plan to the squad board's view: athletes by days and slots, coaches, totals, key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta

from planner.domain.plan import Outcome, Placement
from planner.domain.problem import Problem
from planner.domain.view import WARM_UP_EFFORT, PlanView, Session
from planner.sheets import words
from planner.sheets.amount_words import short_amount
from planner.sheets.board_lanes import Lane, Part, Stop, lanes_of
from planner.sheets.board_layout import pages_of
from planner.sheets.build_athlete import calendar, squad_foot
from planner.sheets.build_notes import Notes, notes_of
from planner.sheets.day_notes import lane_notes
from planner.sheets.looks import BY_FAMILY, LOOKS, look_of
from planner.sheets.paper import BAR_FULL_LOAD, BAR_FULL_MM, Paper
from planner.sheets.view_athlete import EventView, RevisionView
from planner.sheets.view_board import (
    ARRIVES,
    LEAVES,
    BarPart,
    BoardCell,
    BoardLane,
    BoardPage,
    BoardRow,
    BoardUnit,
    BoardView,
    KeyView,
    SaidView,
    StopHead,
)

BAR_WORDS = f"effort × minutes; a bar of {BAR_FULL_MM} mm is {BAR_FULL_LOAD}"
OWN_WORK = "own-work"
WALL = "A3"  # read from two metres, where bars show the weight of a week; smaller papers have no room
NAME_SIGNS = 32  # of a unit in a cell: a coach's own unit may have a long name and no short one


def board_view(
    outcome: Outcome, problem: Problem, revision: RevisionView, paper: Paper, remarks: tuple[str, ...] | None
) -> BoardView:
    """Every week of the squad. `remarks` None makes the wall's copy, without findings, limits or reasons."""
    plan = PlanView(outcome.plan, problem)
    pages: list[BoardPage] = []
    weeks = _weeks(problem)
    for number, days in enumerate(weeks, 1):
        notes = notes_of(outcome, problem, days, number, remarks)
        part = Part(plan, days, tuple(lanes_of(days, plan)), paper.name == WALL)
        week = _week(part, f"week {number} of {len(weeks)}", notes)
        cut = pages_of(week, paper)
        for i, page in enumerate(cut, 1):
            pages.append(_said_of(page, week, len(cut), notes if i == len(cut) else notes.without_lists()))
    block = problem.block
    return BoardView(
        title=f"Squad board: {words.clean(block.name)}, {words.span(block.begins, block.ends)}",
        squad=words.clean(block.squad),
        contact=words.clean(block.contact),
        revision=revision,
        own_copy=remarks is not None,
        pages=tuple(pages),
        bar_words=BAR_WORDS if paper.name == WALL else "",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _weeks(problem: Problem) -> list[tuple[date, ...]]:
    """The block's days, cut at the week's first day."""
    weeks: dict[date, list[date]] = {}
    for day in problem.days:
        monday = day - timedelta(days=(day.weekday() - problem.block.week_start) % 7)
        weeks.setdefault(monday, []).append(day)
    return [tuple(days) for _, days in sorted(weeks.items())]


def _week(part: Part, key: str, notes: Notes) -> BoardPage:
    """The whole week as one page, however large."""
    days = part.week
    rows = _rows(part)
    return BoardPage(
        key=key,
        title=f"{words.title(part.plan.problem.block.name)}, {key}",
        sub=f"Squad board, {words.span(days[0], days[-1])}",
        foot=f"Squad board, {key}",
        lanes=tuple(_head(lane, part) for lane in part.lanes),
        rows=rows,
        keys=_keys(rows),
        sure=notes.sure,
    )


def _said_of(page: BoardPage, week: BoardPage, pages: int, notes: Notes) -> BoardPage:
    """What a page of a cut week says of itself: its days, its athletes, its own key."""
    which = []
    if len(page.lanes) < len(week.lanes):
        ends = dict.fromkeys((page.days[0].weekday, page.days[-1].weekday))
        which.append(" to ".join(ends))
    if len(page.rows) < len(week.rows):
        names = [row.name for row in week.rows]
        first, last = (names.index(row.name) + 1 for row in (page.rows[0], page.rows[-1]))
        which.append(
            f"athletes {first} to {last} of {len(names)}" if first < last else f"athlete {first} of {len(names)}"
        )
    said = ", ".join(which) if pages > 1 else ""
    return replace(
        page,
        key=", ".join(x for x in (week.key, said) if x),
        sub=", ".join(x for x in (week.sub, said) if x),
        foot=", ".join(x for x in (week.foot, said) if x),
        keys=_keys(page.rows),
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
    return BoardLane(
        weekday=words.day_of(lane.day),
        date=words.short_date(lane.day),
        name=words.clean(lane.slot),
        here=f"{here} here" if here else "",
        opens_day=part.opens_day(lane),
        quiet=lane.quiet,
        stops=tuple(_stop_heads(part.stops[lane])),
        also=_also(lane, part),
        notes=lane_notes(part.plan.problem, lane.day, lane.slot, part.opens_day(lane)),
    )


def _stop_heads(stops: tuple[Stop, ...]) -> Iterator[StopHead]:
    """Time and place once for all coaches who stand there from then: '10:00 pit, Reyk: J'."""
    before = ("", "")
    for stop in stops:
        if not stop.letters:  # few go there, and their own cells say it
            continue
        place, coach = stop.here
        now = (words.clock(stop.begins), place)
        said = [x for x, y in zip(now, before, strict=True) if x != y] if now[0] == before[0] else list(now)
        text = ", ".join(x for x in (" ".join(said).strip(), coach) if x)
        yield StopHead(text or place, " ".join(stop.letters))
        before = now


def _also(lane: Lane, part: Part) -> str:
    """Coaches who are there in the slot and stand at no place of the plan: 'free: Sabo'."""
    if not lane.slot:
        return ""
    busy = {coach for stop in part.stops[lane] for coach in stop.here[1:]}
    there = [
        words.clean(p.name) for p in part.plan.problem.presences_in(lane.day, lane.slot) if p.coach is not None
    ]
    free = [name for name in dict.fromkeys(there) if name not in busy]
    return f"free: {words.listed(tuple(free))}" if free else ""


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
        return BoardCell(label, said=said, competition=competition, rest=opens and not sessions and not events)
    return BoardCell(
        cell=label,
        units=tuple(_unit(p, part.elsewhere(p, lane)) for p in session.placements),
        bars=_bars(session) if part.bars else (),
        said=said,
        competition=competition,
        group=part.groups[lane].get(name, ""),
    )


def _said(event: EventView) -> SaidView:
    """'Spring meeting: 100 m and 200 m', 'Exam until 14:00'; how much it matters is the athlete's page's."""
    if event.kind != "competition" or ";" not in event.text:
        return SaidView(event.title.rstrip("."), {"arrival": ARRIVES, "departure": LEAVES}.get(event.kind, ""))
    return SaidView(f"{event.title}: {event.text.split(';', maxsplit=1)[0]}")


def _unit(p: Placement, where: str) -> BoardUnit:
    look = look_of(p.unit.family)
    number = short_amount(p.dose)  # how it is cut up stands on the athlete's page
    name = "own work" if p.unit.id == OWN_WORK else words.shorter(p.short, NAME_SIGNS)
    return BoardUnit(look.css, look.letter, name, number, p.dose.word == "lighter", where)


def _bars(session: Session) -> tuple[BarPart, ...]:
    """One part per unit, its width the unit's load; the warm-up's load is spread over the parts."""
    shares = [(p.unit.family, p.dose.load) for p in session.placements]
    total = sum(load for _, load in shares)
    whole = total + session.warm_up * WARM_UP_EFFORT
    scale = min(whole, BAR_FULL_LOAD) / BAR_FULL_LOAD * BAR_FULL_MM / max(total, 1)
    return tuple(BarPart(look_of(family).css, round(load * scale, 2)) for family, load in shares if load)


def _keys(rows: tuple[BoardRow, ...]) -> tuple[KeyView, ...]:
    """The families that stand on a page, and the competition when there is one."""
    seen = {unit.look for row in rows for cell in row.cells for unit in cell.units}
    if any(cell.competition for row in rows for cell in row.cells):
        seen.add(BY_FAMILY["competition"].css)
    return tuple(KeyView(x.css, x.letter, x.name) for x in LOOKS if x.css in seen)
