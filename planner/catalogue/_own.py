"""A coach's own unit, made from one of the catalogue and what the coach writes differently."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from planner.catalogue._read import CatalogueError, Row, finish
from planner.catalogue._units import LIMIT_REGIONS, PLACE_KINDS, units
from planner.domain.units import COUNTERS, FAMILIES, LEVELS, REGIONS, AmountRange, Demand, Level, Unit

LIGHTER_PERCENT = 85
COACHS_OWN = "the coach's own figures"
TEXTS = ("purpose", "measure", "stop_rule", "recovery", "target", "shoes", "limits_note")
WHOLES = {
    "increment": (1, 20_000), "eyes": (0, 2), "hours_neural": (0, 168), "hours_region": (0, 168),
    "least_age": (0, 99), "least_training_years": (0, 50), "lighter_share": (1, 100),
}  # fmt: skip


def _list_cell(value: Any) -> Any:
    """A workbook cell 'pit; grass' as the list it stands for."""
    return [part.strip() for part in value.split(";") if part.strip()] if isinstance(value, str) else value


def lighter_of(full: Demand) -> Demand:
    """The usual lighter row: neural, load and effort one less, 70 % of the minutes, heavy work one less.

    What is full effort begins at 85 % then, as the catalogue's own lighter rows do; common practice, no source.
    """
    return Demand(
        neural=max(0, full.neural - 1),
        metabolic=full.metabolic - 1 if full.metabolic >= 2 else full.metabolic,
        loads={r: max(0, full.loads[r] - 1) for r in REGIONS},
        effort=(max(1, full.effort[0] - 1), max(1, full.effort[1] - 1)),
        minutes=((full.minutes[0] * 7 + 5) // 10, (full.minutes[1] * 7 + 5) // 10),
        percent=min(full.percent, LIGHTER_PERCENT),
    )


def _demand(row: Row, base: Demand) -> Demand:
    def between(name: str, pair: tuple[int, int], most: int) -> tuple[int, int]:
        low = row.whole(f"{name}_low", 0, most, default=pair[0])
        high = row.whole(f"{name}_high", 0, most, default=max(low, pair[1]))
        if high < low:
            row.wrong(f"{name}_high", high, f"{low} or more", "low and high are swapped.")
        return (low, max(low, high))

    return Demand(
        neural=row.whole("neural", 0, 3, default=base.neural),
        metabolic=row.whole("metabolic", 0, 3, default=base.metabolic),
        loads={r: row.whole(r, 0, 3, default=base.loads[r]) for r in REGIONS},
        effort=between("effort", base.effort, 10),
        minutes=between("minutes", base.minutes, 300),
        percent=base.percent,
    )


def _amounts(row: Row, base: Unit) -> dict[Level, AmountRange]:
    found: dict[Level, AmountRange] = {}
    for level in LEVELS:
        old = base.amounts[level]
        low = row.whole(f"{level}_low", 0, 20_000, default=row.whole("amount_low", 0, 20_000, old.low))
        usual_high = row.whole("amount_high", 0, 20_000, max(low, old.high))
        high = row.whole(f"{level}_high", 0, 20_000, default=usual_high)
        if high < low:
            row.wrong(f"{level}_high", high, f"{low} or more", "low and high are swapped.")
        same = (low, high) == (old.low, old.high)
        found[level] = AmountRange(low, max(low, high), old.note if same else "")
    return found


def _counters(row: Row, base: Unit) -> dict[str, int]:
    """Hundredths per measure: the row's own columns, else those of the base while the measure is the same."""
    given = {c: 100 * row.whole(c, 0, 1000) for c in COUNTERS if c in row.values}
    same_measure = row.values.get("measure", base.measure) == base.measure
    return given or (dict(base.counters) if same_measure else {})


def _lighter(row: Row, base: Unit, demand: Demand) -> dict[str, Any]:
    """The lighter row: the base's own while the full row is the base's, else the usual one."""
    amount = row.whole("lighter_amount", 0, 20_000, default=0)
    reworked = demand != base.demand or bool({"measure", "increment", *COUNTERS} & row.values.keys())
    changes: dict[str, Any] = {"lighter": lighter_of(demand) if reworked else base.lighter}
    if reworked or amount or "lighter_share" in row.values:
        changes["lighter_amounts"] = dict.fromkeys(LEVELS, amount) if amount else {}
        changes["lighter_measure"], changes["lighter_counters"] = "", None
        share = row.values.get("lighter_share", base.lighter_share)
        usual = f"{amount} {row.values.get('measure', base.measure)}" if amount else f"{share} % of it"
        changes["lighter_text"] = row.text("lighter_text", f"{usual}, easier.")
    else:
        changes["lighter_text"] = row.text("lighter_text", base.lighter_text)
    if changes["lighter_text"] != base.lighter_text:  # the coach's own words say what it is
        changes["lighter_name"], changes["lighter_short"] = "", ""
    return changes


def own_unit(values: Mapping[str, Any], where: str = "units table") -> Unit:
    """A coach's own unit from a flat row; what the row leaves out is taken from the unit named in `like`.

    Columns: id, like (or an id of the catalogue, whose figures are then changed), name, short, family, purpose,
    neural, metabolic, one column a body region, effort_low/_high, minutes_low/_high (after the warm-up),
    measure, increment, amount_low/_high or novice_low ... advanced_high, one column a counter (how many one
    measure counts), lighter_amount, lighter_share, lighter_text, place_kinds and cautions (lists, or texts
    parted by ';'), eyes, hours_neural, hours_region, least_age, least_training_years, stop_rule, recovery,
    target, shoes, limits_note, source. Raises CatalogueError with every problem; `where` goes before each.
    """
    problems: list[str] = []
    cells = {k: _list_cell(v) if k in ("place_kinds", "cautions") else v for k, v in values.items()}
    row = Row(where, "", {k: v for k, v in cells.items() if v is not None and v != ""}, problems)
    unit_id = row.text("id")
    like = row.text("like", unit_id)
    base = units().get(like)
    if base is None:
        row.wrong("like", like, "the id of a unit of the catalogue", "see the list of units.")
        raise CatalogueError(problems)
    demand = _demand(row, base.demand)
    changes: dict[str, Any] = {
        "id": unit_id,
        "name": row.text("name", base.name if like == unit_id else unit_id.replace("-", " ").capitalize()),
        "short": row.text("short", base.short if like == unit_id and "name" not in row.values else ""),
        "family": row.text("family", base.family, FAMILIES),
        "demand": demand,
        "amounts": _amounts(row, base),
        "counters": _counters(row, base),
        "place_kinds": row.words("place_kinds", PLACE_KINDS) or base.place_kinds,
        "cautions": row.words("cautions", LIMIT_REGIONS) or base.cautions,
        "source": row.text("source", COACHS_OWN),
    }
    changes |= {key: row.text(key, getattr(base, key)) for key in TEXTS}
    for key, (low, high) in WHOLES.items():
        changes[key] = row.whole(key, low, high, default=getattr(base, key))
    changes |= _lighter(row, base, demand)
    row.done()
    finish(problems)
    return replace(base, **changes)
