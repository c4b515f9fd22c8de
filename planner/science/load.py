"""Session load: effort x minutes.

Source: Foster C, Florhaug JA, Franklin J, Gottschall L, Hrovatin LA, Parker S, Doleshal P, Dodge C 2001,
A new approach to monitoring exercise training, Journal of Strength and Conditioning Research 15(1):109-115.
A load describes what was asked; it forecasts neither form nor injury.
"""

from __future__ import annotations

from collections.abc import Iterable

WARM_UP_MINUTES = 25  # minutes, once per session; common practice, no source
WARM_UP_EFFORT = 3  # 0-10; common practice, no source


def part_load(effort: int, minutes: int) -> int:
    """Load of one part of a session, in effort x minutes.

    `effort` is session effort 0-10, `minutes` are minutes of that part. ValueError outside these ranges.
    """
    if not 0 <= effort <= 10:
        raise ValueError(f"effort is {effort}, needed 0 to 10")
    if minutes < 0:
        raise ValueError(f"minutes are {minutes}, needed 0 or more")
    return effort * minutes


def session_load(parts: Iterable[tuple[int, int]], *, warm_up: bool = True) -> int:
    """Load of a session, in effort x minutes: the sum over its (effort, minutes) parts plus the warm-up.

    Sums of products, never a product of means: 7 x 120 and 4 x 40 make 1000, not 5.5 x 160 = 880.
    """
    extra = part_load(WARM_UP_EFFORT, WARM_UP_MINUTES) if warm_up else 0
    return sum(part_load(effort, minutes) for effort, minutes in parts) + extra


def week_load(session_loads: Iterable[int]) -> int:
    """Load of a week, in effort x minutes: the sum over its sessions."""
    return sum(session_loads)


def median_load(loads: Iterable[int]) -> int:
    """The middle one of some loads, in effort x minutes (half up between two); 0 of none."""
    ordered = sorted(loads)
    if not ordered:
        return 0
    middle = len(ordered) // 2
    if len(ordered) % 2:
        return ordered[middle]
    return (ordered[middle - 1] + ordered[middle] + 1) // 2
