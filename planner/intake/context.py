"""What the tables may refer to, and the lookups that complain when a reference points at nobody."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Protocol

from planner.domain.block import Assumption
from planner.domain.finding import Line
from planner.domain.units import FAMILIES, Unit
from planner.intake.complaints import Reporter, quoted
from planner.intake.spelling import find, suggestion

ALL = "all"


class Range(Protocol):
    """The range that makes sense for a number of a rule."""

    @property
    def low(self) -> int: ...
    @property
    def high(self) -> int: ...


class KnownRule(Protocol):
    @property
    def parameters(self) -> Mapping[str, Range]: ...


@dataclass
class Context:
    """Names and dates of one file while it is resolved.

    `dated` is False when the block's own dates are unusable: then nothing is held against them.
    `doubtful` are names in rows that did not fit, by table, and None stands for a table that is broken
    as a whole: a reference to them is no second complaint.
    """

    report: Reporter
    begins: date
    ends: date
    line: Line
    dated: bool = True
    rules: Mapping[str, KnownRule] | None = None
    catalogue: Mapping[str, Unit] = field(default_factory=dict)
    own_units: dict[str, Unit] = field(default_factory=dict)
    athletes: tuple[str, ...] = ()
    groups: dict[str, tuple[str, ...]] = field(default_factory=dict)
    doubtful: Mapping[str, frozenset[str] | None] = field(default_factory=dict)
    slot_names: tuple[str, ...] = ()
    assumptions: list[Assumption] = field(default_factory=list)

    def assume(self, subject: str, text: str) -> None:
        found = Assumption(subject, text)
        if found not in self.assumptions:
            self.assumptions.append(found)

    @property
    def days(self) -> tuple[date, ...]:
        return tuple(self.begins + timedelta(days=i) for i in range((self.ends - self.begins).days + 1))

    def inside(self, day: date) -> bool:
        return not self.dated or self.begins <= day <= self.ends

    def touches(self, first: date | None, last: date | None) -> bool:
        """Does a stretch, open where None, share a day with the block?"""
        return not self.dated or ((first or self.begins) <= self.ends and (last or self.ends) >= self.begins)

    @property
    def stretch(self) -> str:
        return f"{self.begins} to {self.ends}"

    def in_order(self, first: date | None, last: date | None, at: Line) -> bool:
        """Complain when a stretch ends before it begins."""
        if first is not None and last is not None and last < first:
            self.report.error(
                at,
                f"an end {last} before the beginning {first}",
                "an end on or after the beginning",
                "the two dates have changed places",
            )
            return False
        return True

    def doubts(self, table: str, name: str) -> bool:
        names = self.doubtful.get(table, frozenset())
        return names is None or name in names

    def athlete(self, name: str, at: Line) -> str | None:
        """The athlete of that name, or a complaint."""
        if name in self.athletes:
            return name
        if not self.doubts("athletes", name):
            self.report.error(
                at,
                f"the unknown athlete {quoted(name)}",
                "a name of the table 'athletes'",
                suggestion(name, self.athletes, else_say="add this athlete first"),
            )
        return None

    def people(self, names: Sequence[str], at: Line) -> tuple[str, ...]:
        """Athletes named, groups and 'all' opened up, each once."""
        found: list[str] = []
        for name in names:
            if name.casefold() == ALL:
                found += self.athletes
            elif name in self.groups and name not in self.athletes:
                found += self.groups[name]
            elif name in self.athletes:
                found.append(name)
            elif not self.doubts("athletes", name) and not self.doubts("groups", name):
                known = (*self.athletes, *self.groups, ALL)
                self.report.error(
                    at,
                    f"the unknown athlete or group {quoted(name)}",
                    "a name of the table 'athletes', a group, or 'all'",
                    suggestion(name, known, else_say="add this athlete first"),
                )
        return tuple(dict.fromkeys(found))

    def people_or_all(self, names: Sequence[str], at: Line) -> tuple[str, ...]:
        """As `people`, but one empty name for 'all' (a row that holds for the whole squad)."""
        return ("",) if any(n.casefold() == ALL for n in names) else self.people(names, at)

    @property
    def unit_ids(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys((*self.catalogue, *self.own_units)))

    def unit(self, name: str, at: Line, *, families: bool = False) -> str | None:
        """The id of a unit (or family), or a complaint. Without a catalogue every word is taken as it is."""
        known: Iterable[str] = (*self.unit_ids, *FAMILIES) if families else self.unit_ids
        found = find(name, known)
        if found is None and not self.catalogue:
            return name
        if found is None and not self.doubts("units", name):
            what = "unit or family" if families else "unit"
            self.report.error(
                at,
                f"the unknown {what} {quoted(name)}",
                f"a {what} of the catalogue, or your own",
                suggestion(name, known, else_say="'planner units' lists them"),
            )
        return found

    def slot(self, name: str, at: Line) -> str | None:
        if not self.slot_names or name in self.slot_names or self.doubts("slots", name):
            return name
        self.report.error(
            at,
            f"the unknown slot {quoted(name)}",
            "a name of the table 'slots'",
            suggestion(name, self.slot_names),
        )
        return None
