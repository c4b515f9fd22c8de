"""Frozen records as plain data and back, guided by the records' own types.

Plain data are what JSON knows. Dates and clock times stand in ISO form, tuples as lists; keys of a mapping
are words. `value_of` is the way back: the type says what a plain value was.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime, time
from functools import cache, partial
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

PLAIN = (str, int, bool)
Reader = Callable[[Any, str], Any]  # plain data, and where they stand, to the value


class RecordError(ValueError):
    """A record that cannot be read back: it names what stands there and what is needed."""


def plain(value: object, *, lines: bool = True) -> Any:
    """A record, or anything in one, as plain data; `lines` False leaves out where a value stood.

    TypeError for anything that is no record, word, number, date, mapping, list or set.
    """
    if value is None or isinstance(value, bool | int | str | float):
        return value
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, Mapping):
        items = sorted(value.items(), key=lambda kv: _key(kv[0]))
        return {_key(k): plain(v, lines=lines) for k, v in items}
    if isinstance(value, tuple | list):
        return [plain(v, lines=lines) for v in value]
    if isinstance(value, set | frozenset):
        return sorted((plain(v, lines=lines) for v in value), key=repr)
    if is_dataclass(value):
        return plain_fields(value, lines=lines)
    raise TypeError(f"{type(value).__name__} in a record; records, words, numbers and dates are needed")


def plain_fields(record: object, *, lines: bool = True) -> dict[str, Any]:
    """The fields of a record as plain data, by name."""
    kept = (f.name for f in fields(record) if lines or f.name != "line")  # type: ignore[arg-type]
    return {name: plain(getattr(record, name), lines=lines) for name in sorted(kept)}


def _key(key: object) -> str:
    return "/".join(str(k) for k in key) if isinstance(key, tuple) else str(key)


def value_of(kind: Any, found: object, where: str = "") -> Any:
    """The value of a type that plain data stand for; RecordError names the field when they do not fit.

    A field that is absent takes the record's default: records written before the field existed stay readable.
    """
    return _reader(kind)(found, where)


@cache
def _reader(kind: Any) -> Reader:
    """How a value of a type is read. Looked up once a type: a ledger holds ten thousands of values."""
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        kinds = tuple(k for k in inner if k is not type(None))
        return partial(_one_of, kinds, len(kinds) < len(inner))
    if origin is tuple:
        return partial(_tuple, inner)
    if origin is Mapping:
        return partial(_mapping, inner)
    if origin is Literal:
        return partial(_word, inner)
    return partial(_record if is_dataclass(kind) else _single, kind)


def _one_of(kinds: tuple[Any, ...], or_none: bool, found: object, where: str) -> Any:
    if found is None and or_none:
        return None
    kind: Any = type(found) if type(found) in kinds else kinds[-1]
    return _reader(kind)(found, where)


def _word(words: tuple[Any, ...], found: object, where: str) -> Any:
    if found not in words:
        raise RecordError(f"{where}: found {found!r}; one of {', '.join(map(str, words))} is needed")
    return found


def _single(kind: Any, found: Any, where: str) -> Any:
    if kind in (date, datetime, time):
        try:
            return kind.fromisoformat(found)
        except (TypeError, ValueError) as error:
            raise RecordError(f"{where}: found {found!r}; a {kind.__name__} in ISO form is needed") from error
    if kind is not object and type(found) is not kind:
        raise RecordError(f"{where}: found {found!r}; a value of kind {kind.__name__} is needed")
    return found


def _tuple(inner: tuple[Any, ...], found: object, where: str) -> tuple[object, ...]:
    if not isinstance(found, list):
        raise RecordError(f"{where}: found {found!r}; a list is needed")
    if len(inner) == 2 and inner[1] is Ellipsis:
        return tuple(value_of(inner[0], v, f"{where}[{i}]") for i, v in enumerate(found))
    if len(found) != len(inner):
        raise RecordError(f"{where}: found {len(found)} values; {len(inner)} are needed")
    return tuple(value_of(k, v, f"{where}[{i}]") for i, (k, v) in enumerate(zip(inner, found, strict=True)))


def _mapping(inner: tuple[Any, ...], found: object, where: str) -> dict[object, object]:
    if not isinstance(found, dict):
        raise RecordError(f"{where}: found {found!r}; a mapping is needed")
    try:
        keys = {k: int(k) if inner[0] is int else value_of(inner[0], k, where) for k in found}
    except ValueError as error:
        raise RecordError(f"{where}: {error}; whole numbers are needed as keys") from error
    return {keys[k]: value_of(inner[1], v, f"{where}.{k}") for k, v in found.items()}


def _record(kind: Any, found: object, where: str) -> object:
    if not isinstance(found, dict):
        raise RecordError(f"{where or kind.__name__}: found {found!r}; a record is needed")
    readers, simple, needed = _shape(kind)
    odd, missing = found.keys() - readers.keys(), needed - found.keys()
    if odd or missing:
        place = where or kind.__name__
        raise RecordError(
            f"{place}: unknown {sorted(odd)}, missing {sorted(missing)}; just its own fields are needed"
        )
    before = f"{where}." if where else ""
    return kind(**{
        n: v if simple.get(n) is type(v) else readers[n](v, before + n) for n, v in found.items()
    })  # fmt: skip


@cache
def _shape(kind: Any) -> tuple[dict[str, Reader], dict[str, type], frozenset[str]]:
    """How a record's fields are read; those that are just a word or number; those that must be there."""
    own, hints = fields(kind), get_type_hints(kind)
    needed = (f.name for f in own if f.default is MISSING and f.default_factory is MISSING)
    simple = {f.name: hints[f.name] for f in own if hints[f.name] in PLAIN}
    return {f.name: _reader(hints[f.name]) for f in own}, simple, frozenset(needed)
