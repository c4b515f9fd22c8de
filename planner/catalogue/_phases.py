"""Phases, loading patterns, tapers, and hours after a competition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from planner.catalogue._read import DATA, CatalogueError, Row, finish, problem, read
from planner.domain.units import LEVELS, REGIONS, Demand, Level

PHASES = (
    "general-preparation", "specific-preparation", "pre-competition", "competition", "taper", "bridge",
    "transition",
)  # fmt: skip
SEASON_SHAPES = ("single", "double-first", "double-second", "eight-week", "twelve-week")
Range = tuple[int, int]


@dataclass(frozen=True)
class Phase:
    """A phase: weeks by the season's shape, and what a week is like for an advanced athlete.

    `volume` and `high_contacts` are percent of the year's highest week, `top_speed` percent of own best,
    `run_up` percent of competition steps, `lifts` percent of one-repetition maximum, `load` effort x minutes
    a week. None where nothing usual is known (bridge, transition). `days` only for the bridge.
    """

    id: str
    purpose: str
    weeks: Mapping[str, Range]
    days: Range | None
    volume: Range | None
    top_speed: Range | None
    run_up: Range | None
    lifts: Range | None
    high_contacts: Range | None
    load: Range | None


@dataclass(frozen=True)
class SeasonShape:
    """Least weeks a season must keep: pre-competition, and by level all work before a main competition."""

    least_pre_competition_weeks: int
    least_weeks_before_main: Mapping[Level, int]
    free_weeks_in_transition: Range


@dataclass(frozen=True)
class Taper:
    """A taper before a main competition. Percents are of the normal week's volume.

    `last` are preferred last dates of units in days before the competition, `floors` the latest ones.
    """

    days: Range
    week_minus_2: Range
    week_minus_1: Range
    last_three_days: Range
    fast_touches: Range
    last: Mapping[str, int]
    floors: Mapping[str, int]


@dataclass(frozen=True)
class Easing:
    """A short easing: so many days, so many percent less."""

    days: Range
    less: Range


def _range(row: Row, key: str, most: int) -> Range | None:
    return row.pair(key, 0, most) if key in row.values else None


@cache
def phases() -> Mapping[str, Phase]:
    """Every phase by id, in the order of a season. Source: common practice, no source."""
    problems: list[str] = []
    file = Row("phases.toml", "", read(DATA / "phases.toml"), problems)
    file.raw("shape", {})
    found = {}
    for phase in PHASES:
        row = file.row(phase)
        weeks = row.row("weeks")
        found[phase] = Phase(
            id=phase,
            purpose=row.text("purpose"),
            weeks={s: weeks.pair(s, 0, 52) for s in SEASON_SHAPES if s in weeks.values},
            days=_range(row, "days", 60),
            volume=_range(row, "volume", 130),
            top_speed=_range(row, "top-speed", 105),
            run_up=_range(row, "run-up", 100),
            lifts=_range(row, "lifts", 100),
            high_contacts=_range(row, "high-contacts", 100),
            load=_range(row, "load", 10_000),
        )
        weeks.done()
        row.done()
    file.done()
    finish(problems)
    return MappingProxyType(found)


@cache
def season_shape() -> SeasonShape:
    """Least weeks of a season. Source: common practice, no source."""
    problems: list[str] = []
    row = Row("phases.toml", "", read(DATA / "phases.toml"), problems).row("shape")
    least = row.numbers("least-weeks-before-main", 0, 52, LEVELS, need=True)
    shape = SeasonShape(
        least_pre_competition_weeks=row.whole("least-pre-competition-weeks", 0, 52),
        least_weeks_before_main={level: least.get(level, 0) for level in LEVELS},
        free_weeks_in_transition=row.pair("free-weeks-in-transition", 0, 52),
    )
    row.done()
    finish(problems)
    return shape


@cache
def loading_patterns() -> Mapping[str, tuple[int, ...]]:
    """Every loading pattern by name: each week's volume in percent of the block's peak week."""
    problems: list[str] = []
    row = Row("loading.toml", "", read(DATA / "loading.toml"), problems).row("patterns")
    found = {}
    for name, weeks in row.values.items():
        if not isinstance(weeks, list) or any(type(w) is not int or not 0 < w <= 150 for w in weeks):
            row.wrong(name, weeks, "percents from 1 to 150", "a bracket is missing.")
            continue
        found[name] = tuple(weeks)
    finish(problems)
    return MappingProxyType(found)


def loading_pattern(name: str) -> tuple[int, ...]:
    """Percent of the block's peak week, week by week; CatalogueError names the patterns there are."""
    found = loading_patterns().get(name)
    if found is None:
        needed = "one of " + ", ".join(loading_patterns())
        raise CatalogueError([problem("loading.toml", "pattern", name, needed, "you mean 3:1.")])
    return found


@cache
def default_pattern(level: Level, phase: str) -> str:
    """The name of the pattern a level takes in a phase unless the coach names another ('' for none)."""
    problems: list[str] = []
    file = Row("loading.toml", "", read(DATA / "loading.toml"), problems)
    name = file.row("default").row(level).text(phase, "", ("", *loading_patterns()))
    finish(problems)
    return name


