"""Answers about load, taper and heat: what loads describe, and what they do not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.numbers.answer import Answer
from planner.numbers.errors import NoNumber
from planner.science.heat import child_band, heat_band, wbgt_estimate, wbgt_outdoors
from planner.science.load import RATIO_DOUBTS, TEN_PERCENT_DOUBTS, exponential_means, monotony, strain, week_load
from planner.science.response import shape
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


TAPER_DOUBT = (
    "the studies are of swimmers, cyclists and runners; effects in standard deviations with 95 % intervals; how "
    "fast and how often stays, only how much falls"
)
SHAPE_SOURCE = (
    "Morton, Fitz-Clarke, Banister 1990, Journal of Applied Physiology 69(3):1171-1177; constants of Hellard and "
    "others 2006, Journal of Sports Sciences 24(5):509-520"
)
SHAPE_DOUBT = (
    "The shape is a band over published constants (0 no training, 1 the largest swing), nobody's own, never a "
    "promise: in it complete rest beats every taper"
)
LEAST_FOR_SHAPE = 14  # days; fewer say nothing about a constant of weeks


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
    doubt = f"a load describes; it forecasts neither form nor injury. {RATIO_DOUBTS[0]} {TEN_PERCENT_DOUBTS[0]}"
    if len(day_loads) >= LEAST_FOR_SHAPE and total:
        rows += shape_rows(day_loads)
        data["shape"] = [[round(v, 3) for v in (x.low, x.middle, x.high)] for x in shape(day_loads)]
        doubt += f" {SHAPE_DOUBT}"
    return Answer(
        title, tuple(rows),
        "effort (0-10) x minutes of each part, plus 25 minutes of warm-up at effort 3; alike = mean of "
        "the days / their "
        "standard deviation over all days",
        FOSTER if "shape" not in data else f"{FOSTER}; {SHAPE_SOURCE}",
        doubt,
        data,
    )  # fmt: skip


def shape_rows(day_loads: Sequence[int]) -> list[tuple[str, str]]:
    """What the loads leave behind, as a band over published constants: after each week and after the last day.

    Zero is no training; 1 is each set of constants' own largest swing, so only the curve's way means anything.
    """
    found = shape(day_loads)
    days = [*range(7, len(day_loads), 7), len(day_loads)]
    return [(f"shape after day {d}", f"{found[d].low:+.1f} to {found[d].high:+.1f}, middle {found[d].middle:+.1f}")
            for d in days]  # fmt: skip


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
    tail = tuple(row for row in whole.rows if row[0].startswith(("fading", "shape")))
    rows.append(("whole block", f"{sum(every)} (effort x minutes)"))
    return replace(whole, rows=(*rows, *tail), data={**whole.data, "weeks": data, "sum": sum(every)})


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
        TAPER_DOUBT,
        {"shares": shares, "cut_percent": cut_percent(shares)},
    )  # fmt: skip


def planned_taper(before: Sequence[int], last: Sequence[int], goal: str) -> Answer:
    """The planned load of the days before a competition beside the usual day of the weeks before them.

    `before` and `last` are day loads (effort x minutes) of the four weeks before the taper and of the taper.
    """
    usual = sum(before) / len(before) if before else 0
    if not usual or not last:
        raise NoNumber(
            f"{goal}: the plan holds {len(before)} days with {sum(before)} of load before its last {len(last)}, "
            "needed some to compare with. Maybe give --days and --cut instead."
        )
    cut = 100 - 100 * sum(last) / (usual * len(last))
    by_cut, by_days = effect_of_cut(max(0.0, cut)), effect_of_days(len(last))
    rows = [("usual day before", f"{usual:.0f} (effort x minutes), of {len(before)} days")]
    rows += [(f"{len(last) - i} days before", f"{x}, {round(100 * x / usual)} %") for i, x in enumerate(last)]
    rows += [
        ("in all", f"{cut:.0f} % less" if cut >= 0 else f"{-cut:.0f} % more"),
        (f"cut of {by_cut.kind} %", f"effect {by_cut.effect:+.2f} ({by_cut.low:+.2f} to {by_cut.high:+.2f})"),
        (f"{by_days.kind} days", f"effect {by_days.effect:+.2f} ({by_days.low:+.2f} to {by_days.high:+.2f})"),
    ]
    return Answer(
        f"Planned taper, {goal}", tuple(rows),
        "load of each of the last days / mean load of a day in the weeks before, as planned",
        BOSQUET_2007,
        f"load stands in for volume here; {TAPER_DOUBT}",
        {"usual": usual, "loads": list(last), "cut_percent": cut},
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


def heat_forecast(readings: Sequence[tuple[str, int]], under_18: bool, who: str) -> Answer:
    """What the bands advise for each forecast ('Mon 1 Mar, evening' and WBGT in tenths) of one athlete's block."""
    if not readings:
        raise NoNumber(
            f"{who}: the block's table 'weather' and what was recorded hold no WBGT, needed one. "
            "Maybe give --wbgt, or --air and --humidity."
        )
    rows, data = [], []
    for when, tenths in readings:
        band, child = heat_band(tenths), child_band(tenths)
        adult = f"not used to heat: {band.not_used_to_heat}; used: {band.used_to_heat}"
        said = child.advice if under_18 else adult
        rows.append((when, f"{tenths / 10:.1f} degrees; {said}"))
        data.append({"when": when, "wbgt": tenths / 10, "advice": said})
    one = heat_answer(readings[0][1], "forecast", "WBGT as the block's table says")
    return replace(one, title=f"Heat, {who}", rows=tuple(rows), data={"forecasts": data})


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
