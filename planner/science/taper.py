"""The arithmetic of easing off before a competition, and what was found about it.

The studies are mostly of swimmers, cyclists and runners; none is of sprinters or jumpers.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.science.errors import above, within

BOSQUET_2007 = (
    "Bosquet L, Montpetit J, Arvisais D, Mujika I 2007, Effects of tapering on performance: a meta-analysis, "
    "Medicine and Science in Sports and Exercise 39(8):1358-1365"
)
THOMAS_BUSSO_2005 = (
    "Thomas L, Busso T 2005, A theoretical study of taper characteristics to optimize performance, Medicine "
    "and Science in Sports and Exercise 37(9):1615-1621"
)
MUJIKA_PADILLA_2003 = (
    "Mujika I, Padilla S 2003, Scientific bases for precompetition tapering strategies, Medicine and Science "
    "in Sports and Exercise 35(7):1182-1187"
)
WANG_2023 = (
    "Wang Z, Wang YT, Gao W, Zhong Y 2023, Effects of tapering on performance in endurance athletes: a "
    "systematic review and meta-analysis, PLoS ONE 18(5):e0282838"
)
BANISTER_1999 = (
    "Banister EW, Carter JB, Zarkadas PC 1999, Training theory and taper: validation in triathlon athletes, "
    "European Journal of Applied Physiology 79(2):182-191"
)

Of = Literal["volume cut, %", "days", "intensity", "frequency", "form"]


@dataclass(frozen=True)
class Effect:
    """Mean effect of one kind of taper (in standard deviations) and its 95 % interval."""

    of: Of
    kind: str
    effect: float
    low: float
    high: float
    from_memory: bool = False
    source: str = BOSQUET_2007


EFFECTS: tuple[Effect, ...] = (
    Effect("volume cut, %", "20 or less", -0.02, -0.32, 0.27, True),
    Effect("volume cut, %", "21-40", 0.27, 0.04, 0.49, True),
    Effect("volume cut, %", "41-60", 0.72, 0.36, 1.08),
    Effect("volume cut, %", "more than 60", 0.27, -0.03, 0.56, True),
    Effect("days", "7 or fewer", 0.17, -0.05, 0.38, True),
    Effect("days", "8-14", 0.59, 0.26, 0.92),
    Effect("days", "15-21", 0.28, -0.02, 0.59, True),
    Effect("days", "22 or more", 0.31, -0.14, 0.75, True),
    Effect("intensity", "kept", 0.33, 0.19, 0.47),
    Effect("intensity", "lowered", -0.02, -0.37, 0.33, True),
    Effect("frequency", "kept", 0.35, 0.18, 0.52),
    Effect("frequency", "lowered", 0.24, -0.03, 0.52, True),
    Effect("form", "one step", 0.42, -0.11, 0.95, True),
    Effect("form", "little by little", 0.30, 0.16, 0.45, True),
)

# Mean and standard deviation of the simulated best taper in one step: load cut in %, days; Thomas, Busso
# 2005.
SIMULATED_STEP = {
    "without overload": ((30.8, 11.8), (19.3, 2.3)),
    "after 28 days at +20 %": ((39.3, 9.9), (28.0, 5.1)),
}
# Performance in % of the best under daily training, after overload: mean and standard deviation; same source.
SIMULATED_AFTER_OVERLOAD = {"little by little": (102.2, 1.7), "one step": (101.8, 1.5)}

REVIEW_MOST_VOLUME_CUT = (60, 90)  # percent; Mujika, Padilla 2003
REVIEW_MOST_FREQUENCY_CUT = 20  # percent; Mujika, Padilla 2003
REVIEW_DAYS = (4, 28)  # days, 'more than 28' at the far end; Mujika, Padilla 2003
REVIEW_GAIN_PERCENT = (0.5, 3.0, 6.0)  # low, usual, high; Mujika, Padilla 2003
ENDURANCE_MOST_DAYS = 21  # days; Wang and others 2023, endurance athletes
ENDURANCE_VOLUME_CUT = (41, 60)  # percent; Wang and others 2023, endurance athletes
FIELD_TRIAL_TAU_DAYS = {"quick": 4, "used against one step": 5, "slow": 8}  # days; Banister and others 1999


def _days(days: int) -> int:
    return int(within(days, 1, 60, "the taper is", "days", "weeks were meant: times 7."))


def little_by_little(days: int, tau_days: float) -> list[float]:
    """Share (0-1) of the usual load on each day of an exponential taper: exp(-d / tau), d = 1 ... days.

    Source: form in Banister EW, Carter JB, Zarkadas PC 1999, European Journal of Applied Physiology
    79(2):182-191. OutOfReach for a taper of no days or a constant of zero.
    """
    above(tau_days, 0, "the time constant is", "days")
    return [math.exp(-day / tau_days) for day in range(1, _days(days) + 1)]


def one_step(days: int, share: float) -> list[float]:
    """The same share (0-1) of the usual load on every day."""
    within(share, 0, 1, "the share of the usual load is", maybe="percent was meant: divide by 100.")
    return [share] * _days(days)


def mean_share(shares: Sequence[float]) -> float:
    """Mean share (0-1) of the usual load over a taper."""
    _days(len(shares))
    return statistics.fmean(within(share, 0, 2, "a share of the usual load is") for share in shares)


def cut_percent(shares: Sequence[float]) -> float:
    """How much less than usual the taper asks in all, in percent."""
    return 100 * (1 - mean_share(shares))


def mean_share_running(days: int, tau_days: float) -> float:
    """Mean share under the same curve taken without steps: tau / days x (1 - exp(-days / tau)); derived."""
    above(tau_days, 0, "the time constant is", "days")
    return tau_days / _days(days) * (1 - math.exp(-days / tau_days))


def tau_for_cut(days: int, cut: float) -> float:
    """The time constant, in days, of the exponential taper that asks so many percent less in all; derived."""
    within(cut, 5, 99, "the cut is", "%", "a share was meant: times 100.")
    low, high = 1e-2, 1e5
    for _ in range(200):
        middle = math.sqrt(low * high)
        if cut_percent(little_by_little(days, middle)) > cut:
            low = middle
        else:
            high = middle
    return math.sqrt(low * high)


def effect_of_cut(cut: float) -> Effect:
    """What was found for a volume cut of so many percent; bands of Bosquet and others 2007."""
    within(cut, 0, 100, "the cut is", "%")
    edges = ((20, "20 or less"), (40, "21-40"), (60, "41-60"), (100, "more than 60"))
    kind = next(name for edge, name in edges if cut <= edge + 0.5 or edge == 100)
    return next(found for found in EFFECTS if found.of == "volume cut, %" and found.kind == kind)


def effect_of_days(days: int) -> Effect:
    """What was found for a taper of so many days; bands of Bosquet and others 2007."""
    edges = ((7, "7 or fewer"), (14, "8-14"), (21, "15-21"), (60, "22 or more"))
    kind = next(name for edge, name in edges if _days(days) <= edge)
    return next(found for found in EFFECTS if found.of == "days" and found.kind == kind)