@cache
def _taper_rows() -> Mapping[str, Taper]:
    problems: list[str] = []
    file = Row("taper.toml", "", read(DATA / "taper.toml"), problems)
    floors = {u: file.row("floors").row(u).whole("main", 0, 60) for u in file.values.get("floors", {})}
    floors_400 = {**floors, **file.numbers("floors-400", 0, 60)}
    found = {}
    for name in ("novice", "long jump", "triple jump", "sprint", "400 m", "combined events"):
        row = file.row(name)
        found[name] = Taper(
            days=row.pair("days", 1, 60),
            week_minus_2=row.pair("week-2", 1, 100),
            week_minus_1=row.pair("week-1", 1, 100),
            last_three_days=row.pair("last-three-days", 1, 100),
            fast_touches=row.pair("fast-touches", 0, 7),
            last=row.numbers("last", 0, 60),
            floors=floors_400 if name == "400 m" else floors,
        )
        row.done()
    finish(problems)
    return MappingProxyType(found)


def _halfway(a: Range, b: Range) -> Range:
    return ((a[0] + b[0] + 1) // 2, (a[1] + b[1] + 1) // 2)


@cache
def taper(event_type: str, level: Level) -> Taper:
    """The taper of an event before a main competition; developing athletes lie halfway to the novice.

    Source: Bosquet, Montpetit, Arvisais, Mujika 2007, Medicine and Science in Sports and Exercise
    39:1358-1365 for the shape; lengths, percents by event and dates common practice, no source.
    """
    rows = _taper_rows()
    if event_type not in rows or event_type == "novice":
        needed = "one of " + ", ".join(n for n in rows if n != "novice")
        raise CatalogueError([problem("taper.toml", "event", event_type, needed, "use event_type().")])
    own, novice = rows[event_type], rows["novice"]
    if level == "advanced":
        return own
    if level == "novice":
        return Taper(
            novice.days,
            novice.week_minus_2,
            novice.week_minus_1,
            novice.last_three_days,
            novice.fast_touches,
            {},
            own.floors,
        )
    return Taper(
        days=_halfway(own.days, novice.days),
        week_minus_2=_halfway(own.week_minus_2, novice.week_minus_2),
        week_minus_1=_halfway(own.week_minus_1, novice.week_minus_1),
        last_three_days=_halfway(own.last_three_days, novice.last_three_days),
        fast_touches=_halfway(own.fast_touches, novice.fast_touches),
        last=own.last,
        floors=own.floors,
    )


@cache
def easing(kind: str = "supporting") -> Easing:
    """The easing before a supporting competition, or ('short') the taper of someone who trained little."""
    problems: list[str] = []
    row = Row("taper.toml", "", read(DATA / "taper.toml"), problems).row(kind)
    found = Easing(row.pair("days", 1, 60), row.pair("less", 0, 100))
    finish(problems)
    return found


@cache
def _taper_file() -> Mapping[str, object]:
    """The file of tapers and last dates, read once."""
    return read(DATA / "taper.toml")


@cache
def last_date_floor(unit: str, importance: str, event_type: str = "") -> int:
    """Least days between a unit and a competition of that importance; 0 when there is no floor."""
    problems: list[str] = []
    file = Row("taper.toml", "", _taper_file(), problems)
    of_unit = file.row("floors").values.get(unit, {})
    floor = Row("taper.toml", f"floors.{unit}.", of_unit, problems).whole(importance, 0, 60, default=0)
    if importance == "main" and event_type == "400 m":
        floor = file.numbers("floors-400", 0, 60).get(unit, floor)
    finish(problems)
    return floor


@cache
def _competition() -> tuple[Demand, Mapping[str, Range], Mapping[str, int], Mapping[str, Range]]:
    problems: list[str] = []
    file = Row("competition.toml", "", read(DATA / "competition.toml"), problems)
    row = file.row("demand")
    loads: Mapping[str, int] = row.numbers("loads", 0, 3, REGIONS, need=True)
    demand = Demand(
        neural=row.whole("neural", 0, 3),
        metabolic=row.whole("metabolic", 0, 3),
        loads={r: loads.get(r, 0) for r in REGIONS},
        effort=row.pair("effort", 0, 10),
        minutes=row.pair("minutes", 0, 600),
    )
    hours = {k: file.row("hours").pair(k, 0, 240) for k in file.values.get("hours", {})}
    numbers = {
        **file.numbers("combined-events", 0, 240, need=True),
        **file.numbers("trip", 0, 48, need=True),
        **file.numbers("weekends", 1, 52, need=True),
    }
    density = {k: file.row("density").pair(k, 1, 99) for k in file.values.get("density", {})}
    file.done()
    finish(problems)
    return demand, MappingProxyType(hours), MappingProxyType(numbers), MappingProxyType(density)


def competition_demand() -> Demand:
    """What a competition day asks of a body. Source: common practice, no source."""
    return _competition()[0]


def hours_after_competition(event: str) -> Range:
    """Hours from the start of a competition to the next fast unit: (least, preferred)."""
    hours = _competition()[1]
    plain = " ".join(event.lower().split())
    if "hurdles" in plain:
        plain = "hurdles"
    elif plain in ("shot put", "discus", "javelin", "hammer"):
        plain = "throws"
    elif plain.endswith("athlon"):
        plain = "combined events"
    return hours.get(plain, hours["other"])


def hours_to_neural_2_after_combined_events() -> int:
    """Hours from the start of combined events to the first unit with neural 2."""
    return _competition()[2]["hours-to-neural-2"]


def hours_after_long_trip() -> int:
    """Hours added after a long trip home."""
    return _competition()[2]["long-trip-hours"]


def competitions_close_together(kind: str) -> Range | None:
    """(most competitions, in so many days) of a kind of event; None where no figure is laid down.

    Kinds are long jump, triple jump, sprint, 400 m and combined events; sprints count days of competition, the
    others competitions. Common practice, no source.
    """
    return _competition()[3].get(kind)


def weekends_running() -> int:
    """Weekends with a competition before one without. Common practice, no source."""
    return _competition()[2]["weekends-running"]
