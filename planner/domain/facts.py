"""What happened: facts as a coach records them, each with its moment and with who may read which field.

A fact is never changed. A correction is one more fact, `Undone`. Days and clock times are those of the
block's time zone; `recorded_at` carries its zone. Whole numbers: minutes, centimetres, hundredths of a
second, tenths of a metre per second, tenths of a degree.

Every field says its audience in its type: the widest circle that may read it, from the coach over the athlete
concerned and the squad to people outside. Where even the kind of a fact is private, the squad reads its
`shared_word`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Annotated, ClassVar, Literal

from planner.domain.fact import AUDIENCES, Audience, Fact
from planner.domain.pit_facts import Result, RunUpReadings, StartMark
from planner.domain.units import AmountWord, Side

__all__ = [
    "AUDIENCES", "FACTS", "OF_HEALTH", "Audience", "CompetitionAdded", "CompetitionMoved", "CompetitionWithdrawn",
    "Done", "Fact", "Forgotten", "HoldBack", "Hurt", "Ill", "Late", "LeavingEarly", "LighterDayAsked",
    "LoadElsewhere", "OfTheBody", "OtherLeg", "PersonAway", "Remark", "Result", "RunUpReadings", "Setback",
    "StageChanged", "StartMark", "TestPassed", "Undone", "VenueClosed", "VenueOpened", "WeatherFact", "day_of",
    "in_force", "people_of",
]  # fmt: skip

Remark = Literal["as planned", "lighter", "missed"]


@dataclass(frozen=True, kw_only=True)
class Done(Fact):
    """What came of one placement (named by its key). Amount in the unit's measure; None: as planned."""

    kind: ClassVar[str] = "done"
    kind_audience: ClassVar[Audience] = "athlete"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    slot: Annotated[str, "squad"]
    unit: Annotated[str, "athlete"]
    word: Annotated[AmountWord, "athlete"] = "full"
    remark: Annotated[Remark, "athlete"] = "as planned"
    amount: Annotated[int | None, "athlete"] = None
    effort: Annotated[int | None, "athlete"] = None  # 0-10, of the session as the athlete felt it
    minutes: Annotated[int | None, "athlete"] = None  # after the warm-up
    felt: Annotated[str, "athlete"] = ""
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class Ill(Fact):
    """Illness from a day until and with another (None: not over). `fever` also stands for below the neck."""

    kind: ClassVar[str] = "ill"
    kind_audience: ClassVar[Audience] = "athlete"
    shared_word: ClassVar[str] = "away"

    athlete: Annotated[str, "squad"]
    begins: Annotated[date, "athlete"]
    ends: Annotated[date | None, "athlete"] = None
    fever: Annotated[bool, "athlete"] = False
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class OfTheBody(Fact):
    """What facts about a region of the body share. `entered_by` is a person, never the program."""

    kind_audience: ClassVar[Audience] = "athlete"
    shared_word: ClassVar[str] = "limited"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "athlete"]
    region: Annotated[str, "athlete"]
    side: Annotated[str, "athlete"] = "both"
    entered_by: Annotated[str, "athlete"] = ""
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class Hurt(OfTheBody):
    """Something hurts; a person gave the return stage (0-6)."""

    kind: ClassVar[str] = "hurt"

    stage: Annotated[int, "athlete"]


@dataclass(frozen=True, kw_only=True)
class StageChanged(OfTheBody):
    """A person set another return stage, from this day on."""

    kind: ClassVar[str] = "stage changed"

    stage: Annotated[int, "athlete"]


@dataclass(frozen=True, kw_only=True)
class TestPassed(OfTheBody):
    """A return test was passed at a stage. The stage itself moves only when a person says so."""

    kind: ClassVar[str] = "test passed"
    __test__: ClassVar[bool] = False  # no test of pytest's

    stage: Annotated[int, "athlete"]  # the stage in which it was passed
    test: Annotated[str, "athlete"] = ""


@dataclass(frozen=True, kw_only=True)
class Setback(OfTheBody):
    """It got worse; a person gave the stage to go back to."""

    kind: ClassVar[str] = "setback"

    stage: Annotated[int, "athlete"]


