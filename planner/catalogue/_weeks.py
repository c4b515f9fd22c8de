"""Weekly counts, caps and volumes by event, level and phase."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from planner.catalogue._events import check_phase, event, technical_families
from planner.catalogue._phases import PHASES
from planner.catalogue._read import DATA, CatalogueError, Row, finish, problem, read
from planner.domain.problem import Count
from planner.domain.units import COUNTERS, FAMILIES, Level

Range = tuple[int, int]
NONE = Count(0, 0, 0)
HELD_AT_NOVICE = ("full-jumps", "high-multi-jumps")  # a developing athlete's maximum stays the novice's
MOST_FAST_DAYS_DEVELOPING = 3  # a week; common practice, no source
EXTRA_CAPS = ("fast-days", "hours", "double-days", "take-offs-one-leg")
JOINT = "sprint-metres"  # fast and quick metres together


@dataclass(frozen=True)
class WeeklyCounts:
    """How often each family is trained in a week; families that are not planned are absent."""

    counts: Mapping[str, Count]
    fast_days: Count
    training_days: Count

    def of(self, family: str) -> Count:
        return self.counts.get(family, NONE)


@dataclass(frozen=True)
class WeeklyCaps:
    """Ceilings of a week. `high` is the most by counter, `low` what the level is built up from.

    `fast_days` is (usual, most); `hours` are organised training of all sports; `take_offs_one_leg` are
    take-offs at 90 % effort or more on the take-off leg.
    """

    low: Mapping[str, int]
    high: Mapping[str, int]
    fast_days: Range
    hours: Range
    double_days: Range
    take_offs_one_leg: int


def _unknown(file: str, event_type: str) -> CatalogueError:
    needed = "an event with weekly figures"
    return CatalogueError([problem(file, "event", event_type, needed, "use event_type() first.")])


@cache
def _file(name: str) -> dict[str, Any]:
    return read(DATA / name)


@cache
def _counts_row(event_type: str, level: str, phase: str) -> WeeklyCounts:
    problems: list[str] = []
    if event_type not in _file("counts.toml"):
        raise _unknown("counts.toml", event_type)
    file = Row("counts.toml", "", _file("counts.toml"), problems)
    row = file.row(event_type).row(level).row(phase)
    found: dict[str, Count] = {}
    for key, value in row.values.items():
        if key not in (*FAMILIES, "fast-days", "training-days"):
            row.wrong(key, key, "a family", "the name is misspelt.")
        elif (
            not isinstance(value, list)
            or len(value) != 3
            or any(type(v) is not int for v in value)
            or not 0 <= value[0] <= value[1] <= value[2] <= 14
        ):
            row.wrong(key, value, "[minimum, target, maximum] in order", "two of them are swapped.")
        else:
            found[key] = Count(value[0], value[1], value[2])
    for key in ("fast-days", "training-days"):
        if key not in found and not problems:
            row.wrong(key, "nothing", "[minimum, target, maximum]", "the line was left out.")
    finish(problems)
    fast, training = found.pop("fast-days"), found.pop("training-days")
    return WeeklyCounts(found, fast, training)


def _between(novice: Count, advanced: Count, held: bool) -> Count:
    """Targets halfway, rounded half up; from the novice's minimum to the advanced (or held) maximum."""
    most = novice.maximum if held else max(novice.maximum, advanced.maximum)
    least = min(novice.minimum, most)
    target = (novice.target + advanced.target + 1) // 2
    return Count(least, min(max(target, least), most), most)


@cache
def weekly_counts(event_type: str, level: Level, phase: str) -> WeeklyCounts:
    """The weekly counts of an event, level and phase; developing lies between novice and advanced.

    Source: common practice, no source. Raises CatalogueError for an unknown event or phase.
    """
    check_phase(phase)
    if level != "developing":
        return _counts_row(event_type, level, phase)
    novice = _counts_row(event_type, "novice", phase)
    advanced = _counts_row(event_type, "advanced", phase)
    families = [f for f in FAMILIES if f in novice.counts or f in advanced.counts]
    counts = {f: _between(novice.of(f), advanced.of(f), f in HELD_AT_NOVICE) for f in families}
    fast = _between(novice.fast_days, advanced.fast_days, held=False)
    most = min(fast.maximum, MOST_FAST_DAYS_DEVELOPING)
    return WeeklyCounts(
        {f: c for f, c in counts.items() if c.maximum > 0},
        Count(fast.minimum, min(fast.target, most), most),
        _between(novice.training_days, advanced.training_days, held=False),
    )


