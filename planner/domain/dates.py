"""A day as it is said in sentences."""

from __future__ import annotations

from datetime import date


def said_day(day: date) -> str:
    """'Tue 30 Mar'."""
    return f"{day:%a} {day.day} {day:%b}"
