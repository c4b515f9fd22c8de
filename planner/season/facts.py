"""The coach's file is what was wished, the ledger is what happened: the block as the facts have left it.

The later dated fact wins over the file. Nothing here decides anything: facts become the rows a coach would
have written. What was done becomes placements in `planner.season.done`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from planner.domain.attempt import best_attempt
from planner.domain.block import (
    Away,
    Block,
    Competition,
    Mark,
    Opening,
    Place,
    Presence,
    RunUp,
    Slot,
    Weather,
    Wish,
)
from planner.domain.facts import (
    CompetitionAdded,
    CompetitionMoved,
    CompetitionWithdrawn,
    Fact,
    HoldBack,
    Late,
    LeavingEarly,
    LighterDayAsked,
    PersonAway,
    Result,
    StartMark,
    VenueClosed,
    VenueOpened,
    WeatherFact,
    in_force,
)
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import worn
from planner.science.wind import wind_aided
from planner.season.done import done_history
from planner.season.fact_limits import illnesses, limits_of, line_of
from planner.season.legs import last_legs, leg_limits, leg_on, old_leg, on_leg, trials
from planner.season.weeks import LATE, LEAVING_EARLY

__all__ = ["apply_facts", "done_history"]

Span = tuple[time, time]


def apply_facts(block: Block, facts: Iterable[Fact], now: datetime) -> Block:
    """The block as it stands after what was recorded. `now` has a time zone (an illness may not be over)."""
    told = in_force(tuple(facts))
    if not told:
        return block
    today = now.astimezone(ZoneInfo(block.time_zone)).date()
    leg = last_legs(told)
    return replace(
        block,
        athletes=tuple(on_leg(a, leg.get(a.name)) for a in block.athletes),
        run_ups=(*(old_leg(r, block, leg) for r in block.run_ups), *_start_marks(block, told)),
        limits=(*limits_of(block, told, today), *leg_limits(block, leg)),
        away=(
            *_away(block, told),
            *(a for ill in illnesses(told, today) for a in ill.away()),
            *_late(block, told),
        ),
        openings=_openings(block, told),
        presences=_presences(block, told),
        weather=_weather(block, told),
        competitions=_competitions(block, told),
        fixed=_fixed(block, told),
        marks=(*block.marks, *_marks(block, told)),
        wishes=(*block.wishes, *trials(block, told)),
    )


# --- people --------------------------------------------------------------------------------------------


def _away(block: Block, facts: Sequence[Fact]) -> tuple[Away, ...]:
    """Athletes who are not there. Where that meets a camp's arrival or departure, it moves by it."""
    names = {a.name for a in block.athletes}
    found = list(block.away)
    for f in facts:
        if not isinstance(f, PersonAway) or f.name not in names:
            continue
        for i, a in enumerate(found):
            if a.athlete == f.name and a.kind == "camp arrival" and f.begins <= a.ends < f.ends:
                found[i] = replace(a, ends=f.ends, line=line_of(f))
                break
            if a.athlete == f.name and a.kind == "camp departure" and f.begins < a.begins <= f.ends:
                found[i] = replace(a, begins=f.begins, line=line_of(f))
                break
        else:
            found.append(Away(f.name, f.begins, f.ends, line=line_of(f)))
    return tuple(found)


def _fixed(block: Block, facts: Sequence[Fact]) -> tuple[Wish, ...]:
    """What must be here by the file, but for days on which somebody is held back or asked to have it lighter."""
    held = [(f.athlete, f.begins, f.ends) for f in facts if isinstance(f, HoldBack)]
    held += [(f.athlete, f.day, f.day) for f in facts if isinstance(f, LighterDayAsked)]

    def stands(w: Wish) -> bool:
        return not any(a == w.athlete and first <= w.day <= (last or w.day) for a, first, last in held)

    return tuple(w for w in block.fixed if stands(w))


def _late(block: Block, facts: Sequence[Fact]) -> list[Away]:
    """Late or leaving early, with clock times; the last word about a slot counts."""
    slots = {s.key: s for s in block.slots}
    told = {(f.kind, f.athlete, f.day, f.slot): f for f in facts if isinstance(f, Late | LeavingEarly)}
    found = []
    for f in told.values():
        slot = slots.get((f.day, f.slot))
        if slot is None or f.minutes <= 0:
            continue
        begins, ends = _times(slot)
        missed = min(timedelta(minutes=f.minutes), ends - begins)
        late = isinstance(f, Late)
        gone = (begins, begins + missed) if late else (ends - missed, ends)
        found.append(Away(f.athlete, *gone, LATE if late else LEAVING_EARLY, line=line_of(f)))
    return found


