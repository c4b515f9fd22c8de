"""Tiny worlds, drawn plans: how a rule file writes its examples and names its own small universe."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta

from planner.catalogue import units as all_units
from planner.domain import elsewhere
from planner.domain.block import Athlete, Block, Coach, Competition, Opening, Place, Presence, Slot
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import REGIONS, SIDES, Demand, Dose, Level, Region, Side, Unit

MONDAY = date(2027, 3, 1)
PLACES = ("pit", "straight", "track", "gym", "grass", "pool", "bed", "circle", "hurdles")
CLOCK = {
    "before": (time(12), time(12)),  # of what is known by its last date only
    "morning": (time(10), time(13)),
    "midday": (time(12), time(15)),
    "evening": (time(17), time(20)),
    elsewhere.SLOT: (time(12), time(13)),  # done outside the plan, for `history` and `kept`
}


@dataclass(frozen=True)
class World:
    """What a tiny world holds; every field has a default a reader can guess.

    `units` are catalogue ids; `amounts` those words offered; `block` and `week` override fields of the
    domain records of the same name (for example block={'competitions': (...)}, week={'caps': {...}});
    `persons` overrides the athletes; `history` draws the days before the first one ('a | b' ends on the
    day before).
    """

    units: Sequence[str]
    days: int = 4
    first: date = MONDAY
    slots: Sequence[str] = ("evening",)
    athletes: int = 1
    level: Level = "advanced"
    events: tuple[str, ...] = ("long jump",)
    amounts: Sequence[str] = ("full",)
    persons: tuple[Athlete, ...] = ()
    block: Mapping[str, object] = field(default_factory=dict)
    week: Mapping[str, object] = field(default_factory=dict)
    weeks: Mapping[int, Mapping[str, object]] = field(default_factory=dict)  # the same for one week, by its number
    over: int = 0  # days from the first on that are over: nothing may be chosen there
    history: str = ""
    handed_out: str = ""  # drawn from the first day on, for every athlete: what they hold
    come_in: Sequence[Competition] = ()  # competitions of which what was handed out does not know
    key: Sequence[str] = ()  # the units of it that are key ones
    now: datetime | None = None  # of a re-plan
    opened: bool = False  # every week is planned anew, whatever was handed out
    kept: str = ""  # drawn from the first day on, for every athlete: done or handed out
    preparation: bool = False  # attach the drills that prepare a unit
    capacity: int = 99
    jumps_per_hour: int = 40


def dose(unit: Unit, word: str, level: Level, take_off_leg: Side = "left") -> Dose:
    """A dose at the top of the level's range: enough for a tiny world (the season resolves real ones)."""
    demand: Demand = unit.demand if word == "full" else unit.lighter
    most = unit.amounts[level].high if level in unit.amounts else 1
    amount = most if word == "full" else unit.lighter_amount(level, most)
    take_off_leg = unit.jumping_leg(take_off_leg)
    loads: dict[tuple[Region, Side], int] = {}
    for region in REGIONS:
        for side in SIDES:
            one_sided = unit.takes_side in ("take-off", "other") and unit.take_off_share == 100
            less = one_sided and side != take_off_leg
            if (load := demand.loads.get(region, 0) - int(less)) > 0:  # what is not loaded may be left out
                loads[region, side] = load
    counted = unit.counted("full" if word == "full" else "lighter")
    counters = {c: amount * k // 100 for c, k in sorted(counted.items())}
    jumps = counters.get("take-offs", 0)
    own = -(-jumps * unit.take_off_share // 100)
    other: Side = "right" if take_off_leg == "left" else "left"
    return Dose(
        word="full" if word == "full" else "lighter",
        amount=amount,
        measure=unit.measure,
        neural=demand.neural,
        metabolic=demand.metabolic,
        minutes=demand.minutes[1],
        effort=demand.effort[1],
        loads=loads,
        counters=counters,
        take_offs={take_off_leg: own, other: jumps - own},
    )


def problem(world: World) -> Problem:
    """The problem of a tiny world: every unit may stand in every slot of every day."""
    days = [world.first + timedelta(days=i) for i in range(world.days)]
    people = world.persons or tuple(
        Athlete(name, date(2000, 1, 1), "", world.events, world.level, training_years=8, sound_landing=True)
        for name in ("Ada", "Bo", "Cy", "Di")[: world.athletes]
    )
    places = [Place("track", kind, kind, world.capacity, world.jumps_per_hour) for kind in PLACES]
    slots = [Slot(d, s, *CLOCK[s]) for d in days for s in world.slots]
    coach = Coach("Kit")
    fields: dict[str, object] = {
        "slots": tuple(slots),
        "openings": tuple(Opening(s.day, s.name, p, s.begins, s.ends) for s in slots for p in places),
        "presences": tuple(Presence(s.day, s.name, coach.name, s.minutes, coach) for s in slots),
        "athletes": people,
    }
    block = Block("tiny", days[0], days[-1], **{**fields, **world.block})  # type: ignore[arg-type]
    wanted = [all_units()[u] for u in world.units]
    candidates = tuple(
        _placement(a, d, s, u, word)
        for a in people
        for d in days[world.over :]
        for s in world.slots
        for u in wanted
        for word in world.amounts
    )
    weeks = {a.name: _weeks(world, a, days, wanted) for a in people}
    history = tuple(
        _placement(a, world.first - timedelta(days=back), s, all_units()[u], word)
        for a in people
        for back, cell in enumerate(reversed(world.history.split("|") if world.history else []), start=1)
        for s, u, word in _read(cell, world.slots[0])
    )
    kept, handed_out = (
        tuple(
            _placement(a, day, s, all_units()[u], word)
            for a in people
            for day, cell in zip(days, drawn.split("|"), strict=False)
            for s, u, word in _read(cell, world.slots[-1])
        )
        for drawn in (world.kept, world.handed_out)
    )
    if world.preparation:
        candidates, history, kept = (tuple(map(_prepared, ps)) for ps in (candidates, history, kept))
    return Problem(
        block,
        all_units(),
        weeks,
        tuple(sorted(candidates, key=lambda p: p.key)),
        history=history,
        kept=kept,
        handed_out=tuple(replace(p, importance="key") if p.unit.id in world.key else p for p in handed_out),
        now=world.now,
        come_in=tuple(world.come_in),
        opened=frozenset((a, w.begins) for a in weeks for w in weeks[a]) if world.opened else frozenset(),
    )


def _placement(athlete: Athlete, day: date, slot: str, unit: Unit, word: str) -> Placement:
    begins = datetime.combine(day, CLOCK[slot][0])
    place = unit.place_kinds[0] if unit.place_kinds else "anywhere"
    made = dose(unit, word, athlete.level, athlete.take_off_leg)
    return Placement(athlete.name, day, slot, unit, made, begins, place, "track")


def _prepared(placement: Placement) -> Placement:
    """The placement with the drills of its unit attached, 15 minutes each, as the catalogue names them."""
    parts = tuple((name, n, all_units()[name].measure) for name, n in placement.unit.prepares)
    made = replace(placement.dose, preparation=parts, preparation_minutes=15 * len(parts))
    return replace(placement, dose=made)


def _weeks(world: World, athlete: Athlete, days: list[date], wanted: list[Unit]) -> tuple[AthleteWeek, ...]:
    by_week: dict[date, list[date]] = {}
    for d in days:
        by_week.setdefault(d - timedelta(days=d.weekday()), []).append(d)
    families = sorted({u.family for u in wanted})
    made = []
    for i, (begins, inside) in enumerate(sorted(by_week.items())):
        fields: dict[str, object] = {
            "athlete": athlete.name,
            "index": i,
            "begins": begins,
            "days": tuple(inside),
            "phase": "specific-preparation",
            "share": 100,
            "kind": "loading",
            "available_days": len(inside),
            "counts": {f: Count(0, 0, 7) for f in families},
            "fast_days": Count(0, 0, 7),
            "training_days": Count(0, 0, 7),
            "caps": {},
            "doses": {
                u.id: (
                    dose(u, "full", athlete.level, athlete.take_off_leg),
                    dose(u, "lighter", athlete.level, athlete.take_off_leg),
                )
                for u in wanted
            },
            "importance": {},
        }
        own = {**fields, **world.week, **world.weeks.get(i, {})}
        made.append(AthleteWeek(**own))  # type: ignore[arg-type]
    return tuple(made)


def _read(cell: str, usual_slot: str) -> list[tuple[str, str, str]]:
    """'morning: flying-sprints lighter + mobility' -> [(slot, unit, word), ...]; '-' is rest."""
    found: list[tuple[str, str, str]] = []
    slot = usual_slot
    for part in cell.replace(":", ": +").split("+"):
        words = part.split()
        if not words or words == ["-"]:
            continue
        if words[0].endswith(":"):
            slot = words[0][:-1]
            continue
        found.append((slot, words[0], "lighter" if "lighter" in words[1:] else "full"))
    return found


def draw(made: Problem, text: str) -> tuple[Placement, ...]:
    """A plan drawn as text: one line an athlete, one cell a day parted by '|', units parted by '+'.

    'flying-sprints | - | morning: heavy-strength + evening: mobility'. A slot word holds for the units
    after it in the cell. Raises KeyError for a placement that is no candidate of this world.
    """
    by_key = {p.key: p for p in made.candidates}
    slots = [s.name for s in made.block.slots if s.day == made.block.begins]
    plan = []
    for athlete, line in zip(made.athletes, text.strip().splitlines(), strict=False):
        for day, cell in zip(made.days, line.split("|"), strict=False):
            for slot, unit, word in _read(cell, slots[-1]):
                plan.append(by_key[athlete, day, slot, unit, word])
    return tuple(plan)
