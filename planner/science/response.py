"""The impulse-response model: every day's load leaves a slow gain and a quick tiredness behind.

    p(n) = base + k1 * sum over i < n of w(i) exp(-(n-i)/slow) - k2 * sum over i < n of w(i) exp(-(n-i)/quick)

Sources: Morton RH, Fitz-Clarke JR, Banister EW 1990, Modeling human performance in running, Journal of
Applied Physiology 69(3):1171-1177; Fitz-Clarke JR, Morton RH, Banister EW 1991, Optimizing athletic
performance by influence curves, Journal of Applied Physiology 71(3):1151-1158 (closed forms from memory;
they follow from setting the influence, or its slope, to zero).

Show it as a shape with a band, never as a promise: in nine elite swimmers the slow constant had a 95 %
interval of 17 to 59 days and the quick one of 6 to 32, and the parameters go together (Hellard P, Avalos M,
Lacoste L, Barale F, Chatard JC, Millet GP 2006, Journal of Sports Sciences 24(5):509-520). In this model
complete rest beats every taper over the last days; that intensity has to stay comes from experiments, not
from here.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from planner.science.errors import OutOfReach, above, within

ROUNDING = 1e-9  # units of load; what adding up fractions may miss


@dataclass(frozen=True)
class Response:
    """One set of parameters. Days for the two constants; the two gains are per unit of daily load.

    Raises OutOfReach unless the slow constant is longer than the quick one and all four are above zero.
    """

    slow_days: float
    quick_days: float
    gain: float = 1.0
    tiring: float = 2.0

    def __post_init__(self) -> None:
        above(self.gain, 0, "the gain per load is")
        above(self.tiring, 0, "the tiring per load is")
        above(self.quick_days, 0, "the quick constant is", "days")
        above(
            self.slow_days, self.quick_days, "the slow constant is", "days",
            "the slow and the quick constant changed places.",
        )  # fmt: skip

    @property
    def _stretch(self) -> float:
        return self.slow_days * self.quick_days / (self.slow_days - self.quick_days)


CLASSIC = Response(45, 15)  # Morton, Fitz-Clarke, Banister 1990, as above; parameters from memory
OFTEN_QUOTED = Response(42, 7)  # often quoted, no single first source; nobody's constants

SLOW_RANGE_DAYS = (17, 38, 59)  # low, mean, high; Hellard and others 2006, as above
QUICK_RANGE_DAYS = (6, 19, 32)  # low, mean, high; Hellard and others 2006, as above
LOWERS_RANGE_DAYS = (7, 19, 35)  # days before the event in which training still lowers; same source
HELPS_MOST_RANGE_DAYS = (25, 43, 61)  # days before the event at which it helps most; same source

# Derived: the ratio of the gains at which mean constants (38 and 19 days) lower within the mean 19 days.
TIRING_RATIO = math.exp(LOWERS_RANGE_DAYS[1] * (1 / QUICK_RANGE_DAYS[1] - 1 / SLOW_RANGE_DAYS[1]))

BAND: tuple[Response, ...] = (
    CLASSIC,
    OFTEN_QUOTED,
    *(
        Response(slow, quick, 1.0, TIRING_RATIO)
        for slow, quick in product(SLOW_RANGE_DAYS, QUICK_RANGE_DAYS)
        if slow > quick and slow > TIRING_RATIO * quick  # else lasting training would only ever harm
    ),
)


def _loads(loads: Sequence[float]) -> None:
    for load in loads:
        within(load, 0, math.inf, "a day's load is", maybe="a minus slipped in.")


def sums(loads: Sequence[float], response: Response) -> tuple[list[float], list[float]]:
    """The slow and the quick sum before training on each day, and on the day after the last (n + 1 values).

    Recursion: today's sum = (yesterday's + yesterday's load) x exp(-1/constant). In units of load.
    """
    _loads(loads)
    slow_keep, quick_keep = math.exp(-1 / response.slow_days), math.exp(-1 / response.quick_days)
    slow, quick = [0.0], [0.0]
    for load in loads:
        slow.append((slow[-1] + load) * slow_keep)
        quick.append((quick[-1] + load) * quick_keep)
    return slow, quick


def form(loads: Sequence[float], response: Response) -> list[float]:
    """p - base before training on each day, and on the day after the last load (n + 1 values).

    In units of daily load times gain: only its shape means anything. OutOfReach for a negative load.
    """
    slow, quick = sums(loads, response)
    return [response.gain * s - response.tiring * q for s, q in zip(slow, quick, strict=True)]


def influence(response: Response, days_before: float) -> float:
    """What one unit of load so many days before the event adds to (or takes from) the event's form."""
    within(days_before, 0, math.inf, "the days before the event are", maybe="a minus slipped in.")
    return response.gain * math.exp(-days_before / response.slow_days) - response.tiring * math.exp(
        -days_before / response.quick_days
    )


