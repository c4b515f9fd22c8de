"""From a coach's file to a Block: YAML or a workbook, judged by the same models, all problems at once.

block = read_block(Path("block.yaml"))           # raises BadFile with every complaint
block, warnings = check_block(Path("block.xlsx"))
write_new(Path("spring"), workbook=False)         # a commented file to fill in
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.domain.block import Block
from planner.domain.following import Following
from planner.domain.units import Unit
from planner.intake.complaints import BadFile, Complaint, Reporter

if TYPE_CHECKING:
    from planner.intake.context import KnownRule

__all__ = ["BadFile", "Complaint", "check_block", "read_block", "schema", "write_new", "write_next"]


def read_block(
    path: Path,
    *,
    known_rules: Mapping[str, KnownRule] | None = None,
    known_units: Mapping[str, Unit] | None = None,
) -> Block:
    """The block of a `.yaml`, `.yml` or `.xlsx` file. Raises BadFile with all its complaints.

    `known_rules` (id -> something with `parameters`) and `known_units` default to the rule book and the
    catalogue.
    """
    return check_block(path, known_rules=known_rules, known_units=known_units)[0]


def check_block(
    path: Path,
    *,
    known_rules: Mapping[str, KnownRule] | None = None,
    known_units: Mapping[str, Unit] | None = None,
) -> tuple[Block, tuple[Complaint, ...]]:
    """As `read_block`, and the warnings of what is unusual. Assumptions are in `block.assumptions`."""
    from planner.intake.judge import judge
    from planner.intake.opening_files import WORKBOOK_ENDINGS, read_bytes
    from planner.intake.resolve import resolve

    report = Reporter()
    data = read_bytes(path)
    if path.suffix.casefold() in WORKBOOK_ENDINGS:
        from planner.intake.workbook import read_workbook

        raw = read_workbook(path, data, report)
    else:
        from planner.intake.yaml_file import read_yaml

        raw = read_yaml(path, data, report)
    sheets = judge(raw, report)
    needs_rules = sheets.rows_of("rules") or sheets.rows_of("exceptions")
    rules = known_rules if known_rules is not None else _book() if needs_rules else None
    units = known_units if known_units is not None else _catalogue()
    block = resolve(path, sheets, report, rules=rules, units=units)
    report.stop_if_bad()
    if block is None:  # pragma: no cover - an unusable row of 'block' is always complained of
        raise AssertionError("no block and no complaint")
    return block, report.warnings


def _book() -> Mapping[str, KnownRule]:
    from planner.rules import book

    return {rule_id: found.rule for rule_id, found in book().items()}


def _catalogue() -> Mapping[str, Unit]:
    from planner.catalogue import units

    return units()


def write_new(folder: Path, *, like: Path | None = None, workbook: bool = False) -> Path:
    """Write a commented block file (or a workbook) into a folder and return its path. Never overwrites.

    `like` is an example's block file, copied with its comments. Raises BadFile when a file of that name
    is there already or `like` cannot be read, OSError when the folder cannot be written.
    """
    from planner.intake.blank import write

    return write(folder, like=like, workbook=workbook)


def write_next(folder: Path, source: Path, following: Following) -> Path:
    """Write the next block's file into a folder and return its path. Never overwrites.

    `source` is the earlier block's file, whose tables and comments are carried on. Raises BadFile when a file of
    that name is there already, OSError when the folder cannot be written.
    """
    from planner.intake.next_file import write

    return write(folder, source, following)


def schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of the block file, with descriptions, so that editors can complete it."""
    from planner.intake.schema import block_schema

    return block_schema()
