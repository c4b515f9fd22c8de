"""The tables of a block file, a row at a time. YAML and workbooks are judged by these same models."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from planner.domain.units import FAMILIES, LEVELS, REGIONS, Level, Side
from planner.intake import fields as f
from planner.intake import values

Hours = tuple[tuple[tuple[int, ...], time, time], ...]


class RowModel(BaseModel):
    """One row of a table. Unknown columns are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def _col(text: str, default: Any = None, alias: str | None = None) -> Any:
    return Field(default, description=text, alias=alias)


def _must(text: str, alias: str | None = None) -> Any:
    return Field(..., description=text, alias=alias)


class BlockRow(RowModel):
    """The dated stretch that is planned."""

    name: Annotated[str, f.NAME] = _must("name of the block")
    begins: Annotated[date, f.DATE] = _must("first day", "from")
    ends: Annotated[date, f.DATE] = _must("last day", "until")
    squad: Annotated[str, f.TEXT] = _col("name of the squad", "")
    kind: Annotated[str, f.one_of(("block", "camp"), "a kind of block")] = _col("block or camp", "block")
    week_start: Annotated[int, f.WEEKDAY] = _col("weekday on which weeks begin (Mon)", 0)
    time_zone: Annotated[str | None, f.TEXT] = _col("time zone of all clock times, such as Europe/Oslo")
    previous: Annotated[str, f.TEXT] = _col("the earlier block's file, beside this one", "")
    paper: Annotated[str, f.one_of(("A4", "A3", "Letter"), "a paper size")] = _col("paper size (A4)", "A4")
    contact: Annotated[str, f.TEXT] = _col("whom to ring; printed on sheets", "")
    minor_ratio: Annotated[int | None, f.whole(1, 30, "athletes under 18 per adult")] = _col(
        "athletes under 18 per adult, by your club's rule (8)"
    )
    adults_present: Annotated[int | None, f.whole(1, 5, "adults present")] = _col(
        "adults needed when minors train, by your club's rule (2)"
    )


class SlotRow(RowModel):
    """An opening for training on weekdays or dates."""

    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = _col("weekdays: Mon-Sat, or Tue; Thu")
    on: Annotated[tuple[date, ...] | None, f.DATES] = _col("one or several dates, instead of weekdays", alias="date")
    name: Annotated[str | None, f.NAME] = _col("your word for it, such as morning ('training')")
    begins: Annotated[time | None, f.CLOCK] = _col("clock time it begins", alias="from")
    ends: Annotated[time | None, f.CLOCK] = _col("clock time it ends", alias="until")
    first_day: Annotated[date | None, f.DATE] = _col("weekdays count from this date on")
    last_day: Annotated[date | None, f.DATE] = _col("weekdays count up to this date")
    closed: Annotated[bool, f.YES_NO] = _col("yes: no training then", False)


class VenueRow(RowModel):
    """A place of a venue."""

    venue: Annotated[str, f.NAME] = _col("name of the venue ('track')", "track")
    place: Annotated[str | None, f.NAME] = _col("name of the place (its kind)")
    kind: Annotated[str | None, f.one_of(f.PLACE_KINDS, "a kind of place")] = _col("what it is")
    capacity: Annotated[int, f.whole(1, 500, "athletes at once")] = _col("athletes at once (99)", 99)
    jumps_per_hour: Annotated[int | None, f.whole(1, 200, "jumps per hour")] = _col("of a pit (40)")
    outdoor: Annotated[bool | None, f.YES_NO] = _col("in the open air (a gym or pool: no, else yes)")
    lit: Annotated[bool, f.YES_NO] = _col("has light after dark (yes)", True)


class OpeningRow(RowModel):
    """When a place is open, or closed. A place without a row is open in every slot."""

    venue: Annotated[str | None, f.NAME] = _col("a venue")
    place: Annotated[tuple[str, ...] | None, f.NAMES] = _col("one or several places (all of the venue)")
    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = _col("weekdays: Mon-Sat, or Tue; Thu")
    on: Annotated[tuple[date, ...] | None, f.DATES] = _col("one or several dates, instead of weekdays", alias="date")
    slot: Annotated[tuple[str, ...] | None, f.NAMES] = _col("one or several slots (all)")
    begins: Annotated[time | None, f.CLOCK] = _col("clock time it opens (when the slot begins)", alias="from")
    ends: Annotated[time | None, f.CLOCK] = _col("clock time it closes (when the slot ends)", alias="until")
    first_day: Annotated[date | None, f.DATE] = _col("weekdays count from this date on")
    last_day: Annotated[date | None, f.DATE] = _col("weekdays count up to this date")
    closed: Annotated[bool, f.YES_NO] = _col("yes: shut then", False)


