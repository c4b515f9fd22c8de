"""What was impossible from the start: the reasons that stand beside a collision, with the coach's lines.

A closed place or a day away leaves no candidate behind, so no row can name it; the problem keeps it as a
refusal instead.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date

from planner.catalogue import unit_in_words
from planner.domain.finding import Finding, Line, Where
from planner.domain.plan import Refusal
from planner.domain.problem import Problem
from planner.solve.rows import RowStore

MOST_REFUSALS = 4  # reasons told at once, those that take most away first


@dataclass(frozen=True)
class Cause:
    """One fact of a collision: a rule at a place, or a line of the coach; `sentence` says it in words.

    `rule` is '' for something that is impossible from the start (a closed place, a day away). `chosen` are the
    candidates of a plan that breaks only this.
    """

    rule: str
    where: Where
    line: Line | None
    sentence: str
    chosen: tuple[int, ...] = field(default=(), compare=False, repr=False)

    def __str__(self) -> str:
        return self.sentence if self.line is None else f"{self.sentence} ({self.line})"


def units_named(problem: Problem, finding: Finding) -> set[str]:
    """Units a finding's facts speak of, by unit or family."""
    said = {v for v in finding.facts.values() if isinstance(v, str)}
    words = said | {v.replace(" ", "-") for v in said}
    return {u.id for u in problem.units.values() if not u.preparation and words & {u.id, u.name, u.family}}


def units_in(store: RowStore, row: int) -> set[str]:
    found: set[str] = set()
    waiting, seen = [c for _, c in store.rows[row].terms], set()
    while waiting:
        c = waiting.pop()
        if c in seen:
            continue
        seen.add(c)
        placement = store.columns[c].placement
        if placement is not None:
            found.add(placement.unit.id)
        waiting += [part for _, part in store.columns[c].terms]
    return found


def refused(
    problem: Problem, finding: Finding, units: set[str], first: date, last: date
) -> tuple[Cause, ...]:
    """Why these units (all, when none is named) could not be offered to the finding's athlete and slot."""
    return refused_causes(
        r for r in problem.refusals
        if r.athlete in ("", finding.athlete)
        and (not r.unit or not units or r.unit in units)
        and (r.day is None or first <= r.day <= last)
        and (not finding.slot or not r.slot or r.slot == finding.slot)
    )[:MOST_REFUSALS]  # fmt: skip


def refused_causes(refusals: Iterable[Refusal]) -> tuple[Cause, ...]:
    """What is impossible from the start, each reason once, the one that takes most away first."""
    groups: dict[tuple[str, Line | None], list[Refusal]] = {}
    for r in refusals:
        groups.setdefault((r.reason, r.line), []).append(r)
    ordered = sorted(groups.items(), key=lambda kv: (-len(kv[1]), kv[0][0], str(kv[0][1])))
    return tuple(
        Cause("", Where(rs[0].athlete, rs[0].day, rs[0].slot), line, f"{_places(rs)}: {_bare(reason, rs)}.")
        for (reason, line), rs in ordered
    )


def _bare(reason: str, refusals: Sequence[Refusal]) -> str:
    """The reason without the unit it begins with, where the place before it names that unit already."""
    unit, told, rest = reason.partition(": ")
    names = {unit_in_words(r.unit).lower() for r in refusals if r.unit}
    return rest if told and names == {unit.lower()} else reason


def _places(refusals: Sequence[Refusal]) -> str:
    days = sorted({r.day for r in refusals if r.day is not None})
    units = sorted({unit_in_words(r.unit) for r in refusals if r.unit})
    parts = [refusals[0].athlete]
    if len(units) == 1:
        parts.append(units[0])
    if days:
        last = f" to {days[-1]:%a %d %b}" if len(days) > 1 else ""
        parts.append(f"{days[0]:%a %d %b}{last}")
    return ", ".join(parts)


