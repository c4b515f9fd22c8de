"""What a slot's timetable is made from: tasks on a grid of five minutes, places, coaches. No solver here.

A unit takes whole lines of the grid. They are handed out so that the lines of a session add up to its
minutes: each unit is at most one line off, and the rounding is never paid twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta

from planner.domain.block import Coach, Opening, Presence
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import FULL_ATTENTION, GRID, MOST_WAITING, UNMEASURED, UNRAKED
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES
from planner.rules import coach_eyes, pit_rate

ADULT = 18  # years
SHARES = 1000  # parts of a second in which a pit's time is counted
Area = tuple[str, str]  # venue, and the place when it is indoors: what one can see at once


@dataclass(frozen=True)
class Spot:
    """A place in the slot. `rate` is jumps an hour at a pit, 0 elsewhere."""

    venue: str
    name: str
    kind: str = ""
    capacity: int = 999
    rate: int = 0
    indoors: bool = False

    @property
    def area(self) -> Area:
        return (self.venue, self.name if self.indoors else "")


@dataclass(frozen=True)
class Option:
    """A way to do a unit: where, with which coach ('' when none is needed), in how many lines, from when."""

    spot: Spot
    coach: str
    cells: int
    starts: tuple[int, ...]
    window: tuple[datetime, datetime]


@dataclass(frozen=True)
class Task:
    """A placement on the grid. `cells` are its own lines; `part` of `whole` is what it takes of a group."""

    placement: Placement
    cells: int
    jumps: int
    part: int
    minor: bool
    options: tuple[Option, ...]
    earlier: tuple[Placement, ...] = ()  # of the same athlete, what must be over before

    @property
    def athlete(self) -> str:
        return self.placement.athlete

    @property
    def unit(self) -> str:
        return self.placement.unit.id

    @property
    def eyes(self) -> int:
        return self.placement.unit.eyes


Way = tuple[Option, int]  # how a task is done, and the line of the grid in which it starts


@dataclass(frozen=True)
class SlotAnswer:
    """For each task its way (None: no timetable), and what it costs by the slot's measure.

    `nearby`: where each coach stands for the sake of those who need one nearby, by coach and line.
    """

    starts: tuple[Way, ...] | None
    nearby: dict[tuple[str, int], Area] = field(default_factory=dict)
    points: int = 0
    proved: bool = False
    impossible: bool = False


@dataclass(frozen=True)
class CoachThere:
    """A coach, the lines of the grid in which they are there, and how many of them they have for groups."""

    name: str
    coach: Coach
    cells: frozenset[int]
    budget: int


@dataclass(frozen=True)
class SlotFacts:
    """Everything a slot's timetable may depend on. `prefix` is warm-up and drills in lines, by athlete."""

    day: date
    slot: str
    origin: datetime
    cells: int
    tasks: tuple[Task, ...]
    prefix: dict[str, int]
    drills: dict[str, int]
    opens: dict[str, datetime]  # when an athlete's first place opens
    coaches: tuple[CoachThere, ...]
    helpers: tuple[Presence, ...]
    whole: int  # what a coach's whole group holds, in parts

    def at(self, cell: int) -> datetime:
        return self.origin + timedelta(minutes=GRID * cell)