def _times(slot: Slot) -> tuple[datetime, datetime]:
    return datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)


def _start_marks(block: Block, facts: Sequence[Fact]) -> list[RunUp]:
    """Start marks that a person set since the file was written, each of the leg and shoe it was set for."""
    found = []
    for i, f in enumerate(facts):
        if isinstance(f, StartMark):
            shoe = worn(f.worn, own_shoes(f.athlete, block.run_ups, facts[: i + 1]))
            found.append(
                RunUp(
                    f.athlete, f.event, f.steps, f.start_mark, coach_mark=f.coach_mark, shoe=shoe.length,
                    leg=f.leg or leg_on(block, facts, f.athlete, f.day), day=f.day, line=line_of(f),
                    shoe_name=shoe.name,
                )
            )  # fmt: skip
    return found


def _presences(block: Block, facts: Sequence[Fact]) -> tuple[Presence, ...]:
    """Who is away has fewer minutes in a slot, or none."""
    slots = {s.key: s for s in block.slots}
    found = list(block.presences)
    for f in facts:
        if isinstance(f, PersonAway):
            found = [_less(p, f, slots) for p in found]
    return tuple(p for p in found if p.minutes > 0)


def _less(presence: Presence, fact: PersonAway, slots: dict[tuple[date, str], Slot]) -> Presence:
    """A presence without what the absence takes; its hours too, where they are known."""
    lost = _lost(presence, fact, slots)
    if not lost:
        return presence
    slot = slots[presence.day, presence.slot]
    whole = ((slot.begins, slot.ends),) if presence.minutes == slot.minutes else ()
    hours: list[Span] = []
    for b, e in presence.hours or whole:
        begins, ends = datetime.combine(slot.day, b), datetime.combine(slot.day, e)
        parts = ((begins, min(ends, fact.begins)), (max(begins, fact.ends), ends))
        hours += [(one.time(), other.time()) for one, other in parts if one < other]
    left = presence.minutes - lost
    if presence.hours or whole:
        left = sum(int((datetime.combine(slot.day, e) - datetime.combine(slot.day, b)) / timedelta(minutes=1))
                   for b, e in hours)  # fmt: skip
    return replace(presence, minutes=left, hours=tuple(hours), line=line_of(fact))


def _lost(presence: Presence, fact: PersonAway, slots: dict[tuple[date, str], Slot]) -> int:
    slot = slots.get((presence.day, presence.slot))
    if slot is None or presence.name != fact.name:
        return 0
    begins, ends = _times(slot)
    gone = min(ends, fact.ends) - max(begins, fact.begins)
    return min(presence.minutes, max(0, int(gone / timedelta(minutes=1))))


# --- places and weather --------------------------------------------------------------------------------


def _openings(block: Block, facts: Sequence[Fact]) -> tuple[Opening, ...]:
    """Openings after closings and openings in the order in which they were recorded."""
    changes = [f for f in facts if isinstance(f, VenueClosed | VenueOpened)]
    found = list(block.openings)
    for f in changes:
        found = _closed(found, f) if isinstance(f, VenueClosed) else _opened(block, found, f)
    if not changes:
        return block.openings
    return tuple(sorted(found, key=lambda o: (o.day, o.begins, o.slot, o.place.venue, o.place.name)))


def _on_day(fact: VenueClosed | VenueOpened, day: date) -> Span | None:
    """The part of a day between a fact's two moments; None when they leave it out."""
    if not fact.begins.date() <= day <= fact.ends.date():
        return None
    begins = fact.begins.time() if fact.begins.date() == day else time(0)
    ends = fact.ends.time() if fact.ends.date() == day else time(23, 59)
    return (begins, ends) if begins < ends else None


