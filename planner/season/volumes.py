"""How much of each counter the peak week holds, how often a week feeds it, and how fast it may rise.

The running column counts metres at 90 % and faster, whichever family they come from, so it is shared by
accelerations, top speed, speed and special endurance. In competition and taper weeks the share is of the
pre-competition peak, held so that the phase's usual week stays inside the phase's own range. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.domain.block import Athlete
from planner.domain.problem import Count
from planner.domain.units import Unit
from planner.season import tables
from planner.season.counts import event_type, level_in
from planner.season.phases import GENERAL, PRE, SPECIFIC

SPRINT = "sprint-metres"  # metres at 90 % and faster: fast-metres and quick-metres together
SHARED: Mapping[str, tuple[str, ...]] = {
    SPRINT: ("acceleration", "top-speed", "speed-endurance", "special-endurance"),
    "tempo-metres": ("tempo",),
    "short-jumps": ("technical-jumps",),
    "full-jumps": ("full-jumps",),
    "run-ups": ("run-ups",),
    "low-contacts": ("low-multi-jumps",),
    "high-contacts": ("high-multi-jumps",),
    "heavy-sets": ("strength",),
    "throws": ("throws",),
    "barriers": ("hurdles",),
}
SPRINT_COUNTERS = ("fast-metres", "quick-metres")
LOADING_PHASES = (GENERAL, SPECIFIC, PRE)
# How much a week may rise over the highest completed one of the last four: percent, or so many more.
# Convention, a tripwire: Impellizzeri and others 2020, Journal of Athletic Training 55(9):893-901, no load
# measure can tell whether a change raises or lowers the risk of injury.
RISE_PERCENT: Mapping[str, int] = {
    SPRINT: 15, "tempo-metres": 20, "short-jumps": 20, "low-contacts": 20, "high-contacts": 20,
    "heavy-sets": 10, "throws": 20, "barriers": 20,
}  # fmt: skip
RISE_BY: Mapping[str, int] = {"full-jumps": 2, "run-ups": 2}


def peak_volumes(athlete: Athlete, phase: str, usual_share: int) -> dict[str, int]:
    """Column -> amount of the block's peak week, for the athlete's events (the larger where they differ).

    `usual_share` is the percent of the peak that the usual week of this phase asks for (100 where the
    phase has peak weeks of its own).
    """
    found: dict[str, int] = {}
    for event in athlete.events or ("all",):
        kind = event_type(event)
        row_kind = kind if kind in tables.EVENTS_WITH_COUNTS else "combined events"
        for column, families in SHARED.items():
            level = level_in(athlete, families[0])
            own = tables.volumes(row_kind, level, phase).get(column)
            if phase not in LOADING_PHASES:
                usual = tables.volumes(row_kind, level, PRE).get(column)
                if own is not None and usual is not None:
                    own = min(usual, own * 100 // usual_share)
            if own is not None:
                found[column] = max(found.get(column, 0), own)
    return found


def column_of(unit: Unit) -> tuple[str, str]:
    """(column, counter) that decides the unit's amount; ('', '') when only the level's range does."""
    for column, families in SHARED.items():
        if unit.family not in families:
            continue
        for counter in SPRINT_COUNTERS if column == SPRINT else (column,):
            if unit.counters.get(counter, 0) > 0:
                return column, counter
    if unit.family == "technical-jumps" and unit.counters.get("high-contacts", 0) > 0:
        return "high-contacts", "high-contacts"
    return "", ""


def exposures(column: str, counts: Mapping[str, Count]) -> int:
    """How often the week's targets feed a column; at least once."""
    families = SHARED.get(column, ())
    return max(1, sum(counts[f].target for f in families if f in counts))


def held(column: str, wanted: int, highest: int | None) -> int:
    """A week's volume held under the rise over the highest completed week (None: not known, not held)."""
    if highest is None:
        return wanted
    if column in RISE_BY:
        return min(wanted, highest + RISE_BY[column])
    return min(wanted, highest * (100 + RISE_PERCENT.get(column, 100)) // 100)


def reference_amount(column: str, reference: Mapping[str, int]) -> int | None:
    """What the highest week before the block held of a column; None when its counters were not given."""
    counters = SPRINT_COUNTERS if column == SPRINT else (column,)
    known = [reference[c] for c in counters if c in reference]
    return sum(known) if known else None
