"""Reading one fact from the command line: a kind, then key=value for each of its fields."""

from __future__ import annotations

import dataclasses
import difflib
import types
import typing
from datetime import date, datetime
from typing import Any, get_args, get_origin

from planner.cli.pit_words import ATTEMPTS, RUNS, attempt, run_through
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.errors import Told
from planner.domain.facts import FACTS, Fact

HIDDEN = ("recorded_at", "id")
NOT_TOLD = ("forgotten", "undone")  # the first is never told; undoing has its own short form
YES, NO = ("yes", "true", "1"), ("no", "false", "0")
EXAMPLES = {date: "2027-03-28", datetime: "'2027-03-28 09:00'", int: "4", bool: "yes", str: "'some words'"}


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
        if f.name not in HIDDEN and f.name != "counters":
            needed = f.default is dataclasses.MISSING and f.default_factory is dataclasses.MISSING
            found[f.name] = (_plain(hints[f.name]), needed)
    return found


def usage(kind: str) -> str:
    """'ill athlete=... begins=2027-03-28 [ends=2027-03-28] [fever=yes]'."""
    words = [kind]
    for name, (wanted, needed) in columns(kinds()[kind]).items():
        text = f"{name}={_example(wanted)}"
        words.append(text if needed else f"[{text}]")
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
            values[key] = _read(text.strip(), wanted[key][0])
        except ValueError as error:
            wrong.append(f"{key}: found '{text}', needed {error}")
    wrong += [f"{key} is missing" for key, (_, needed) in wanted.items() if needed and key not in values]
    if wrong:
        raise BadWords("log: " + "\nlog: ".join(wrong) + f"\nMaybe: {usage(name)}")
    return known[name](recorded_at=now, **values)


def _plain(hint: Any) -> Any:
    """The type without None: int for int | None."""
    if get_origin(hint) in (types.UnionType, typing.Union):
        return next(a for a in get_args(hint) if a is not type(None))
    return hint


def _example(wanted: Any) -> str:
    if get_origin(wanted) is typing.Literal:
        return "|".join(str(a).replace(" ", "-") for a in get_args(wanted))
    if get_origin(wanted) is tuple:
        return {Attempt: f"'{ATTEMPTS}'", RunThrough: f"'{RUNS}'"}.get(get_args(wanted)[0], "'A;B'")
    return EXAMPLES.get(wanted, "...")


def _read(text: str, wanted: Any) -> Any:
    """A value of the wanted type; ValueError says what is needed."""
    if get_origin(wanted) is typing.Literal:
        for choice in get_args(wanted):
            if str(choice).replace(" ", "-") == text.replace(" ", "-"):
                return choice
        raise ValueError("one of " + ", ".join(str(a) for a in get_args(wanted)))
    if get_origin(wanted) is tuple:
        parts = [p.strip() for p in text.split(";") if p.strip()]
        one = {Attempt: attempt, RunThrough: run_through}.get(get_args(wanted)[0])
        return tuple(parts) if one is None else tuple(map(one, parts))
    if wanted is bool:
        if text.lower() in (*YES, *NO):
            return text.lower() in YES
        raise ValueError("yes or no")
    if wanted is int:
        try:
            return int(text)
        except ValueError:
            raise ValueError("a whole number") from None
    if wanted in (date, datetime):
        return _moment(text, wanted)
    return text


def _moment(text: str, wanted: Any) -> Any:
    try:
        return date.fromisoformat(text) if wanted is date else datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("a date like 2027-03-28" + (" 09:00" if wanted is datetime else "")) from None