def _closed(openings: Sequence[Opening], fact: VenueClosed) -> list[Opening]:
    """Of an opening that is cut in two the longer part stays (the first of two equal ones)."""
    found = []
    for o in openings:
        gap = _on_day(fact, o.day)
        if o.place.venue != fact.venue or fact.place not in ("", o.place.name) or gap is None:
            found.append(o)
            continue
        if gap[1] <= o.begins or o.ends <= gap[0]:
            found.append(o)
            continue
        parts = [replace(o, ends=gap[0], line=line_of(fact)), replace(o, begins=gap[1], line=line_of(fact))]
        longest = max(parts, key=lambda p: p.minutes)
        if longest.minutes > 0:
            found.append(longest)
    return found


def _opened(block: Block, openings: Sequence[Opening], fact: VenueOpened) -> list[Opening]:
    """The place is open in every slot it meets; what was open before in a slot becomes longer."""
    kind = fact.place_kind or fact.place
    known = [o.place for o in block.openings if (o.place.venue, o.place.name) == (fact.venue, fact.place)]
    place = known[0] if known else Place(fact.venue, fact.place, kind, jumps_per_hour=fact.jumps_per_hour)
    found = list(openings)
    for slot in block.slots:
        span = _on_day(fact, slot.day)
        begins, ends = (max(span[0], slot.begins), min(span[1], slot.ends)) if span else (time(0), time(0))
        if begins >= ends:
            continue
        here = [o for o in found if (o.day, o.slot, o.place) == (slot.day, slot.name, place)]
        joined = [o for o in here if o.begins <= ends and begins <= o.ends]
        begins, ends = min([begins, *(o.begins for o in joined)]), max([ends, *(o.ends for o in joined)])
        found = [o for o in found if o not in here]
        found.append(Opening(slot.day, slot.name, place, begins, ends, line_of(fact)))
    return found


def _weather(block: Block, facts: Sequence[Fact]) -> tuple[Weather, ...]:
    found = {(w.day, w.slot): w for w in block.weather}
    for f in facts:
        if isinstance(f, WeatherFact):
            found[f.day, f.slot] = Weather(f.day, f.slot, f.wbgt, f.rain, f.wind, f.wind_from, line_of(f), f.air)
    return tuple(found.values())


# --- competitions --------------------------------------------------------------------------------------


def _competitions(block: Block, facts: Sequence[Fact]) -> tuple[Competition, ...]:
    found = list(block.competitions)
    for f in facts:
        if isinstance(f, CompetitionAdded):
            kept = [c for c in found if not (_is(c, f.name, f.first_day) and c.athlete in f.athletes)]
            found = kept + [
                Competition(f.name, a, f.first_day, f.last_day, f.events, f.importance, line_of(f))
                for a in f.athletes
            ]
        elif isinstance(f, CompetitionMoved):
            found = [_moved(c, f) for c in found]
        elif isinstance(f, CompetitionWithdrawn):
            found = [c for c in found if not (_is(c, f.name, f.first_day) and _named(c, f.athletes))]
    return tuple(found)


def _moved(competition: Competition, fact: CompetitionMoved) -> Competition:
    if not _is(competition, fact.name, fact.was) or not _named(competition, fact.athletes):
        return competition
    # another day has another timetable: nobody has accepted it yet
    days = replace(competition, first_day=fact.first_day, last_day=fact.last_day, line=line_of(fact))
    return replace(days, starts=(), gap_accepted="")


def _is(competition: Competition, name: str, first_day: date) -> bool:
    return (competition.name, competition.first_day) == (name, first_day)


def _named(competition: Competition, athletes: tuple[str, ...]) -> bool:
    return not athletes or competition.athlete in athletes


def _marks(block: Block, facts: Sequence[Fact]) -> list[Mark]:
    """The best attempt of every result as a mark with its wind; a wind-aided one is no best. Faster is better.

    A jump from a short run-up is a mark of its own event ('long jump 8 steps'). What the other leg jumped is no
    mark of the athlete's.
    """
    found = []
    for f in facts:
        if not isinstance(f, Result):
            continue
        best = best_attempt([a for a in f.attempts if not wind_aided(f.event, a.wind)])
        if best is None or best.value is None:
            continue
        if f.leg is None or f.leg == leg_on(block, facts, f.athlete, f.day):
            event = f"{f.event} {f.steps} steps" if f.steps else f.event
            found.append(Mark(f.athlete, event, best.value, best.unit, best.wind, f.day, line_of(f)))
    return found
