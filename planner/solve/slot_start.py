"""A slot's timetable by hand's order: what can begin first begins first. A start for the exact search.

It may find none where there is one, and is never the last word.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from planner.domain.plan import Placement
from planner.domain.timetable import (
    FULL_ATTENTION,
    GRID,
    JUMPS,
    NEARBY,
    NEARBY_BESIDE,
    NEARBY_GROUPS,
    run_up_before_jump,
)
from planner.solve.slot_facts import (
    SHARES,
    Area,
    Option,
    SlotAnswer,
    SlotFacts,
    Spot,
    Task,
    Way,
    pit_share,
)

Group = tuple[str, Spot]
FULL_PIT = GRID * 60 * SHARES


END_WEIGHT = 2  # points a line by which a session ends later
WALK_WEIGHT = 2  # points a place at which a coach gives full attention
LATE_RUN_UP = 2  # points for run-ups without a jump that come after a jump of the same class


def by_hand(facts: SlotFacts) -> SlotAnswer | None:
    """For each task an option and the line it starts in; of a few orders the one that costs least."""
    found = []
    for order in _orders(facts):
        board = _Board(facts)
        ways = board.fill(order)
        nearby = None if ways is None else board.stands()
        if ways is not None and nearby is not None and board.in_budget():
            found.append(SlotAnswer(tuple(ways), nearby, points_of(facts, ways, nearby)))
    return min(found, key=lambda x: x.points) if found else None


def points_of(facts: SlotFacts, ways: Sequence[Way], nearby: Mapping[tuple[str, int], Area]) -> int:
    """The slot's measure: sessions end early and without waiting, groups start together, coaches walk little.

    In lines of the grid: twice each session's end less its start, the spread of the starts of each unit, two
    for each place at which a coach gives full attention, one for each time a coach goes out of one's sight, two
    for each athlete's run-ups without a jump that come after their jumps.
    """
    begins: dict[str, int] = {}
    ends: dict[str, int] = {}
    units: dict[tuple[str, str], list[int]] = {}
    for task, (o, n) in zip(facts.tasks, ways, strict=True):
        begins[task.athlete] = min(n, begins.get(task.athlete, n))
        ends[task.athlete] = max(n + o.cells, ends.get(task.athlete, 0))
        units.setdefault((task.unit, task.placement.venue), []).append(n)
    total = END_WEIGHT * sum(ends.values()) - sum(begins.values())
    total += sum(max(starts) - min(starts) for starts in units.values())
    total += WALK_WEIGHT * len({(o.coach, o.spot) for o, _ in ways if o.coach})
    total += LATE_RUN_UP * sum(ways[i][1] > ways[j][1] for i, j in wanted_before(facts))
    arrivals = ((c, n) for (c, n), area in nearby.items() if n and nearby.get((c, n - 1)) != area)
    return total + (sum(1 for _ in arrivals) if len(set(nearby.values())) > 1 else 0)


def wanted_before(facts: SlotFacts) -> list[tuple[int, int]]:
    """Pairs of tasks of which the first is wanted earlier, though either order is allowed."""
    own: dict[str, list[int]] = {}
    for i, task in enumerate(facts.tasks):
        own.setdefault(task.athlete, []).append(i)
    return [
        (i, j) for mine in own.values() for i in mine for j in mine
        if run_up_before_jump(facts.tasks[i].placement, facts.tasks[j].placement)
        and facts.tasks[j].placement not in facts.tasks[i].earlier
    ]  # fmt: skip


def _orders(facts: SlotFacts) -> list[Callable[[Task], int]]:
    """What goes first among tasks that can begin at once."""
    after: dict[Placement, int] = {}
    for t in facts.tasks:
        after[t.placement] = sum(u.cells for u in facts.tasks if t.placement in u.earlier)
    crowd: dict[str, int] = {}
    for t in facts.tasks:
        crowd[t.unit] = crowd.get(t.unit, 0) + 1
    return [
        lambda t: -after[t.placement],
        lambda t: (-t.eyes * 100 - crowd[t.unit]) if t.eyes >= FULL_ATTENTION else -after[t.placement],
        lambda t: max((o.starts[-1] for o in t.options), default=0),
    ]


class _Board:
    """What is taken in each line of the grid by the tasks that have their time already."""

    def __init__(self, facts: SlotFacts) -> None:
        self.facts = facts
        self.coaches = {c.name: c for c in facts.coaches}
        self.ends: dict[Placement, int] = {}
        self.busy: set[tuple[str, int]] = set()
        self.heads: dict[tuple[Spot, int], int] = {}
        self.pits: dict[tuple[Spot, int], int] = {}
        self.looks: dict[tuple[str, int], Group] = {}
        self.parts: dict[tuple[str, int], int] = {}
        self.near: dict[int, set[Group]] = {}

    def fill(self, order: Callable[[Task], int]) -> list[Way] | None:
        """Again and again the task that can begin first; None when one cannot begin at all."""
        ways: dict[int, Way] = {}
        waiting = dict(enumerate(self.facts.tasks))
        while waiting:
            best: tuple[tuple[int, int, bool, int], Way] | None = None
            for i, task in waiting.items():
                if any(p not in self.ends for p in task.earlier):
                    continue
                way = self.first_way(task, None if best is None else best[0][0])
                jump = task.placement.unit.family in JUMPS
                if way is not None and (best is None or (way[1], order(task), jump, i) < best[0]):
                    best = ((way[1], order(task), jump, i), way)
            if best is None:
                return None
            (*_, i), way = best
            self.take(waiting.pop(i), way)
            ways[i] = way
        return [ways[i] for i in range(len(self.facts.tasks))]

    def first_way(self, task: Task, until: int | None) -> Way | None:
        ready = max((self.ends[p] for p in task.earlier), default=0)
        best: tuple[int, Way] | None = None
        for o in task.options:
            for n in o.starts:
                if n < ready:
                    continue
                if until is not None and n > until:
                    break
                if best is not None and n + o.cells >= best[0]:
                    break
                if self.fits(task, o, n):
                    best = (n + o.cells, (o, n))
                    break
        return None if best is None else best[1]

    def fits(self, task: Task, o: Option, n: int) -> bool:  # noqa: PLR0911  # one return a reason
        share = pit_share(task.jumps, o.cells, o.spot.rate) if task.jumps and o.spot.rate else 0
        group = (task.unit, o.spot)
        for cell in range(n, n + o.cells):
            if (task.athlete, cell) in self.busy or self.heads.get((o.spot, cell), 0) >= o.spot.capacity:
                return False
            if share and self.pits.get((o.spot, cell), 0) + share > FULL_PIT:
                return False
            if task.eyes >= FULL_ATTENTION:
                if cell not in self.coaches[o.coach].cells:
                    return False
                if self.looks.get((o.coach, cell), group) != group:
                    return False
                if self.parts.get((o.coach, cell), 0) + task.part > self.facts.whole:
                    return False
                if not self.in_sight(cell, (o.coach, group), None):
                    return False
            elif task.eyes == NEARBY and not self.in_sight(cell, None, group):
                return False
        return True

    def in_sight(self, cell: int, look: tuple[str, Group] | None, group: Group | None) -> bool:
        """Can those who need a coach nearby all have one, with one more look or one more group?"""
        groups = self.near.get(cell, set()) | ({group} if group else set())
        if not groups:
            return True
        need: dict[Area, int] = {}
        for _, spot in groups:
            need[spot.area] = need.get(spot.area, 0) + 1
        free = 0
        for name, coach in self.coaches.items():
            at = look[1] if look and look[0] == name else self.looks.get((name, cell))
            if at is not None:
                need[at[1].area] = need.get(at[1].area, 0) - NEARBY_BESIDE
            elif cell in coach.cells:
                free += 1
        return sum(-(-max(0, n) // NEARBY_GROUPS) for n in need.values()) <= free

    def take(self, task: Task, way: Way) -> None:
        o, n = way
        self.ends[task.placement] = n + o.cells
        share = pit_share(task.jumps, o.cells, o.spot.rate) if task.jumps and o.spot.rate else 0
        for cell in range(n, n + o.cells):
            self.busy.add((task.athlete, cell))
            self.heads[o.spot, cell] = self.heads.get((o.spot, cell), 0) + 1
            self.pits[o.spot, cell] = self.pits.get((o.spot, cell), 0) + share
            if task.eyes >= FULL_ATTENTION:
                self.looks[o.coach, cell] = (task.unit, o.spot)
                self.parts[o.coach, cell] = self.parts.get((o.coach, cell), 0) + task.part
            elif task.eyes == NEARBY:
                self.near.setdefault(cell, set()).add((task.unit, o.spot))

    def in_budget(self) -> bool:
        """Is nobody asked for more lines than they are there?"""
        used: dict[str, int] = {}
        for name, _ in self.looks:
            used[name] = used.get(name, 0) + 1
        return all(n <= self.coaches[name].budget for name, n in used.items())

    def stands(self) -> dict[tuple[str, int], Area] | None:
        """Where each coach stands in each line; None when minors would have nobody who takes them."""
        found: dict[tuple[str, int], Area] = {}
        areas = sorted({spot.area for groups in self.near.values() for _, spot in groups})
        if not areas:
            return found
        minors = {t.unit for t in self.facts.tasks if t.minor and t.eyes == NEARBY}
        for cell in range(self.facts.cells):
            room: dict[Area, int] = {}
            trusted: dict[Area, int] = {}
            free = []
            for name, coach in self.coaches.items():
                if (look := self.looks.get((name, cell))) is not None:
                    area = found[name, cell] = look[1].area
                    room[area] = room.get(area, 0) + NEARBY_BESIDE
                    trusted[area] = trusted.get(area, 0) + NEARBY_BESIDE * coach.coach.minors
                elif cell in coach.cells:
                    free.append(name)
            groups = self.near.get(cell, set())
            for area in areas:
                needs = sum(spot.area == area for _, spot in groups)
                young = sum(spot.area == area and unit in minors for unit, spot in groups)
                while room.get(area, 0) < needs or trusted.get(area, 0) < young:
                    lacking = trusted.get(area, 0) < young
                    options = [
                        (found.get((c, cell - 1)) != area, c)
                        for c in free
                        if self.coaches[c].coach.minors or not lacking
                    ]
                    if not options:
                        return None
                    coach_name = min(options)[1]
                    free.remove(coach_name)
                    found[coach_name, cell] = area
                    room[area] = room.get(area, 0) + NEARBY_GROUPS
                    trusted[area] = trusted.get(area, 0) + NEARBY_GROUPS * self.coaches[coach_name].coach.minors
            for c in free:
                if (before := found.get((c, cell - 1))) is not None:
                    found[c, cell] = before
        return found
