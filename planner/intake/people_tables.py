"""The tables of the athletes and what belongs to each, a row at a time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Annotated

from planner.domain.shoe import Shoe
from planner.domain.units import Level, Side
from planner.intake import fields as f
from planner.intake.row_model import RowModel, col, must


class AthleteRow(RowModel):
    """One athlete."""

    name: Annotated[str, f.NAME] = must("name")
    born: Annotated[date | None, f.DATE] = col("date of birth")
    age: Annotated[int | None, f.whole(5, 99, "age", "years")] = col("age on the first day, if not born")
    sex: Annotated[str, f.one_of(f.SEXES, "sex")] = col("female or male", "")
    events: Annotated[tuple[str, ...] | None, f.EVENTS] = col("events, the first one first")
    level: Annotated[Level | None, f.LEVEL] = col("novice, developing or advanced (developing)")
    levels: Annotated[Mapping[str, Level], f.LEVELS_EACH] = col(
        "levels that differ: full-jumps: novice; top-speed: advanced", {}
    )
    training_years: Annotated[int | None, f.whole(0, 60, "training years", "years")] = col(
        "whole years of regular training"
    )
    take_off_leg: Annotated[Side | None, f.SIDE] = col("left or right (left)")
    growth: Annotated[int, f.whole(0, 20, "growth in a year", "cm")] = col("growth in the last year, cm", 0)
    sound_landing: Annotated[bool | None, f.YES_NO] = col("lands soundly on one leg (no)")
    other_sport: Annotated[Mapping[int, int], f.OTHER_SPORT] = col(
        "hours of other sport: Mon 1.5; Wed 2, or hours a week", {}
    )
    group: Annotated[str, f.NAME] = col("training group", "")
    needs: Annotated[tuple[str, ...], f.some_of(f.NEEDS, "needs")] = col("quiet runway, caller, guide", ())


class MarkRow(RowModel):
    """A result."""

    athlete: Annotated[str, f.NAME] = must("whose")
    event: Annotated[str, f.MARK_EVENT] = must("event or test: 30 m blocks, long jump 8 steps")
    mark: Annotated[tuple[str, int], f.MARK] = must("with its unit: 6.35 m, 11.92 s, 1:52.30, 120 kg")
    wind: Annotated[int | None, f.MARK_WIND] = col("metres per second, + from behind")
    on: Annotated[date | None, f.DATE] = col("when", alias="date")
    start: Annotated[str, f.one_of(f.STARTS, "a start")] = col("of a run: standing, blocks, flying or race", "")
    timing: Annotated[str, f.one_of(f.TIMINGS, "a timing")] = col("of a run: gates or hand (gates)", "")
    surface: Annotated[str, f.one_of(f.SURFACES, "a surface")] = col("of a run: track or grass (track)", "")
    shoes: Annotated[str, f.one_of(f.SHOES, "shoes")] = col("of a run: spikes or flats (spikes)", "")
    steps: Annotated[int | None, f.whole(2, 24, "steps of a short run-up", "steps")] = col(
        "of a jump: steps of a short run-up (the full one)"
    )


class RunUpRow(RowModel):
    """A run-up, measured from the board."""

    athlete: Annotated[str, f.NAME] = must("whose")
    event: Annotated[str, f.EVENT] = must("event")
    steps: Annotated[int, f.whole(1, 30, "steps")] = must("running steps")
    start_mark: Annotated[int | None, f.LENGTH] = col("start mark from the board: 33.20 m")
    check_steps: Annotated[int | None, f.whole(1, 12, "steps to the check mark")] = col(
        "step of the check mark"
    )
    check_mark: Annotated[int | None, f.LENGTH] = col("check mark, from the start mark: 5.35 m")
    coach_mark: Annotated[int | None, f.LENGTH] = col("coach's mark from the board: 8.05 m")
    shoe: Annotated[Shoe | None, f.SHOE] = col("shoe the mark stands for: spikes 26.2 cm (the only one)")
    board: Annotated[int | None, f.LENGTH] = col("board to pit (triple jump): 11 m")
    leg: Annotated[Side | None, f.SIDE] = col("take-off leg (the athlete's)")
    on: Annotated[date | None, f.DATE] = col("when it was set", alias="date")


class AwayRow(RowModel):
    """Time an athlete is not there, or bound."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = must("one or several athletes or groups, or all")
    begins: Annotated[date | datetime | None, f.MOMENT] = col("date, or date and clock", alias="from")
    ends: Annotated[date | datetime | None, f.MOMENT] = col(
        "date (whole day), or date and clock", alias="until"
    )
    kind: Annotated[str, f.one_of(f.AWAY_KINDS, "a kind of absence")] = col("why", "away")
    travel_hours: Annotated[int, f.whole(0, 60, "hours of travel", "h")] = col("hours of travel", 0)
    zones: Annotated[int, f.whole(0, 12, "time zones crossed")] = col("time zones crossed", 0)
    overnight: Annotated[bool, f.YES_NO] = col("travelled through the night", False)


