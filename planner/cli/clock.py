"""The only place that looks at the clock."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


class BadNow(ValueError):
    """The text given as --now is no date and time."""


def moment(text: str, zone: str = "UTC") -> datetime:
    """The moment a command works at: `--now 'YYYY-MM-DD HH:MM'`, else the clock, in the block's zone."""
    try:
        place = ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError):
        place = ZoneInfo("UTC")
    if not text:
        return datetime.now(place).replace(second=0, microsecond=0)
    try:
        return datetime.strptime(text.strip(), "%Y-%m-%d %H:%M").replace(tzinfo=place)
    except ValueError:
        raise BadNow(
            f"--now: found '{text}', needed a date and a time like '2027-03-22 08:00'.\n"
            "Maybe put it in quotation marks."
        ) from None