def slot_facts(placements: Iterable[Placement], problem: Problem, day: date, slot: str) -> SlotFacts:
    """The slot on its grid, whoever its placements are given by; they are taken in key order."""
    chosen = sorted(placements, key=lambda p: p.key)
    windows = {p: [(s, *_window(problem, p, s)) for s in _spots(problem, p)] for p in chosen}
    begins = min((b for ws in windows.values() for _, b, _ in ws), default=datetime.combine(day, time(0)))
    ends = max((e for ws in windows.values() for _, _, e in ws), default=begins)
    origin = begins - timedelta(minutes=begins.minute % GRID, seconds=begins.second)
    grid = _Grid(origin, -int((origin - ends) // timedelta(minutes=GRID)))
    coaches = _coaches(problem, day, slot, grid)
    whole = coach_eyes.RULE.number(problem, "group", "", day) * coach_eyes.RULE.number(
        problem, "novice_group", "", day
    )
    tasks: list[Task] = []
    prefix: dict[str, int] = {}
    drills: dict[str, int] = {}
    opens: dict[str, datetime] = {}
    for athlete in sorted({p.athlete for p in chosen}):
        own = [p for p in chosen if p.athlete == athlete]
        span = _Session(problem, own, {p: windows[p] for p in own}, grid)
        prefix[athlete], drills[athlete] = span.prefix, span.drills
        opens[athlete] = min(b for p in own for _, b, _ in windows[p])
        crowd = {s.name for q in chosen if q.athlete != athlete and _jumps(q) for s, _, _ in windows[q] if s.rate}
        tasks += [_task(problem, p, span, coaches, crowd) for p in own]
    helpers = tuple(x for x in problem.presences_in(day, slot) if x.coach is None)
    return SlotFacts(
        day, slot, origin, grid.cells, tuple(tasks), prefix, drills, opens, coaches, helpers, whole
    )


@dataclass(frozen=True)
class _Grid:
    origin: datetime
    cells: int

    def floor(self, moment: datetime) -> int:
        return int((moment - self.origin) // timedelta(minutes=GRID))

    def ceil(self, moment: datetime) -> int:
        return -int((self.origin - moment) // timedelta(minutes=GRID))


class _Session:
    """One athlete's session: its lines add up to its minutes, and each unit has a first and a last start."""

    def __init__(
        self,
        problem: Problem,
        own: Sequence[Placement],
        windows: dict[Placement, list[tuple[Spot, datetime, datetime]]],
        grid: _Grid,
    ) -> None:
        warm = 0 if all(p.unit.recovery_only for p in own) else WARM_UP_MINUTES
        drills = max(0, sum(p.dose.preparation_minutes for p in own) - PREPARATION_INSIDE_WARM_UP)
        self.prefix = -(-(warm + drills) // GRID)
        self.drills = max(0, self.prefix - warm // GRID)
        self.spans = windows
        self.windows = {
            p: [(s, grid.floor(b), grid.ceil(e)) for s, b, e in windows[p]] for p in own
        }  # a line of the grid counts as open when part of it is
        self.opens = min(b for ws in self.windows.values() for _, b, _ in ws)
        self.cells = self._shared_out(own, warm + drills)
        self.earlier = {q: tuple(p for p in own if self._before(p, q)) for q in own}
        self.first, self.last = self._starts(grid)

    def _shared_out(self, own: Sequence[Placement], before: int) -> dict[Placement, int]:
        cells: dict[Placement, int] = {}
        sums: dict[tuple[int, int], int] = {}
        for p in sorted(own, key=lambda p: (p.unit.order, p.key)):
            _, begins, ends = self.windows[p][0]
            done = sums.get((begins, ends), before if begins == self.opens else 0)
            sums[begins, ends] = done + p.dose.minutes
            cells[p] = max(1, -(-(done + p.dose.minutes) // GRID) - -(-done // GRID))
        return cells

    def _before(self, p: Placement, q: Placement) -> bool:
        """Must p be over before q begins? By opening hours, else by day-order.

        Where a place closes before another opens, the hours decide: recovery on the grass in the morning
        comes before strength in a gym that opens later. What then follows from the hours is left to them.
        """
        if self._closes_first(p, q) or self._closes_first(q, p):
            return self._closes_first(p, q)
        if p.unit.order >= q.unit.order:
            return False
        return not any(self._closes_first(q, a) and a.unit.order < p.unit.order for a in self.windows)

    def _closes_first(self, p: Placement, q: Placement) -> bool:
        return max(e for _, _, e in self.windows[p]) <= min(b for _, b, _ in self.windows[q])

    def _starts(self, grid: _Grid) -> tuple[dict[Placement, int], dict[Placement, int]]:
        first = {p: max(self.opens + self.prefix, min(b for _, b, _ in ws)) for p, ws in self.windows.items()}
        last = {p: max(e for _, _, e in ws) - self.cells[p] for p, ws in self.windows.items()}
        for p in sorted(self.windows, key=lambda p: len(self.earlier[p])):
            waits = [first[q] + self.cells[q] for q in self.earlier[p]]
            whole = self.opens + self.prefix + sum(self.cells[q] for q in self.earlier[p])
            first[p] = max([first[p], whole, *waits])
        for p in sorted(self.windows, key=lambda p: -len(self.earlier[p])):
            later = [q for q in self.windows if p in self.earlier[q]]
            last[p] = min([last[p], *(last[q] - self.cells[p] for q in later)])
        return first, last


def _task(
    problem: Problem, p: Placement, span: _Session, coaches: Sequence[CoachThere], crowd: set[str]
) -> Task:
    athlete = problem.block.athlete(p.athlete)
    age = athlete.age_on(p.day)
    minor = age is not None and age < ADULT
    novice = athlete.level_for(p.unit.family) == "novice"
    rule = coach_eyes.RULE
    part = rule.number(problem, "group" if novice else "novice_group", "", p.day)
    names = [""]
    if p.unit.eyes >= FULL_ATTENTION:
        able = [c for c in coaches if c.coach.teaches(p.unit.family) and (c.coach.minors or not minor)]
        names = [c.name for c in able]
    cells, jumps = span.cells[p], _jumps(p)
    options = []
    for (spot, opens, closes), (_, begins, ends) in zip(span.windows[p], span.spans[p], strict=True):
        longer = [cells]
        if spot.rate and jumps:
            least = max(cells, -(-jumps * 60 // (spot.rate * GRID)))
            most = max(least, cells + MOST_WAITING // GRID) if spot.name in crowd else least
            longer = list(range(least, most + 1))
        for n in longer:
            starts = range(max(span.first[p], opens), min(span.last[p] + cells, closes) - n + 1)
            options += [Option(spot, c, n, tuple(starts), (begins, ends)) for c in names if len(starts)]
    at_pit = jumps if any(o.spot.rate for o in options) else 0
    return Task(p, cells, at_pit, part, minor, tuple(options), span.earlier[p])


def _jumps(p: Placement) -> int:
    """Jumps a pit must take, counted as its rate is; landings where a unit holds no jumps."""
    counters = p.dose.counters
    jumps = counters.get("short-jumps", 0) + counters.get("full-jumps", 0)
    return jumps or counters.get("landings", 0)


def _spots(problem: Problem, p: Placement) -> list[Spot]:
    """The places of the placement's kind at its venue that are open in the slot, its own first."""
    openings = problem.openings_in(p.day, p.slot)
    own = next((o for o in openings if (o.place.venue, o.place.name) == (p.venue, p.place)), None)
    if own is None:
        return [Spot(p.venue, p.place)]
    alike = [o for o in openings if (o.place.venue, o.place.kind) == (p.venue, own.place.kind)]
    alike.sort(key=lambda o: (o is not own, o.place.name))
    return [_spot(problem, o, openings) for o in alike]


def _spot(problem: Problem, o: Opening, openings: Sequence[Opening]) -> Spot:
    rate = pit_pace(problem, o, openings) if o.place.kind == "pit" else 0
    return Spot(o.place.venue, o.place.name, o.place.kind, o.place.capacity, rate, not o.place.outdoor)


def pit_pace(problem: Problem, opening: Opening, openings: Sequence[Opening]) -> int:
    """Jumps an hour at a pit: its rate when somebody rakes and measures.

    Fewer where nobody rakes, more where it is raked and nothing is measured. Helpers who rake go to the
    pits in order of their names, one each; one who is not there for all of its opening does not count.
    """
    usual = opening.place.jumps_per_hour or pit_rate.RULE.number(problem, "usual_rate", "", opening.day)
    pits = sorted((o.place.venue, o.place.name) for o in openings if o.place.kind == "pit")
    there = [
        x for x in problem.presences_in(opening.day, opening.slot)
        if x.coach is None and _all_along(x, opening)
    ]  # fmt: skip
    nth = pits.index((opening.place.venue, opening.place.name))
    rakers = [x for x in there if "rake" in x.tasks]
    if len(rakers) <= nth:
        return max(1, usual * UNRAKED[0] // UNRAKED[1])
    measured = sum("measure" in x.tasks for x in there) > nth
    return usual if measured else usual * UNMEASURED[0] // UNMEASURED[1]


def _all_along(presence: Presence, opening: Opening) -> bool:
    if presence.hours:
        return any(b <= opening.begins and opening.ends <= e for b, e in presence.hours)
    return presence.minutes >= opening.minutes


def _window(problem: Problem, p: Placement, spot: Spot) -> tuple[datetime, datetime]:
    return problem.window_of(p if spot.name == p.place else replace(p, place=spot.name))


def _coaches(problem: Problem, day: date, slot: str, grid: _Grid) -> tuple[CoachThere, ...]:
    """Where only a number of minutes is known, any lines may be theirs, but no more than these minutes."""
    found = []
    for x in problem.presences_in(day, slot):
        if x.coach is None:
            continue
        cells = set(range(grid.cells))
        if x.hours:
            cells = set()
            for b, e in x.hours:
                begins = grid.ceil(datetime.combine(day, b))
                cells |= set(range(max(0, begins), min(grid.cells, grid.floor(datetime.combine(day, e)))))
        found.append(CoachThere(x.name, x.coach, frozenset(cells), -(-x.minutes // GRID)))
    return tuple(sorted(found, key=lambda c: c.name))


def as_held(facts: SlotFacts) -> SlotFacts | None:
    """The same slot with everything that has a start time, a place and a coach already held to these.

    None when nothing has, or something can no longer be as it was.
    """
    if all(t.placement.starts is None for t in facts.tasks):
        return None
    tasks = []
    for t in facts.tasks:
        p = t.placement
        if p.starts is None:
            tasks.append(t)
            continue
        line = (p.starts - facts.origin) // timedelta(minutes=GRID)
        there = (o for o in t.options if o.spot.name in (p.place, "") and o.coach in ("", p.coach))
        same = tuple(replace(o, starts=(line,)) for o in there if line in o.starts)
        if not same:
            return None
        tasks.append(replace(t, options=same))
    return replace(facts, tasks=tuple(tasks))


def pit_share(jumps: int, cells: int, rate: int) -> int:
    """What a line of the grid of a pit's time an athlete takes, in thousandths of a second, rounded down."""
    return jumps * 3600 * SHARES // (rate * cells)
