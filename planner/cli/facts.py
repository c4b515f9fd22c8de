"""Reading one fact from the command line: a kind, then key=value for each of its fields."""

from __future__ import annotations

import dataclasses
import difflib
import types
import typing
from collections.abc import Mapping
from datetime import date, datetime, time
from typing import Any, get_args, get_origin

from planner.cli.pit_words import ATTEMPTS, FELT, RUNS, attempts, length, run_through, tenths
from planner.cli.with_units import figure
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.errors import Told
from planner.domain.facts import FACTS, Fact
from planner.domain.own_shoes import AtThePit
from planner.domain.shoe import shoe_of

HIDDEN = ("recorded_at", "id", "shoe_name")  # a shoe is typed in one: name, length or both
SHOE = "shoe"
LAST_MINUTE = time(23, 59)  # the block file reads a date without a clock time the same way
NOT_TOLD = ("forgotten", "undone")  # the first is never told; undoing has its own short form
YES, NO = ("yes", "true", "1"), ("no", "false", "0")
EXAMPLES = {date: "2027-03-28", datetime: "'2027-03-28 09:00'", int: "4", bool: "yes", str: "'some words'"}
CLOSES = "'2027-03-28 21:00'"
OF_FIELDS = {  # where the type alone does not say what is meant
    "athlete": "'Ada Norrby'", "athletes": "'Ada Norrby;Bea Holm'", "entered_by": "'the physio'",
    "slot": "evening", "unit": "flying-sprints", "region": "hamstring", "side": "left", "venue": "stadium",
    "place": "pit", "place_kind": "pit", "wind_from": "SW", "event": "'long jump'", "events": "'long jump;100 m'",
    "name": "'Club match'", "competition": "'Club match'", "importance": "main|supporting|train-through",
    "test": "'hops without pain'", "cue": "'tall last step'", "stage": "0-6", "effort": "0-10", "minutes": "20",
    "amount": "120", "steps": "16", "start_mark": "'30.40 m'", "coach_mark": "'7.80 m'",
    "shoe": "'spikes 26.2 cm'",
    "target": "'5.60 m'", "wind": "1.2", "air": "6", "wbgt": "28.5",
    "cue_after": "2", "rank": "2", "jumps_per_hour": "40",
}  # fmt: skip
OF_KINDS = {
    ("person-away", "name"): "'Coach Brill'",
    **{(kind, "ends"): CLOSES for kind in ("person-away", "venue-closed", "venue-opened")},
}
LENGTHS = ("start_mark", "coach_mark", "target")  # centimetres inside, typed in metres or with their unit
ALWAYS = ("entered_by",)  # no fact of the body is taken without it


class BadWords(Told):
    """The words after a kind do not make a fact."""


def kinds() -> dict[str, type[Fact]]:
    """Kind as it is typed (hyphens) -> type."""
    return {kind.replace(" ", "-"): t for kind, t in FACTS.items() if kind not in NOT_TOLD}


def columns(kind: type[Fact]) -> dict[str, tuple[Any, bool]]:
    """Field -> its type, and whether it must be given."""
    hints = typing.get_type_hints(kind)
    found = {}
    for f in dataclasses.fields(kind):
        if f.name not in HIDDEN:
            needed = f.default is dataclasses.MISSING and f.default_factory is dataclasses.MISSING
            found[f.name] = (_plain(hints[f.name]), needed)
    return found


def usage(kind: str) -> str:
    """'ill athlete=... begins=2027-03-28 [ends=2027-03-28] [fever=yes]'."""
    words = [kind]
    for name, (wanted, needed) in columns(kinds()[kind]).items():
        text = f"{name}={OF_KINDS.get((kind, name)) or OF_FIELDS.get(name) or _example(wanted)}"
        words.append(text if needed or name in ALWAYS else f"[{text}]")
    return " ".join(words)


def fact_from(kind: str, words: list[str], now: datetime) -> Fact:
    """The fact of these words, recorded at `now`; BadWords names everything that is wrong with them."""
    known = kinds()
    name = kind.strip().lower().replace("_", "-").replace(" ", "-")
    if name not in known:
        near = difflib.get_close_matches(name, known, 1, 0.4)
        maybe = f"Maybe you mean {near[0]}." if near else f"Maybe one of: {', '.join(known)}."
        raise BadWords(f"log: found the kind '{kind}', needed a kind of fact.\n{maybe}")
    wanted = columns(known[name])
    values: dict[str, Any] = {}
    wrong: list[str] = []
    for word in words:
        key, eq, text = word.partition("=")
        key = key.strip().replace("-", "_")
        if not eq or key not in wanted:
            wrong.append(f"found '{word}', needed one of {', '.join(f'{w}=...' for w in wanted)}")
            continue
        try:
            values |= _values(key, text.strip(), wanted[key][0])
        except ValueError as error:
            wrong.append(f"{key}: found '{text}', needed {error}")
    wrong += [f"{key} is missing" for key, (_, needed) in wanted.items() if needed and key not in values]
    if wrong:
        raise BadWords("log: " + "\nlog: ".join(wrong) + f"\nMaybe: {usage(name)}")
    return known[name](recorded_at=now, **values)


