"""Domain records as plain data and back: what the ledger keeps, the export prints and the hash is made from.

Plain data are what JSON knows: words, whole numbers, true/false, none, lists, and mappings by word. Keys
stand in a fixed order, so the same record always gives the same bytes.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from datetime import date, datetime, time
from typing import Any

from planner.domain.block import Block, RuleSetting
from planner.domain.elsewhere import UNKNOWN_LOAD
from planner.domain.finding import Finding, Line
from planner.domain.plain import RecordError, plain_fields, value_of
from planner.domain.plan import Placement
from planner.domain.units import Dose, Unit

Record = dict[str, Any]


class UnknownUnitError(RecordError):
    """A record names a unit that neither the catalogue nor the block's own units know."""


def canonical(record: object) -> str:
    """Plain data as JSON in one fixed spelling: keys sorted, no blanks, letters as they are."""
    return json.dumps(record, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


# --- amounts and placements --------------------------------------------------------------------------


def dose_record(dose: Dose) -> Record:
    """A dose as plain data; loads under 'region/side' in name order."""
    return {
        "word": dose.word,
        "amount": dose.amount,
        "measure": dose.measure,
        "neural": dose.neural,
        "metabolic": dose.metabolic,
        "minutes": dose.minutes,
        "effort": dose.effort,
        "loads": {f"{region}/{side}": v for (region, side), v in sorted(dose.loads.items())},
        "counters": dict(sorted(dose.counters.items())),
        "take_offs": dict(sorted(dose.take_offs.items())),
        "preparation": [list(p) for p in dose.preparation],
        "preparation_minutes": dose.preparation_minutes,
        "note": dose.note,
        "drill_take_offs": dict(sorted(dose.drill_take_offs.items())),
    }


_PLAIN_OF_DOSE = tuple(
    f.name
    for f in fields(Dose)
    if f.name not in ("loads", "preparation", "counters", "take_offs", "drill_take_offs")
)


def dose_from(record: Mapping[str, Any]) -> Dose:
    """The dose a record stands for; RecordError when a field is missing or malformed."""
    try:
        loads = {tuple(k.split("/", 1)): v for k, v in record["loads"].items()}
        preparation = tuple((unit, amount, measure) for unit, amount, measure in record["preparation"])
        return Dose(
            **{name: record[name] for name in _PLAIN_OF_DOSE},
            loads=loads,
            counters=dict(record["counters"]),
            take_offs=dict(record["take_offs"]),
            drill_take_offs=dict(record["drill_take_offs"]),
            preparation=preparation,
        )
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        raise RecordError(f"amount record: {error!r}; every field of an amount is needed") from error


def placement_record(p: Placement) -> Record:
    """A placement as plain data; the unit by its id, the dose whole."""
    return {
        "athlete": p.athlete,
        "day": p.day.isoformat(),
        "slot": p.slot,
        "unit": p.unit.id,
        "dose": dose_record(p.dose),
        "begins": p.begins.isoformat(),
        "place": p.place,
        "venue": p.venue,
        "importance": p.importance,
        "coach": p.coach,
        "partners": list(p.partners),
        "fixed": p.fixed,
        "starts": p.starts.isoformat() if p.starts else "",
    }


def placement_from(record: Mapping[str, Any], units: Mapping[str, Unit]) -> Placement:
    """The placement a record stands for.

    UnknownUnitError when its unit is not among `units`, RecordError when it is malformed.
    """
    name = str(record.get("unit"))
    unit = UNKNOWN_LOAD if name == UNKNOWN_LOAD.id else units.get(name)
    if unit is None:
        raise UnknownUnitError(
            f"unit '{record.get('unit')}' is neither in the catalogue nor among the block's own units; "
            "its definition is needed to read the plan."
        )
    try:
        return Placement(
            athlete=record["athlete"],
            day=date.fromisoformat(record["day"]),
            slot=record["slot"],
            unit=unit,
            dose=dose_from(record["dose"]),
            begins=datetime.fromisoformat(record["begins"]),
            place=record["place"],
            venue=record["venue"],
            importance=record["importance"],
            coach=record["coach"],
            partners=tuple(record["partners"]),
            fixed=record["fixed"],
            starts=datetime.fromisoformat(starts) if (starts := record.get("starts", "")) else None,
        )
    except (KeyError, TypeError, ValueError) as error:
        raise RecordError(f"placement record: {error!r}; every field of a placement is needed") from error


# --- findings and exceptions -------------------------------------------------------------------------

_TAGS: Mapping[str, Callable[[str], object]] = {
    "datetime": datetime.fromisoformat,
    "date": date.fromisoformat,
    "time": time.fromisoformat,
}


def fact_record(value: object) -> object:
    """A fact of a finding as plain data. Dates, times and tuples carry a tag and come back as they were.

    TypeError for anything else: facts are words, whole numbers and dates, never whole objects.
    """
    if value is None or isinstance(value, bool | int | str | float):
        return value
    for tag, kind in (("datetime", datetime), ("date", date), ("time", time)):  # a datetime is a date too
        if isinstance(value, kind):
            return {tag: value.isoformat()}
    if isinstance(value, tuple):
        return {"tuple": [fact_record(v) for v in value]}
    if isinstance(value, list):
        return [fact_record(v) for v in value]
    if isinstance(value, Mapping):
        return {"pairs": [[fact_record(k), fact_record(v)] for k, v in value.items()]}
    raise TypeError(f"a fact of kind {type(value).__name__}; words, numbers, dates, lists are needed")


def fact_from(record: object) -> object:
    """The fact a record stands for."""
    if isinstance(record, list):
        return [fact_from(v) for v in record]
    if isinstance(record, dict):
        ((tag, inner),) = record.items()
        if tag == "tuple":
            return tuple(fact_from(v) for v in inner)
        if tag == "pairs":
            return {fact_from(k): fact_from(v) for k, v in inner}
        return _TAGS[tag](inner)
    return record


def line_record(line: Line) -> Record:
    return {"file": line.file, "line": line.line, "column": line.column, "cell": line.cell, "key": line.key}


def finding_record(finding: Finding) -> Record:
    """A finding as plain data; TypeError when a rule put a whole object among the facts."""
    return {
        "rule": finding.rule,
        "tier": finding.tier,
        "amount": finding.amount,
        "athlete": finding.athlete,
        "day": finding.day and finding.day.isoformat(),
        "slot": finding.slot,
        "facts": {str(k): fact_record(v) for k, v in finding.facts.items()},
        "line": None if finding.line is None else line_record(finding.line),
    }


def finding_from(record: Mapping[str, Any]) -> Finding:
    """The finding a record stands for; RecordError when it is malformed."""
    try:
        return Finding(
            rule=record["rule"],
            tier=record["tier"],
            amount=record["amount"],
            athlete=record["athlete"],
            day=date.fromisoformat(record["day"]) if record["day"] else None,
            slot=record["slot"],
            facts={k: fact_from(v) for k, v in record["facts"].items()},
            line=None if record["line"] is None else Line(**record["line"]),
        )
    except (KeyError, TypeError, ValueError) as error:
        raise RecordError(f"finding record: {error!r}; every field of a finding is needed") from error


def setting_record(setting: RuleSetting) -> Record:
    """A rule setting (an exception, when it has a reason) as plain data."""
    return {
        "rule": setting.rule,
        "parameter": setting.parameter,
        "value": setting.value,
        "athlete": setting.athlete,
        "begins": setting.begins and setting.begins.isoformat(),
        "ends": setting.ends and setting.ends.isoformat(),
        "reason": setting.reason,
        "line": line_record(setting.line),
    }


def setting_from(record: Mapping[str, Any]) -> RuleSetting:
    """The rule setting a record stands for; RecordError when it is malformed."""
    try:
        plain = {f.name: record[f.name] for f in fields(RuleSetting)}
        for key in ("begins", "ends"):
            plain[key] = date.fromisoformat(plain[key]) if plain[key] else None
        return RuleSetting(**{**plain, "line": Line(**record["line"])})
    except (KeyError, TypeError, ValueError) as error:
        raise RecordError(f"exception record: {error!r}; every field of an exception is needed") from error


# --- the resolved inputs -----------------------------------------------------------------------------


def block_record(block: Block) -> Record:
    """The whole resolved block as plain data: every table, dates in ISO form, where each value stood."""
    return plain_fields(block)


def inputs_hash(block: Block) -> str:
    """SHA-256 (hexadecimal) of what the block says, in canonical JSON.

    Where a value stood and which defaults were assumed do not count: a comment added, a row moved down or
    the folder renamed leaves the hash as it was; only what was meant changes it.
    """
    meant = {k: v for k, v in plain_fields(block, lines=False).items() if k != "assumptions"}
    return hashlib.sha256(canonical(meant).encode("utf-8")).hexdigest()


def block_from(record: Mapping[str, Any]) -> Block:
    """The block a stored record stands for, own units included; RecordError when a field does not fit."""
    own = tuple(value_of(Unit, u, f"own_units[{i}]") for i, u in enumerate(record.get("own_units", ())))
    made: Block = value_of(Block, {k: v for k, v in record.items() if k != "own_units"})
    return replace(made, own_units=own)
