"""How an error leaves the program: an exit code and a sentence."""

from __future__ import annotations

import textwrap
from typing import Any

import typer

from planner.cli.clock import BadNow
from planner.domain.errors import OurBug, Told

OUR_BUG = 1
YOUR_FILE = 2
NOT_WRITTEN = 5
# What typer raises for wrong arguments stands in a private place that moves between its versions.
WRONG_ARGUMENTS = next(c for c in typer.BadParameter.__mro__ if c.__name__ == "ClickException")


def fitted(text: str, width: int) -> str:
    """The sentences of an error for a screen of so many columns: broken between words, later lines indented."""
    wrap = textwrap.TextWrapper(width, subsequent_indent="  ", break_on_hyphens=False)
    return "\n".join(wrap.fill(line) for line in text.splitlines())


def ending(error: Exception) -> tuple[int, str]:
    """The exit code of an error, and what is said of it."""
    if isinstance(error, WRONG_ARGUMENTS):
        wrong: Any = error
        return YOUR_FILE, f"{wrong.format_message()}\nMaybe look at 'planner --help'."
    match error:
        case Told():
            return error.exit_code, str(error)
        case BadNow():
            return YOUR_FILE, str(error)
        case OSError() | MemoryError():
            return NOT_WRITTEN, _no_room(error)
        case OurBug():
            return OUR_BUG, f"This is our bug, not yours: {error}\nNothing was recorded or printed."
        case _:
            kind = type(error).__name__
            return OUR_BUG, (
                f"This is our bug, not yours: {kind}: {error}\nNothing was recorded or printed. "
                "Maybe set PLANNER_DEBUG=1, run it again, and send us what it prints."
            )


def _no_room(error: OSError | MemoryError) -> str:
    if isinstance(error, MemoryError):
        said = "there is not enough memory for this; nothing new was recorded."
        return f"{said}\nMaybe close other programs, or plan fewer weeks or athletes at once."
    what = f"{error.filename}: " if error.filename else ""
    said = f"{what}{error.strerror or error}; nothing was recorded."
    return f"{said}\nMaybe free some space."
