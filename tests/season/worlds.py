"""Blocks for the season's tests, made straight from the domain's records."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from planner.domain.block import Athlete, Block, Coach, Competition, Opening, Place, Presence, Slot
from planner.domain.finding import Line

MONDAY = date(2027, 3, 1)
EVERY_PLACE = ("pit", "straight", "track", "gym", "grass", "pool", "bed", "circle", "hurdles")
HOURS = {"morning": (time(10), time(13)), "evening": (time(16), time(19))}


def line(number: int) -> Line:
    return Line("squad.yaml", number)


def athlete(name: str = "Ada", event: str = "long jump", level: str = "advanced", **more: object) -> Athlete:
    fields: dict[str, object] = {"born": date(2002, 1, 1), "training_years": 8, "line": line(1)}
    return Athlete(name, events=(event,), level=level, **{**fields, **more})  # type: ignore[arg-type]


def meet(first: date, importance: str = "main", name: str = "Ada", last: date | None = None) -> Competition:
    return Competition(f"{importance} meet", name, first, last or first, ("long jump",), importance, line(9))


def block(
    *athletes: Athlete,
    days: int = 7,
    begins: date = MONDAY,
    slots: tuple[str, ...] = ("evening",),
    places: tuple[str, ...] = EVERY_PLACE,
    closed: tuple[date, ...] = (),
    **more: object,
) -> Block:
    """A block in which every place named is open in every slot of every day that is not closed."""
    dates = [begins + timedelta(days=i) for i in range(days)]
    made = tuple(Slot(d, s, *HOURS[s], line=line(100)) for d in dates if d not in closed for s in slots)
    grounds = [Place("park", kind, kind, 20, 40, line=line(50)) for kind in places]
    coach = Coach("Kit")
    fields: dict[str, object] = {
        "slots": made,
        "openings": tuple(
            Opening(s.day, s.name, p, s.begins, s.ends, line(60)) for s in made for p in grounds
        ),
        "presences": tuple(Presence(s.day, s.name, "Kit", s.minutes, coach) for s in made),
        "athletes": athletes or (athlete(),),
    }
    return Block("block", dates[0], dates[-1], **{**fields, **more})  # type: ignore[arg-type]


def at(day: date, hour: int = 0, minute: int = 0) -> datetime:
    return datetime.combine(day, time(hour, minute))
