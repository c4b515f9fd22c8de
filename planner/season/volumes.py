"""How much of each counter a week holds, how often the week feeds it, and how fast it may rise.

Fast metres (95 % and faster) are shared by accelerations, top speed and speed endurance. In competition
and taper weeks the share is of the pre-competition peak, held so that the phase's usual week stays inside
the phase's own range. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.catalogue import event_type, weekly_volumes
from planner.domain.block import Athlete
from planner.domain.problem import Count
from planner.domain.units import Unit
from planner.season.counts import events_of, level_in
from planner.season.phases import GENERAL, PRE, SPECIFIC

FED_BY: Mapping[str, tuple[str, ...]] = {
    "fast-metres": ("acceleration", "top-speed", "speed-endurance"),
    "quick-metres": ("special-endurance", "acceleration", "top-speed", "speed-endurance"),
    "tempo-metres": ("tempo",),
    "short-jumps": ("technical-jumps",),
    "full-jumps": ("full-jumps",),
    "run-ups": ("run-ups",),
    "low-contacts": ("low-multi-jumps",),
    "high-contacts": ("high-multi-jumps", "technical-jumps"),
    "heavy-sets": ("strength",),
    "throws": ("throws",),
    "barriers": ("hurdles",),
}
# Special endurance has the quick metres to itself: the other runs meet them by the way. Bounds and phase
# drills likewise share a counter but have places of their own in a week.
OWN_SHARE = ("special-endurance",)
LOADING_PHASES = (GENERAL, SPECIFIC, PRE)
# How much a week may rise over the highest completed one of the last four: percent, or so many more.
# Convention, a tripwire: Impellizzeri and others 2020, Journal of Athletic Training 55(9):893-901, no load
# measure can tell whether a change raises or lowers the risk of injury.
RISE_PERCENT: Mapping[str, int] = {
    "fast-metres": 15, "quick-metres": 15, "tempo-metres": 20, "short-jumps": 20, "low-contacts": 20,
    "high-contacts": 20, "heavy-sets": 10, "throws": 20, "barriers": 20,
}  # fmt: skip
RISE_BY: Mapping[str, int] = {"full-jumps": 2, "run-ups": 2}


def peak_volumes(athlete: Athlete, phase: str, usual_share: int) -> dict[str, int]:
    """Counter -> amount of the block's peak week, for the athlete's events (the larger where they differ).

    `usual_share` is the percent of the peak that the usual week of this phase asks for (100 where the
    phase has peak weeks of its own). Counters without a usual volume are absent.
    """
    found: dict[str, int] = {}
    for name in events_of(athlete):
        kind = event_type(name)
        for counter, families in FED_BY.items():
            level = level_in(athlete, families[0])
            usual = weekly_volumes(kind, level, phase, counter)
            peak = usual[1] if usual is not None else None
            if phase not in LOADING_PHASES:
                before = weekly_volumes(kind, level, PRE, counter)
                if before is not None:
                    peak = before[1] if peak is None else min(before[1], peak * 100 // usual_share)
            if peak is not None:
                found[counter] = max(found.get(counter, 0), peak)
    return found


def counter_of(unit: Unit) -> str:
    """The counter that decides the unit's amount; '' when the level's range alone does."""
    for counter, families in FED_BY.items():
        if unit.family in families and unit.counters.get(counter, 0) > 0:
            return counter
    return ""


def exposures(unit: Unit, counter: str, counts: Mapping[str, Count]) -> int:
    """How often the week's targets feed the unit's counter; at least once."""
    if unit.family in OWN_SHARE or counter == "high-contacts":
        families: tuple[str, ...] = (unit.family,)
    else:
        families = tuple(f for f in FED_BY.get(counter, ()) if f not in OWN_SHARE)
    return max(1, sum(counts[f].target for f in families if f in counts))


def held(counter: str, wanted: int, highest: int | None) -> int:
    """A week's volume held under the rise over the highest completed week (None: not known, not held)."""
    if highest is None:
        return wanted
    if counter in RISE_BY:
        return min(wanted, highest + RISE_BY[counter])
    return min(wanted, highest * (100 + RISE_PERCENT[counter]) // 100)
