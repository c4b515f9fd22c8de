"""Commands that open the books: rules, units, schema."""

from __future__ import annotations

import difflib
import json
import textwrap
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from planner.cli.options import Json, block_file
from planner.cli.words import WIDTH
from planner.domain.errors import Told

HOW_TO_READ = "Examples, '|' between the days and '-' for a day with nothing: kept, or broken by how much."


class Unknown(Told):
    """A rule or unit that is not in the book."""


def rules(
    rule: Annotated[str, typer.Argument(help="One rule by name; default: all.")] = "",
    file: Annotated[Path | None, typer.Option("--file", help="Show the values this block file sets.")] = None,
    as_json: Json = False,
) -> None:
    """The rule book: what each rule says, its numbers, its source and how sure it is.

    Example: planner rules no_two_fast_days_running
    """
    from planner.rules import BookRule, book

    def facts(r: BookRule) -> dict[str, object]:
        return {
            "id": r.id,
            "tier": r.rule.tier,
            "sentence": r.sentence,
            "weight": r.rule.weight,
            "parameters": {k: asdict(v) for k, v in r.rule.parameters.items()},
            "source": asdict(r.rule.source),
            "set": list(own.get(r.id, ())),
            "examples": [{"week": e.text, "findings": e.findings, "why": e.why} for e in r.rule.examples],
        }

    own = _set_in(file)
    known = book()
    if rule and _plain(rule) not in known:
        raise Unknown(_not_found("rule", rule, list(known)))
    chosen = [known[_plain(rule)]] if rule else list(known.values())
    if as_json:
        print(json.dumps([facts(r) for r in chosen], ensure_ascii=False, indent=2))
        return
    for r in chosen:
        print("\n".join(textwrap.wrap(f"{r.rule.tier:<7} {r.id}", WIDTH)))
        print(textwrap.fill(r.sentence, WIDTH, initial_indent="        ", subsequent_indent="        "))
        if rule:
            for name, p in r.rule.parameters.items():
                text = f"{name}: {p.text}; {p.default} by default, from {p.low} to {p.high} ({p.unit})"
                print(textwrap.fill(text, WIDTH, initial_indent="        ", subsequent_indent="          "))
                text = f"set it under 'rules': {{rule: {r.id}, parameter: {name}, value: {p.default}}}"
                print(textwrap.fill(text, WIDTH, initial_indent=" " * 10, subsequent_indent=" " * 12))
            for said in own.get(r.id, ()):
                print(textwrap.fill(said, WIDTH, initial_indent="        ", subsequent_indent="          "))
            source = f"Source ({r.rule.source.sure}): {r.rule.source.text}"
            print(textwrap.fill(source, WIDTH, initial_indent="        ", subsequent_indent="        "))
            if r.rule.examples:
                print(textwrap.fill(HOW_TO_READ, WIDTH, initial_indent="        ", subsequent_indent="        "))
            for e in r.rule.examples:
                counted = f"broken by {e.findings}" if e.findings else "kept"
                said = f"{counted}{f', a {e.tier}' if e.tier else ''}: {e.why}"
                print(textwrap.fill(said, WIDTH, initial_indent="        ", subsequent_indent=" " * 10))
                for line in e.text.strip().splitlines():
                    print(textwrap.fill(line, WIDTH, initial_indent=" " * 10, subsequent_indent=" " * 12))


def units(
    unit: Annotated[str, typer.Argument(help="One unit by name; default: all.")] = "",
    as_json: Json = False,
) -> None:
    """The catalogue of units: demand, amounts by level, hours to recover, stop rule, source.

    Example: planner units flying-sprints
    """
    from planner.catalogue import units as catalogue

    known = catalogue()
    wanted = unit.strip().lower().replace(" ", "-")
    if unit and wanted not in known:
        raise Unknown(_not_found("unit", unit, list(known)))
    chosen = [known[wanted]] if unit else list(known.values())
    if as_json:
        print(json.dumps([asdict(u) for u in chosen], ensure_ascii=False, indent=2, default=dict))
        return
    for u in chosen:
        levels = ", ".join(f"{k} {r.low}-{r.high}" for k, r in u.amounts.items())
        if not unit:
            print(f"{u.id:<26}{u.name}")
            print(textwrap.indent(textwrap.fill(f"{u.measure}: {levels}", WIDTH - 26), " " * 26))
            continue
        print(u.name)
        for label, text in (
            ("purpose", u.purpose),
            ("family", u.family),
            ("amount", f"{u.measure}: {levels}"),
            ("demand", f"neural {u.demand.neural}, metabolic {u.demand.metabolic} (0-3)"),
            ("loads 0-3", ", ".join(f"{k} {v}" for k, v in u.demand.loads.items() if v)),
            ("hours", f"{u.hours_neural} before fast work, {u.hours_region} for the same region"),
            ("coach", ("no eyes needed", "nearby", "full attention")[u.eyes]),
            ("recovery", u.recovery),
            ("shoes", u.shoes),
            ("stop", u.stop_rule),
            ("lighter", ": ".join(x for x in (u.lighter_name, u.lighter_text) if x)),
            ("source", u.source),
        ):
            if text:
                print(textwrap.fill(f"{label:<10}{text}", WIDTH, subsequent_indent=" " * 10))


def _set_in(file: Path | None) -> dict[str, list[str]]:
    """Rule -> what a block file sets of it, each with its line."""
    if file is None:
        return {}
    from planner.intake import read_block

    found: dict[str, list[str]] = {}
    for s in read_block(block_file(file)).settings:
        what = "switched off" if s.parameter == "off" else f"{s.parameter} = {s.value}"
        who = f" for {s.athlete}" if s.athlete else ""
        when = f", {s.begins or '...'} to {s.ends or '...'}" if s.begins or s.ends else ""
        why = f": {s.reason}" if s.reason else ""
        found.setdefault(s.rule, []).append(f"{what}{who}{when}, set in {s.line}{why}")
    return found


def schema() -> None:
    """Print the JSON Schema of the block file, so that an editor can complete it.

    Example: planner schema > block.schema.json
    """
    from planner.intake import schema as file_schema

    print(json.dumps(file_schema(), ensure_ascii=False, indent=2))


def _plain(name: str) -> str:
    return name.strip().lower().replace(" ", "_").replace("-", "_")


def _not_found(kind: str, name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name, known, 1, 0.4)
    maybe = f"Maybe you mean {near[0]}." if near else f"Maybe look at 'planner {kind}s'."
    return f"{kind}: found '{name}', needed one of the {len(known)} {kind}s of the book.\n{maybe}"