class Attendance(RowModel):
    """When somebody is there. Nothing given: in every slot."""

    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = _col("weekdays there: Mon-Sat, or Tue; Thu (all)")
    on: Annotated[tuple[date, ...] | None, f.DATES] = _col("dates there, instead of weekdays", alias="date")
    slots: Annotated[tuple[str, ...] | None, f.NAMES] = _col("slots there (all)")
    begins: Annotated[time | None, f.CLOCK] = _col("clock time from which there", alias="from")
    ends: Annotated[time | None, f.CLOCK] = _col("clock time until which there", alias="until")
    hours: Annotated[Hours | None, f.HOURS] = _col("own hours, such as Mon 16:00-18:00; Thu 17:00-19:00")
    away: Annotated[tuple[date, ...], f.DATES] = _col("dates away: 2027-03-31; 2027-04-02..2027-04-05", ())
    first_day: Annotated[date | None, f.DATE] = _col("there from this date on")
    last_day: Annotated[date | None, f.DATE] = _col("there up to this date")


class CoachRow(Attendance):
    """Who watches."""

    name: Annotated[str, f.NAME] = _must("name")
    families: Annotated[tuple[str, ...], f.some_of(FAMILIES, "families of units")] = _col(
        "families of units taught with full attention (all)", ()
    )
    minors: Annotated[bool, f.YES_NO] = _col("may coach athletes under 18 (yes)", True)


class HelperRow(Attendance):
    """Who helps at the pit."""

    name: Annotated[str, f.NAME] = _must("name")
    tasks: Annotated[tuple[str, ...], f.some_of(f.TASKS, "tasks")] = _col("rake, measure, time, film, adult", ())


class AthleteRow(RowModel):
    """One athlete."""

    name: Annotated[str, f.NAME] = _must("name")
    born: Annotated[date | None, f.DATE] = _col("date of birth")
    age: Annotated[int | None, f.whole(5, 99, "age", "years")] = _col("age on the first day, if not born")
    sex: Annotated[str, f.one_of(f.SEXES, "sex")] = _col("female or male", "")
    events: Annotated[tuple[str, ...] | None, f.EVENTS] = _col("events, the first one first")
    level: Annotated[Level | None, f.LEVEL] = _col("novice, developing or advanced (developing)")
    levels: Annotated[Mapping[str, Level], f.LEVELS_EACH] = _col(
        "levels that differ: full-jumps: novice; top-speed: advanced", {}
    )
    training_years: Annotated[int | None, f.whole(0, 60, "training years", "years")] = _col(
        "whole years of regular training"
    )
    take_off_leg: Annotated[Side | None, f.SIDE] = _col("left or right (left)")
    growth: Annotated[int, f.whole(0, 20, "growth in a year", "cm")] = _col("growth in the last year, cm", 0)
    sound_landing: Annotated[bool | None, f.YES_NO] = _col("lands soundly on one leg (no)")
    other_sport: Annotated[Mapping[int, int], f.OTHER_SPORT] = _col(
        "hours of other sport: Mon 1.5; Wed 2, or hours a week", {}
    )
    group: Annotated[str, f.NAME] = _col("training group", "")


class MarkRow(RowModel):
    """A result."""

    athlete: Annotated[str, f.NAME] = _must("whose")
    event: Annotated[str, f.EVENT] = _must("event or test")
    mark: Annotated[tuple[str, int], f.MARK] = _must("with its unit: 6.35 m, 11.92 s, 1:52.30, 120 kg")
    wind: Annotated[int | None, f.WIND] = _col("metres per second, + from behind")
    on: Annotated[date | None, f.DATE] = _col("when", alias="date")