def lowers_within_days(response: Response) -> float:
    """Days before the event within which training lowers form on the day; 0 when it never does.

    [slow x quick / (slow - quick)] x ln(tiring / gain); Fitz-Clarke and others 1991, from memory.
    """
    return max(0.0, response._stretch * math.log(response.tiring / response.gain))


def helps_most_at_days(response: Response) -> float:
    """Days before the event at which a load adds most to form on the day; 0 when the nearest adds most.

    [slow x quick / (slow - quick)] x ln(tiring x slow / (gain x quick)); Fitz-Clarke and others 1991, from
    memory.
    """
    ratio = response.tiring * response.slow_days / (response.gain * response.quick_days)
    return max(0.0, response._stretch * math.log(ratio))


def steady_gain(response: Response) -> float:
    """Form after endless training at one unit a day (whole days, the last load a day old); derived."""
    slow, quick = math.exp(-1 / response.slow_days), math.exp(-1 / response.quick_days)
    return response.gain * slow / (1 - slow) - response.tiring * quick / (1 - quick)


def peak_after_rest(loads: Sequence[float], response: Response) -> tuple[float, float]:
    """Days of complete rest after the last day until form is highest, and that form; derived.

    Counted from the day after the last load. (0, form now) when form only falls. OutOfReach without load.
    """
    slow, quick = sums(loads, response)
    if slow[-1] <= 0:
        raise OutOfReach("there is no load in these days, needed some. Maybe the stretch is the wrong one.")
    up, down = response.gain * slow[-1], response.tiring * quick[-1]
    days = max(0.0, response._stretch * math.log(down * response.slow_days / (up * response.quick_days)))
    high = up * math.exp(-days / response.slow_days) - down * math.exp(-days / response.quick_days)
    return days, high


def best_loads(
    response: Response,
    least: Sequence[float],
    most: Sequence[float],
    *,
    total: float = math.inf,
    week_total: float = math.inf,
) -> list[float]:
    """The daily loads between two bounds that give the highest form on the day after the last one.

    `least` and `most` bound each day; `total` bounds their sum, `week_total` that of every seven days counted
    from the first. Exact: form is a weighted sum of loads, and bounds on days, weeks and all lie one inside
    the other, so giving to the days in order of what they add, as long as they add, is best. The model's
    answer, not advice: see the top of this file. Derived. OutOfReach when the bounds contradict each other.
    """
    days = len(least)
    if len(most) != days:
        raise OutOfReach(f"there are {days} lower and {len(most)} upper bounds, needed as many of each.")
    for day, (low, high) in enumerate(zip(least, most, strict=True), 1):
        within(low, 0, math.inf, f"the lower bound of day {day} is")
        if not low <= high < math.inf:
            raise OutOfReach(
                f"day {day} has bounds {low:g} to {high:g}, needed low to high. Maybe they changed places."
            )
    room_weeks = [week_total - sum(least[start : start + 7]) for start in range(0, days, 7)]
    room = total - sum(least)
    if min([room, *room_weeks]) < -ROUNDING:
        raise OutOfReach(
            "the lower bounds alone pass the total, needed a total above their sum. "
            "Maybe the total is meant for a single week."
        )
    loads = [float(low) for low in least]
    for day in sorted(range(days), key=lambda at: -influence(response, days - at)):
        if influence(response, days - day) <= 0:
            break
        more = max(0.0, min(most[day] - least[day], room_weeks[day // 7], room))
        loads[day] += more
        room_weeks[day // 7] -= more
        room -= more
    return loads


@dataclass(frozen=True)
class Shape:
    """One day's place in the band: low, middle and high over the published parameter sets.

    No unit: every set's curve is measured in its own largest swing, so 1 is that set's highest deviation.
    """

    low: float
    middle: float
    high: float


def shape(loads: Sequence[float], responses: Sequence[Response] = BAND) -> list[Shape]:
    """Form day by day as a band over many parameter sets, each in its own largest swing.

    A shape with its doubt, never a promise. Zero throughout where there is no load.
    """
    if not responses:
        raise OutOfReach("there is no parameter set, needed one or more.")
    curves = []
    for response in responses:
        curve = form(loads, response)
        swing = max(abs(value) for value in curve)
        curves.append([value / swing if swing > 0 else 0.0 for value in curve])
    return [Shape(min(day), statistics.median(day), max(day)) for day in zip(*curves, strict=True)]
