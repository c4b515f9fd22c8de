"""One row of a table, and how a column is described."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field


class RowModel(BaseModel):
    """One row of a table. Unknown columns are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def col(text: str, default: Any = None, alias: str | None = None) -> Any:
    return Field(default, description=text, alias=alias)


def must(text: str, alias: str | None = None) -> Any:
    return Field(..., description=text, alias=alias)
