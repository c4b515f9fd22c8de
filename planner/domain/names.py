"""Whom a coach means by a name as it was typed."""

from __future__ import annotations

from collections.abc import Iterable


def meant_by(text: str, names: Iterable[str]) -> str | None:
    """The name that is written so, or the only one that begins so; capitals do not matter."""
    names, wanted = tuple(names), text.strip().casefold()
    if not wanted:
        return None
    whole = [n for n in names if n == text] or [n for n in names if n.casefold() == wanted]
    found = whole or [n for n in names if n.casefold().startswith(wanted)]
    return found[0] if len(found) == 1 else None
