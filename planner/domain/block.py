"""The coach's file, resolved: who, when, where, and what is wished. Frozen records, each with its line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from functools import cached_property

from planner.domain.finding import Line
from planner.domain.shoe import Shoe
from planner.domain.units import Level, Side

NOWHERE = Line()


@dataclass(frozen=True)
class Slot:
    """A dated opening for training: morning, afternoon, or the coach's own word."""

    day: date
    name: str
    begins: time
    ends: time
    line: Line = NOWHERE

    @property
    def key(self) -> tuple[date, str]:
        return (self.day, self.name)

    @property
    def minutes(self) -> int:
        return (self.ends.hour - self.begins.hour) * 60 + self.ends.minute - self.begins.minute


@dataclass(frozen=True)
class Place:
    """A part of a venue: pit, straight, gym ... `capacity` athletes at once, `jumps_per_hour` at a pit."""

    venue: str
    name: str
    kind: str
    capacity: int = 99
    jumps_per_hour: int = 0
    outdoor: bool = True
    lit: bool = True
    line: Line = NOWHERE
    crosses: tuple[str, ...] = ()  # places of the same venue whose runners cross this one
    dusk: time | None = None  # from when it is too dark without light; None: the block's


@dataclass(frozen=True)
class Opening:
    """A place that is open in a slot, with its own clock times inside it."""

    day: date
    slot: str
    place: Place
    begins: time
    ends: time
    line: Line = NOWHERE

    @property
    def minutes(self) -> int:
        return (self.ends.hour - self.begins.hour) * 60 + self.ends.minute - self.begins.minute


@dataclass(frozen=True)
class Coach:
    """Who watches. `families` are those taught with full attention (empty: all of them)."""

    name: str
    families: tuple[str, ...] = ()
    minors: bool = True
    line: Line = NOWHERE

    def teaches(self, family: str) -> bool:
        return not self.families or family in self.families


@dataclass(frozen=True)
class Presence:
    """A coach or helper who is there in a slot, and for how many minutes."""

    day: date
    slot: str
    name: str
    minutes: int
    coach: Coach | None = None  # None: a helper
    tasks: tuple[str, ...] = ()  # of a helper: rake, measure, time, film, adult, caller, guide
    line: Line = NOWHERE
    hours: tuple[tuple[time, time], ...] = ()  # when in the slot; none: the whole of it, or not known

    @property
    def is_adult(self) -> bool:
        """A coach, or a helper whom the file names as an adult: who rakes or films may be young."""
        return self.coach is not None or "adult" in self.tasks


@dataclass(frozen=True)
class Athlete:
    """One athlete. `levels` may differ per family ('developing' top speed, 'novice' full jumps)."""

    name: str
    born: date | None = None
    sex: str = ""
    events: tuple[str, ...] = ()
    level: Level = "developing"
    levels: Mapping[str, Level] = field(default_factory=dict, hash=False)
    training_years: int | None = None
    take_off_leg: Side = "left"
    growth_cm_per_year: int = 0
    sound_landing: bool = False
    other_sport_minutes: Mapping[int, int] = field(default_factory=dict, hash=False)  # weekday 0-6 -> minutes
    group: str = ""
    line: Line = NOWHERE
    needs: tuple[str, ...] = ()  # quiet runway, caller, guide

    def age_on(self, day: date) -> int | None:
        """Whole years on a date; None when no birth date is known."""
        if self.born is None:
            return None
        return day.year - self.born.year - ((day.month, day.day) < (self.born.month, self.born.day))

    def level_for(self, family: str) -> Level:
        return self.levels.get(family, self.level)


@dataclass(frozen=True)
class Mark:
    """A result with its unit. `value` is centimetres, hundredths of a second, half kilograms or points."""

    athlete: str
    event: str
    value: int
    unit: str  # cm, hundredths, half-kg, points
    wind: int | None = None  # tenths of a metre per second
    day: date | None = None
    line: Line = NOWHERE


@dataclass(frozen=True)
class RunUp:
    """A run-up in one shoe. Centimetres: start and coach's mark from the board, check mark from the start mark."""

    athlete: str
    event: str
    steps: int
    start_mark: int | None = None
    check_steps: int | None = None
    check_mark: int | None = None
    coach_mark: int | None = None
    shoe: int | None = None  # millimetres
    board: int | None = None  # centimetres from the pit (triple jump)
    leg: Side | None = None
    day: date | None = None
    line: Line = NOWHERE
    shoe_name: str = ""

    @property
    def worn(self) -> Shoe:
        """The shoe the start mark stands for, as far as it was said."""
        return Shoe(self.shoe_name, self.shoe)


@dataclass(frozen=True)
class Away:
    """Time an athlete is not there or bound: away, exam, travel, arrival, departure."""

    athlete: str
    begins: datetime
    ends: datetime
    kind: str = "away"
    travel_hours: int = 0
    zones: int = 0
    overnight: bool = False
    line: Line = NOWHERE


@dataclass(frozen=True)
class EventStart:
    """When an event of a competition begins, by its timetable."""

    event: str
    at: time


@dataclass(frozen=True)
class Competition:
    """A competition of one athlete. `importance`: main, supporting, train-through.

    `starts` are those of the athlete's events that the timetable is known of, in order of time, on the first day.
    `gap_accepted` is the note of a person who finds the time between two of them long enough.
    """

    name: str
    athlete: str
    first_day: date
    last_day: date
    events: tuple[str, ...] = ()
    importance: str = "train-through"
    line: Line = NOWHERE
    start: time | None = None  # clock time of the athlete's first event on the first day, when it is known
    starts: tuple[EventStart, ...] = ()
    gap_accepted: str = ""


