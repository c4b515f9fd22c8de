"""The tables of what is wished, ruled and known from before, a row at a time."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Annotated

from planner.domain.block import MOST_WEIGHT
from planner.domain.units import COUNTERS, FAMILIES, LEVELS, REGIONS
from planner.intake import fields as f
from planner.intake import values
from planner.intake.row_model import RowModel, col, must


class ThemeRow(RowModel):
    """One aim over several days."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = must("one or several athletes or groups, or all")
    aim: Annotated[str, f.TEXT] = must("the aim, in your words")
    measure: Annotated[str, f.TEXT] = col("how you will know", "")
    begins: Annotated[date | None, f.DATE] = col("first day", alias="from")
    ends: Annotated[date | None, f.DATE] = col("last day", alias="until")
    units: Annotated[tuple[str, ...], f.NAMES] = col("units that serve it", ())


class PhaseRow(RowModel):
    """A phase of the season, when the coach sets it."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = col("athletes or groups (all)", ("all",))
    phase: Annotated[str, f.one_of(f.PHASES, "a phase")] = must("which phase")
    begins: Annotated[date, f.DATE] = must("first day", "from")
    ends: Annotated[date, f.DATE] = must("last day", "until")
    share: Annotated[int | None, f.whole(10, 100, "percent of the peak week", "%")] = col(
        "% of the peak week"
    )


class WishRow(RowModel):
    """A unit on a day: it must be there (fixed), or the coach would like it (wishes)."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = must("one or several athletes or groups, or all")
    on: Annotated[date, f.DATE] = must("which day", "date")
    unit: Annotated[str, f.NAME] = must("which unit")
    slot: Annotated[str, f.NAME] = col("which slot (any)", "")
    amount: Annotated[str, f.TEXT] = col("full, lighter, or a figure such as 240 m", "")


class RuleRow(RowModel):
    """A number or tier of a rule, for the whole block."""

    rule: Annotated[str, f.NAME] = must("id of the rule")
    parameter: Annotated[str | None, f.NAME] = col("which number of the rule")
    value: Annotated[int | None, f.whole(-100_000, 100_000, "a rule's number")] = col("the number")
    tier: Annotated[str | None, f.one_of(f.TIERS, "a tier")] = col("must, should or prefer")
    weight: Annotated[int | None, f.whole(0, MOST_WEIGHT, "points per step")] = col("points per step")


class ExceptionRow(RuleRow):
    """A dated exception to a rule, with the coach's reason."""

    athlete: Annotated[tuple[str, ...], f.NAMES] = col("athletes or groups (all)", ("all",))
    begins: Annotated[date | None, f.DATE] = col("first day (the block's)", alias="from")
    ends: Annotated[date | None, f.DATE] = col("last day (the block's)", alias="until")
    off: Annotated[bool, f.YES_NO] = col("yes: the rule does not count", False)
    reason: Annotated[str | None, f.TEXT] = col("why, at least ten characters; printed for the coach")


