"""The timetable of a slot as a CP-SAT model: one 0/1 column for each start of each option of each task.

One worker, a fixed random seed and a limit in deterministic seconds: the same slot gives the same
timetable on any machine.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from typing import Literal

from ortools.sat.python import cp_model

from planner.domain.timetable import FULL_ATTENTION, GRID, NEARBY, NEARBY_BESIDE, NEARBY_GROUPS
from planner.solve.slot_facts import SHARES, Area, CoachThere, Option, SlotAnswer, SlotFacts, Spot, Task, pit_share
from planner.solve.slot_start import END_WEIGHT, LATE_RUN_UP, WALK_WEIGHT, by_hand, points_of, wanted_before

Kind = Literal["eyes", "nearby", "pit", "place"]
KINDS: tuple[Kind, ...] = ("eyes", "nearby", "pit", "place")
WHOLE = 300  # starts up to which a slot is solved in one piece
BEST_SECONDS = 0.05  # deterministic, for a slot in one piece
PART_SECONDS = 0.02  # deterministic, for one person or unit of a large slot
ANY_SECONDS = 4.0  # deterministic, to find one at all or rule it out
FEWER_SECONDS = 0.5  # deterministic, to rule one out for fewer placements
Bool = cp_model.IntVar
Group = tuple[str, Spot]  # a unit at a place


def rules_out(facts: SlotFacts) -> bool:
    """Is it soon proved that these placements have no timetable?"""
    if any(not t.options for t in facts.tasks):
        return True
    return by_hand(facts) is None and _Model(facts, ()).run(FEWER_SECONDS).impossible


def solve_slot(facts: SlotFacts, left_out: Collection[Kind] = (), any_will_do: bool = False) -> SlotAnswer:
    """The best timetable within the limit, or any; `left_out` kinds of limits are not held.

    A large slot begins from a timetable by hand's order and is improved person by person, unit by unit.
    """
    if any(not t.options for t in facts.tasks):
        return SlotAnswer(None, impossible=True)
    start = None if left_out else by_hand(facts)
    if any_will_do:
        return start or _Model(facts, left_out).run(ANY_SECONDS)
    if start is not None and sum(len(o.starts) for t in facts.tasks for o in t.options) > WHOLE:
        return _improved(facts, start)
    model = _Model(facts, left_out)
    model.minimise()
    answer = model.run(BEST_SECONDS)
    if start is not None and (answer.starts is None or answer.points > start.points):
        return start
    if answer.starts is not None or answer.impossible:
        return answer
    return _Model(facts, left_out).run(ANY_SECONDS)


def _improved(facts: SlotFacts, best: SlotAnswer) -> SlotAnswer:
    """Each athlete's session, then each unit anew, while all else keeps its time."""
    assert best.starts is not None
    latest = max(n + o.cells for o, n in best.starts)  # no later start can be better
    athletes = sorted({t.athlete for t in facts.tasks})
    units = sorted({t.unit for t in facts.tasks})
    for wanted in (*(("athlete", a) for a in athletes), *(("unit", u) for u in units)):
        assert best.starts is not None
        tasks = [
            replace(t, options=_until(latest, t) if getattr(t, wanted[0]) == wanted[1] else (_only(o, n),))
            for t, (o, n) in zip(facts.tasks, best.starts, strict=True)
        ]
        model = _Model(replace(facts, cells=latest, tasks=tuple(tasks)), ())
        model.minimise()
        answer = model.run(PART_SECONDS)
        if answer.starts is not None and answer.points < best.points:
            best = replace(answer, proved=False)
    return best


def _only(option: Option, start: int) -> Option:
    return replace(option, starts=(start,))


def _until(latest: int, task: Task) -> tuple[Option, ...]:
    kept = (replace(o, starts=tuple(n for n in o.starts if n + o.cells <= latest)) for o in task.options)
    return tuple(o for o in kept if o.starts)


