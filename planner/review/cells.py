"""Cells of a plan table: written so that no spreadsheet takes a word for a formula, and read back."""

from __future__ import annotations

import re

# A spreadsheet runs a cell that begins with one of these; so it does after a separator it cuts at itself.
_STARTS = r"(^|[,;\t\r\n])"
_RISKY = r"(?='* *[=+\-@＝＋－＠\x00-\x1f\x7f])"
_ESCAPE = re.compile(_STARTS + _RISKY)
_UNESCAPE = re.compile(_STARTS + "'" + _RISKY)


def escape_cell(text: str) -> str:
    """The text with an apostrophe before whatever a spreadsheet might run (= + - @ or a control sign)."""
    return _ESCAPE.sub(r"\1'", text)


def unescape_cell(text: str) -> str:
    """The text that `escape_cell` was given."""
    return _UNESCAPE.sub(r"\1", text)
