"""The coach's own numbers for rules, dated exceptions with a reason, and own units."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Any

from planner.catalogue import CatalogueError, own_unit
from planner.domain.block import RuleSetting
from planner.domain.finding import Line
from planner.domain.units import Unit
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.plan_tables import ExceptionRow, RuleRow, UnitRow
from planner.intake.spelling import find, suggestion

SHORTEST_REASON = 10  # characters; fewer say nothing to the one who reads the sheet


def make_settings(ctx: Context, sheets: Sheets) -> tuple[RuleSetting, ...]:
    """Rows of `rules`, then of `exceptions`, in file order."""
    found: list[RuleSetting] = []
    rules: tuple[Read[RuleRow], ...] = sheets.of("rules")
    for read in rules:
        found += _said(ctx, read, _Reach())
    exceptions: tuple[Read[ExceptionRow], ...] = sheets.of("exceptions")
    for exception in exceptions:
        row = exception.it
        people = ctx.people_or_all(row.athlete, exception.at("athlete"))
        if _exception_fits(ctx, exception):
            begins, ends = row.begins or ctx.begins, row.ends or ctx.ends
            for person in people:
                found += _said(ctx, exception, _Reach(person, begins, ends, row.reason or ""))
        else:
            _said(ctx, exception, _Reach())  # its other slips are told as well
    return tuple(found)


def _exception_fits(ctx: Context, read: Read[ExceptionRow]) -> bool:
    row = read.it
    fits = ctx.in_order(row.begins, row.ends, read.at("until"))
    if row.reason is None or len(row.reason) < SHORTEST_REASON:
        found = "an exception without a reason" if row.reason is None else f"the reason {quoted(row.reason)}"
        ctx.report.error(
            read.at("reason"),
            found,
            f"a reason of at least {SHORTEST_REASON} characters",
            "say in one sentence why the rule should give way",
        )
        fits = False
    if fits and not ctx.touches(row.begins, row.ends):
        ctx.report.error(
            read.at("from"),
            f"an exception wholly outside the block ({row.begins or row.ends})",
            f"a date from {ctx.stretch}",
            "the month or the year is wrong",
        )
        fits = False
    return fits


@dataclass(frozen=True)
class _Reach:
    """For whom, when and why a row counts; everybody and always when nothing is said."""

    athlete: str = ""
    begins: date | None = None
    ends: date | None = None
    reason: str = ""


def _said(ctx: Context, read: Read[Any], reach: _Reach) -> list[RuleSetting]:
    row = read.it
    rule = _rule(ctx, row.rule, read.at("rule"))
    said: list[tuple[str, int | str]] = []
    if row.parameter is not None or row.value is not None:
        parameter = _parameter(ctx, read, rule)
        if parameter is not None:
            said.append((parameter, row.value))
    said += [
        (what, value) for what, value in (("tier", row.tier), ("weight", row.weight)) if value is not None
    ]
    if getattr(row, "off", False):
        said.append(("off", 1))
    elif not said and row.parameter is None and row.value is None:
        needed = "'parameter' and 'value', 'tier', 'weight'" + (" or 'off'" if hasattr(row, "off") else "")
        ctx.report.error(read.line, "a row that changes nothing of the rule", needed, "the number is missing")
    name = rule or row.rule
    return [
        RuleSetting(name, p, v, reach.athlete, reach.begins, reach.ends, reach.reason, read.line)
        for p, v in said
    ]


def _rule(ctx: Context, name: str, at: Line) -> str | None:
    if ctx.rules is None:
        return name
    found = find(name, ctx.rules)
    if found is None:
        ctx.report.error(
            at,
            f"the unknown rule {quoted(name)}",
            "the id of a rule",
            suggestion(name, ctx.rules, else_say="'planner rules' lists them"),
        )
    return found


def _parameter(ctx: Context, read: Read[Any], rule: str | None) -> str | None:
    """The rule's parameter when it exists and the value lies in its range; a complaint otherwise."""
    row = read.it
    if row.parameter is None or row.value is None:
        missing = "parameter" if row.parameter is None else "value"
        ctx.report.error(read.line, f"no '{missing}'", "both 'parameter' and 'value'", f"add '{missing}'")
        return None
    if ctx.rules is None or rule is None:
        return str(row.parameter)
    known = ctx.rules[rule].parameters
    found = find(row.parameter, known)
    if found is None:
        else_say = (
            "this rule has no number; its tier can be changed" if not known else "'planner rules' lists them"
        )
        ctx.report.error(
            read.at("parameter"),
            f"the unknown number {quoted(row.parameter)} of {rule}",
            "a number of that rule",
            suggestion(row.parameter, known, else_say=else_say),
        )
        return None
    limits = known[found]
    if not limits.low <= row.value <= limits.high:
        ctx.report.error(
            read.at("value"),
            f"{row.value} for '{found}' of {rule}",
            f"a number from {limits.low} to {limits.high}",
            "a digit is wrong",
        )
        return None
    return found


def make_units(ctx: Context, sheets: Sheets) -> tuple[Unit, ...]:
    """Own units in file order, each made from a known one; they are known from their row on."""
    seen: dict[str, Line] = {}
    rows: tuple[Read[UnitRow], ...] = sheets.of("units")
    for read in rows:
        row = read.it
        known = ctx.catalogue
        wanted = find(row.id, known) or row.id
        first = seen.setdefault(wanted, read.line)
        if first is not read.line:
            ctx.report.error(
                read.at("id"),
                f"the unit {quoted(row.id)} a second time (first: {first})",
                "each own unit once",
                "join the two rows",
            )
            continue
        if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", wanted):
            plain = "-".join(re.findall("[a-z0-9]+", wanted.casefold())) or "own-unit"
            ctx.report.error(
                read.at("id"),
                f"the id {quoted(row.id)}",
                "small letters, digits and hyphens",
                f"'{plain}' is meant",
            )
            continue
        base = find(row.like or wanted, known)
        if base is None:
            if ctx.catalogue:
                ctx.report.error(
                    read.at("like" if row.like else "id"),
                    f"the unknown unit {quoted(row.like or wanted)}",
                    "'like': a unit of the catalogue it is made from",
                    suggestion(row.like or wanted, known, else_say="'planner units' lists them"),
                )
            continue
        try:
            ctx.own_units[wanted] = own_unit(_flat(wanted, base, row), str(read.line))
        except CatalogueError as error:
            for problem in error.problems:
                ctx.report.error(read.line, problem, "figures that fit each other", "look at 'planner units'")
    return tuple(ctx.own_units.values())


def _flat(unit_id: str, like: str, row: UnitRow) -> dict[str, Any]:
    """A row as the catalogue's maker of own units wants it: one flat value a column."""
    skipped = {"id", "like", "loads", "effort", "minutes", "amounts", "counts"}
    flat: dict[str, Any] = {"id": unit_id, "like": like}
    for column in UnitRow.model_fields:
        value = getattr(row, column)
        if column not in skipped and value is not None:
            flat[column] = list(value) if isinstance(value, tuple) else value
    flat.update(row.loads or {})
    flat.update(row.counts or {})
    spans = {"effort": row.effort, "minutes": row.minutes, **(row.amounts or {})}
    for name, span in spans.items():
        if span is not None:
            flat[f"{name}_low"], flat[f"{name}_high"] = span
    return flat
