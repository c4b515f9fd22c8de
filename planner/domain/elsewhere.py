"""What was done elsewhere, outside the plan: it counts. Like no unit of the catalogue, its demand is not known."""

from __future__ import annotations

from planner.domain.plan import Placement
from planner.domain.units import REGIONS, Demand, Unit

SLOT = "elsewhere"  # how the slot of what was done in another place begins; its hour is not known


def was_elsewhere(p: Placement) -> bool:
    """Was this done elsewhere, outside the plan?"""
    return p.slot.startswith(SLOT)


UNKNOWN_LOAD = Unit(
    id="load-elsewhere",
    name="load elsewhere",
    family="general",
    purpose="counted, because it was done",
    demand=Demand(0, 0, dict.fromkeys(REGIONS, 0), (0, 0), (0, 0)),
    lighter=Demand(0, 0, dict.fromkeys(REGIONS, 0), (0, 0), (0, 0)),
    measure="times",
    increment=1,
    amounts={},
    lighter_share=100,
    lighter_text="",
    counters={},
    place_kinds=("anywhere",),
    eyes=0,
    hours_neural=0,
    hours_region=0,
    order=99,
    recovery_only=True,
)