class _Model:
    def __init__(self, facts: SlotFacts, left_out: Collection[Kind]) -> None:
        self.facts = facts
        self.cp = cp_model.CpModel()
        self.x: list[list[tuple[Option, int, Bool]]] = []
        self.start: list[Bool] = []
        self.end: list[Bool] = []
        self.costs: list[tuple[int, cp_model.IntVar]] = []
        self.looks: dict[tuple[str, Area, int], list[Bool]] = {}
        self.stands: dict[tuple[str, Area, int], Bool] = {}
        for task in facts.tasks:
            self._start(task)
        self._sessions()
        if "place" not in left_out:
            self._places()
        if "pit" not in left_out:
            self._pits()
        if "eyes" not in left_out:
            self._full_attention()
        if "nearby" not in left_out:
            self._nearby()

    # --- sessions -------------------------------------------------------------------------------------

    def _start(self, task: Task) -> None:
        cp = self.cp
        ways = [(o, t, cp.new_bool_var("")) for o in task.options for t in o.starts]
        cp.add_exactly_one(v for _, _, v in ways)
        columns = [v for _, _, v in ways]
        start, end = cp.new_int_var(0, self.facts.cells, ""), cp.new_int_var(0, self.facts.cells, "")
        cp.add(start == cp_model.LinearExpr.weighted_sum(columns, [t for _, t, _ in ways]))
        cp.add(end == cp_model.LinearExpr.weighted_sum(columns, [t + o.cells for o, t, _ in ways]))
        self.x.append(ways)
        self.start.append(start)
        self.end.append(end)

    def _sessions(self) -> None:
        """Day-order without overlap; units of one class in any order."""
        sessions: dict[str, list[int]] = {}
        for i, task in enumerate(self.facts.tasks):
            sessions.setdefault(task.athlete, []).append(i)
        for own in sessions.values():
            free: set[int] = set()
            for n, i in enumerate(own):
                for j in own[:n]:
                    free |= set() if self._in_order(i, j) or self._in_order(j, i) else {i, j}
            if free:
                self.cp.add_no_overlap(
                    self.cp.new_interval_var(self.start[i], self._length(i), self.end[i], "")
                    for i in sorted(free)
                )
            begins = self.cp.new_int_var(0, self.facts.cells, "")
            ends = self.cp.new_int_var(0, self.facts.cells, "")
            for i in own:
                self.cp.add(begins <= self.start[i])
                self.cp.add(ends >= self.end[i])
            self.costs += [(END_WEIGHT, ends), (-1, begins)]

    def _in_order(self, i: int, j: int) -> bool:
        """Is i over before j begins? Then the model is told so."""
        tasks = self.facts.tasks
        if tasks[i].placement not in tasks[j].earlier:
            return False
        self.cp.add(self.start[j] >= self.end[i])
        return True

    def _length(self, i: int) -> cp_model.LinearExprT:
        lengths = [o.cells for o in self.facts.tasks[i].options]
        if min(lengths) == max(lengths):
            return lengths[0]
        return self.cp.new_int_var(min(lengths), max(lengths), "")

    # --- places ---------------------------------------------------------------------------------------

    def _under_way(
        self, tasks: Iterable[int], spot: Spot, coach: str | None = None
    ) -> dict[int, list[tuple[int, Option, Bool]]]:
        """For each line of the grid the starts that are under way in it, at a place (and with a coach)."""
        found: dict[int, list[tuple[int, Option, Bool]]] = {}
        for i in tasks:
            for o, t, v in self.x[i]:
                if o.spot == spot and coach in (None, o.coach):
                    for cell in range(t, t + o.cells):
                        found.setdefault(cell, []).append((i, o, v))
        return found

    def _spots(self) -> list[Spot]:
        return sorted(
            {o.spot for t in self.facts.tasks for o in t.options}, key=lambda s: (s.venue, s.name)
        )

    def _places(self) -> None:
        for spot in self._spots():
            there = [i for i, t in enumerate(self.facts.tasks) if any(o.spot == spot for o in t.options)]
            if len({self.facts.tasks[i].athlete for i in there}) > spot.capacity:
                for ways in self._under_way(there, spot).values():
                    self.cp.add(sum(v for _, _, v in ways) <= spot.capacity)

    def _pits(self) -> None:
        """At any moment the jumps of those who share a pit, evenly over their time, fit into its rate."""
        for spot in self._spots():
            there = [i for i, t in enumerate(self.facts.tasks) if spot.rate and t.jumps]
            for ways in self._under_way(there, spot).values():
                shares = [pit_share(self.facts.tasks[i].jumps, o.cells, spot.rate) for i, o, _ in ways]
                self.cp.add(
                    cp_model.LinearExpr.weighted_sum([v for _, _, v in ways], shares) <= GRID * 60 * SHARES
                )

    # --- coaches --------------------------------------------------------------------------------------

    def _groups(self, eyes: int) -> list[Group]:
        found = {
            (t.unit, o.spot) for t in self.facts.tasks if min(t.eyes, FULL_ATTENTION) == eyes for o in t.options
        }
        return sorted(found, key=lambda g: (g[0], g[1].venue, g[1].name))

    def _full_attention(self) -> None:
        """A coach looks at one full-attention group at a time, no larger than one can watch."""
        for coach in self.facts.coaches:
            at: dict[int, list[Bool]] = {}
            used: dict[Spot, list[Bool]] = {}
            for group in self._groups(FULL_ATTENTION):
                mine = [i for i, t in enumerate(self.facts.tasks) if t.unit == group[0]]
                for cell, ways in sorted(self._under_way(mine, group[1], coach.name).items()):
                    if cell not in coach.cells:
                        for _, _, v in ways:
                            self.cp.add(v == 0)
                        continue
                    look = self.cp.new_bool_var("")
                    self.looks.setdefault((coach.name, group[1].area, cell), []).append(look)
                    parts = [self.facts.tasks[i].part for i, _, _ in ways]
                    self.cp.add(
                        cp_model.LinearExpr.weighted_sum([v for _, _, v in ways], parts)
                        <= self.facts.whole * look
                    )
                    for _, _, v in ways:
                        self.cp.add_implication(v, look)
                    at.setdefault(cell, []).append(look)
                used.setdefault(group[1], []).extend(
                    v for i in mine for o, _, v in self.x[i] if o.spot == group[1] and o.coach == coach.name
                )
            for looks in at.values():
                if len(looks) > 1:
                    self.cp.add_at_most_one(looks)
            everything = [v for looks in at.values() for v in looks]
            if len(at) > coach.budget:
                self.cp.add(sum(everything) <= coach.budget)
            self._walks(used)

    def _walks(self, used: dict[Spot, list[Bool]]) -> None:
        """Each further place at which a coach gives full attention costs points."""
        if len(used) > 1:
            for columns in used.values():
                here = self.cp.new_bool_var("")
                for v in columns:
                    self.cp.add_implication(v, here)
                self.costs.append((WALK_WEIGHT, here))

    def _nearby(self) -> None:
        """Whoever needs a coach nearby is in sight of one; a coach keeps only so many groups in sight."""
        groups = self._groups(NEARBY)
        active: dict[tuple[Area, int], list[tuple[Bool, bool]]] = {}
        for unit, spot in groups:
            mine = [i for i, t in enumerate(self.facts.tasks) if t.unit == unit]
            minor = any(self.facts.tasks[i].minor for i in mine)
            for cell, ways in sorted(self._under_way(mine, spot).items()):
                on = self.cp.new_bool_var("")
                for _, _, v in ways:
                    self.cp.add_implication(v, on)
                active.setdefault((spot.area, cell), []).append((on, minor))
        areas = sorted({a for a, _ in active} | {a for _, a, _ in self.looks})
        for coach in self.facts.coaches:
            self._where_they_stand(coach, areas)
        for (area, cell), ons in sorted(active.items(), key=lambda kv: kv[0]):
            self._in_sight(area, cell, [on for on, _ in ons], self.facts.coaches)
            if any(minor for _, minor in ons):
                trusted = [c for c in self.facts.coaches if c.coach.minors]
                if len(trusted) < len(self.facts.coaches):
                    self._in_sight(area, cell, [on for on, minor in ons if minor], trusted)

    def _where_they_stand(self, coach: CoachThere, areas: list[Area]) -> None:
        for cell in range(self.facts.cells):
            here = [self.cp.new_bool_var("") for _ in areas]
            self.cp.add(sum(here) <= int(cell in coach.cells))
            for area, stands in zip(areas, here, strict=True):
                self.stands[coach.name, area, cell] = stands
                for look in self.looks.get((coach.name, area, cell), ()):
                    self.cp.add_implication(look, stands)
                before = self.stands.get((coach.name, area, cell - 1))
                if before is not None and len(areas) > 1:
                    arrives = self.cp.new_bool_var("")
                    self.cp.add(stands - before <= arrives)
                    self.costs.append((1, arrives))

    def _in_sight(self, area: Area, cell: int, groups: list[Bool], coaches: Iterable[CoachThere]) -> None:
        room: list[cp_model.LinearExprT] = []
        for coach in coaches:
            room.append(NEARBY_GROUPS * self.stands[coach.name, area, cell])
            looks = self.looks.get((coach.name, area, cell), ())
            room += [-(NEARBY_GROUPS - NEARBY_BESIDE) * v for v in looks]
        self.cp.add(sum(groups) <= sum(room))

    # --- measure and run ------------------------------------------------------------------------------

    def minimise(self) -> None:
        """Sessions end early and without waiting, groups together, coaches walk little, run-ups come first."""
        alike: dict[tuple[str, str], list[int]] = {}
        for i, task in enumerate(self.facts.tasks):
            alike.setdefault((task.unit, task.placement.venue), []).append(i)
        for same in alike.values():
            if len(same) > 1:
                low, high = (self.cp.new_int_var(0, self.facts.cells, "") for _ in range(2))
                for i in same:
                    self.cp.add(low <= self.start[i])
                    self.cp.add(high >= self.start[i])
                self.costs += [(1, high), (-1, low)]
        for i, j in wanted_before(self.facts):
            late = self.cp.new_bool_var("")
            self.cp.add(self.start[i] <= self.start[j]).only_enforce_if(~late)
            self.costs.append((LATE_RUN_UP, late))
        self.cp.minimize(
            cp_model.LinearExpr.weighted_sum([v for _, v in self.costs], [w for w, _ in self.costs])
        )

    def run(self, seconds: float) -> SlotAnswer:
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 0
        solver.parameters.max_deterministic_time = seconds
        solver.parameters.linearization_level = 0
        solver.parameters.symmetry_level = 0
        solver.parameters.max_presolve_iterations = 1
        solver.parameters.cp_model_probing_level = 0  # it would take longer than the search
        solver.parameters.catch_sigint_signal = False
        status = solver.solve(self.cp)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return SlotAnswer(None, impossible=status == cp_model.INFEASIBLE)
        chosen = [next((o, t) for o, t, v in ways if solver.boolean_value(v)) for ways in self.x]
        nearby = {(c, t): a for (c, a, t), v in self.stands.items() if solver.boolean_value(v)}
        points = points_of(self.facts, chosen, nearby)
        return SlotAnswer(tuple(chosen), nearby, points, status == cp_model.OPTIMAL)
