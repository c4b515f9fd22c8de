"""From a plan to the athlete page's view: one athlete, every week of the block."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from planner.domain.block import Athlete, Away, Competition
from planner.domain.plan import Outcome
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.revision import Revision
from planner.domain.view import PlanView, Session
from planner.numbers import TrainBy, train_by
from planner.sheets import words
from planner.sheets.build_session import session_view
from planner.sheets.day_notes import day_note, weather_note
from planner.sheets.line_words import tests_missing, theme_lines
from planner.sheets.looks import BY_FAMILY
from planner.sheets.view_athlete import (
    AthleteView,
    DayView,
    EventView,
    FactView,
    RevisionView,
    SessionView,
    WeekView,
)

FOOT_SIGNS = 28  # signs of a name in the foot at 8.5 pt
SQUAD_SIGNS = 44  # signs of a squad or a contact there
BOTH_SIGNS = 52  # signs of both in one line there
LEAST_SQUAD_SIGNS = 8  # less of a squad's name says nothing
NOTE_LINES = 3  # in a week of few units; a full one has no room for them
FEW_UNITS = 9
MATTER = ("main", "supporting")
NO_TESTS_BEFORE = timedelta(days=7)  # a week without tests before a competition; common practice, no source
REST = "Sleep, eat, walk if you like."
CAUTION = (
    "Stop on pain and tell the coach; a clinician and the local rules go before this sheet.",
    "Athletes under 18 train with an adult present.",
    "You may ask for a lighter day at any time, without a reason.",
    "Missed work stays missed: nothing is added later.",
    "Bar under a letter: planned load, effort × minutes.",
)


def revision_view(revision: Revision, draft: bool) -> RevisionView:
    """Number and date of the last change of a sheet's own content."""
    replaces = f"Replaces revision {revision.replaces}" if revision.replaces else ""
    return RevisionView(revision.number, words.stamp(revision.made_at), replaces, draft)


def squad_foot(squad: str, contact: str) -> str:
    """Squad and contact for the foot of a page, short enough for its right third: the contact goes first."""
    said = words.shorter(contact, SQUAD_SIGNS)
    room = min(SQUAD_SIGNS, BOTH_SIGNS - len(said) - len(", ")) if said else SQUAD_SIGNS
    name = words.shorter(squad, room) if room >= LEAST_SQUAD_SIGNS else ""
    return ", ".join(part for part in (name, said) if part)


