"""Session load (effort x minutes), the shape of a week's loads, and means over longer stretches.

Sources: Foster C, Florhaug JA, Franklin J, Gottschall L, Hrovatin LA, Parker S, Doleshal P, Dodge C 2001,
A new approach to monitoring exercise training, Journal of Strength and Conditioning Research 15(1):109-115;
Foster C 1998, Monitoring training in athletes with reference to overtraining syndrome, Medicine and Science
in Sports and Exercise 30(7):1164-1168.
A load describes what was asked; it forecasts neither form nor injury. The 1998 study found thresholds per
athlete, not one common number, so none is given here.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterable, Sequence
from typing import Literal

from planner.science.errors import OutOfReach, above, within

WARM_UP_MINUTES = 25  # minutes, once per session; common practice, no source
WARM_UP_EFFORT = 3  # 0-10; common practice, no source

Spread = Literal["population", "sample"]

RATIO_DOUBTS: tuple[str, ...] = (
    "The short stretch is part of the long one, so the two go together without any biology "
    "(Lolli L and others 2019, British Journal of Sports Medicine 53(15):921-922).",
    "With the real long mean replaced by a constant or by random numbers the link with injury was much the "
    "same: odds ratio 2.45 with the real one, 1.95 with a constant, 1.53 on average with random ones "
    "(Impellizzeri FM and others 2021, Sports Medicine, doi 10.1007/s40279-020-01378-6).",
    "Load figures cannot tell whether a change raises or lowers injury risk (Impellizzeri FM and others "
    "2020, Journal of Athletic Training 55(9):893-901).",
    "The exponential form was proposed on invented data; it is not proved better (Williams S, West S, Cross "
    "MJ, Stokes KA 2017, British Journal of Sports Medicine 51(3):209-210).",
)

TEN_PERCENT_DOUBTS: tuple[str, ...] = (
    "A trial of at most 10 % more a week found no significant difference in injuries (Buist I and others "
    "2008, American Journal of Sports Medicine 36:33-39).",
    "Among 874 novice runners more than 30 % against less than 10 % gave a hazard ratio of 1.59, "
    "95 % interval 0.96 to 2.66 (Nielsen RO and others 2014, Journal of Orthopaedic and Sports Physical "
    "Therapy 44(10):739-747).",
)


def part_load(effort: int, minutes: int) -> int:
    """Load of one part of a session, in effort x minutes.

    `effort` is session effort 0-10, `minutes` are minutes of that part. OutOfReach outside these ranges.
    Source: Foster and others 2001, as above.
    """
    within(effort, 0, 10, "the effort is", maybe="effort and minutes changed places.")
    within(minutes, 0, 24 * 60, "the minutes are", maybe="hours were meant, or a minus slipped in.")
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


def _real(loads: Sequence[float], least: int, of: str) -> None:
    if len(loads) < least:
        raise OutOfReach(
            f"there are {len(loads)} days of load, needed {least} or more for {of}. "
            "Maybe rest days were left out; they count with 0."
        )
    for load in loads:
        within(load, 0, math.inf, "a day's load is", maybe="a minus slipped in.")


def monotony(day_loads: Sequence[float], *, spread: Spread = "population") -> float | None:
    """How alike the days of a week are: mean of the daily loads / their standard deviation; no unit.

    Rest days count with 0. None where all days are alike: nothing is divided by a spread of nothing. The
    1998 paper does not say which standard deviation it used, so it is a parameter; over seven days the
    population form is sqrt(7/6) = 1.08 times the sample form. Higher means more alike; no number is a
    danger line. Source: Foster 1998, as above. OutOfReach below two days or with a negative load.
    """
    _real(day_loads, 2, "a spread")
    if min(day_loads) == max(day_loads):
        return None
    form = statistics.pstdev if spread == "population" else statistics.stdev
    return statistics.fmean(day_loads) / form(day_loads)


def strain(day_loads: Sequence[float], *, spread: Spread = "population") -> float | None:
    """Week load x monotony, in effort x minutes; None where monotony does not exist.

    The week's load is the sum over the days, not their mean. Source: Foster 1998, as above.
    """
    alike = monotony(day_loads, spread=spread)
    return None if alike is None else sum(day_loads) * alike


def rolling_mean(day_loads: Sequence[float], days: int) -> float:
    """Mean load of the last so many days, in effort x minutes a day; every day counts the same.

    Source: common practice (Foster 1998 used six weeks). OutOfReach when fewer days are known.
    """
    within(days, 1, 366, "the days of the mean are", maybe="weeks were meant: times 7.")
    _real(day_loads, days, f"a mean over {days} days")
    return statistics.fmean(day_loads[-days:])


def newest_share(days: int) -> float:
    """Share that the newest day has in an exponential mean 'over N days': 2 / (N + 1); no unit.

    Source: Williams S, West S, Cross MJ, Stokes KA 2017, British Journal of Sports Medicine 51(3):209-210,
    for the idea; the formula from memory.
    """
    within(days, 1, 366, "the days of the mean are", maybe="weeks were meant: times 7.")
    return 2 / (days + 1)


def half_life_days(days: int) -> float:
    """Days after which a load has half its first share in an exponential mean; derived."""
    above(days, 1, "the days of the mean are", maybe="a mean over one day forgets at once.")
    return math.log(0.5) / math.log(1 - newest_share(days))


def step_reached(days: int, after: int) -> float:
    """Share (0-1) of a lasting step in load that the exponential mean shows after so many days; derived."""
    within(after, 0, math.inf, "the days after the step are")
    return 1 - (1 - newest_share(days)) ** after


def exponential_means(day_loads: Sequence[float], days: int, *, start: float | None = None) -> list[float]:
    """Exponential mean after each day, in effort x minutes a day: share x load + (1 - share) x yesterday's.

    `start` is the mean before the first day; without it the first day's own load is taken, which is one of
    two usual choices and shows for weeks. Source: Williams and others 2017, as in `newest_share`; read
    RATIO_DOUBTS before two of these are divided.
    """
    _real(day_loads, 1, "an exponential mean")
    share = newest_share(days)
    mean = day_loads[0] if start is None else within(start, 0, math.inf, "the mean at the start is")
    means = []
    for load in day_loads:
        mean = share * load + (1 - share) * mean
        means.append(mean)
    return means


def short_over_long(
    day_loads: Sequence[float], *, short_days: int = 7, long_days: int = 28, overlapping: bool = True
) -> float | None:
    """Mean of the last days over the mean of a longer stretch; no unit, 1 under a constant load.

    `overlapping`: the long stretch contains the short one; otherwise it is the days before it, up to the same
    length in all. A description of how load changed, never a zone that is safe or not: RATIO_DOUBTS belong
    beside it. None where the long mean is 0. Source: structure in Lolli L and others 2019, British Journal of
    Sports Medicine 53(15):921-922.
    """
    if not 0 < short_days < long_days:
        raise OutOfReach(
            f"the short stretch is {short_days} days and the long one {long_days}, needed a short one of at "
            "least a day inside a longer one. Maybe the two changed places."
        )
    short = rolling_mean(day_loads, short_days)
    rolling_mean(day_loads, long_days)  # says what is missing
    stretch = day_loads[-long_days:] if overlapping else day_loads[-long_days:-short_days]
    long = statistics.fmean(stretch)
    return short / long if long > 0 else None


def overlapping_from_apart(apart: float, *, short_days: int = 7, long_days: int = 28) -> float:
    """The overlapping ratio that belongs to a ratio of stretches that stand apart; derived.

    With 7 in 28 days: 4 u / (3 + u), so it can never pass 4 however large the week.
    """
    within(apart, 0, math.inf, "the ratio is")
    parts = long_days / short_days
    return parts * apart / (parts - 1 + apart)
