"""Which leg carries what: loads per region and side, and take-offs per leg.

A side-specific unit loads the named leg fully and the other one less. Triple-jump landings load both
fully, each contact on its own leg; running, the run-up too, loads both hamstrings. The trailing leg over
a hurdle is taken to be the take-off leg. Where the file does not say which side is meant (front foot in
the blocks, throwing arm) both carry the full load, the safe reading. A trial of the other leg is counted on
that leg. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.units import REGIONS, Region, Side, Unit

ONE_SIDED = ("take-off", "other", "trail")
# Percent of drill take-offs on the other leg: under 18, and up to 15 years (40-50).
# Focke, Spancken, Stockinger, Thürer, Stein 2016, European Journal of Sport Science: 61 young athletes,
# 12 weeks of two-sided practice, +5.2 % against +3.4 % on the take-off leg. The percents themselves: common
# practice, no source.
YOUTH_OTHER_LEG = 30
CHILD_OTHER_LEG = 45
EVEN = 50


def other(side: Side) -> Side:
    return "right" if side == "left" else "left"


def loads_by_side(
    unit: Unit, loads: Mapping[Region, int], take_off_leg: Side
) -> dict[tuple[Region, Side], int]:
    """Load 0-3 on every region and side; `loads` is the unit's full or lighter row."""
    one_sided = unit.takes_side in ONE_SIDED and unit.take_off_share in (0, 100)
    leg = unit.jumping_leg(take_off_leg)
    found: dict[tuple[Region, Side], int] = {}
    for region in REGIONS:
        load = loads.get(region, 0)
        less = load - 1 if one_sided and load and region != "hamstring" else load
        found[region, "left"] = load if leg == "left" else less
        found[region, "right"] = load if leg == "right" else less
    return found


def take_offs_by_leg(count: int, own_share: int, take_off_leg: Side) -> dict[Side, int]:
    """`count` take-offs (or a jump's contacts) parted between the legs; `own_share` is percent, half up."""
    own = (count * own_share + 50) // 100
    return {take_off_leg: own, other(take_off_leg): count - own}


def drill_share(share: int, age: int | None, even: bool) -> int:
    """Percent of drill take-offs on the take-off leg: juniors do at least 30 % on the other, children 45 %.

    `even` is for an athlete who has not settled on a leg yet (event 'all', novice): half and half.
    """
    if even:
        return EVEN
    if age is not None and age <= 15:
        return min(share, 100 - CHILD_OTHER_LEG)
    if age is not None and age < 18:
        return min(share, 100 - YOUTH_OTHER_LEG)
    return share