class RunUpRow(RowModel):
    """A run-up, measured from the board."""

    athlete: Annotated[str, f.NAME] = _must("whose")
    event: Annotated[str, f.EVENT] = _must("event")
    steps: Annotated[int, f.whole(1, 30, "steps")] = _must("running steps")
    start_mark: Annotated[int | None, f.LENGTH] = _col("start mark from the board: 33.20 m")
    check_steps: Annotated[int | None, f.whole(1, 12, "steps to the check mark")] = _col("step of the check mark")
    check_mark: Annotated[int | None, f.LENGTH] = _col("check mark, from the start mark: 5.35 m")
    coach_mark: Annotated[int | None, f.LENGTH] = _col("coach's mark from the board: 8.05 m")
    shoe: Annotated[int | None, f.SHOE] = _col("length of the shoe: 26.2 cm")
    board: Annotated[int | None, f.LENGTH] = _col("board to pit (triple jump): 11 m")
    leg: Annotated[Side | None, f.SIDE] = _col("take-off leg (the athlete's)")
    on: Annotated[date | None, f.DATE] = _col("when it was set", alias="date")


class AwayRow(RowModel):
    """Time an athlete is not there, or bound."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = _must("one or several athletes or groups, or all")
    begins: Annotated[date | datetime | None, f.MOMENT] = _col("date, or date and clock", alias="from")
    ends: Annotated[date | datetime | None, f.MOMENT] = _col("date (whole day), or date and clock", alias="until")
    kind: Annotated[str, f.one_of(f.AWAY_KINDS, "a kind of absence")] = _col("why", "away")
    travel_hours: Annotated[int, f.whole(0, 60, "hours of travel", "h")] = _col("hours of travel", 0)
    zones: Annotated[int, f.whole(0, 12, "time zones crossed")] = _col("time zones crossed", 0)
    overnight: Annotated[bool, f.YES_NO] = _col("travelled through the night", False)


class CompetitionRow(RowModel):
    """A competition."""

    name: Annotated[str, f.NAME] = _must("name")
    on: Annotated[date, f.DATE] = _must("first day", "date")
    until: Annotated[date | None, f.DATE] = _col("last day (the first)")
    athletes: Annotated[tuple[str, ...], f.NAMES] = _col("athletes or groups, or all (all)", ("all",))
    events: Annotated[tuple[str, ...], f.EVENTS] = _col("events (the athlete's own)", ())
    importance: Annotated[str | None, f.one_of(f.IMPORTANCES, "an importance")] = _col(
        "main, supporting or train-through (train-through)"
    )


class LimitRow(RowModel):
    """What a body may take now, entered by a person."""

    athlete: Annotated[str, f.NAME] = _must("whose")
    kind: Annotated[str, f.one_of(("limit", "hold back"), "a kind of limit")] = _col(
        "limit, or hold back: a ceiling for the whole athlete", "limit"
    )
    region: Annotated[str | None, f.one_of(f.LIMIT_REGIONS, "a region")] = _col("region of the body")
    side: Annotated[str, f.one_of(("left", "right", "both"), "a side")] = _col("left, right or both", "both")
    stage: Annotated[int | None, f.whole(0, 6, "a return stage")] = _col("return stage 0 (stop) to 6 (cleared)")
    begins: Annotated[date | None, f.DATE] = _col("first day (the block's)", alias="from")
    ends: Annotated[date | None, f.DATE] = _col("last day (open)", alias="until")
    days_between: Annotated[int | None, f.whole(1, 14, "days between", "days")] = _col(
        "least days between sessions that load the region: 3 = every third day"
    )
    contacts_a_week: Annotated[int | None, f.whole(0, 2000, "contacts a week")] = _col("most contacts a week")
    landings_a_session: Annotated[int | None, f.whole(0, 200, "landings a session")] = _col("most landings a session")
    run_up_steps: Annotated[int | None, f.whole(0, 30, "run-up steps")] = _col("longest run-up, steps")
    speed_percent: Annotated[int | None, f.whole(0, 100, "percent of own best speed", "%")] = _col("most speed, %")
    banned: Annotated[tuple[str, ...], f.NAMES] = _col("units or families ruled out", ())


class GroupRow(RowModel):
    """Athletes who belong together."""

    name: Annotated[str, f.NAME] = _must("name of the group")
    athletes: Annotated[tuple[str, ...], f.NAMES] = _must("its athletes")


class ThemeRow(RowModel):
    """One aim over several days."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = _must("one or several athletes or groups, or all")
    aim: Annotated[str, f.TEXT] = _must("the aim, in your words")
    measure: Annotated[str, f.TEXT] = _col("how you will know", "")
    begins: Annotated[date | None, f.DATE] = _col("first day", alias="from")
    ends: Annotated[date | None, f.DATE] = _col("last day", alias="until")
    units: Annotated[tuple[str, ...], f.NAMES] = _col("units that serve it", ())


