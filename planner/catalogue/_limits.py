"""What a limited body may take, what may stand in for what, and what gives way first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from planner.catalogue._read import DATA, CatalogueError, Row, finish, problem, read
from planner.catalogue._units import units
from planner.domain.finding import TIERS
from planner.domain.units import REGIONS, Demand, Region, Unit

STAGES = 7  # 0 to 6
MISSING = ("place", "weather", "eyes", "hamstring", "lower-leg")
LOWER_LEG = ("knee", "ankle", "calf-achilles", "foot", "shin")


@dataclass(frozen=True)
class ReturnStage:
    """What a return stage lets a body take.

    `most_load` is the highest load of a unit on the limited region and side; `most_load_once` the same once
    a unit at the stage went without pain. `amount` is percent of the full amount for units that load it.
    `most_percent` is the highest percent of own best speed or full effort from which such a unit may be done.
    """

    stage: int
    meaning: str
    set_by: str
    most_load: int
    most_load_once: int
    amount: tuple[int, int]
    most_percent: int
    most_neural: int
    lighter_only: bool  # units that load 3 there come in their lighter version only
    no_two_fast_days: bool
    more_hours: int  # added to the region's hours to recover
    content: str


@dataclass(frozen=True)
class Substitution:
    """Ways to replace a unit when something is missing; each way is units done together."""

    unit: str
    missing: str
    ways: tuple[tuple[str, ...], ...]
    note: str = ""


@dataclass(frozen=True)
class GivesWay:
    """One entry in the order of giving way; `weight` is points for one short, in its tier."""

    gives: str
    tier: str
    weight: int


@cache
def _stages_file() -> dict[str, Any]:
    return read(DATA / "stages.toml")


@cache
def return_stages() -> tuple[ReturnStage, ...]:
    """Stages 0 to 6. Source: common practice, no source; see the data file for the consensus papers."""
    problems: list[str] = []
    table = Row("stages.toml", "", _stages_file(), problems).row("stages")
    found = []
    for n in range(STAGES):
        row = table.row(str(n))
        most = row.whole("most-load", 0, 3)
        found.append(
            ReturnStage(
                stage=n,
                meaning=row.text("meaning"),
                set_by=row.text("set-by"),
                most_load=most,
                most_load_once=row.whole("most-load-once", 0, 3, default=most),
                amount=row.pair("amount", 0, 100),
                most_percent=row.whole("most-percent", 0, 100),
                most_neural=row.whole("most-neural", 0, 3),
                lighter_only=row.flag("lighter-only"),
                no_two_fast_days=row.flag("no-two-fast-days"),
                more_hours=row.whole("more-hours", 0, 96, default=0),
                content=row.text("content"),
            )
        )
        row.done()
    table.done()
    finish(problems)
    return tuple(found)


def return_stage(stage: int) -> ReturnStage:
    """The stage of that number; CatalogueError outside 0 to 6."""
    if not 0 <= stage < STAGES:
        raise CatalogueError([problem("stages.toml", "stage", stage, "0 to 6", "6, cleared, is meant.")])
    return return_stages()[stage]


@cache
def return_test(region: str, stage: int) -> str:
    """The test a region must pass to leave a stage (2 to 5) for the next one; '' where there is none."""
    tests = _stages_file()["tests"].get(region, [])
    return str(tests[stage - 2]) if 2 <= stage <= 5 and len(tests) == 4 else ""


def needs_to_advance() -> str:
    """What every step to the next return stage needs, in one sentence."""
    return str(_stages_file()["advance"]["text"])


def asked_of_a_stage() -> tuple[int, int]:
    """(times trained, days in it) that a return stage asks for before the next one; common practice, no source."""
    asked = _stages_file()["advance"]
    return int(asked["times"]), int(asked["days"])


@cache
def limit_regions(region: str) -> tuple[Region, ...]:
    """The body regions whose loads stand for a limit in `region`; none for shoulder, illness and whole."""
    if region in REGIONS:
        return (region,)
    table = _stages_file()["regions"]
    if region not in table:
        needed = "one of " + ", ".join((*REGIONS, *table))
        raise CatalogueError([problem("stages.toml", "region", region, needed, "it is misspelt.")])
    problems: list[str] = []
    found = Row("stages.toml", "regions.", table, problems).words(region, REGIONS)
    finish(problems)
    return tuple(r for r in REGIONS if r in found)


@cache
def _shoulder() -> Mapping[str, int]:
    problems: list[str] = []
    found = Row("stages.toml", "", _stages_file(), problems).numbers("shoulder", 0, 3, tuple(units()))
    finish(problems)
    return MappingProxyType(found)


def load_on(unit: Unit, region: str, lighter: bool = False) -> int:
    """Load 0-3 of a unit's full or lighter row on any region a limit may name; the highest that counts."""
    if region == "shoulder":
        full = _shoulder().get(unit.id, 0)
        return max(0, full - 1) if lighter else full
    demand: Demand = unit.lighter if lighter else unit.demand
    return max((demand.loads[r] for r in limit_regions(region)), default=0)


