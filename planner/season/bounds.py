"""What a limit leaves of a unit: whether it may be done at all, the fraction, and own caps on an amount.

Limits are entered by people; the stage never moves by itself. Table of stages: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.catalogue import limit_regions, return_stage
from planner.domain.block import Limit
from planner.domain.units import SIDES, Region, Side, Unit
from planner.season.sides import loads_by_side

NO_LOAD_UP_TO = 1  # return stage


def regions_of(limit: Limit) -> tuple[Region, ...]:
    """The regions that units load, for the region a limit names."""
    return limit_regions(limit.region)


def removes(limit: Limit, unit: Unit, take_off_leg: Side) -> bool:
    """Does the limit take the unit out altogether: by name, or as unsafe for the region at this stage?"""
    if unit.id in limit.banned or unit.family in limit.banned:
        return True
    if limit.hold_back or limit.region == "whole":
        return False
    named = {limit.region, *regions_of(limit)}
    return any(unit.removed_by(r, limit.stage, limit.side, take_off_leg) for r in named)


def fraction(unit: Unit, limits: Iterable[Limit], take_off_leg: Side) -> int:
    """Percent of the amount that the limits leave: the least over those whose region and side is loaded."""
    found = 100
    for limit in limits:
        if limit.stage > NO_LOAD_UP_TO and touches(unit, limit, take_off_leg):
            found = min(found, return_stage(limit.stage).amount[0])
    return found


def touches(unit: Unit, limit: Limit, take_off_leg: Side) -> bool:
    """Does the unit load the limit's region on the limit's side?"""
    if limit.hold_back:
        return False
    loads = loads_by_side(unit, unit.demand.loads, take_off_leg)
    named = regions_of(limit)
    sides = SIDES if limit.side not in SIDES else (limit.side,)
    return any(load and region in named and side in sides for (region, side), load in loads.items())


def forbids_load(limit: Limit) -> bool:
    """At stages 0 and 1 the region is not loaded at all."""
    return limit.stage <= NO_LOAD_UP_TO and not limit.hold_back


def most(unit: Unit, limits: Iterable[Limit]) -> int | None:
    """The largest amount whose hard landings stay under the limits' own cap per session."""
    hundredths = unit.counters.get("landings", 0)
    caps = [x.landings_a_session for x in limits if x.landings_a_session is not None]
    return min(caps) * 100 // hundredths if caps and hundredths else None
