"""The tables of when, where and who watches, a row at a time."""

from __future__ import annotations

from datetime import date, time
from typing import Annotated

from planner.domain.units import FAMILIES
from planner.intake import fields as f
from planner.intake.row_model import RowModel, col, must

Hours = tuple[tuple[tuple[int, ...], time, time], ...]


class BlockRow(RowModel):
    """The dated stretch that is planned."""

    name: Annotated[str, f.NAME] = must("name of the block")
    begins: Annotated[date, f.DATE] = must("first day", "from")
    ends: Annotated[date, f.DATE] = must("last day", "until")
    squad: Annotated[str, f.TEXT] = col("name of the squad", "")
    kind: Annotated[str, f.one_of(("block", "camp"), "a kind of block")] = col("block or camp", "block")
    week_start: Annotated[int, f.WEEKDAY] = col("weekday on which weeks begin (Mon)", 0)
    time_zone: Annotated[str | None, f.TEXT] = col("time zone of all clock times, such as Europe/Oslo")
    previous: Annotated[str, f.TEXT] = col("the earlier block's file, beside this one", "")
    paper: Annotated[str, f.one_of(("A4", "A3", "Letter"), "a paper size")] = col("paper size (A4)", "A4")
    contact: Annotated[str, f.TEXT] = col("whom to ring; printed on sheets", "")
    minor_ratio: Annotated[int | None, f.whole(1, 30, "athletes under 18 per adult")] = col(
        "athletes under 18 per adult, by your club's rule (8)"
    )
    adults_present: Annotated[int | None, f.whole(1, 5, "adults present")] = col(
        "adults needed when minors train, by your club's rule (2)"
    )
    camp_begins: Annotated[date | None, f.DATE] = col("first day of a camp in the block", alias="camp_from")
    camp_ends: Annotated[date | None, f.DATE] = col("last day of the camp", alias="camp_until")
    dusk: Annotated[time | None, f.CLOCK] = col("clock time from which it is dark without light")


class SlotRow(RowModel):
    """An opening for training on weekdays or dates."""

    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = col("weekdays: Mon-Sat, or Tue; Thu")
    on: Annotated[tuple[date, ...] | None, f.DATES] = col(
        "one or several dates, instead of weekdays", alias="date"
    )
    name: Annotated[str | None, f.NAME] = col("your word for it, such as morning ('training')")
    begins: Annotated[time | None, f.CLOCK] = col("clock time it begins", alias="from")
    ends: Annotated[time | None, f.CLOCK] = col("clock time it ends", alias="until")
    first_day: Annotated[date | None, f.DATE] = col("weekdays count from this date on")
    last_day: Annotated[date | None, f.DATE] = col("weekdays count up to this date")
    closed: Annotated[bool, f.YES_NO] = col("yes: no training then", False)


class VenueRow(RowModel):
    """A place of a venue."""

    venue: Annotated[str, f.NAME] = col("name of the venue ('track')", "track")
    place: Annotated[str | None, f.NAME] = col("name of the place (its kind)")
    kind: Annotated[str | None, f.one_of(f.PLACE_KINDS, "a kind of place")] = col("what it is")
    capacity: Annotated[int, f.whole(1, 500, "athletes at once")] = col("athletes at once (99)", 99)
    jumps_per_hour: Annotated[int | None, f.whole(1, 200, "jumps per hour")] = col("of a pit (40)")
    outdoor: Annotated[bool | None, f.YES_NO] = col("in the open air (a gym or pool: no, else yes)")
    lit: Annotated[bool, f.YES_NO] = col("has light after dark (yes)", True)
    crosses: Annotated[tuple[str, ...], f.NAMES] = col("places whose runners cross this one", ())
    dusk: Annotated[time | None, f.CLOCK] = col("clock time from which it is dark (the block's)")


class OpeningRow(RowModel):
    """When a place is open, or closed. A place without a row is open in every slot."""

    venue: Annotated[str | None, f.NAME] = col("a venue")
    place: Annotated[tuple[str, ...] | None, f.NAMES] = col("one or several places (all of the venue)")
    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = col("weekdays: Mon-Sat, or Tue; Thu")
    on: Annotated[tuple[date, ...] | None, f.DATES] = col(
        "one or several dates, instead of weekdays", alias="date"
    )
    slot: Annotated[tuple[str, ...] | None, f.NAMES] = col("one or several slots (all)")
    begins: Annotated[time | None, f.CLOCK] = col("clock time it opens (when the slot begins)", alias="from")
    ends: Annotated[time | None, f.CLOCK] = col("clock time it closes (when the slot ends)", alias="until")
    first_day: Annotated[date | None, f.DATE] = col("weekdays count from this date on")
    last_day: Annotated[date | None, f.DATE] = col("weekdays count up to this date")
    closed: Annotated[bool, f.YES_NO] = col("yes: shut then", False)


class Attendance(RowModel):
    """When somebody is there. Nothing given: in every slot."""

    days: Annotated[tuple[int, ...] | None, f.WEEKDAYS] = col("weekdays there: Mon-Sat, or Tue; Thu (all)")
    on: Annotated[tuple[date, ...] | None, f.DATES] = col("dates there, instead of weekdays", alias="date")
    slots: Annotated[tuple[str, ...] | None, f.NAMES] = col("slots there (all)")
    begins: Annotated[time | None, f.CLOCK] = col("clock time from which there", alias="from")
    ends: Annotated[time | None, f.CLOCK] = col("clock time until which there", alias="until")
    hours: Annotated[Hours | None, f.HOURS] = col("own hours, such as Mon 16:00-18:00; Thu 17:00-19:00")
    away: Annotated[tuple[date, ...], f.DATES] = col("dates away: 2027-03-31; 2027-04-02..2027-04-05", ())
    first_day: Annotated[date | None, f.DATE] = col("there from this date on")
    last_day: Annotated[date | None, f.DATE] = col("there up to this date")


class CoachRow(Attendance):
    """Who watches."""

    name: Annotated[str, f.NAME] = must("name")
    families: Annotated[tuple[str, ...], f.some_of(FAMILIES, "families of units")] = col(
        "families of units taught with full attention (all)", ()
    )
    minors: Annotated[bool, f.YES_NO] = col("may coach athletes under 18 (yes)", True)


class HelperRow(Attendance):
    """Who helps at the pit."""

    name: Annotated[str, f.NAME] = must("name")
    tasks: Annotated[tuple[str, ...], f.some_of(f.TASKS, "tasks")] = col(
        "rake, measure, time, film, adult, caller, guide", ()
    )


class WeatherRow(RowModel):
    """What the weather will be."""

    on: Annotated[date, f.DATE] = must("which day", "date")
    slot: Annotated[str, f.NAME] = col("which slot (all)", "")
    wbgt: Annotated[int | None, f.HEAT] = col("heat (WBGT) in degrees Celsius")
    air: Annotated[int | None, f.AIR] = col("air temperature in the shade, in degrees Celsius")
    rain: Annotated[bool, f.YES_NO] = col("rain", False)
    wind: Annotated[int | None, f.WIND] = col("wind in metres per second")
    wind_from: Annotated[str, f.one_of(f.COMPASS, "a wind direction")] = col("where the wind comes from", "")