def athlete_view(
    athlete: Athlete, outcome: Outcome, problem: Problem, revision: RevisionView, by: TrainBy | None = None
) -> AthleteView:
    """Every week of one athlete. Nothing of another athlete's health, marks or limits is in it.

    `by` holds the numbers to train by; without it they come from the plan and the marks alone.
    """
    by = by or train_by(outcome.plan, problem)
    plan = PlanView(outcome.plan, problem)
    weeks = problem.weeks.get(athlete.name, ())
    name = words.clean(athlete.name)
    block = problem.block
    return AthleteView(
        title=f"{name}: {words.clean(block.name)}, {words.span(block.begins, block.ends)}",
        name=name,
        events=_events(athlete),
        squad=words.clean(block.squad),
        contact=words.clean(block.contact),
        revision=revision,
        weeks=tuple(_week(week, i, len(weeks), plan, by) for i, week in enumerate(weeks, 1)),
        caution=CAUTION,
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _events(athlete: Athlete) -> str:
    """'Long jump and 100 m': a line may end between two events, never inside one."""
    first, *others = athlete.events or ("",)
    return words.listed((words.unbroken_event(words.title(first)), *map(words.unbroken_event, others)))


def _week(week: AthleteWeek, number: int, of: int, plan: PlanView, by: TrainBy) -> WeekView:
    problem = plan.problem
    first, last = week.days[0], week.days[-1]
    limits = [x for x in problem.block.limits if x.athlete == week.athlete]
    active = [x for x in limits if any(x.active_on(d) for d in week.days) and (x.stage < 6 or x.hold_back)]
    aims = [t for t in problem.block.themes if t.athlete == week.athlete]
    aims = [t for t in aims if (t.begins or first) <= last and first <= (t.ends or last)]
    name = words.shorter(week.athlete, FOOT_SIGNS)
    return WeekView(
        key=f"week {number}",
        number=number,
        of=of,
        phase=words.PHASES.get(week.phase, words.title(week.phase.replace("-", " "))),
        dates=words.span(first, last),
        kind=words.WEEK_KINDS.get(week.kind, ""),
        foot=f"{name}, week {number} of {of}",
        facts=_facts(week, plan),
        next_competition=_next(problem.competitions_of(week.athlete), first, last),
        aims=tuple(_aim(words.sentence(t.aim), words.sentence(t.measure)) for t in aims),
        limits=tuple(dict.fromkeys(words.limit_words(x, first, last) for x in active)),
        days=tuple(_day(week.athlete, day, plan, by) for day in week.days),
        tests=_tests(week, plan, by) if not active else "",
        note_lines=NOTE_LINES if len(plan.in_week(week)) <= FEW_UNITS else 0,
    )


def _tests(week: AthleteWeek, plan: PlanView, by: TrainBy) -> str:
    """Tests that would give missing numbers; none while a competition that matters is in the week or just after.

    A test is a maximal effort, so whoever has a limit that week is asked for none.
    """
    matter = [c for c in plan.problem.competitions_of(week.athlete) if c.importance in MATTER]
    if any(week.days[0] <= c.first_day <= week.days[0] + NO_TESTS_BEFORE for c in matter):
        return ""
    return tests_missing(by.of(p) for p in plan.in_week(week))


def _aim(aim: str, measure: str) -> str:
    return f"{aim} Measure: {measure[0].lower()}{measure[1:]}" if measure else aim


def _facts(week: AthleteWeek, plan: PlanView) -> tuple[FactView, ...]:
    sessions = [s for d in week.days for s in plan.sessions(week.athlete, d)]
    minutes = sum(s.minutes for s in sessions)
    take_offs = sum(sum(p.dose.take_offs.values()) for s in sessions for p in s.placements)
    load = sum(s.load for s in sessions)
    fast = len(plan.fast_days(week))
    found = [
        FactView(str(len(sessions)), "session" if len(sessions) == 1 else "sessions"),
        FactView(f"{minutes // 60}:{minutes % 60:02d}", "hours"),
        FactView(str(fast), "fast day" if fast == 1 else "fast days"),
    ]
    if take_offs:
        found.append(FactView(str(take_offs), "hard take-offs"))
    found.append(FactView(str(load), "planned load (effort × minutes)"))
    return tuple(found)


def _next(competitions: tuple[Competition, ...], first: date, last: date) -> str:
    """The competitions of this week; else the next one, with the days from the week's first day."""
    now = [c for c in competitions if first <= c.first_day <= last]
    if now:
        said = [f"{words.clean(c.name)}, {words.day_of(c.first_day)} {words.short_date(c.first_day)}" for c in now]
        return f"This week: {'; '.join(said)}."
    for c in competitions:
        if c.first_day > last:
            on = f"{words.day_of(c.first_day)} {words.short_date(c.first_day)}"
            on += f" {c.first_day.year}" if c.first_day.year != first.year else ""
            return (
                f"Next: {words.clean(c.name)}, {on}, {(c.first_day - first).days} days from {words.day_of(first)}."
            )
    return ""


def _day(athlete: str, day: date, plan: PlanView, by: TrainBy) -> DayView:
    sessions = plan.sessions(athlete, day)
    events = calendar(athlete, day, plan.problem)
    if not sessions and not events:
        events = (EventView("rest", "Rest.", REST),)
    cell = f"{words.day_of(day)} {words.short_date(day)}"
    return DayView(
        cell=cell,
        weekday=words.day_of(day),
        date=words.short_date(day),
        events=events,
        sessions=tuple(_session(s, cell, plan, by) for s in sessions),
        note=day_note(plan.problem, athlete, day),
    )


def _session(session: Session, cell: str, plan: PlanView, by: TrainBy) -> SessionView:
    """The session, what heat or cold asks of it beside its warm-up."""
    view = session_view(session, cell, plan.problem, by, theme_lines(session, plan, by.facts, by.shares))
    said = weather_note(plan.problem, session)
    if not said or not view.warm_up:
        return view
    return replace(view, warm_up=f"{view.warm_up.rstrip('.')}. {said}")


def _turn(a: Away, day: date) -> str:
    """Is this the day on which somebody comes to a camp, or goes?"""
    if a.kind == "camp arrival" and a.ends.date() == day:
        return "arrival"
    return "departure" if a.kind == "camp departure" and a.begins.date() == day else "other"


def calendar(athlete: str, day: date, problem: Problem) -> tuple[EventView, ...]:
    """What the calendar says of a day: competition, then travel, exam, away, in order of time."""
    found = []
    look = BY_FAMILY["competition"]
    for c in problem.competitions_of(athlete):
        if c.first_day <= day <= c.last_day:
            days = (c.last_day - c.first_day).days + 1
            which = f", day {(day - c.first_day).days + 1} of {days}" if days > 1 else ""
            text = words.listed(tuple(words.clean(e) for e in c.events))
            kind = {"main": "main competition", "supporting": "supporting competition"}.get(
                c.importance, "trained through, no special rest"
            )
            said = f"{text}; {kind}{which}" if text else f"{kind}{which}"
            found.append(
                EventView(
                    "competition",
                    words.title(c.name),
                    said,
                    look.css,
                    look.letter,
                    ("result", "wind", "effort"),
                )
            )
    bound = [a for a in problem.away_of(athlete) if a.begins.date() <= day and not (a.ends.date() < day)]
    for a in sorted(bound, key=lambda a: (a.begins, a.kind)):
        if a.ends.date() == day and (a.ends.hour, a.ends.minute) == (0, 0) and a.begins.date() < day:
            continue  # ends at midnight: the day before was its last
        found.append(EventView(_turn(a, day), words.away_words(a, day) + ".", ""))
    return tuple(found)
