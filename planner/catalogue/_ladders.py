"""Ladders: how a unit is cut up and aimed at, from one time to the next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import Any

from planner.catalogue._read import DATA, Row, finish, read
from planner.catalogue._units import units
from planner.domain.units import LEVELS

KINDS = (
    "standing", "blocks", "race", "flying", "build-up", "jump", "phases", "run-up", "bounds", "kilograms",
    "hurdles", "effort",
)  # fmt: skip
NO_SOURCE = "common practice, no source"
_APART = ("rules", "run-up-steps", "hurdle-spacings")


@dataclass(frozen=True)
class Rung:
    """One step of a ladder: sets of `each` (metres, contacts, steps of a run-up), or of `reps` of a lift.

    `percent` of own best, rests in seconds (None: as the catalogue says), `run_in` metres before a timed zone;
    `times`: sessions before the next rung.
    """

    sets: int
    each: tuple[int, ...]
    reps: int
    percent: tuple[int, int]
    rest: tuple[int, int] | None = None
    set_rest: tuple[int, int] | None = None
    run_in: int = 0
    easier: bool = False
    times: int = 1
    name: str = ""

    @property
    def total(self) -> int:
        """The rung's own amount before the level's factor: metres or contacts, or repetitions of a lift."""
        return self.sets * (sum(self.each) or self.reps)


@dataclass(frozen=True)
class LighterForm:
    """The lighter row's numbers: not faster than `percent` of own best, over `each`, or `reps` of a lift."""

    percent: int = 0
    each: int = 0
    reps: int = 0
    flats_on_grass: bool = False


@dataclass(frozen=True)
class Ladder:
    """What a unit is aimed at and how it grows; spans per level are of one repetition."""

    unit: str
    kind: str
    percent: tuple[int, int]
    spans: Mapping[str, tuple[int, int]] = field(hash=False)
    step: int
    stop: tuple[int, int] | None  # percent, poor ones in a row
    lighter: LighterForm | None
    test: str
    rungs: tuple[Rung, ...]
    lifts: tuple[tuple[str, ...], ...]
    most: Mapping[str, int] = field(hash=False)
    first: Mapping[str, int] = field(hash=False)
    goes_first: str
    stays: str
    closer: Mapping[str, tuple[int, int]] = field(hash=False)
    lower: Mapping[str, str] = field(hash=False)
    source: str


@dataclass(frozen=True)
class LadderRules:
    """Percent of a ladder's totals per level; what a gap in days does."""

    level_percent: Mapping[str, int] = field(hash=False)
    restart_after_days: int
    restart_percent: int
    anew_after_days: int
    source: str


@cache
def _file() -> Mapping[str, Any]:
    return read(DATA / "ladders.toml")


@cache
def ladders() -> Mapping[str, Ladder]:
    """Unit id -> its ladder; units that are aimed at by words alone have none. CatalogueError names the key."""
    problems: list[str] = []
    found = {}
    for name, values in _file().items():
        if name in _APART:
            continue
        row = Row("ladders.toml", f"{name}.", values, problems)
        if name not in units():
            row.wrong("(table)", name, "a unit of the catalogue", "the name is misspelt.")
        found[name] = _ladder(name, row)
        row.done()
    finish(problems)
    return MappingProxyType(found)


@cache
def ladder_rules() -> LadderRules:
    """The rules that all ladders share."""
    problems: list[str] = []
    row = Row("ladders.toml", "rules.", _file()["rules"], problems)
    found = LadderRules(
        level_percent=MappingProxyType(row.numbers("level-percent", 10, 300, LEVELS, need=True)),
        restart_after_days=row.whole("restart-after-days", 1, 365),
        restart_percent=row.whole("restart-percent", 1, 100),
        anew_after_days=row.whole("anew-after-days", 1, 365),
        source=row.text("source"),
    )
    row.done()
    finish(problems)
    return found


def run_up_steps(event: str, level: str, age: int | None) -> int:
    """Steps of a full run-up while none is set; even ones. `event`: long jump or triple jump; age in years."""
    table = _file()["run-up-steps"]
    at = 1 if event == "triple jump" else 0
    if age is not None:
        for under, pair in sorted((int(k), v) for k, v in table["under"].items()):
            if age < under:
                return int(pair[at])
    return int(table["adults"][level][at])


