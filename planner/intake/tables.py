"""The tables of a block file by name. YAML and workbooks are judged by these same models."""

from __future__ import annotations

from collections.abc import Mapping

from planner.intake import fields as f
from planner.intake.calendar_tables import (
    BlockRow,
    CoachRow,
    HelperRow,
    OpeningRow,
    SlotRow,
    VenueRow,
    WeatherRow,
)
from planner.intake.people_tables import (
    AthleteRow,
    AwayRow,
    CompetitionRow,
    GroupRow,
    LimitRow,
    MarkRow,
    RunUpRow,
)
from planner.intake.plan_tables import BeforeRow, ExceptionRow, PhaseRow, RuleRow, ThemeRow, UnitRow, WishRow
from planner.intake.row_model import RowModel

TABLES: Mapping[str, type[RowModel]] = {
    "block": BlockRow, "slots": SlotRow, "venues": VenueRow, "openings": OpeningRow, "coaches": CoachRow,
    "helpers": HelperRow, "athletes": AthleteRow, "marks": MarkRow, "run_ups": RunUpRow, "away": AwayRow,
    "competitions": CompetitionRow, "limits": LimitRow, "groups": GroupRow, "themes": ThemeRow,
    "phases": PhaseRow, "fixed": WishRow, "wishes": WishRow, "rules": RuleRow, "exceptions": ExceptionRow,
    "units": UnitRow, "before": BeforeRow, "weather": WeatherRow,
}  # fmt: skip
NEEDED_TABLES = ("block", "athletes")


def columns(table: str) -> tuple[str, ...]:
    """The column names of a table as a coach writes them, in the order of a workbook's header."""
    fields = TABLES[table].model_fields
    return tuple(info.alias or key for key, info in fields.items())


def needed_columns(table: str) -> tuple[str, ...]:
    """The columns every row must fill."""
    fields = TABLES[table].model_fields
    return tuple(info.alias or key for key, info in fields.items() if info.is_required())


def kind_of(table: str, column: str) -> f.Kind:
    """How a column's cells are read."""
    for key, info in TABLES[table].model_fields.items():
        if (info.alias or key) == column:
            return next(m for m in info.metadata if isinstance(m, f.Kind))
    raise KeyError(column)


def description_of(table: str, column: str) -> str:
    for key, info in TABLES[table].model_fields.items():
        if (info.alias or key) == column:
            return info.description or ""
    raise KeyError(column)