@dataclass(frozen=True, kw_only=True)
class HoldBack(Fact):
    """The coach's ceiling for the whole athlete: dates, no region, no reason. `stage` as of a limit (0-6)."""

    kind: ClassVar[str] = "hold back"
    kind_audience: ClassVar[Audience] = "athlete"
    shared_word: ClassVar[str] = "lighter"

    athlete: Annotated[str, "squad"]
    begins: Annotated[date, "athlete"]
    ends: Annotated[date | None, "athlete"] = None
    stage: Annotated[int, "coach"] = 4


@dataclass(frozen=True, kw_only=True)
class LighterDayAsked(Fact):
    """An athlete asked for a lighter day. There is no field for a reason, on purpose."""

    kind: ClassVar[str] = "lighter day asked"
    kind_audience: ClassVar[Audience] = "athlete"
    shared_word: ClassVar[str] = "lighter"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]


@dataclass(frozen=True, kw_only=True)
class Late(Fact):
    """Comes to a slot this many minutes after it begins."""

    kind: ClassVar[str] = "late"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    slot: Annotated[str, "squad"]
    minutes: Annotated[int, "squad"]
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class LeavingEarly(Fact):
    """Leaves a slot this many minutes before it ends."""

    kind: ClassVar[str] = "leaving early"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "squad"]
    slot: Annotated[str, "squad"]
    minutes: Annotated[int, "squad"]
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class VenueClosed(Fact):
    """A venue, or one place of it, is closed between two moments (clock times of the block)."""

    kind: ClassVar[str] = "venue closed"
    kind_audience: ClassVar[Audience] = "outside"

    venue: Annotated[str, "outside"]
    place: Annotated[str, "outside"] = ""  # '' the whole venue
    begins: Annotated[datetime, "outside"]
    ends: Annotated[datetime, "outside"]
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class VenueOpened(Fact):
    """A place is open between two moments. A place that the file does not know needs its `place_kind`."""

    kind: ClassVar[str] = "venue opened"
    kind_audience: ClassVar[Audience] = "outside"

    venue: Annotated[str, "outside"]
    place: Annotated[str, "outside"]
    begins: Annotated[datetime, "outside"]
    ends: Annotated[datetime, "outside"]
    place_kind: Annotated[str, "outside"] = ""
    jumps_per_hour: Annotated[int, "outside"] = 0  # of a pit that the file does not know
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class PersonAway(Fact):
    """A coach, a helper or another needed person is not there between two moments."""

    kind: ClassVar[str] = "person away"

    name: Annotated[str, "squad"]
    begins: Annotated[datetime, "squad"]
    ends: Annotated[datetime, "squad"]
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class WeatherFact(Fact):
    """Weather of a day, or of one slot of it."""

    kind: ClassVar[str] = "weather"
    kind_audience: ClassVar[Audience] = "outside"

    day: Annotated[date, "outside"]
    slot: Annotated[str, "outside"] = ""
    wbgt: Annotated[int | None, "outside"] = None  # wet-bulb globe temperature, tenths of a degree
    rain: Annotated[bool, "outside"] = False
    wind: Annotated[int | None, "outside"] = None  # tenths of a metre per second
    wind_from: Annotated[str, "outside"] = ""
    air: Annotated[int | None, "outside"] = None  # temperature in the shade, tenths of a degree Celsius