class PhaseRow(RowModel):
    """A phase of the season, when the coach sets it."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = _col("athletes or groups (all)", ("all",))
    phase: Annotated[str, f.one_of(f.PHASES, "a phase")] = _must("which phase")
    begins: Annotated[date, f.DATE] = _must("first day", "from")
    ends: Annotated[date, f.DATE] = _must("last day", "until")
    share: Annotated[int | None, f.whole(10, 100, "percent of the peak week", "%")] = _col("% of the peak week")


class WishRow(RowModel):
    """A unit on a day: it must be there (fixed), or the coach would like it (wishes)."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = _must("one or several athletes or groups, or all")
    on: Annotated[date, f.DATE] = _must("which day", "date")
    unit: Annotated[str, f.NAME] = _must("which unit")
    slot: Annotated[str, f.NAME] = _col("which slot (any)", "")
    amount: Annotated[str, f.TEXT] = _col("full, lighter, or a figure such as 240 m", "")


class RuleRow(RowModel):
    """A number or tier of a rule, for the whole block."""

    rule: Annotated[str, f.NAME] = _must("id of the rule")
    parameter: Annotated[str | None, f.NAME] = _col("which number of the rule")
    value: Annotated[int | None, f.whole(-100_000, 100_000, "a rule's number")] = _col("the number")
    tier: Annotated[str | None, f.one_of(f.TIERS, "a tier")] = _col("must, should or prefer")
    weight: Annotated[int | None, f.whole(0, 10_000, "points per step")] = _col("points per step")


class ExceptionRow(RuleRow):
    """A dated exception to a rule, with the coach's reason."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = _col("athletes or groups (all)", ("all",))
    begins: Annotated[date | None, f.DATE] = _col("first day (the block's)", alias="from")
    ends: Annotated[date | None, f.DATE] = _col("last day (the block's)", alias="until")
    off: Annotated[bool, f.YES_NO] = _col("yes: the rule does not count", False)
    reason: Annotated[str | None, f.TEXT] = _col("why, at least ten characters; printed for the coach")


class UnitRow(RowModel):
    """An own unit, made from a known one by changing some of it."""

    id: Annotated[str, f.NAME] = _must("id, small letters and hyphens; a known id changes that unit")
    like: Annotated[str | None, f.NAME] = _col("the known unit it is made from (the one of that id)")
    name: Annotated[str | None, f.TEXT] = _col("name on paper")
    purpose: Annotated[str | None, f.TEXT] = _col("what it is for")
    neural: Annotated[int | None, f.whole(0, 3, "fast-and-explosive demand")] = _col("fast and explosive demand 0-3")
    metabolic: Annotated[int | None, f.whole(0, 3, "heavy-legs demand")] = _col("heavy-legs demand 0-3")
    loads: Annotated[
        Mapping[str, int] | None,
        f.mapping(REGIONS, lambda c: values.whole(c, 0, 3, "a load"), "loads 0-3 by region of the body"),
    ] = _col("loads 0-3 by region: hamstring 3; knee 1")
    effort: Annotated[tuple[int, int] | None, f.span(0, 10, "effort")] = _col("effort 0-10, low-high: 6-7")
    minutes: Annotated[tuple[int, int] | None, f.span(0, 240, "minutes")] = _col("minutes after warm-up: 30-45")
    amounts: Annotated[
        Mapping[str, tuple[int, int]] | None,
        f.mapping(LEVELS, lambda c: values.span(c, 0, 20_000, "an amount"), "amounts by level, low-high"),
    ] = _col("amounts by level: novice 4-6; advanced 8-12")
    increment: Annotated[int | None, f.whole(1, 1000, "an increment")] = _col("amounts go up by this")
    place_kinds: Annotated[tuple[str, ...] | None, f.some_of(f.PLACE_KINDS, "kinds of place")] = _col(
        "places that will do, best first"
    )
    eyes: Annotated[int | None, f.whole(0, 2, "coach's eyes")] = _col("0 none, 1 nearby, 2 full attention")
    hours_neural: Annotated[int | None, f.whole(0, 168, "hours", "h")] = _col("hours before the next fast unit")
    hours_region: Annotated[int | None, f.whole(0, 168, "hours", "h")] = _col("hours before the region is loaded again")
    least_age: Annotated[int | None, f.whole(0, 30, "an age", "years")] = _col("youngest age")
    least_training_years: Annotated[int | None, f.whole(0, 20, "training years", "years")] = _col("fewest training years")
    lighter_text: Annotated[str | None, f.TEXT] = _col("the lighter version, in words")
    stop_rule: Annotated[str | None, f.TEXT] = _col("when to stop")
    recovery: Annotated[str | None, f.TEXT] = _col("recoveries")
    target: Annotated[str | None, f.TEXT] = _col("what to aim at")
    shoes: Annotated[str | None, f.TEXT] = _col("shoes")
    source: Annotated[str | None, f.TEXT] = _col("where it comes from")


_Much = Annotated[int | None, f.whole(0, 100_000, "an amount")]


class BeforeRow(RowModel):
    """What was done before the block: a week's amounts, or the last date of a unit."""

    athlete: Annotated[str, f.NAME] = _must("whose")
    week: Annotated[date | None, f.DATE] = _col("a day of the week that is meant")
    unit: Annotated[str | None, f.NAME] = _col("a unit, with the date it was last done")
    last: Annotated[date | None, f.DATE] = _col("the last date of that unit")
    load: _Much = _col("effort x minutes of the week")
    fast_metres: _Much = _col("metres at 95 % or faster")
    quick_metres: _Much = _col("metres at 90-95 %, run-ups included")
    tempo_metres: _Much = _col("metres at 60-88 %")
    short_jumps: _Much = _col("jumps from a short or medium run-up")
    full_jumps: _Much = _col("jumps from the full run-up")
    run_ups: _Much = _col("full run-ups without a jump")
    low_contacts: _Much = _col("contacts of low multi-jumps and drills")
    high_contacts: _Much = _col("contacts of bounds, hops and depth jumps")
    take_offs: _Much = _col("take-offs at 90 % effort or more")
    landings: _Much = _col("hard landings")
    heavy_sets: _Much = _col("heavy sets for the legs")
    throws: _Much = _col("throws")
    barriers: _Much = _col("hurdles cleared")
    exchanges: _Much = _col("relay changeovers")
    starts: _Much = _col("starts")
    attempts_measured: _Much = _col("measured attempts")