def hurdle_spacing(event: str, sex: str) -> tuple[int, int, int] | None:
    """Race spacings in centimetres (to the first, between, from the last); None where none is laid down here."""
    table = _file()["hurdle-spacings"]
    who = {"f": " women", "m": " men"}.get(sex[:1].lower(), "")
    row = table.get(event) or table.get(f"{event}{who}")
    return (int(row[0]), int(row[1]), int(row[2])) if row else None


def _ladder(name: str, row: Row) -> Ladder:
    percent = row.pair("percent", 20, 110) if "percent" in row.values else (0, 0)
    rungs = row.raw("rungs", [])
    return Ladder(
        unit=name,
        kind=row.text("kind", among=KINDS),
        percent=percent,
        spans=_pairs(row, "spans", 1, 600),
        step=row.whole("step", 1, 100, default=1),
        stop=_stop(row) if "stop" in row.values else None,
        lighter=_lighter(row) if "lighter" in row.values else None,
        test=row.text("test", default=""),
        rungs=tuple(_rung(Row(row.where, f"{name}.rungs.{i}.", r, row.problems), percent)
                    for i, r in enumerate(rungs, 1)),
        lifts=tuple(tuple(group) for group in row.raw("lifts", [])),
        most=MappingProxyType(row.numbers("most", 20, 110, LEVELS)),
        first=MappingProxyType(row.numbers("first", 20, 110, LEVELS)),
        goes_first=row.text("goes_first", default=""),
        stays=row.text("stays", default=""),
        closer=_pairs(row, "closer", 0, 50),
        lower=MappingProxyType(dict(row.raw("lower", {}))),
        source=row.text("source", default=NO_SOURCE),
    )  # fmt: skip


def _pairs(row: Row, key: str, low: int, high: int) -> Mapping[str, tuple[int, int]]:
    if key not in row.values:
        return MappingProxyType({})
    inner = row.row(key)
    return MappingProxyType({name: inner.pair(name, low, high) for name in inner.values})


def _stop(row: Row) -> tuple[int, int]:
    value = row.raw("stop", None)
    good = isinstance(value, list) and len(value) == 2
    if not good or any(type(v) is not int or not 0 <= v <= 20 for v in value):
        row.wrong("stop", value, "[percent, poor ones in a row]", "one of the two is missing.")
        return (0, 2)
    return value[0], value[1]


def _lighter(row: Row) -> LighterForm:
    inner = row.row("lighter")
    found = LighterForm(
        percent=inner.whole("percent", 20, 110, default=0) if "percent" in inner.values else 0,
        each=inner.whole("each", 1, 600) if "each" in inner.values else 0,
        reps=inner.whole("reps", 1, 20) if "reps" in inner.values else 0,
        flats_on_grass=inner.flag("flats-on-grass"),
    )
    inner.done()
    return found


def _rung(row: Row, percent: tuple[int, int]) -> Rung:
    each = row.raw("each", [])
    if not isinstance(each, list) or any(type(e) is not int or not 1 <= e <= 600 for e in each):
        row.wrong("each", each, "whole numbers from 1 to 600", "the unit is another one.")
        each = []
    reps = row.whole("reps", 1, 20) if "reps" in row.values else 0
    if not each and not reps:
        row.wrong("each", "nothing", "what one set holds", "the line was left out.")
    found = Rung(
        sets=row.whole("sets", 1, 20),
        each=tuple(each),
        reps=reps,
        percent=row.pair("percent", 20, 110) if "percent" in row.values else percent,
        rest=row.pair("rest", 5, 3600) if "rest" in row.values else None,
        set_rest=row.pair("set_rest", 5, 3600) if "set_rest" in row.values else None,
        run_in=row.whole("run_in", 0, 60, default=0),
        easier=row.flag("easier"),
        times=row.whole("times", 1, 20, default=1),
        name=row.text("name", default=""),
    )
    row.done()
    return found
