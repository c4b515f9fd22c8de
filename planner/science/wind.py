"""Wind and altitude: what they are worth. Every figure is an estimate; no corrected mark is official.

Sources: Mureika JR 2001, Back-of-the-envelope wind and altitude correction for 100-metre sprint times, arXiv
physics/0006057; Moinat M, Fabius O, Emanuel KS 2018,
Data-driven quantification of the effect of wind on athletics performance, European Journal of Sport Science
18(9):1185-1190; Linthorne NP 1994, The effect of wind on 100-m sprint times, Journal of Applied Biomechanics
10(2):110-131. The models differ by some 0.015 s at +2.0 m/s over 100 m.

Wind in metres per second, a tail wind above zero.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Literal

from planner.science.errors import OutOfReach, within

MOST_WIND_MPS = 10.0  # metres per second; in a stronger one nobody runs or jumps for a mark
LEGAL_TENTHS = 20  # tenths of a metre per second; World Athletics Technical Rules 17 and 29
LONGEST_IN_WIND_M = 200  # metres; over longer runs no wind is written down; the same rules
JUMPS_IN_WIND = ("long jump", "triple jump")

# Linthorne 1994: seconds over 100 m that +2.0 m/s is worth, and its doubt; seconds for 2250 m of altitude.
LINTHORNE_PLUS_2_S = {"men": (0.10, 0.01), "women": (0.12, 0.02)}
LINTHORNE_2250_M_S = 0.07

# Seconds or place at which the wind is read; former rules 163 and 184, now Technical Rules 17 and 29.
WINDOW_S = {
    "100 m": 10, "100 m hurdles": 13, "110 m hurdles": 13, "200 m": 10, "long jump": 5, "triple jump": 5,
}  # fmt: skip
WINDOW_FROM_M = {"long jump": 40, "triple jump": 35}  # metres before the line, or the start of a shorter run
GAUGE_FROM_LINE_M = {"track": 50, "jumps": 20}  # before the finish; before the take-off line
GAUGE_HEIGHT_CM, GAUGE_AWAY_AT_MOST_CM = 122, 200  # centimetres

WindEvent = Literal["100 m", "200 m", "hurdles", "long jump", "triple jump"]


@dataclass(frozen=True)
class Worth:
    """Gain = linear x wind + squared x wind^2 (s, or m for jumps); for 100 m `per_second` x own time is added
    to `linear`."""

    linear: float
    squared: float
    unit: Literal["s", "m"]
    per_second: float = 0.0


WORTH: dict[WindEvent, Worth] = {  # Moinat, Fabius, Emanuel 2018, 150,169 results
    "100 m": Worth(-0.0449, -0.0042, "s", 0.009459),
    "200 m": Worth(0.09, -0.01, "s"),
    "hurdles": Worth(0.093, -0.01, "s"),
    "long jump": Worth(0.029, 0.0, "m"),
    "triple jump": Worth(0.069, -0.009, "m"),
}


def believable(wind_mps: float) -> float:
    """The wind itself; OutOfReach beyond 10 m/s either way."""
    return within(
        wind_mps, -MOST_WIND_MPS, MOST_WIND_MPS, "the wind is", "m/s", "it is in km/h."
    )


def worth(event: WindEvent, wind_mps: float, time_s: float | None = None) -> float:
    """What the wind gave (above zero) or took, in seconds for runs, in metres for jumps; an estimate.

    100 m needs the athlete's own time: a slower runner gains more. Fitted to winds of ordinary competitions:
    the curves bend down far outside, so beyond 4 m/s it is refused. Source: Moinat and others 2018.
    """
    believable(wind_mps)
    within(wind_mps, -4, 4, "the wind is", "m/s", "judge this run by effort, not by a corrected mark.")
    known = WORTH.get(event)
    if known is None:
        named = ", ".join(sorted(WORTH))
        raise OutOfReach(f"no wind figures are published for {event}, needed one of: {named}.")
    linear = known.linear
    if known.per_second:
        if time_s is None:
            raise OutOfReach(f"{event} has no time beside the wind, needed the athlete's time in seconds.")
        within(time_s, 9, 20, "the time over 100 m is", "s", "it belongs to another distance.")
        linear += known.per_second * time_s
    return linear * wind_mps + known.squared * wind_mps**2


def still_time_100m(time_s: float, wind_mps: float, altitude_m: float = 0.0) -> float:
    """Seconds that the same 100 m would take in still air at sea level; an estimate.

    t x (1.027 - 0.027 x exp(-0.000125 x altitude) x (1 - wind x t / 100)^2). Source: Mureika 2001; the 0.027
    from public copies (a later copy has 0.028).
    """
    within(time_s, 9, 20, "the time over 100 m is", "s", "it belongs to another distance.")
    believable(wind_mps)
    within(altitude_m, -450, 5200, "the altitude is", "m", "feet were meant: times 0.305.")
    air = 0.027 * math.exp(-0.000125 * altitude_m)
    return time_s * (1.027 - air * (1 - wind_mps * time_s / 100) ** 2)


def reading_tenths(wind_thousandths: int) -> int:
    """A gauge's thousandths of a metre per second as the tenths that are written down.

    To the next tenth in the positive direction: +2.03 is +2.1, -2.03 is -2.0. Source: World Athletics
    Technical Rule 17, from memory.
    """
    believable(wind_thousandths / 1000)
    return -(-wind_thousandths // 100)


def wind_aided(event: str, wind_tenths: int | None) -> bool:
    """Whether a mark of this event with this written wind is no best: above +2.0 m/s where the wind counts.

    It counts in runs and hurdles up to 200 m, the long jump and the triple jump, from short run-ups and flying
    starts too. A wind that is not known aids nobody. Source: World Athletics, Competition Rules, rule 31
    (records), and Technical Rules 17 and 29, from memory.
    """
    if wind_tenths is None or wind_tenths <= LEGAL_TENTHS:
        return False
    name = " ".join(event.lower().split())
    metres = re.match(r"(?:flying )?(\d+) m\b", name)
    return name.startswith(JUMPS_IN_WIND) or (metres is not None and int(metres[1]) <= LONGEST_IN_WIND_M)


def wind_assisted(wind_tenths: int) -> bool:
    """Whether a written wind (tenths of a metre per second) is above the limit for records, 2.0 m/s."""
    believable(wind_tenths / 10)
    return wind_tenths > LEGAL_TENTHS
