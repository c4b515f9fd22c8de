"""From the plan to the sheet for parents: the times, the places, what to bring, the hours of the week.

It is written for a kitchen wall, and lies about in a car: what is trained, how much, and all of the body stay out
of it. That hours count together with other sport, up to the age in years: National Athletic Trainers' Association,
youth statement 2019. The hours written here are longer than the planned minutes: they are those of the rows, from
coming to being fetched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta

from planner.domain.block import Athlete, Competition
from planner.domain.competing import is_combined
from planner.domain.plan import Outcome
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView, Session
from planner.sheets import words
from planner.sheets.build_athlete import FOOT_SIGNS, squad_foot
from planner.sheets.build_session import arrives
from planner.sheets.competition_day import kind_of
from planner.sheets.one_day import arrival, starts_known
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_parents import ParentsRow, ParentsView, ParentsWeek

CHILD = 18  # years; whose parents have a sheet
TO_THE_MINUTE = 5  # times to come back are rounded up to five minutes
TO_A_COMPETITION = ("flats", "warm clothes", "food", "water")  # beside the shoes of the events
ASK = "ask the coach"  # when to be at a competition whose start is not known
JUMPING, PAIRS, WATER = "jumping spikes", ("spikes", "flats"), "water"
CAUTION = (
    "Hours here: the times of each row, warm-up and waiting included; competitions are not counted.",
    "Sport at school or in another club counts too: please tell the coach, and the plan gets lighter.",
    "Anybody may ask for a lighter day or stay at home, and needs no reason. Nothing is made up for later.",
)


def is_child(athlete: Athlete, problem: Problem) -> bool:
    """Under 18 on the block's first day; without a date of birth nobody is taken for a child."""
    age = athlete.age_on(problem.block.begins)
    return age is not None and age < CHILD


def parents_view(athlete: Athlete, outcome: Outcome, problem: Problem, revision: RevisionView) -> ParentsView:
    """Every week of one child, with nothing that is another's."""
    block, plan = problem.block, PlanView(outcome.plan, problem)
    name = words.clean(athlete.name)
    weeks = problem.weeks.get(athlete.name, ())
    return ParentsView(
        title=f"For the parents of {name}: {words.clean(block.name)}",
        name=name,
        sub=words.span(block.begins, block.ends),
        squad=words.clean(block.squad),
        revision=revision,
        adults=_adults(athlete, plan),
        contact=words.clean(block.contact),
        weeks=tuple(_week(athlete, week, number, plan) for number, week in enumerate(weeks, 1)),
        caution=CAUTION,
        foot=f"For parents: {words.shorter(athlete.name, FOOT_SIGNS)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _adults(athlete: Athlete, plan: PlanView) -> str:
    """Which adults are there in the child's sessions, coaches first."""
    slots = {(p.day, p.slot) for p in plan.of(athlete.name)}
    there = [p for p in plan.problem.block.presences if p.is_adult and (p.day, p.slot) in slots]
    names = [p.name for p in sorted(there, key=lambda p: p.coach is None)]
    return words.listed(tuple(words.clean(n) for n in dict.fromkeys(names)))


def _week(athlete: Athlete, week: AthleteWeek, number: int, plan: PlanView) -> ParentsWeek:
    rows = tuple(row for day in week.days for row in _rows(athlete, day, plan))
    here = sum(row.minutes for row in rows)
    other = sum(athlete.other_sport_minutes.values())
    hours = f"{_hours(here)} here"
    if other:
        hours += f", {_hours(here + other)} with other sport"
    return ParentsWeek(
        title=f"Week {number}, {words.span(week.days[0], week.days[-1])}",
        hours=hours,
        rows=rows,
    )


def _hours(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d} h"


def _rows(athlete: Athlete, day: date, plan: PlanView) -> Iterator[ParentsRow]:
    meet = plan.problem.competition_on(athlete.name, day)
    if meet is not None:
        yield _competition(athlete, meet, day)
    for session in plan.sessions(athlete.name, day):
        begins = arrives(session)
        ends = _ends(session)
        venues = dict.fromkeys(words.clean(p.venue) for p in session.placements if p.venue)
        yield ParentsRow(
            day=_day(day),
            begins=words.clock(begins),
            until=words.clock(ends),
            where=words.listed(tuple(venues)),
            bring=_bring(session),
            minutes=round((ends - begins).total_seconds() / 60),
        )


def _competition(athlete: Athlete, meet: Competition, day: date) -> ParentsRow:
    """Arrival and first start as on the child's own card of that day; on later days neither is known."""
    events = meet.events or athlete.events
    starts = starts_known(meet, events) if day == meet.first_day else ()
    begins = f"starts {starts[0].at:%H:%M}" if starts else ""
    arrive = f"arrive {words.clock(arrival(starts[0].at))}" if starts else ASK
    return ParentsRow(_day(day), begins, "", "", _bring_to(events), words.title(meet.name), arrive=arrive)


def _bring_to(events: Sequence[str]) -> str:
    """The shoes of the events, and what a day away from home asks for. Common practice, no source."""
    combined = any(map(is_combined, events))
    kinds = {kind_of(e) for e in events}
    shoes = [JUMPING] if combined or kinds & {"jump", "bar"} else []
    shoes += [PAIRS[0]] if combined or "run" in kinds else []
    return words.listed((*shoes, *TO_A_COMPETITION))


def _day(day: date) -> str:
    return words.unbroken(f"{words.day_of(day)} {words.short_date(day)}")


def _ends(session: Session) -> datetime:
    """When the last unit is over, by its own start where it has one, to the next five minutes."""
    ends = session.begins + timedelta(minutes=session.minutes)
    timed = [p.starts + timedelta(minutes=p.dose.minutes) for p in session.placements if p.starts]
    last = max(timed) if len(timed) == len(session.placements) else ends
    return last + timedelta(minutes=-last.minute % TO_THE_MINUTE)


def _bring(session: Session) -> str:
    """Pairs of shoes, whichever unit they are for, and water."""
    asked = " ".join(p.unit.shoes for p in session.placements)
    shoes = [JUMPING] if JUMPING in asked else []
    shoes += [pair for pair in PAIRS if pair in asked.replace(JUMPING, "")]
    return words.listed((*(shoes or PAIRS[-1:]), WATER))