def amount_after_gap(days_missed: int, of_body: bool = True) -> int | None:
    """Percent of the usual amount in the first week back (low end); 100 under three days, None: rebuild."""
    table = _stages_file()["first-week-back"]
    if days_missed >= table["rebuild-from"]:
        return None
    for first, last, low, _high in table["gaps"]:
        if first <= days_missed <= last:
            return int(low) if of_body else int(table["not-the-body"])
    return 100


def return_to_speed(region: str = "hamstring") -> tuple[tuple[int, int, int, int], ...]:
    """Rungs back to fast running: (runs, metres each, percent of own best speed, times); () where none."""
    rungs = _stages_file()["return-to-speed"].get(region, [])
    return tuple((int(a), int(b), int(c), int(d)) for a, b, c, d in rungs)


@cache
def _substitutions() -> Mapping[tuple[str, str], Substitution]:
    problems: list[str] = []
    found = {}
    known = units()
    for name, values in read(DATA / "substitutions.toml").items():
        row = Row("substitutions.toml", f"{name}.", values, problems)
        if name not in known:
            row.wrong("(unit)", name, "a unit of the catalogue", "it is misspelt.")
        notes = row.row("notes")
        for missing in MISSING:
            if missing not in row.values:
                continue
            ways = row.raw(missing, [])
            for way in ways:
                for part in way:
                    if part not in known:
                        row.wrong(missing, part, "a unit of the catalogue", "it is misspelt.")
            note = notes.text(missing, "")
            found[name, missing] = Substitution(name, missing, tuple(tuple(w) for w in ways), note)
        row.done()
    finish(problems)
    return MappingProxyType(found)


def substitution(unit_id: str, missing: str) -> Substitution | None:
    """What may stand in for a unit when place, weather, eyes, hamstring or lower-leg fails; None: unknown.

    No ways in it means: leave the unit out. A region of the lower leg may be named itself.
    """
    return _substitutions().get((unit_id, "lower-leg" if missing in LOWER_LEG else missing))


@cache
def substitutes(unit_id: str) -> frozenset[str]:
    """Every unit that may stand in for this one, whatever is missing; preparation units are among them."""
    ways = (substitution(unit_id, missing) for missing in MISSING)
    return frozenset(unit for way in ways if way is not None for units_ in way.ways for unit in units_)


@cache
def gives_way() -> tuple[GivesWay, ...]:
    """What gives way first when not everything can be had, the first to go first."""
    problems: list[str] = []
    file = read(DATA / "weights.toml")
    found = []
    for i, values in enumerate(file.get("order", [])):
        row = Row("weights.toml", f"order[{i}].", values, problems)
        found.append(GivesWay(row.text("gives"), row.text("tier", among=TIERS), row.whole("weight", 1, 100)))
        row.done()
    finish(problems)
    return tuple(found)


@cache
def below_minimum_factor() -> int:
    """How much dearer a shortfall below a weekly minimum is than one below the target."""
    problems: list[str] = []
    found = Row("weights.toml", "", read(DATA / "weights.toml"), problems).whole("below-minimum", 1, 100)
    finish(problems)
    return found
