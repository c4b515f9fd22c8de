"""What is wrong with a plan table, one sentence a problem: where, found, needed, and a remedy."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

from planner.domain.errors import Told
from planner.domain.finding import Line


@dataclass(frozen=True)
class Complaint:
    """One problem of a table. `where.key` is the column's name; `maybe` begins in lower case."""

    where: Line
    found: str
    needed: str
    maybe: str = ""

    def __str__(self) -> str:
        place = str(self.where)
        if self.where.column:
            place += f", column {self.where.column}"
        if self.where.key:
            place += f", {self.where.key}"
        remedy = f" Maybe {self.maybe.rstrip('.')}." if self.maybe else ""
        return f"{place}: found {self.found}; needed {self.needed.rstrip('.')}.{remedy}"


class BadTable(Told):
    """A plan table cannot be used as it is. `complaints` holds every problem found, in file order."""

    def __init__(self, complaints: Iterable[Complaint]) -> None:
        self.complaints = tuple(sorted(complaints, key=lambda c: (c.where.line, c.where.column)))
        super().__init__("\n".join(str(c) for c in self.complaints))


def shown(text: str, longest: int = 60) -> str:
    """A cell as a complaint shows it: in quotes, on one line, cut when long."""
    flat = "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))
    return f"'{flat[:longest]}...'" if len(flat) > longest else f"'{flat}'"


def folded(text: str) -> str:
    """The form in which names are compared: one spelling of accents, small letters, no blanks or hyphens."""
    plain = unicodedata.normalize("NFKC", text).casefold()
    return "".join(c for c in plain if not c.isspace() and c not in "-_")


def meant(text: str, known: Iterable[str]) -> str:
    """A remedy: the nearest known word, or what is known when that is short, or nothing."""
    words = {folded(k): k for k in sorted(known)}
    near = difflib.get_close_matches(folded(text)[:100], list(words), n=1, cutoff=0.6)
    if near:
        return f"'{words[near[0]]}' is meant"
    return "one of these is meant: " + ", ".join(words.values()) if 0 < len(words) <= 12 else ""
