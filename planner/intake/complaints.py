"""What is wrong with a coach's file, in one sentence a problem: where, found, needed, and a remedy."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.domain.errors import Told
from planner.domain.finding import Line


@dataclass(frozen=True)
class Complaint:
    """One problem of a file. A `warning` is unusual but allowed; anything else stops the run.

    `where` names file, line and column (or sheet and cell) and the key; `maybe` is a remedy that begins
    in lower case and is printed behind 'Maybe'.
    """

    where: Line
    found: str
    needed: str
    maybe: str = ""
    warning: bool = False

    def __str__(self) -> str:
        place = str(self.where)
        if self.where.line and self.where.column and not self.where.cell:
            place += f", column {self.where.column}"
        if self.where.key:
            place += f", {self.where.key}"
        remedy = f" Maybe {self.maybe.rstrip('.')}." if self.maybe else ""
        return f"{place}: found {self.found}; needed {self.needed.rstrip('.')}.{remedy}"


class BadFile(Told):
    """A file cannot be used as it is. `complaints` holds every problem found, in file order."""

    def __init__(self, complaints: tuple[Complaint, ...]) -> None:
        self.complaints = complaints
        super().__init__("\n".join(str(c) for c in complaints))


MOST_TOLD = 300  # complaints; a file with more is another kind of file


@dataclass
class Reporter:
    """Gathers complaints so that all problems of a file are told at once; beyond 300 it stops the reading."""

    complaints: dict[Complaint, None] = field(default_factory=dict)  # in the order found, each once

    def error(self, where: Line, found: str, needed: str, maybe: str = "") -> None:
        self._add(Complaint(where, found, needed, maybe))

    def warn(self, where: Line, found: str, needed: str, maybe: str = "") -> None:
        self._add(Complaint(where, found, needed, maybe, warning=True))

    def _add(self, complaint: Complaint) -> None:
        self.complaints[complaint] = None
        if len(self.complaints) > MOST_TOLD:
            more = Complaint(
                complaint.where,
                f"more than {MOST_TOLD} problems",
                "a block file",
                "it is another kind of file",
            )
            raise BadFile((*(c for c in self.complaints if not c.warning), more))

    @property
    def bad(self) -> bool:
        return any(not c.warning for c in self.complaints)

    @property
    def warnings(self) -> tuple[Complaint, ...]:
        return tuple(c for c in self.complaints if c.warning)

    def stop_if_bad(self) -> None:
        """Raise BadFile with all errors, in file order, when there is one."""
        errors = [c for c in self.complaints if not c.warning]
        if errors:
            raise BadFile(tuple(sorted(errors, key=lambda c: (c.where.line, c.where.column))))


def quoted(value: object, longest: int = 60) -> str:
    """A value as it is shown in a complaint: in quotes, on one line, cut when long."""
    text = " ".join(str(value).split())
    text = "".join(c if c.isprintable() else "?" for c in text)
    return f"'{text[:longest]}...'" if len(text) > longest else f"'{text}'"
