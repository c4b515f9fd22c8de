"""Facts as plain data, and what of a fact each audience may read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from typing import Any, get_args, get_type_hints

from planner.domain.facts import AUDIENCES, FACTS, Audience, Fact, people_of
from planner.domain.plain import RecordError, plain, plain_fields, value_of

ABOUT = ("athlete", "athletes")


def recorded_fact(fact: Fact) -> dict[str, Any]:
    """A fact as plain data, its kind beside its fields. The ledger's number stays with the ledger."""
    record = plain_fields(fact)
    del record["id"]
    return {"kind": fact.kind, **record}


def fact_of(record: Mapping[str, Any], number: int = 0) -> Fact:
    """The fact a record stands for; RecordError when its kind is unknown or a field does not fit."""
    kind = FACTS.get(str(record.get("kind")))
    if kind is None:
        raise RecordError(f"kind: found {record.get('kind')!r}; one of {', '.join(FACTS)} is needed")
    made: Fact = value_of(kind, {**{k: v for k, v in record.items() if k != "kind"}, "id": number})
    return made


def audiences(kind: type[Fact]) -> dict[str, Audience]:
    """The widest audience of every field of a kind of fact, by name."""
    hints = get_type_hints(kind, include_extras=True)
    return {f.name: get_args(hints[f.name])[1] for f in fields(kind)}


def may_read(reader: Audience, widest: Audience) -> bool:
    """Is a field for `widest` open to `reader`? The coach reads everything."""
    return AUDIENCES.index(reader) <= AUDIENCES.index(widest)


def seen_by(fact: Fact, reader: Audience, name: str = "") -> dict[str, Any]:
    """What a reader may know of a fact, as plain data; empty when they may not know of it at all.

    `name` is the athlete who reads: somebody else's fact is seen as the squad sees it. Where the kind itself
    is private, the others read who it is about and the shared word ('limited'), neither kind nor dates.
    """
    if reader == "athlete" and people_of(fact) and name not in people_of(fact):
        reader = "squad"
    open_fields = [n for n, widest in audiences(type(fact)).items() if may_read(reader, widest)]
    if may_read(reader, fact.kind_audience):
        return {"kind": fact.kind, **{n: plain(getattr(fact, n)) for n in open_fields}}
    if not fact.shared_word or reader == "outside":
        return {}
    return {"kind": fact.shared_word, **{n: plain(getattr(fact, n)) for n in open_fields if n in ABOUT}}
