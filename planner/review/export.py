"""A plan for other programs: one JSON document, and the plan table that `review` reads."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from planner.domain.dosing import dose_of
from planner.domain.finding import TIERS, Finding, Line
from planner.domain.plan import Outcome, Placement, Plan
from planner.domain.problem import Problem
from planner.domain.record import fact_record, inputs_hash, line_record
from planner.domain.revision import Revision
from planner.domain.units import SIDES
from planner.review.amounts import AmountError, read_figure
from planner.review.cells import escape_cell
from planner.review.exceptions import Price, prices
from planner.review.table import NEEDED, OPTIONAL, place_name, week_doses

SCHEMA_VERSION = 1  # goes up when a field changes its meaning or is taken away; new fields leave it

Document = dict[str, Any]


def plan_json(
    problem: Problem,
    outcome: Outcome,
    revision: Revision,
    *,
    lines: Callable[[Placement], Sequence[str]] | None = None,
    sentence: Callable[[Finding], str] | None = None,
) -> Document:
    """Everything about a reviewed plan as plain data, in fixed order: the same plan, the same document.

    `lines` gives the lines to train by of a placement (default: the catalogue's own), `sentence` what a
    rule says of a finding (left out when not given). Amounts are whole numbers of the unit named beside
    them; minutes are after the warm-up; load is effort (0-10) x minutes; neural, metabolic and region
    loads are 0-3. The hash is the revision's, or the block's own when the revision has none.
    """
    block = problem.block
    plan = outcome.plan
    groups = group_names(plan.placements)
    return {
        "schema_version": SCHEMA_VERSION,
        "revision": {
            "number": revision.number,
            "made_at": revision.made_at.isoformat(),
            "reason": revision.reason,
            "status": revision.status,
            "replaces": revision.replaces,
            "program": revision.program,
        },
        "block": {
            "name": block.name,
            "squad": block.squad,
            "kind": block.kind,
            "begins": block.begins.isoformat(),
            "ends": block.ends.isoformat(),
            "time_zone": block.time_zone,
        },
        "status": _status(plan),
        "random_seed": plan.random_seed,
        "budget": plan.budget,
        "placements": [
            _placement(p, groups.get(p.key, ""), (lines or lines_to_train_by)(p)) for p in plan.placements
        ],
        "score": {
            tier: dict(sorted(outcome.score[tier].items())) for tier in TIERS if tier in outcome.score
        },
        "findings": [_finding(f, sentence) for f in outcome.findings],
        "not_judged": list(outcome.not_judged),
        "cannot_be_had": list(outcome.remarks),
        "exceptions": [_exception(price) for price in prices(plan, problem)],
        "inputs_hash": revision.inputs_hash or inputs_hash(block),
    }


def _exception(price: Price) -> dict[str, Any]:
    s = price.setting
    return {
        "rule": s.rule,
        "parameter": s.parameter,
        "value": s.value,
        "athlete": s.athlete,
        "begins": _iso(s.begins),
        "ends": _iso(s.ends),
        "reason": s.reason,
        "line": _line(s.line),
        "bites": price.bites,
        "amount": price.amount,
        "costs": list(price.said),
    }


def plan_csv(problem: Problem, plan: Plan) -> str:
    """The plan as a table that `review` reads back to the same plan.

    Amounts are 'full' and 'lighter' where they are the week's, else figures with their unit. Any cell a
    spreadsheet might run as a formula carries an apostrophe before it.
    """
    groups = group_names(plan.placements)
    rows = [
        {
            "athlete": p.athlete,
            "date": p.day.isoformat(),
            "slot": p.slot,
            "unit": p.unit.id,
            "amount": _amount_text(problem, p),
            "order": str(order),
            "place": _place_text(problem, p),
            "coach": p.coach,
            "group": groups.get(p.key, ""),
        }
        for p, order in _with_order(plan.placements)
    ]
    cells = [{column: escape_cell(text) for column, text in row.items()} for row in rows]
    # A lone carriage return inside a cell is not quoted by itself, and would end the row when read back.
    odd = any("\r" in text for row in cells for text in row.values())
    written = io.StringIO()
    writer = csv.DictWriter(
        written,
        (*NEEDED, *OPTIONAL),
        lineterminator="\n",
        quoting=csv.QUOTE_ALL if odd else csv.QUOTE_MINIMAL,
    )
    writer.writeheader()
    writer.writerows(cells)
    return written.getvalue()


def group_names(placements: Iterable[Placement]) -> dict[tuple[object, ...], str]:
    """Placement key -> 'group 1', 'group 2' ... for those who do the same unit together in a slot.

    Numbered inside the slot by unit, then by names. Whoever trains alone has none.
    """
    slots: dict[tuple[date, str], dict[tuple[str, tuple[str, ...]], list[Placement]]] = {}
    for p in placements:
        if p.partners:
            together = tuple(sorted({p.athlete, *p.partners}))
            slots.setdefault((p.day, p.slot), {}).setdefault((p.unit.id, together), []).append(p)
    return {
        p.key: f"group {number}"
        for found in slots.values()
        for number, key in enumerate(sorted(found), start=1)
        for p in found[key]
    }


def lines_to_train_by(placement: Placement) -> tuple[str, ...]:
    """What the catalogue says of a unit at this amount: how it is cut up, target, recovery, stop, lighter."""
    unit, dose = placement.unit, placement.dose
    drills = tuple(f"before it: {amount} {measure} {name}" for name, amount, measure in dose.preparation)
    said = (
        ("", dose.note),
        ("target: ", unit.target),
        ("recovery: ", unit.recovery),
        ("shoes: ", unit.shoes),
        ("stop: ", unit.stop_rule),
        ("lighter: ", unit.lighter_text),
    )
    return (*drills, *(head + text for head, text in said if text))


def _status(plan: Plan) -> Document:
    tiers = {
        tier: {"value": s.value, "bound": s.bound, "gap": s.gap, "proved": s.proved}
        for tier in TIERS
        if (s := plan.status.get(tier)) is not None
    }
    word = "proved" if plan.proved else "best found"
    return {"word": word, "tiers": tiers, "stopped_early": plan.stopped_early}


def _placement(p: Placement, group: str, lines: Sequence[str]) -> Document:
    dose = p.dose
    loads: dict[str, dict[str, int]] = {}
    for (region, side), load in sorted(dose.loads.items()):
        loads.setdefault(region, {})[side] = load
    return {
        "athlete": p.athlete,
        "date": p.day.isoformat(),
        "slot": p.slot,
        "unit": p.unit.id,
        "unit_name": p.name,
        "family": p.unit.family,
        "amount_word": dose.word,
        "amount": {"figure": dose.amount, "unit": dose.measure},
        "amounts": {counter: n for counter, n in sorted(dose.counters.items()) if n},
        "take_offs_by_leg": {side: dose.take_offs.get(side, 0) for side in SIDES},
        "preparation": [{"unit": u, "figure": n, "unit_of_measure": m} for u, n, m in dose.preparation],
        "preparation_minutes": dose.preparation_minutes,
        "minutes": dose.minutes,
        "start": (p.starts or p.begins).isoformat(timespec="minutes"),
        "effort": dose.effort,
        "load": dose.load,
        "neural": dose.neural,
        "metabolic": dose.metabolic,
        "region_loads": loads,
        "place": p.place,
        "venue": p.venue,
        "coach": p.coach,
        "group": group,
        "partners": list(p.partners),
        "importance": p.importance,
        "fixed": p.fixed,
        "lines": list(lines),
    }


def _finding(f: Finding, sentence: Callable[[Finding], str] | None) -> Document:
    made: Document = {
        "rule": f.rule,
        "tier": f.tier,
        "amount": f.amount,
        "athlete": f.athlete,
        "date": _iso(f.day),
        "slot": f.slot,
        "facts": {str(k): _fact(v) for k, v in f.facts.items()},
        "line": _line(f.line),
    }
    return {**made, "sentence": sentence(f)} if sentence else made


def _fact(value: object) -> object:
    """A fact without the tags that the ledger needs to read it back: a date is its ISO form."""
    if isinstance(value, tuple | list):
        return [_fact(v) for v in value]
    if isinstance(value, Mapping):
        return {str(_fact(k)): _fact(v) for k, v in value.items()}
    plain = fact_record(value)
    return next(iter(plain.values())) if isinstance(plain, dict) else plain


def _line(line: Line | None) -> Document | None:
    return None if line is None or line == Line() else line_record(line)


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def _with_order(placements: Iterable[Placement]) -> list[tuple[Placement, int]]:
    """Placements by date, slot start, athlete; each with its position in its session."""
    in_order = sorted(placements, key=lambda p: (p.starts or p.begins, p.unit.order, p.unit.id))
    counted: dict[tuple[str, date, str], int] = {}
    numbered: list[tuple[Placement, int]] = []
    for p in in_order:
        session = (p.athlete, p.day, p.slot)
        counted[session] = counted.get(session, 0) + 1
        numbered.append((p, counted[session]))
    return sorted(numbered, key=lambda pn: (pn[0].day, pn[0].athlete, pn[0].begins, pn[0].slot, pn[1]))


def _amount_text(problem: Problem, p: Placement) -> str:
    full, lighter = week_doses(problem, p.athlete, p.day, p.unit)
    usual = full if p.dose.word == "full" else lighter
    if p.dose == usual:
        return p.dose.word
    plain = f"{p.dose.amount} {p.dose.measure}"
    for text in (p.dose.note, plain):  # '3x3@85 %' as a person wrote it, where it says the same
        try:
            if dose_of(read_figure(text, p.unit), p.unit, full, lighter) == p.dose:
                return text
        except AmountError:
            continue
    return plain


def _place_text(problem: Problem, p: Placement) -> str:
    """The place's name; with its venue where the name alone is open at two venues in the slot."""
    venues = {o.place.venue for o in problem.openings_in(p.day, p.slot) if o.place.name == p.place}
    return place_name(p.venue, p.place) if p.place and len(venues) > 1 else p.place