class WeatherRow(RowModel):
    """What the weather will be."""

    on: Annotated[date, f.DATE] = _must("which day", "date")
    slot: Annotated[str, f.NAME] = _col("which slot (all)", "")
    wbgt: Annotated[int | None, f.HEAT] = _col("heat (WBGT) in degrees Celsius")
    rain: Annotated[bool, f.YES_NO] = _col("rain", False)
    wind: Annotated[int | None, f.WIND] = _col("wind in metres per second")
    wind_from: Annotated[str, f.one_of(f.COMPASS, "a wind direction")] = _col("where the wind comes from", "")


TABLES: Mapping[str, type[RowModel]] = {
    "block": BlockRow, "slots": SlotRow, "venues": VenueRow, "openings": OpeningRow, "coaches": CoachRow,
    "helpers": HelperRow, "athletes": AthleteRow, "marks": MarkRow, "run_ups": RunUpRow, "away": AwayRow,
    "competitions": CompetitionRow, "limits": LimitRow, "groups": GroupRow, "themes": ThemeRow,
    "phases": PhaseRow, "fixed": WishRow, "wishes": WishRow, "rules": RuleRow, "exceptions": ExceptionRow,
    "units": UnitRow, "before": BeforeRow, "weather": WeatherRow,
}  # fmt: skip
NEEDED_TABLES = ("block", "athletes")


def columns(table: str) -> tuple[str, ...]:
    """The column names of a table as a coach writes them, in the order of a workbook's header."""
    fields = TABLES[table].model_fields
    return tuple(info.alias or key for key, info in fields.items())


def kind_of(table: str, column: str) -> f.Kind:
    """How a column's cells are read."""
    for key, info in TABLES[table].model_fields.items():
        if (info.alias or key) == column:
            return next(m for m in info.metadata if isinstance(m, f.Kind))
    raise KeyError(column)


def description_of(table: str, column: str) -> str:
    for key, info in TABLES[table].model_fields.items():
        if (info.alias or key) == column:
            return info.description or ""
    raise KeyError(column)
