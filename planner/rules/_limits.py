"""What a placement loads where a limit is: facts for the rules about limits, read by both faces."""

from __future__ import annotations

from planner.catalogue import limit_regions, load_on
from planner.domain.block import Limit
from planner.domain.plan import Placement
from planner.domain.units import SIDES

NO_REGION = ("illness", "whole")


def load_at(limit: Limit, placement: Placement) -> int:
    """Highest load 0-3 of a placement on a limit's region and side; 0 for illness and the whole athlete."""
    if limit.region in NO_REGION:
        return 0
    if limit.region == "shoulder":
        return load_on(placement.unit, "shoulder", placement.dose.word == "lighter")
    sides = SIDES if limit.side == "both" else tuple(s for s in SIDES if s == limit.side)
    return max(
        (placement.dose.loads.get((r, s), 0) for r in limit_regions(limit.region) for s in sides), default=0
    )


def region_name(region: str) -> str:
    """A body region as a coach says it."""
    said = {"calf-achilles": "calf and Achilles", "low-back": "low back", "whole": "whole body"}
    return said.get(region, region)


def region_words(limit: Limit) -> str:
    """'left knee', 'calf and Achilles, both sides'; for the coach and the athlete's own page only."""
    region = region_name(limit.region)
    if limit.region in NO_REGION or limit.region == "low-back":
        return region
    return f"{region}, both sides" if limit.side == "both" else f"{limit.side} {region}"