def _values(key: str, text: str, wanted: Any) -> dict[str, Any]:
    """The fields a word stands for; ValueError says what is needed."""
    if key == SHOE:
        shoe = shoe_of(f"{text} mm" if text.isdigit() else text)
        return {"shoe": shoe.length, "shoe_name": shoe.name}
    if key in FELT:
        return {key: tenths(text, key)}
    return {key: length(text) if key in LENGTHS else _read(text, wanted, last=key == "ends")}


def told(fact: Fact) -> str:
    """What was recorded, to be read over: 'ill, athlete Ada Norrby, begins 2027-03-28'."""
    said = [fact.kind]
    for field in dataclasses.fields(fact):
        value = getattr(fact, field.name)
        if field.name == SHOE and isinstance(fact, AtThePit) and fact.worn.said:
            value = str(fact.worn)
        elif field.name in HIDDEN or value == field.default or (isinstance(value, tuple) and not value):
            continue
        if isinstance(value, tuple) and not isinstance(value[0], str):
            value = f"{len(value)}"
        elif isinstance(value, tuple):
            value = "; ".join(value)
        elif isinstance(value, Mapping):
            value = "; ".join(f"{k} {v}" for k, v in value.items())
        elif isinstance(value, datetime):
            value = f"{value:%Y-%m-%d %H:%M}"
        said.append(f"{field.name.replace('_', ' ')} {'yes' if value is True else figure(field.name, value)}")
    return ", ".join(said)


def _plain(hint: Any) -> Any:
    """The type without None: int for int | None."""
    if get_origin(hint) in (types.UnionType, typing.Union):
        return next(a for a in get_args(hint) if a is not type(None))
    return hint


def _example(wanted: Any) -> str:
    if get_origin(wanted) is typing.Literal:
        return "|".join(str(a).replace(" ", "-") for a in get_args(wanted))
    if get_origin(wanted) is Mapping:
        return "'take-offs 12; low-contacts 30'"
    if get_origin(wanted) is tuple:
        return {Attempt: f"'{ATTEMPTS}'", RunThrough: f"'{RUNS}'"}.get(get_args(wanted)[0], "'A;B'")
    return EXAMPLES.get(wanted, "...")


def _read(text: str, wanted: Any, *, last: bool = False) -> Any:
    """A value of the wanted type, `last` the end of a stretch; ValueError says what is needed."""
    if get_origin(wanted) is typing.Literal:
        for choice in get_args(wanted):
            if str(choice).replace(" ", "-") == text.replace(" ", "-"):
                return choice
        raise ValueError("one of " + ", ".join(str(a) for a in get_args(wanted)))
    if get_origin(wanted) is tuple:
        parts = [p.strip() for p in text.split(";") if p.strip()]
        return _several(get_args(wanted)[0], parts)
    if get_origin(wanted) is Mapping:
        return dict(_counter(p) for p in text.split(";") if p.strip())
    if wanted in (bool, int):
        return _yes(text) if wanted is bool else _whole(text)
    if wanted in (date, datetime):
        return _moment(text, wanted, last=last)
    return text


def _several(kind: Any, parts: list[str]) -> tuple[Any, ...]:
    if kind is Attempt:
        return attempts(parts)
    return tuple(map(run_through, parts)) if kind is RunThrough else tuple(parts)


def _yes(text: str) -> bool:
    if text.lower() in (*YES, *NO):
        return text.lower() in YES
    raise ValueError("yes or no")


def _whole(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        raise ValueError("a whole number") from None


def _counter(text: str) -> tuple[str, int]:
    """'take-offs 12', a name and a whole number."""
    name, _, number = text.strip().rpartition(" ")
    if not name or not number.isdigit():
        raise ValueError("amounts like 'take-offs 12; low-contacts 30'")
    return name.strip().replace(" ", "-"), int(number)


def _moment(text: str, wanted: Any, *, last: bool) -> Any:
    """A date, or a moment; a date alone stands for its first minute, at the end of a stretch for its last."""
    try:
        if wanted is date:
            return date.fromisoformat(text)
        if last and len(text) == len("2027-03-28"):
            return datetime.combine(date.fromisoformat(text), LAST_MINUTE)
        return datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("a date like 2027-03-28" + (" 09:00" if wanted is datetime else "")) from None
