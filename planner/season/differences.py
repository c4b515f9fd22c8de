"""Where the coach's file and what was recorded since say different things. For the coach only."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from planner.domain.block import Athlete, Away, Block, Competition, Limit, Opening, Presence, Weather
from planner.domain.facts import Fact, in_force
from planner.domain.own_shoes import AtThePit, own_shoes, reads_mark
from planner.season.facts import apply_facts

Row = TypeVar("Row")


@dataclass(frozen=True)
class _Words(Generic[Row]):
    """What a row of a table is about, and what it says."""

    key: Callable[[Row], tuple[str, ...]]
    said: Callable[[Row], str]


def differences(block: Block, facts: Iterable[Fact]) -> list[str]:
    """Where the file and what was recorded since say different things; one sentence each, for the coach."""
    told = in_force(tuple(facts))
    if not told:
        return []
    after = apply_facts(block, told, told[-1].recorded_at)
    return [
        *_compared(block.athletes, after.athletes, _Words(lambda a: (a.name,), _leg_words)),
        *_compared(block.limits, after.limits, _Words(lambda x: (x.athlete, x.region), _limit_words)),
        *_compared(block.away, after.away, _Words(lambda a: (a.athlete, a.kind), _away_words)),
        *_compared(block.competitions, after.competitions, _Words(_which_meet, _meet_words)),
        *_of_places(block.openings, after.openings),
        *_compared(block.presences, after.presences, _Words(lambda p: (p.name, str(p.day)), _there_words)),
        *_compared(block.weather, after.weather, _Words(lambda w: ("weather", str(w.day)), _weather_words)),
        *_of_no_shoe(block, told),
    ]


def _compared(before: Sequence[Row], now: Sequence[Row], words: _Words[Row]) -> list[str]:
    rows: dict[tuple[str, ...], tuple[list[str], list[str]]] = {}
    for i, table in enumerate((before, now)):
        for row in table:
            rows.setdefault(words.key(row), ([], []))[i].append(words.said(row))
    return [_sentence(k, _listed(a), _listed(b)) for k, (a, b) in rows.items() if sorted(a) != sorted(b)]


def _of_places(before: Sequence[Opening], now: Sequence[Opening]) -> list[str]:
    """Openings, places of one venue and day of which the same is said told together: 'stadium, all places'."""
    rows: dict[tuple[str, ...], tuple[list[str], list[str]]] = {}
    for i, table in enumerate((before, now)):
        for o in table:
            rows.setdefault(_where_open(o), ([], []))[i].append(_open_words(o))
    alike: dict[tuple[str, str, str, str], list[str]] = {}
    for (venue, place, day), (a, b) in rows.items():
        if sorted(a) != sorted(b):
            alike.setdefault((venue, day, _listed(a), _listed(b)), []).append(place)
    found = []
    for (venue, day, was, is_now), places in alike.items():
        every = {place for v, place, on in rows if (v, on) == (venue, day)}
        named = "all places" if len(places) > 1 and set(places) == every else ", ".join(places)
        found.append(_sentence((venue, named, day), was, is_now))
    return found


def _sentence(key: Iterable[str], was: str, now: str) -> str:
    said = f"the file says {was}, recorded since: {now}."
    return f"{', '.join(key)}: {said} Maybe bring the file up to date."


def _listed(rows: list[str]) -> str:
    return "; ".join(sorted(rows)) or "nothing"


def _of_no_shoe(block: Block, facts: Sequence[Fact]) -> list[str]:
    """What was recorded without a shoe by somebody of whom the file knows several: which it counts for."""
    found = []
    for f in facts:
        if not isinstance(f, AtThePit) or f.worn.said or not reads_mark(f):
            continue
        own = own_shoes(f.athlete, block.run_ups)
        if len(own) > 1:
            found.append(
                f"{f.athlete}, {f.kind} of {f.day}: the file knows {len(own)} shoes, recorded with none: it "
                f"counts for {own[0]}, the first. Maybe undo fact {f.id} and record it with shoe='{own[1].label}'."
            )
    return found


def _until(first: date | None, last: date | None) -> str:
    return f"from {first or 'the first day'} " + (f"until {last}" if last else "on")


def _leg_words(a: Athlete) -> str:
    return f"take-off leg {a.take_off_leg}"


def _limit_words(x: Limit) -> str:
    word = f"{x.side}, return stage {x.stage}"
    if x.hold_back:
        word = "lighter only" if x.lighter_only else "held back"
    return f"{word} {_until(x.begins, x.ends)}"


def _away_words(a: Away) -> str:
    return f"from {a.begins:%Y-%m-%d %H:%M} until {a.ends:%Y-%m-%d %H:%M}"


def _which_meet(c: Competition) -> tuple[str, ...]:
    return c.name, c.athlete


def _meet_words(c: Competition) -> str:
    days = str(c.first_day) if c.first_day == c.last_day else f"{c.first_day} to {c.last_day}"
    return f"{c.importance} competition on {days}"


def _where_open(o: Opening) -> tuple[str, ...]:
    return o.place.venue, o.place.name, str(o.day)


def _open_words(o: Opening) -> str:
    return f"{o.slot} {o.begins:%H:%M}-{o.ends:%H:%M}"


def _there_words(p: Presence) -> str:
    return f"{p.slot}, {p.minutes} minutes"


def _weather_words(w: Weather) -> str:
    parts = [w.slot or "all day"]
    parts += [f"{w.wbgt / 10:.1f} °C WBGT"] if w.wbgt is not None else []
    parts += [f"{w.air / 10:.1f} °C in the shade"] if w.air is not None else []
    parts += ["rain"] if w.rain else []
    parts += [f"wind {w.wind / 10:.1f} m/s {w.wind_from}".rstrip()] if w.wind is not None else []
    return ", ".join(parts)