class CompetitionRow(RowModel):
    """A competition."""

    name: Annotated[str, f.NAME] = must("name")
    on: Annotated[date, f.DATE] = must("first day", "date")
    until: Annotated[date | None, f.DATE] = col("last day (the first)")
    athletes: Annotated[tuple[str, ...], f.NAMES] = col("athletes or groups, or all (all)", ("all",))
    events: Annotated[tuple[str, ...], f.EVENTS] = col("events (the athlete's own)", ())
    importance: Annotated[str | None, f.one_of(f.IMPORTANCES, "an importance")] = col(
        "main, supporting or train-through (train-through)"
    )
    start: Annotated[time | None, f.CLOCK] = col("clock time of the first event, for the day's card: 14:00")
    starts: Annotated[tuple[tuple[str, time], ...], f.EVENT_CLOCKS] = col(
        "instead of 'start', of each event: long jump 11:00; 100 m hurdles 13:30", ()
    )
    gap_accepted: Annotated[str, f.TEXT] = col(
        "who finds the time between two events long enough, and why", ""
    )


class LimitRow(RowModel):
    """What a body may take now, entered by a person."""

    athlete: Annotated[str, f.NAME] = must("whose")
    kind: Annotated[str, f.one_of(("limit", "hold back"), "a kind of limit")] = col(
        "limit, or hold back: a ceiling for the whole athlete", "limit"
    )
    region: Annotated[str | None, f.one_of(f.LIMIT_REGIONS, "a region")] = col("region of the body")
    side: Annotated[str, f.one_of(("left", "right", "both"), "a side")] = col("left, right or both", "both")
    stage: Annotated[int | None, f.whole(0, 6, "a return stage")] = col(
        "return stage 0 (stop) to 6 (cleared)"
    )
    begins: Annotated[date | None, f.DATE] = col("first day (the block's)", alias="from")
    ends: Annotated[date | None, f.DATE] = col("last day (open)", alias="until")
    days_between: Annotated[int | None, f.whole(1, 14, "days between", "days")] = col(
        "least days between sessions that load the region: 3 = every third day"
    )
    contacts_a_week: Annotated[int | None, f.whole(0, 2000, "contacts a week")] = col(
        "most contacts a week, low ones and drills too"
    )
    hard_contacts_a_week: Annotated[int | None, f.whole(0, 2000, "contacts a week")] = col(
        "most contacts a week at 90 % effort or more: bounds, hops, take-offs and their landings"
    )
    landings_a_session: Annotated[int | None, f.whole(0, 200, "landings a session")] = col(
        "most landings a session"
    )
    run_up_steps: Annotated[int | None, f.whole(0, 30, "run-up steps")] = col("longest run-up, steps")
    speed_percent: Annotated[int | None, f.whole(0, 100, "percent of own best speed", "%")] = col(
        "most speed, %"
    )
    banned: Annotated[tuple[str, ...], f.NAMES] = col("units or families ruled out", ())
    lighter_only: Annotated[bool, f.YES_NO] = col("of a hold back: lighter versions only (no)", False)
    note: Annotated[str, f.TEXT] = col(
        "who decided a rise of more than one stage, and why; stays in this file", ""
    )


class GroupRow(RowModel):
    """Athletes who belong together."""

    name: Annotated[str, f.NAME] = must("name of the group")
    athletes: Annotated[tuple[str, ...], f.NAMES] = must("its athletes")
