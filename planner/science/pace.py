"""Target times from a share of own best speed, and rests; the published frame of sprint training.

Hundredths of a second, metres, seconds of rest. Sources: target times derived; rests common practice, no
source, where nothing else is said; Haugen T, Seiler S, Sandbakk O, Tonnessen E 2019, The training and
development of elite sprint performance: an integration of scientific and best practice literature, Sports
Medicine - Open 5:44, Table 2.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.science.errors import OutOfReach, within

HAND_TO_GATES = 24  # hundredths of a second added to a hand time to compare it; common practice, no source
FLATS_ON_GRASS_PERCENT = (3, 5)  # percent slower than spikes on a track; common practice, no source


def target_time(best: int, percent: int | Fraction) -> int:
    """Hundredths of a second at a percentage of best *speed*: best x 100 / percent, half up; derived.

    The best has to come from the same start type, surface and timing. (Adding the missing percent to the time
    is another convention: 95 % of 10.00 s is 10.53 here and 10.50 there.) OutOfReach outside 30 to 110 %.
    """
    within(best, 50, 360_000, "the best time is", "hundredths of a second", "it was given in seconds.")
    within(float(percent), 30, 110, "the share of best speed is", "%", "a share was meant: times 100.")
    return _half_up(Fraction(best) * 100 / Fraction(percent))


def percent_of_speed(best: int, time: int) -> Fraction:
    """Percent of best speed that a time over the same distance stands for: best x 100 / time; derived."""
    within(best, 50, 360_000, "the best time is", "hundredths of a second", "it was given in seconds.")
    within(time, 50, 720_000, "the time is", "hundredths of a second", "it was given in seconds.")
    return Fraction(best * 100, time)


def target_band(best: int, low_percent: int, high_percent: int) -> tuple[int, int]:
    """The quick and the slow edge of a band of speed, in hundredths of a second."""
    if low_percent > high_percent:
        raise OutOfReach(f"the band runs from {low_percent} to {high_percent} %, needed low to high.")
    return target_time(best, high_percent), target_time(best, low_percent)


def hand_as_gates(time: int) -> int:
    """A hand time in hundredths of a second as gates would have shown it: 0.24 s more; common practice."""
    within(time, 50, 720_000, "the time is", "hundredths of a second", "it was given in seconds.")
    return time + HAND_TO_GATES


def for_the_watch(time: int) -> int:
    """Hundredths rounded as a coach reads them: whole tenths from 20 s on, hundredths below; no source."""
    return time if time < 2000 else (time + 5) // 10 * 10


def _half_up(value: Fraction) -> int:
    return int((2 * value + 1) // 2)


@dataclass(frozen=True)
class Rest:
    """Seconds between repetitions and, where sets are usual, between sets (low, high)."""

    repetitions: tuple[int, int]
    sets: tuple[int, int] | None = None
    source: str = "common practice, no source"


RESTS: tuple[tuple[int, int, Rest], ...] = (  # from this percent of speed, up to so many metres
    (95, 150, Rest((720, 1080))),
    (95, 500, Rest((900, 1500))),
    (90, 80, Rest((120, 240), (480, 900), "Haugen and others 2019, Table 2")),
    (85, 200, Rest((240, 360), (480, 600))),
    (85, 500, Rest((480, 1200))),
    (76, 500, Rest((120, 240), (300, 480))),
)


def rest_for(percent: int, metres: int) -> Rest:
    """The usual rest for runs of so many metres at a percentage of best speed.

    Common practice, no source. OutOfReach outside 50 to 105 % and 10 to 500 m.
    """
    within(percent, 50, 105, "the share of best speed is", "%", "a share was meant: times 100.")
    within(metres, 10, 500, "the distance is", "m")
    if percent >= 95 and metres <= 110:
        each = max(90, 6 * metres)  # a minute for 10 m, a minute and a half at least
        return Rest((each, each), (360, 480) if metres <= 60 else (480, 720))
    for least_percent, most_metres, rest in RESTS:
        if percent >= least_percent and metres <= most_metres:
            return rest
    return Rest((max(45, 45 * metres // 100), max(60, 90 * metres // 100)), (180, 240))  # by walking back


@dataclass(frozen=True)
class Method:
    """One row of the published frame for elite sprinters; None where the paper gives no edge.

    Metres a repetition; percent of top speed; minutes between repetitions and (if any) sets; metres a
    session; hours to the next high-intensity session.
    """

    metres: tuple[int, int]
    percent: tuple[int | None, int | None]
    minutes: tuple[int, int]
    session_m: tuple[int | None, int]
    hours: tuple[int, int]
    set_minutes: tuple[int, int] | None = None


METHODS: dict[str, Method] = {  # Haugen and others 2019, Table 2; a flying start is not counted in the metres
    "acceleration": Method((10, 50), (98, None), (2, 7), (100, 300), (48, 48)),
    "top speed": Method((10, 30), (98, None), (4, 15), (50, 150), (48, 72)),
    "sprint-specific endurance": Method((80, 150), (95, None), (8, 30), (300, 900), (48, 72)),
    "speed endurance": Method((60, 80), (90, 95), (2, 4), (600, 2000), (48, 72), (8, 15)),
    "resisted": Method((10, 30), (80, 95), (3, 6), (50, 200), (48, 48)),
    "assisted": Method((10, 30), (None, 105), (5, 15), (None, 100), (48, 48)),
    "tempo": Method((100, 300), (60, 70), (1, 3), (1000, 2000), (24, 24)),
}