@dataclass(frozen=True, kw_only=True)
class CompetitionAdded(Fact):
    """A competition that the file does not hold, for these athletes."""

    kind: ClassVar[str] = "competition added"
    kind_audience: ClassVar[Audience] = "outside"

    name: Annotated[str, "outside"]
    first_day: Annotated[date, "outside"]
    last_day: Annotated[date, "outside"]
    athletes: Annotated[tuple[str, ...], "squad"]
    events: Annotated[tuple[str, ...], "squad"] = ()
    importance: Annotated[str, "squad"] = "train-through"
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class CompetitionMoved(Fact):
    """A competition has other dates. `athletes` () means everybody who is entered."""

    kind: ClassVar[str] = "competition moved"
    kind_audience: ClassVar[Audience] = "outside"

    name: Annotated[str, "outside"]
    was: Annotated[date, "outside"]  # the first day it had
    first_day: Annotated[date, "outside"]
    last_day: Annotated[date, "outside"]
    athletes: Annotated[tuple[str, ...], "squad"] = ()
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class CompetitionWithdrawn(Fact):
    """These athletes do not start (() means nobody does). A cause belongs into the coach's note."""

    kind: ClassVar[str] = "competition withdrawn"
    kind_audience: ClassVar[Audience] = "squad"

    name: Annotated[str, "squad"]
    first_day: Annotated[date, "squad"]
    athletes: Annotated[tuple[str, ...], "squad"] = ()
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class LoadElsewhere(Fact):
    """What an athlete did elsewhere, by counter. `unit` names the catalogue's nearest, if there is one."""

    kind: ClassVar[str] = "load elsewhere"
    kind_audience: ClassVar[Audience] = "athlete"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "athlete"]
    counters: Annotated[Mapping[str, int], "athlete"] = field(default_factory=dict, hash=False)
    unit: Annotated[str, "athlete"] = ""
    minutes: Annotated[int, "athlete"] = 0
    effort: Annotated[int, "athlete"] = 0
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class OtherLeg(Fact):
    """The other take-off leg was tried, or is the take-off leg from now on (with who confirmed it)."""

    kind: ClassVar[str] = "other leg"
    kind_audience: ClassVar[Audience] = "athlete"

    athlete: Annotated[str, "squad"]
    day: Annotated[date, "athlete"]
    leg: Annotated[Side, "athlete"]
    changed: Annotated[bool, "athlete"] = False
    entered_by: Annotated[str, "athlete"] = ""
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class Undone(Fact):
    """A recorded fact (or an undoing) does not count any more."""

    kind: ClassVar[str] = "undone"
    kind_audience: ClassVar[Audience] = "coach"

    fact: Annotated[int, "coach"]
    note: Annotated[str, "coach"] = ""


@dataclass(frozen=True, kw_only=True)
class Forgotten(Fact):
    """Stands where a private fact of a forgotten person stood."""

    kind: ClassVar[str] = "forgotten"
    kind_audience: ClassVar[Audience] = "coach"


FACTS: Mapping[str, type[Fact]] = {
    t.kind: t
    for t in (
        Done, Ill, Hurt, StageChanged, TestPassed, Setback, HoldBack, LighterDayAsked, Late, LeavingEarly,
        VenueClosed, VenueOpened, PersonAway, WeatherFact, CompetitionAdded, CompetitionMoved,
        CompetitionWithdrawn, Result, RunUpReadings, StartMark, LoadElsewhere, OtherLeg, Undone, Forgotten,
    )
}  # fmt: skip

OF_HEALTH: tuple[type[Fact], ...] = (Ill, OfTheBody, HoldBack, LighterDayAsked, OtherLeg)


def people_of(fact: Fact) -> tuple[str, ...]:
    """The athletes a fact names; none for a venue, the weather or a coach."""
    athlete = getattr(fact, "athlete", "")
    return (athlete,) if athlete else tuple(getattr(fact, "athletes", ()))


def day_of(fact: Fact) -> date | None:
    """The first day a fact speaks of; None for an undoing."""
    if isinstance(fact, CompetitionMoved):
        return min(fact.was, fact.first_day)
    for name in ("day", "begins", "first_day"):
        found = getattr(fact, name, None)
        if isinstance(found, datetime):
            return found.date()
        if isinstance(found, date):
            return found
    return None


def in_force(facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """The facts that were not undone, oldest first, without the undoings. An undoing may be undone itself."""
    undone: set[int] = set()
    for fact in sorted(facts, key=lambda f: -f.id):
        if isinstance(fact, Undone) and fact.id not in undone:
            undone.add(fact.fact)
    kept = (f for f in facts if not isinstance(f, Undone | Forgotten) and (f.id == 0 or f.id not in undone))
    return tuple(sorted(kept, key=lambda f: (f.recorded_at, f.id)))