def weekly_counts_for(event_name: str, level: Level, phase: str) -> WeeklyCounts:
    """Weekly counts of any event by name. One without figures of its own takes those of combined events,

    its own families at target and the other technical families at their minimum.
    """
    found = event(event_name)
    base = weekly_counts(found.figures, level, phase)
    if found.own_table:
        return base
    counts = {
        family: Count(c.minimum, c.minimum, c.maximum)
        if family in technical_families() and family not in found.families
        else c
        for family, c in base.counts.items()
    }
    return WeeklyCounts(counts, base.fast_days, base.training_days)


@cache
def weekly_caps(event_type: str, level: Level) -> WeeklyCaps:
    """The ceilings of a week. Source: common practice, no source."""
    problems: list[str] = []
    file = Row("caps.toml", "", _file("caps.toml"), problems)
    row = file.row(level)
    if level == "advanced":
        if event_type not in row.values:
            raise _unknown("caps.toml", event_type)
        row = row.row(event_type)
    for key in row.values:
        if key not in (*COUNTERS, *EXTRA_CAPS):
            row.wrong(key, key, "a counter", "the name is misspelt.")
    ranges = {c: row.pair(c, 0, 20_000) for c in COUNTERS if c in row.values}
    found = WeeklyCaps(
        low={c: r[0] for c, r in ranges.items()},
        high={c: r[1] for c, r in ranges.items()},
        fast_days=row.pair("fast-days", 0, 7),
        hours=row.pair("hours", 0, 60),
        double_days=row.pair("double-days", 0, 7),
        take_offs_one_leg=row.pair("take-offs-one-leg", 0, 1000)[1],
    )
    finish(problems)
    return found


@cache
def _volume_row(event_type: str, level: str, phase: str) -> Mapping[str, Range]:
    file = _file("volumes.toml")
    if event_type not in file:
        raise _unknown("volumes.toml", event_type)
    values = file[event_type].get(level, {}).get(phase, {})
    problems: list[str] = []
    row = Row("volumes.toml", f"{event_type}.{level}.{phase}.", values, problems)
    known = (*COUNTERS, JOINT)
    found = {c: row.pair(c, 0, 20_000) for c in known if c in values}
    row.done()
    finish(problems)
    if JOINT in found:
        shares = Row("volumes.toml", "", file, problems).row("fast-share")
        percent = shares.whole(event_type, 0, 100)
        finish(problems)
        low, high = found[JOINT]
        fast = (low * percent // 1000 * 10, high * percent // 1000 * 10)
        found["fast-metres"] = fast
        found["quick-metres"] = (low - fast[0], high - fast[1])
    return found


def weekly_volumes(event_type: str, level: Level, phase: str, counter: str) -> Range | None:
    """Usual volume of a counter in a peak week, (low, high); None where nothing usual is known.

    'sprint-metres' are fast and quick metres together; the two alone are shares of it. Developing athletes
    lie halfway where novice and advanced are both known. Source: common practice, no source.
    """
    check_phase(phase)
    if level != "developing":
        return _volume_row(event_type, level, phase).get(counter)
    novice = _volume_row(event_type, "novice", phase).get(counter)
    advanced = _volume_row(event_type, "advanced", phase).get(counter)
    if novice is None or advanced is None:
        return None
    return ((novice[0] + advanced[0] + 1) // 2, (novice[1] + advanced[1] + 1) // 2)


def count_sets() -> tuple[tuple[str, str, str], ...]:
    """Every (event, level, phase) that has weekly counts of its own."""
    return tuple(
        (event_type, level, phase)
        for event_type, levels in _file("counts.toml").items()
        for level, by_phase in levels.items()
        for phase in PHASES
        if phase in by_phase
    )