class UnitRow(RowModel):
    """An own unit, made from a known one by changing some of it."""

    id: Annotated[str, f.NAME] = must("id, small letters and hyphens; a known id changes that unit")
    like: Annotated[str | None, f.NAME] = col("the known unit it is made from (the one of that id)")
    name: Annotated[str | None, f.TEXT] = col("name on paper")
    short: Annotated[str | None, f.TEXT] = col("short name for the board, at most 16 characters")
    family: Annotated[str | None, f.one_of(FAMILIES, "a family")] = col("the family it is counted with")
    purpose: Annotated[str | None, f.TEXT] = col("what it is for")
    neural: Annotated[int | None, f.whole(0, 3, "fast-and-explosive demand")] = col(
        "fast and explosive demand 0-3"
    )
    metabolic: Annotated[int | None, f.whole(0, 3, "heavy-legs demand")] = col("heavy-legs demand 0-3")
    loads: Annotated[
        Mapping[str, int] | None,
        f.mapping(REGIONS, lambda c: values.whole(c, 0, 3, "a load"), "loads 0-3 by region of the body"),
    ] = col("loads 0-3 by region: hamstring 3; knee 1")
    effort: Annotated[tuple[int, int] | None, f.span(0, 10, "effort")] = col("effort 0-10, low-high: 6-7")
    minutes: Annotated[tuple[int, int] | None, f.span(0, 240, "minutes")] = col(
        "minutes after warm-up: 30-45"
    )
    amounts: Annotated[
        Mapping[str, tuple[int, int]] | None,
        f.mapping(LEVELS, lambda c: values.span(c, 0, 20_000, "an amount"), "amounts by level, low-high"),
    ] = col("amounts by level: novice 4-6; advanced 8-12")
    measure: Annotated[str | None, f.TEXT] = col("what amounts are counted in: metres, jumps, sets")
    increment: Annotated[int | None, f.whole(1, 1000, "an increment")] = col("amounts go up by this")
    place_kinds: Annotated[tuple[str, ...] | None, f.some_of(f.PLACE_KINDS, "kinds of place")] = col(
        "places that will do, best first"
    )
    eyes: Annotated[int | None, f.whole(0, 2, "coach's eyes")] = col("0 none, 1 nearby, 2 full attention")
    hours_neural: Annotated[int | None, f.whole(0, 168, "hours", "h")] = col(
        "hours before the next fast unit"
    )
    hours_region: Annotated[int | None, f.whole(0, 168, "hours", "h")] = col(
        "hours before the region is loaded again"
    )
    least_age: Annotated[int | None, f.whole(0, 30, "an age", "years")] = col("youngest age")
    least_training_years: Annotated[int | None, f.whole(0, 20, "training years", "years")] = col(
        "fewest training years"
    )
    counts: Annotated[
        Mapping[str, int] | None,
        f.mapping(COUNTERS, lambda c: values.whole(c, 0, 1000, "a count"), "counts for each measure"),
    ] = col("what one measure counts: low-contacts 2; take-offs 1")
    cautions: Annotated[tuple[str, ...] | None, f.some_of(f.LIMIT_REGIONS[:-1], "regions")] = col(
        "regions in which a limit at stage 3 or below rules it out"
    )
    limits_note: Annotated[str | None, f.TEXT] = col("what to watch with a limit")
    lighter_amount: Annotated[int | None, f.whole(0, 20_000, "an amount")] = col(
        "amount of the lighter version"
    )
    lighter_share: Annotated[int | None, f.whole(1, 100, "percent of the amount", "%")] = col(
        "the lighter version's share, %"
    )
    lighter_text: Annotated[str | None, f.TEXT] = col("the lighter version, in words")
    stop_rule: Annotated[str | None, f.TEXT] = col("when to stop")
    recovery: Annotated[str | None, f.TEXT] = col("recoveries")
    target: Annotated[str | None, f.TEXT] = col("what to aim at")
    shoes: Annotated[str | None, f.TEXT] = col("shoes")
    source: Annotated[str | None, f.TEXT] = col("where it comes from")


_Much = Annotated[int | None, f.whole(0, 100_000, "an amount")]


class BeforeRow(RowModel):
    """What was done before the block: a week's amounts, or the last date of a unit."""

    athlete: Annotated[str, f.NAME] = must("whose")
    week: Annotated[date | None, f.DATE] = col("a day of the week that is meant")
    unit: Annotated[str | None, f.NAME] = col("a unit, with the date it was last done")
    last: Annotated[date | None, f.DATE] = col("the last date of that unit")
    load: _Much = col("effort x minutes of the week")
    fast_metres: _Much = col("metres at 95 % or faster")
    quick_metres: _Much = col("metres at 90-95 %, run-ups included")
    tempo_metres: _Much = col("metres at 60-88 %")
    short_jumps: _Much = col("jumps from a short or medium run-up")
    full_jumps: _Much = col("jumps from the full run-up")
    run_ups: _Much = col("full run-ups without a jump")
    low_contacts: _Much = col("contacts of low multi-jumps and drills")
    high_contacts: _Much = col("contacts of bounds, hops and depth jumps")
    take_offs: _Much = col("take-offs at 90 % effort or more")
    landings: _Much = col("hard landings")
    heavy_sets: _Much = col("heavy sets for the legs")
    throws: _Much = col("throws")
    barriers: _Much = col("hurdles cleared")
    exchanges: _Much = col("relay changeovers")
    starts: _Much = col("starts")
    attempts_measured: _Much = col("measured attempts")
