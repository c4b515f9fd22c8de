"""Several events of an athlete on one day as one run of times: one arrival, one meal, and where events collide.

That an athlete in two events may be let out of turn for a round, while a race waits for nobody: World Athletics,
Technical Rules, rule 4 (simultaneous entries); from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from planner.domain.block import Competition, EventStart
from planner.sheets import words
from planner.sheets.competition_day import ARRIVE, CALL_ROOM, EAT, PLANS, Act, DayPlan, kind_of
from planner.sheets.view_competition import TimeRow

ANY_DAY = date(2000, 1, 2)  # clock times only; a meal may fall on the day before
MOST_IN_FULL = 2  # events; of more the times on the first card are warm-up, call room and start


@dataclass(frozen=True)
class Moment:
    """An act of one event by the clock."""

    at: datetime
    act: Act
    event: str

    @property
    def own(self) -> bool:
        """Meal and arrival are of the day, not of one event."""
        return self.act not in (EAT, ARRIVE)


def starts_known(competition: Competition, events: Sequence[str]) -> tuple[EventStart, ...]:
    """The starts of these events on the first day, earliest first; `start` alone is that of the first event."""
    if competition.starts:
        return tuple(sorted((x for x in competition.starts if x.event in events), key=lambda x: x.at))
    return (EventStart(events[0], competition.start),) if competition.start and events else ()


def arrival(start: time) -> datetime:
    """When somebody arrives for the first event of the day."""
    return datetime.combine(ANY_DAY, start) - timedelta(minutes=ARRIVE.minutes)


def moments(starts: Sequence[EventStart]) -> tuple[Moment, ...]:
    """The whole day by the clock. Events after the first are said shortly: their own cards have the rest."""
    found: list[Moment] = []
    for i, start in enumerate(starts):
        plan = _plan(start)
        first = plan.acts if len(starts) <= MOST_IN_FULL else (EAT, ARRIVE, plan.acts[2], *plan.shortly[1:])
        found += _by_clock(start, plan.shortly if i else first)
    return tuple(sorted(found, key=lambda m: m.at))


def rows(of: Sequence[Moment], several: bool) -> tuple[TimeRow, ...]:
    """Lines of the card. Where the event changes it is named, and so at every start."""
    found: list[TimeRow] = []
    last = ""
    for m in of:
        said = m.act.said
        if several and m.own and (m.event != last or not m.act.minutes):
            said = f"{words.unbroken_event(m.event)}: {said}" if m.act.minutes else _begins(m)
        last = m.event if m.own else last
        found.append(TimeRow(words.clock(m.at), "" if several else before(m.act), said, not m.act.minutes))
    return tuple(found)


def own_moments(start: EventStart) -> tuple[Moment, ...]:
    """The acts of an event that is not the first of its day."""
    return tuple(_by_clock(start, _plan(start).later))


def before(act: Act) -> str:
    """'−1:40'; 'start' at the start itself."""
    hours, minutes = divmod(act.minutes, 60)
    return f"−{hours}:{minutes:02d}" if act.minutes else "start"


def collisions(starts: Sequence[EventStart]) -> Iterator[str]:
    """A sentence for each two events where the later one asks for the athlete before the other may be over."""
    for i, first in enumerate(starts):
        lasts = _plan(first).lasts
        ends = datetime.combine(ANY_DAY, first.at) + timedelta(minutes=lasts)
        for then in starts[i + 1 :]:
            early = [m for m in _by_clock(then, _plan(then).shortly) if m.at < ends]
            if early:
                name, later = (words.unbroken_event(x.event) for x in (first, then))
                due = words.listed(tuple(f"{_due(m)} {words.clock(m.at)}" for m in early))
                yield (
                    f"Times overlap: {name} may last until about {words.clock(ends)}; "
                    f"for {later}: {due}. {_remedy(first, then)}"
                )


def _by_clock(start: EventStart, acts: Sequence[Act]) -> Iterator[Moment]:
    begins = datetime.combine(ANY_DAY, start.at)
    return (Moment(begins - timedelta(minutes=act.minutes), act, start.event) for act in acts)


def _plan(start: EventStart) -> DayPlan:
    return PLANS[kind_of(start.event)]


def _begins(m: Moment) -> str:
    return f"{words.unbroken_event(words.title(m.event))} begins"


def _due(m: Moment) -> str:
    if not m.act.minutes:
        return "start"
    return CALL_ROOM if m.act.said == CALL_ROOM else "warm-up"


def _remedy(first: EventStart, then: EventStart) -> str:
    in_field = [x.event for x in (first, then) if kind_of(x.event) != "run"]
    if not in_field:
        return "A race waits for nobody: settle with your coach which one you run."
    judges = words.listed(tuple(words.unbroken_event(e) for e in in_field))
    said = f"Tell the judges of {judges} before it begins: they may let you take your turn earlier or later"
    return said + ("." if len(in_field) > 1 else "; a race waits for nobody.")
