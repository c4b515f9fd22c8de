"""Answers about load, taper and heat: what loads describe, and what they do not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.numbers.answer import Answer
from planner.science.heat import child_band, heat_band, wbgt_estimate, wbgt_outdoors
from planner.science.load import RATIO_DOUBTS, TEN_PERCENT_DOUBTS, exponential_means, monotony, strain, week_load
from planner.science.taper import (
    BOSQUET_2007,
    cut_percent,
    effect_of_cut,
    effect_of_days,
    little_by_little,
    one_step,
    tau_for_cut,
)

FOSTER = (
    "Foster and others 2001, Journal of Strength and Conditioning Research 15(1):109-115; Foster 1998, "
    "Medicine and "
    "Science in Sports and Exercise 30(7):1164-1168"
)


def load(day_loads: Sequence[int], title: str = "Load") -> Answer:
    """A week's loads: sum, how alike the days are, strain; means over 7 and 28 days where so many are given."""
    total = week_load(day_loads)
    rows = [("days", " ".join(str(x) for x in day_loads)), ("sum", f"{total} (effort x minutes)")]
    data: dict[str, object] = {"sum": total}
    if len(day_loads) >= 2:
        alike = monotony(day_loads)
        rows.append(("how alike the days are", "all alike" if alike is None else f"{alike:.2f} (mean / spread)"))
        tired = strain(day_loads)
        if tired is not None:
            rows.append(("sum x alike", f"{tired:.0f}"))
        data |= {"monotony": alike, "strain": tired}
    for days in (7, 28):
        if len(day_loads) >= days:
            mean = exponential_means(day_loads, days)[-1]
            rows.append((f"fading mean, {days} days", f"{mean:.0f} a day"))
            data[f"mean_{days}"] = mean
    return Answer(
        title, tuple(rows),
        "effort (0-10) x minutes of each part, plus 25 minutes of warm-up at effort 3; alike = mean of "
        "the days / their "
        "standard deviation over all days",
        FOSTER,
        f"a load describes; it forecasts neither form nor injury. {RATIO_DOUBTS[0]} {TEN_PERCENT_DOUBTS[0]}",
        data,
    )  # fmt: skip


def block_load(weeks: Sequence[tuple[str, Sequence[int]]], title: str) -> Answer:
    """A whole block: a row a week with its sum and how alike its days are, then the means over 7 and 28 days."""
    rows, data = [], []
    for name, days in weeks:
        total, alike = week_load(days), monotony(days) if len(days) >= 2 else None
        said = "" if alike is None else f"; mean / spread of the days {alike:.2f}"
        rows.append((name, f"{total}{said}"))
        data.append({"week": name, "days": list(days), "sum": total, "monotony": alike})
    every = [x for _, days in weeks for x in days]
    whole = load(every, title)
    tail = tuple(row for row in whole.rows if row[0].startswith("fading"))
    rows.append(("whole block", f"{sum(every)} (effort x minutes)"))
    return replace(whole, rows=(*rows, *tail), data={"weeks": data, "sum": sum(every)})


def taper(days: int, cut: float, *, step: bool = False) -> Answer:
    """Shares of the usual amount on each day of a taper that asks so many percent less in all."""
    shares = one_step(days, 1 - cut / 100) if step else little_by_little(days, tau_for_cut(days, cut))
    by_cut, by_days = effect_of_cut(cut), effect_of_days(days)
    rows = [(f"day {i}", f"{round(100 * s)} % of usual") for i, s in enumerate(shares, 1)]
    rows += [
        ("in all", f"{cut_percent(shares):.0f} % less"),
        (f"cut of {by_cut.kind} %", f"effect {by_cut.effect:+.2f} ({by_cut.low:+.2f} to {by_cut.high:+.2f})"),
        (f"{by_days.kind} days", f"effect {by_days.effect:+.2f} ({by_days.low:+.2f} to {by_days.high:+.2f})"),
    ]
    return Answer(
        "Taper", tuple(rows),
        "the same share every day"
        if step
        else "share of a day = exp(-day / time constant), fitted to the cut in all",
        BOSQUET_2007,
        "the studies are of swimmers, cyclists and runners; effects in standard deviations with 95 % "
        "intervals; how fast "
        "and how often stays, only how much falls",
        {"shares": shares, "cut_percent": cut_percent(shares)},
    )  # fmt: skip


def heat_answer(wbgt_tenths: int, how: str, formula: str) -> Answer:
    """What the published bands advise at a WBGT, in tenths of a degree."""
    found, child = heat_band(wbgt_tenths), child_band(wbgt_tenths)
    rows = [
        ("WBGT", f"{wbgt_tenths / 10:.1f} degrees, {how}"),
        ("adults not used to heat", found.not_used_to_heat), ("adults used to heat", found.used_to_heat),
        ("under 18", child.advice),
    ]  # fmt: skip
    if found.competition:
        rows.insert(1, ("competition", found.competition))
    return Answer(
        "Heat", tuple(rows), formula,
        "ISO 7243; Armstrong and others 2007, Medicine and Science in Sports and Exercise 39(3):556-572; "
        "American Academy "
        "of Pediatrics 2000, Pediatrics 106(1):158-159",
        "without a globe thermometer it can be wrong by several degrees; a clinician and local rules decide",
        {"wbgt": wbgt_tenths / 10, "competition": found.competition, "not_used": found.not_used_to_heat,
         "used": found.used_to_heat, "under_18": child.advice},
    )  # fmt: skip


def heat_by_air(air: float, humidity: float) -> Answer:
    """From shade temperature and humidity."""
    tenths = round(wbgt_estimate(air, humidity) * 10)
    return heat_answer(tenths, "estimated without a globe thermometer",
                       "0.567 x air + 0.393 x vapour pressure + 3.94, for moderate sun and light wind "
                       "(Australian Bureau of Meteorology)")  # fmt: skip


def heat_by_globe(wet_bulb: float, globe: float, air: float) -> Answer:
    """From the three thermometers, in the sun."""
    tenths = round(wbgt_outdoors(wet_bulb, globe, air) * 10)
    return heat_answer(tenths, "measured", "0.7 x natural wet bulb + 0.2 x globe + 0.1 x air")


def heat_by_index(wbgt: float) -> Answer:
    """From a WBGT that was read, in degrees."""
    return heat_answer(round(wbgt * 10), "as read", "read from a meter")
