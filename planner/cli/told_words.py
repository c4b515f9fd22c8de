"""Recorded facts in lines for the coach's terminal: number, moment, what was told, and whether it still counts."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import MISSING, fields

from planner.cli.with_units import figure, of_the_pit
from planner.cli.words import WIDTH
from planner.domain.fact_record import recorded_fact
from planner.domain.facts import Fact, Undone, in_force
from planner.domain.own_shoes import AtThePit

BARE = ("athlete", "day", "name", "region", "side", "slot", "unit", "remark", "event")  # said without their key
HIDDEN = ("kind", "recorded_at")
INDENT = " " * 6


def fact_lines(facts: Sequence[Fact]) -> list[str]:
    """Every fact ever recorded, undoings included, by number; 80 columns wide."""
    counts = {f.id for f in in_force(tuple(facts))}
    lines: list[str] = []
    for fact in sorted(facts, key=lambda f: f.id):
        gone = "" if fact.id in counts or isinstance(fact, Undone) else "  (does not count)"
        text = f"{fact.id:>4}  {fact.recorded_at:%a %d %b %H:%M}  {fact.kind}: {_said(fact)}{gone}"
        lines += textwrap.wrap(text, WIDTH, subsequent_indent=INDENT)
    return lines


def fact_records(facts: Iterable[Fact]) -> list[dict[str, object]]:
    """The same for another program."""
    told = tuple(facts)
    counts = {f.id for f in in_force(told)}
    return [{"number": f.id, "counts": f.id in counts, **recorded_fact(f)} for f in told]


def _said(fact: Fact) -> str:
    """What was told: fields that say more than their default."""
    record = recorded_fact(fact)
    if isinstance(fact, AtThePit):
        record |= {"shoe": str(fact.worn) if fact.worn.said else "", "shoe_name": ""}  # one shoe, said as one
    plain = {f.name: f.default for f in fields(fact) if f.default is not MISSING}
    words = []
    for f in fields(fact):
        value = record.get(f.name)
        if f.name in HIDDEN or value in ("", None, [], {}) or value == plain.get(f.name, ()):
            continue
        shown = _shown(f.name, value)
        words.append(shown if f.name in BARE else f"{f.name.replace('_', ' ')} {shown}")
    return ", ".join(words) or "nothing else"


def _shown(name: str, value: object) -> str:
    if value is True:
        return "yes"
    if isinstance(value, dict):
        return "; ".join(f"{k} {v}" for k, v in value.items())
    if isinstance(value, list):
        return "; ".join(of_the_pit(v) if isinstance(v, dict) else str(v) for v in value)
    return figure(name, value)
