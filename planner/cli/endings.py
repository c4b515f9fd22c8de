"""How an error leaves the program: an exit code and a sentence."""

from __future__ import annotations

import os
import textwrap
from typing import Any, TextIO

import typer

from planner.cli.clock import BadNow
from planner.domain.errors import OurBug, Told

WIDTH = 80  # columns, as of all lines of the commands
LEAST_WIDTH = 40  # a narrower terminal breaks the lines itself
OUR_BUG = 1
YOUR_FILE = 2
NOT_WRITTEN = 5
# What typer raises for wrong arguments stands in a private place that moves between its versions.
WRONG_ARGUMENTS = next(c for c in typer.BadParameter.__mro__ if c.__name__ == "ClickException")


def columns(stream: TextIO) -> int:
    """How wide an error is written: as the lines of every command, or as wide as a terminal that is narrower.

    A file or a pipe is read by somebody too, in a log or a mail. What a program reads is `--json`, on the output.
    """
    if not stream.isatty():
        return WIDTH
    try:
        return max(LEAST_WIDTH, min(WIDTH, os.get_terminal_size(stream.fileno()).columns))
    except OSError:
        return WIDTH


def fitted(text: str, width: int) -> str:
    """The sentences of an error in so many columns: broken between words, later lines indented by two more.

    A path or an address that is longer stays whole, so that it can be copied.
    """
    return "\n".join(_hanging(line, width) for line in text.splitlines())


def _hanging(line: str, width: int) -> str:
    lead = " " * (len(line) - len(line.lstrip()))
    return textwrap.fill(
        line.strip(), width, initial_indent=lead, subsequent_indent=f"{lead}  ",
        break_on_hyphens=False, break_long_words=False,
    )  # fmt: skip


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
