"""The kinds of cell a table may hold: how each is read, checked, described and dropped down."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import core_schema

from planner import catalogue
from planner.domain import mark_names
from planner.domain.units import FAMILIES, LEVELS, SIDES
from planner.intake import marks, reach, values
from planner.intake.raw import Cell

LIMIT_REGIONS = (*catalogue.LIMIT_REGIONS, "whole")
PHASES, PLACE_KINDS = catalogue.PHASES, catalogue.PLACE_KINDS
AWAY_KINDS = ("away", "exam", "travel", "camp arrival", "camp departure")
IMPORTANCES = ("main", "supporting", "train-through")
TASKS = ("rake", "measure", "time", "film", "adult", "caller", "guide")
NEEDS = ("quiet runway", "caller", "guide")
TIERS = ("must", "should", "prefer")
COMPASS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW", "head", "tail", "cross")
SEXES = ("female", "male")
STARTS, TIMINGS, SURFACES, SHOES = (
    mark_names.OF_START, mark_names.OF_TIMING, mark_names.OF_SURFACE, mark_names.OF_SHOES,
)  # fmt: skip


@dataclass(frozen=True)
class Kind:
    """How a column's cells are read. `options` fill a workbook's drop-down; `schema` is its JSON Schema."""

    read: Callable[..., object]
    schema: Mapping[str, object] = field(hash=False)
    word: str = "text"  # text, date, clock, number, choice, yes/no, list
    options: tuple[str, ...] = ()
    typed: bool = False  # reads differently in a workbook, where dates are real date cells

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        read = self.read
        if self.typed:

            def judge(cell: Cell, info: core_schema.ValidationInfo) -> object:
                return read(cell, workbook=bool(info.context))

            return core_schema.with_info_plain_validator_function(judge)
        return core_schema.no_info_plain_validator_function(read)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, object]:
        return dict(self.schema)


def one_of(options: Sequence[str], what: str) -> Kind:
    needed = f"{what}: one of {', '.join(options)}" if len(options) <= 12 else f"{what} that is known"
    return Kind(
        lambda cell: values.choice(cell, options, needed), {"enum": list(options)}, "choice", tuple(options)
    )


def some_of(options: Sequence[str], what: str) -> Kind:
    needed = f"{what}: any of {', '.join(options)}" if len(options) <= 20 else f"{what} that are known"
    return Kind(
        lambda cell: values.choices(cell, options, needed),
        {"type": ["array", "string"], "items": {"enum": list(options)}},
        "list",
        tuple(options),
    )


def whole(low: int, high: int, what: str, unit: str = "") -> Kind:
    schema = {"type": ["integer", "string"] if unit else "integer", "minimum": low, "maximum": high}
    return Kind(lambda cell: values.whole(cell, low, high, what, unit=unit), schema, "number")


def steps(units: Mapping[str, int], low: int, high: int, needed: str, bare: str = "") -> Kind:
    """A figure with its unit, in whole small steps between `low` and `high` of them."""

    def read(cell: Cell) -> int:
        value = values.with_unit(cell, units, needed, bare=bare)
        if not low <= value <= high:
            raise values.Misfit(needed, "a decimal point is missing or in the wrong place")
        return value

    return Kind(read, {"type": ["string", "number"] if bare else "string"}, "text")


def span(low: int, high: int, what: str) -> Kind:
    return Kind(
        lambda cell: values.span(cell, low, high, what), {"type": ["string", "integer", "array"]}, "text"
    )


def mapping(keys: Sequence[str], read: Callable[[Cell], object], needed: str) -> Kind:
    """A small mapping whose keys are fixed words."""

    def judge(cell: Cell) -> dict[str, object]:
        found = {values.choice(k, keys, needed): read(v) for k, v in values.pairs(cell, needed)}
        return dict(sorted(found.items()))

    return Kind(judge, {"type": ["object", "string"]}, "text")


TEXT = Kind(values.own_words, {"type": "string"})
NAME = Kind(values.name, {"type": "string", "maxLength": values.LONGEST_NAME})
NAMES = Kind(values.names, {"type": ["array", "string"], "items": {"type": "string"}}, "list")
DATE = Kind(values.day, {"type": "string", "format": "date"}, "date", typed=True)
DATES = Kind(values.days_listed, {"type": ["array", "string"], "items": {"type": "string"}}, "list")
MOMENT = Kind(values.moment, {"type": "string"}, "moment", typed=True)
CLOCK = Kind(values.clock, {"type": "string", "pattern": "^[0-2]?[0-9]:[0-5][0-9]$"}, "clock")
YES_NO = Kind(values.yes_no, {"enum": ["yes", "no", True, False]}, "yes/no", ("yes", "no"))
WEEKDAYS = Kind(values.weekdays, {"type": ["array", "string"], "items": {"type": "string"}}, "list")
WEEKDAY = Kind(values.weekday, {"enum": list(values.WEEKDAYS)}, "choice", values.WEEKDAYS)
HOURS = Kind(values.hours, {"type": ["array", "string"], "items": {"type": "string"}}, "list")
OTHER_SPORT = Kind(values.other_sport, {"type": ["object", "string", "number"]}, "text")
MARK = Kind(marks.mark, {"type": "string"})
EVENT = one_of(tuple(reach.REACH), "an event or test")
# a mark's event may say more: '30 m blocks hand', 'long jump 8 steps'
MARK_EVENT = Kind(
    marks.event,
    {"anyOf": [{"enum": list(reach.REACH)}, {"type": "string", "pattern": marks.EVENT_PATTERN}]},
    "choice",
    tuple(reach.REACH),
)
EVENTS = some_of(reach.EVENTS, "events")
EVENT_CLOCKS = Kind(
    lambda cell: values.event_clocks(cell, reach.EVENTS), {"type": ["object", "array", "string"]}, "text"
)
LEVEL = one_of(LEVELS, "a level")
LEVELS_EACH = mapping(FAMILIES, lambda c: values.choice(c, LEVELS, "a level"), "levels by family of units")
SIDE = one_of(SIDES, "a side")
LENGTH = steps({"m": 100, "cm": 1}, 0, 10_000, "a length up to 100 m with its unit, such as 33.20 m")
SHOE = Kind(values.shoe, {"type": "string"})
WIND = steps({"m/s": 10}, -300, 300, "a wind in metres per second, such as -1.2", bare="m/s")
# beside a mark; more is beyond belief
MARK_WIND = steps({"m/s": 10}, -100, 100, "a wind from -10 to +10 metres per second, such as -1.2", bare="m/s")
AIR = steps({"°C": 10, "C": 10}, -400, 500, "an air temperature in degrees, such as 6.5", bare="°C")
HEAT = steps({"°C": 10, "C": 10}, -300, 600, "a WBGT in degrees, such as 26.5", bare="°C")