@dataclass(frozen=True)
class Limit:
    """What a body may take now, as a person entered it. Own caps are None when not given.

    `region` may also be ankle, shin, hip, shoulder, illness, or 'whole' for a hold-back by the coach.
    """

    athlete: str
    region: str
    side: str = "both"
    stage: int = 6
    begins: date | None = None
    ends: date | None = None
    days_between: int | None = None  # least days between sessions that load the region at 2 or more
    contacts_a_week: int | None = None  # all of them, low ones and drills too
    landings_a_session: int | None = None
    run_up_steps: int | None = None
    speed_percent: int | None = None
    hold_back: bool = False
    banned: tuple[str, ...] = ()  # unit ids or families a person has ruled out
    line: Line = NOWHERE
    lighter_only: bool = False  # whatever is done comes in its lighter version (a lighter day was asked for)
    hard_contacts_a_week: int | None = None  # at 90 % effort or more: bounds, hops, take-offs, their landings

    def active_on(self, day: date) -> bool:
        return (self.begins is None or self.begins <= day) and (self.ends is None or day <= self.ends)


@dataclass(frozen=True)
class Theme:
    athlete: str
    aim: str
    measure: str = ""
    begins: date | None = None
    ends: date | None = None
    units: tuple[str, ...] = ()
    line: Line = NOWHERE


@dataclass(frozen=True)
class PhaseSpan:
    """A phase as the coach gave it, for one athlete or ('') all. `share` is percent of the peak week."""

    athlete: str
    phase: str
    begins: date
    ends: date
    share: int | None = None
    line: Line = NOWHERE


@dataclass(frozen=True)
class Wish:
    """'Must be here' (fixed) or 'would like' (wish): a unit of an athlete on a day."""

    athlete: str
    day: date
    unit: str
    slot: str = ""
    amount: str = ""
    line: Line = NOWHERE


MOST_WEIGHT = 10_000  # points a step that a coach may give a rule; what weighs more is our own order of payment


@dataclass(frozen=True)
class RuleSetting:
    """A coach's own number or tier for a rule; with a reason it is a dated exception.

    `parameter` is the rule's parameter, or 'tier', 'weight', or 'off'.
    """

    rule: str
    parameter: str
    value: int | str
    athlete: str = ""
    begins: date | None = None
    ends: date | None = None
    reason: str = ""
    line: Line = NOWHERE

    @property
    def is_exception(self) -> bool:
        return bool(self.reason)

    def applies(self, athlete: str, day: date | None) -> bool:
        if self.athlete and self.athlete != athlete:
            return False
        if self.begins is None and self.ends is None:
            return True
        return day is not None and (self.begins or day) <= day <= (self.ends or day)


@dataclass(frozen=True)
class BeforeWeek:
    """What an athlete did in a week before the block: counter -> amount; also load (effort x minutes)."""

    athlete: str
    week_begins: date
    counters: Mapping[str, int] = field(default_factory=dict, hash=False)
    line: Line = NOWHERE


@dataclass(frozen=True)
class LastDone:
    """The last date(s) on which an athlete did a unit before the block."""

    athlete: str
    unit: str
    day: date
    line: Line = NOWHERE


@dataclass(frozen=True)
class Weather:
    day: date
    slot: str = ""
    wbgt: int | None = None  # tenths of a degree
    rain: bool = False
    wind: int | None = None  # tenths of a metre per second
    wind_from: str = ""
    line: Line = NOWHERE
    air: int | None = None  # temperature in the shade, tenths of a degree Celsius


@dataclass(frozen=True)
class Assumption:
    """A default the program took because the file is silent; `planner check` lists them."""

    subject: str
    text: str


@dataclass(frozen=True)
class Block:
    """A whole coach's file. Tables are tuples in file order; openings and presences are dated."""

    name: str
    begins: date
    ends: date
    squad: str = ""
    kind: str = "block"  # block or camp
    week_start: int = 0  # 0 Monday
    time_zone: str = "UTC"
    previous: str = ""
    paper: str = "A4"
    contact: str = ""
    minor_ratio: int = 8  # athletes under 18 per adult; the club's own rule decides
    adults_present: int = 2  # adults needed when minors train; the club's own rule decides
    slots: tuple[Slot, ...] = ()
    openings: tuple[Opening, ...] = ()
    presences: tuple[Presence, ...] = ()
    athletes: tuple[Athlete, ...] = ()
    marks: tuple[Mark, ...] = ()
    run_ups: tuple[RunUp, ...] = ()
    away: tuple[Away, ...] = ()
    competitions: tuple[Competition, ...] = ()
    limits: tuple[Limit, ...] = ()
    themes: tuple[Theme, ...] = ()
    phases: tuple[PhaseSpan, ...] = ()
    fixed: tuple[Wish, ...] = ()
    wishes: tuple[Wish, ...] = ()
    settings: tuple[RuleSetting, ...] = ()
    before: tuple[BeforeWeek, ...] = ()
    last_done: tuple[LastDone, ...] = ()
    weather: tuple[Weather, ...] = ()
    own_units: tuple[object, ...] = ()  # planner.domain.units.Unit, made by intake from the units table
    assumptions: tuple[Assumption, ...] = ()
    line: Line = NOWHERE
    camp_begins: date | None = None  # a camp inside the block; of kind camp the whole block when None
    camp_ends: date | None = None
    dusk: time | None = None  # from when it is too dark without light; None: not known

    def athlete(self, name: str) -> Athlete:
        """The athlete of that name; KeyError when there is none."""
        return self._by_name[name]

    @cached_property
    def _by_name(self) -> Mapping[str, Athlete]:
        return {athlete.name: athlete for athlete in reversed(self.athletes)}
