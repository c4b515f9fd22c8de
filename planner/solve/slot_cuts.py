"""From a clash to a row for the squad's plan: 'not all of these in this slot', and whatever is as tight.

A row that forbade only the very placements that collided would be answered by their twins: another
athlete's, or a longer one. So every placement that leaves the slot no more room than a member of the clash
stands in for it. What else stands in a session can shift a unit by a line of the grid; the rows are on the
safe side of that.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import Clash
from planner.rules._board import Column
from planner.solve.cpsat import Written
from planner.solve.rows import ONE, ZERO, RowStore
from planner.solve.slot_facts import Task, slot_facts


@dataclass(frozen=True)
class CutPart:
    """Holds when at least `count` of the columns are 1; `settled` of them are, whatever is planned."""

    columns: tuple[Column, ...]
    count: int


@dataclass(frozen=True)
class Cut:
    """Not all of the parts hold at once."""

    parts: tuple[CutPart, ...]

    def broken(self, values: Sequence[int]) -> bool:
        return all(sum(values[c] for c in part.columns) >= part.count for part in self.parts)

    def write(self, written: Written, values: Sequence[int]) -> None:
        """Add the cut to a model in which some columns stand at their values."""
        open_parts: list[tuple[list[int], int]] = []
        for part in self.parts:
            free: list[int] = [c for c in part.columns if c in written.variables]
            missing = part.count - sum(values[c] for c in part.columns if c not in written.variables)
            if missing > len(free):
                return  # this part cannot hold: the cut is kept
            if missing > 0:
                open_parts.append((free, missing))
        held = []
        for free, missing in open_parts:
            holds = written.cp.new_bool_var("")
            columns = [written.variables[c] for c in free]
            written.cp.add(sum(columns) <= missing - 1 + (len(free) - missing + 1) * holds)
            held.append(holds)
        written.cp.add(sum(held) <= len(held) - 1)


def cut_of(clash: Clash, problem: Problem, store: RowStore) -> Cut | None:
    """The row of a clash; None when nothing in it can be planned otherwise."""
    members = list(clash.placements)
    alone = [p for p in members if sum(q.athlete == p.athlete for q in members) == 1]
    units: dict[tuple[str, str, str], list[Placement]] = {}
    for p in alone:
        units.setdefault((p.unit.id, p.venue, p.place), []).append(p)
    stand_ins = _StandIns(clash, problem)
    parts = []
    for same in units.values():
        twins = [q for q in stand_ins.candidates if all(stand_ins.as_tight(p, q) for p in same)]
        parts.append(_part(store, [*same, *(q for q in twins if q not in same)], len(same)))
    for p in members:
        if p not in alone:
            own = [q for q in stand_ins.candidates if q.athlete == p.athlete and stand_ins.as_tight(p, q)]
            parts.append(_part(store, [p, *(q for q in own if q != p)], 1))
    parts = [part for part in parts if part.count > 0]
    return Cut(tuple(parts)) if parts else None


def _part(store: RowStore, placements: Sequence[Placement], count: int) -> CutPart:
    """Settled placements count already; what is no candidate never will."""
    columns = [store.column_of(p) for p in placements]
    free = sorted({c for c in columns if c not in (ONE, ZERO)})
    return CutPart(tuple(free), count - sum(c == ONE for c in columns))


class _StandIns:
    """Which candidates of the slot are as tight as a member of a clash, the others standing as they do."""

    def __init__(self, clash: Clash, problem: Problem) -> None:
        self.clash = clash
        self.problem = problem
        self.tasks = self._tasks(clash.placements)
        self.candidates = problem.known_in_slot(clash.day, clash.slot) if clash.decided else ()

    def _tasks(self, placements: Sequence[Placement]) -> dict[Placement, Task]:
        facts = slot_facts(placements, self.problem, self.clash.day, self.clash.slot)
        return {t.placement: t for t in facts.tasks}

    def as_tight(self, p: Placement, q: Placement) -> bool:
        """Does q in the place of p leave no more room, for q itself and for the rest of its session?"""
        others = [x for x in self.clash.placements if x is not p]
        if q == p:
            return True
        if (q.unit.id, q.venue, q.place) != (p.unit.id, p.venue, p.place):
            return False
        if q in others or (any(x.athlete == q.athlete for x in others) and q.athlete != p.athlete):
            return q in others and q.athlete not in {x.athlete for x in others if x is not q} and (
                self._no_looser(self.tasks[p], self.tasks[q])
            )
        now = self._tasks([*others, q])
        same_session = all(self._no_looser(self.tasks[x], now[x]) for x in others if x.athlete == q.athlete)
        return same_session and self._no_looser(self.tasks[p], now[q])

    @staticmethod
    def _no_looser(p: Task, q: Task) -> bool:
        """Whatever q may do, p may do as well, with less of everything that is scarce."""
        if p.part > q.part or p.jumps > q.jumps or (p.minor and not q.minor):
            return False
        ways: dict[tuple[object, ...], set[int]] = {}
        for o in p.options:
            ways.setdefault((o.spot, o.coach, o.cells), set()).update(o.starts)
        for o in q.options:
            lengths = [o.cells] if q.jumps else range(1, o.cells + 1)
            if not any(ways.get((o.spot, o.coach, n), set()).issuperset(o.starts) for n in lengths):
                return False
        return True
