"""The menu: everything that may be placed, and what is impossible from the start, with the line that says so.

A candidate is left out only where it could never stand. The lighter form is offered where it can matter:
strength always (it is lighter on the day after a big day); every unit in weeks with a limit, a taper, an
easing or an easier week, within four days before a competition, and within two days of an arrival or a
departure. Elsewhere only the full form.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from planner.domain.block import Athlete, Block, Competition, Limit, Opening, Slot, Wish
from planner.domain.finding import Line
from planner.domain.plan import Placement, PlacementKey, Refusal
from planner.domain.problem import AthleteWeek
from planner.domain.units import Dose, Unit
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES
from planner.season.bounds import forbids_load, removes, touches
from planner.season.eligible import ON_DEMAND, eligible
from planner.season.weeks import hindrance, last_day

LIGHTER_KINDS = ("taper", "easier", "easing")
DAYS_BEFORE_COMPETITION = 4
DAYS_AROUND_TRAVEL = 2
REHABILITATION_STAGE = 2


@dataclass
class Menu:
    """What the search through days, slots and units found."""

    candidates: list[Placement] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)

    def refuse(
        self, athlete: str, unit: str, day: date | None, slot: str, reason: str, line: Line | None
    ) -> None:
        self.refusals.append(Refusal(athlete, unit, day, slot, reason, line))


@dataclass(frozen=True)
class Person:
    """One athlete with what of the file concerns them, looked up once."""

    athlete: Athlete
    units: tuple[Unit, ...]  # that fit the events, in id order
    competitions: tuple[Competition, ...]
    limits: tuple[Limit, ...]
    asked: tuple[Wish, ...]  # fixed and wishes
    fixed: tuple[Wish, ...]

    @staticmethod
    def of(block: Block, athlete: Athlete, units: Mapping[str, Unit]) -> Person:
        fixed = tuple(w for w in block.fixed if w.athlete == athlete.name)
        asked = (*fixed, *(w for w in block.wishes if w.athlete == athlete.name))
        fitting = eligible(athlete)
        named = {w.unit for w in asked} | set(ON_DEMAND)
        named |= {u for t in block.themes if t.athlete == athlete.name for u in t.units}
        own = {u.id for u in block.own_units if isinstance(u, Unit)}  # a coach's own units fit everybody
        kept = tuple(
            u for name, u in sorted(units.items())
            if not u.preparation and (name in fitting or name in named or name in own)
        )  # fmt: skip
        return Person(
            athlete,
            kept,
            tuple(c for c in block.competitions if c.athlete == athlete.name),
            tuple(x for x in block.limits if x.athlete == athlete.name),
            asked,
            fixed,
        )


def menu_for(
    block: Block, units: Mapping[str, Unit], weeks: Mapping[str, tuple[AthleteWeek, ...]]
) -> Menu:
    """Candidates in key order, and refusals."""
    menu = Menu()
    openings: dict[tuple[date, str], list[Opening]] = {}
    for opening in block.openings:
        openings.setdefault((opening.day, opening.slot), []).append(opening)
    slots: dict[date, list[Slot]] = {}
    for slot in block.slots:
        slots.setdefault(slot.day, []).append(slot)
    for athlete in block.athletes:
        person = Person.of(block, athlete, units)
        for week in weeks[athlete.name]:
            for day in week.days:
                wanted = _wanted(menu, block, person, week, day)
                for slot in sorted(slots.get(day, ()), key=lambda s: (s.begins, s.name)):
                    _slot(menu, block, person, week, slot, wanted, openings.get(slot.key, []))
    _unmet_wishes(menu, block)
    menu.candidates.sort(key=lambda p: p.key)
    return menu


def _wanted(menu: Menu, block: Block, person: Person, week: AthleteWeek, day: date) -> list[Unit]:
    """The units an athlete may do on a day at all; the others are refused with their line."""
    name = person.athlete.name
    meet = next((c for c in person.competitions if c.first_day <= day <= c.last_day), None)
    if meet is not None:
        menu.refuse(name, "", day, "", f"{meet.name} is on this day: no training", meet.line)
        return []
    limits = [x for x in person.limits if x.active_on(day)]
    asked = {w.unit for w in person.asked if w.day == day}
    found = []
    for unit in person.units:
        if unit.id not in asked and not _in_demand(block, person, week, day, unit, limits):
            continue
        reason = _hindered(person, week, day, unit, limits)
        if reason is not None:
            menu.refuse(name, unit.id, day, "", *reason)
            continue
        found.append(unit)
    return found


def _in_demand(
    block: Block, person: Person, week: AthleteWeek, day: date, unit: Unit, limits: list[Limit]
) -> bool:
    """Is there any use for the unit: a family with a target, or a reason of its own?"""
    if any(unit.id in t.units and _during(t.begins, day, t.ends) for t in block.themes
           if t.athlete == person.athlete.name):  # fmt: skip
        return True
    if unit.id == "own-work":
        return any(x.stage <= REHABILITATION_STAGE for x in limits)
    if unit.id == "off-feet-conditioning":
        return bool(limits)
    if unit.id == "primer":
        return any(c.first_day - day == timedelta(days=1) for c in person.competitions)
    if unit.id in ON_DEMAND:
        return False
    count = week.counts.get(unit.family)
    return count is None or count.target > 0 or count.minimum > 0 or count.maximum == 0


def _during(begins: date | None, day: date, ends: date | None) -> bool:
    return (begins or day) <= day <= (ends or day)


def _hindered(
    person: Person, week: AthleteWeek, day: date, unit: Unit, limits: list[Limit]
) -> tuple[str, Line | None] | None:
    """Why the athlete cannot do the unit on the day, wherever; None when they can."""
    for limit in limits:
        if removes(limit, unit):
            return f"the limit ({limit.region}, stage {limit.stage}) takes {unit.name} out", limit.line
        if forbids_load(limit) and touches(unit, limit, person.athlete.take_off_leg):
            return f"the limit ({limit.region}, stage {limit.stage}) allows no load there", limit.line
    count = week.counts.get(unit.family)
    asked = any(w.unit == unit.id and w.day == day for w in person.asked)
    if (count is None or count.maximum == 0) and not asked and unit.id not in ON_DEMAND:
        return f"{unit.family}: none in this phase ({week.phase})", person.athlete.line
    age = person.athlete.age_on(day)
    if age is not None and age < unit.least_age:
        return f"{unit.name} from {unit.least_age} years on; age is {age}", person.athlete.line
    years = person.athlete.training_years
    if years is not None and years < unit.least_training_years:
        text = f"{unit.name} from {unit.least_training_years} training years on; there are {years}"
        return text, person.athlete.line
    if unit.id not in week.doses:
        return f"{unit.name}: none at this level", person.athlete.line
    return None


def _slot(
    menu: Menu,
    block: Block,
    person: Person,
    week: AthleteWeek,
    slot: Slot,
    wanted: list[Unit],
    openings: list[Opening],
) -> None:
    if not wanted:
        return
    name = person.athlete.name
    begins, ends = datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)
    away = hindrance(block, name, begins, ends)
    if away is not None:
        menu.refuse(name, "", slot.day, slot.name, f"{away.kind}: not there in this slot", away.line)
        return
    lighter = _lighter_matters(block, person, week, slot.day)
    for unit in wanted:
        fixed = any(
            w.unit == unit.id and w.day == slot.day and w.slot in ("", slot.name) for w in person.fixed
        )
        words = week.doses[unit.id] if lighter or fixed or unit.family == "strength" else week.doses[unit.id][:1]
        places = _places(unit, slot, openings)
        if not places:
            kinds = " or ".join(unit.place_kinds)
            menu.refuse(name, unit.id, slot.day, slot.name, f"no {kinds} is open in this slot", slot.line)
            continue
        for dose in words:
            chosen = next((p for p in places if needed(unit, dose) <= p.minutes), None)
            if chosen is None:
                text = f"{unit.name} needs {needed(unit, dose)} minutes, {places[0].minutes} are open"
                menu.refuse(name, unit.id, slot.day, slot.name, f"{text} ({dose.word})", places[0].line)
                continue
            menu.candidates.append(
                Placement(
                    name, slot.day, slot.name, unit, dose, datetime.combine(slot.day, chosen.begins),
                    chosen.place.name, chosen.place.venue,
                    week.importance.get(unit.family, "if there is time"), fixed=fixed,
                )
            )  # fmt: skip


def needed(unit: Unit, dose: Dose) -> int:
    """Minutes of a session with this unit alone, warm-up included."""
    drills = max(0, dose.preparation_minutes - PREPARATION_INSIDE_WARM_UP)
    return dose.minutes + drills + (0 if unit.recovery_only else WARM_UP_MINUTES)


def _places(unit: Unit, slot: Slot, openings: list[Opening]) -> list[Opening]:
    """Openings that would do, best kind first; 'anywhere' is any that is open, or the slot itself."""
    found: list[Opening] = []
    for kind in unit.place_kinds:
        if kind == "anywhere":
            found.extend(openings or [_open_ground(slot)])
        else:
            found.extend(o for o in openings if o.place.kind == kind)
    return found


def _open_ground(slot: Slot) -> Opening:
    from planner.domain.block import Place

    return Opening(slot.day, slot.name, Place("", "", "anywhere"), slot.begins, slot.ends, slot.line)


def _lighter_matters(block: Block, person: Person, week: AthleteWeek, day: date) -> bool:
    if week.kind in LIGHTER_KINDS or week.exam_week:
        return True
    if any(x.active_on(d) for x in person.limits for d in week.days):
        return True
    ahead = (c.first_day - day for c in person.competitions)
    if any(timedelta(0) < gap <= timedelta(days=DAYS_BEFORE_COMPETITION) for gap in ahead):
        return True
    near = timedelta(days=DAYS_AROUND_TRAVEL)
    return any(
        a.athlete == person.athlete.name
        and a.kind != "exam"
        and (abs(day - last_day(a)) <= near or abs(a.begins.date() - day) <= near)
        for a in block.away
    )


def _unmet_wishes(menu: Menu, block: Block) -> None:
    """A fixed place or a wish that nothing on the menu can meet is said, with its own line."""
    offered: set[tuple[str, date, str]] = {(p.athlete, p.day, p.unit.id) for p in menu.candidates}
    by_slot: set[PlacementKey] = {(p.athlete, p.day, p.slot, p.unit.id, "full") for p in menu.candidates}
    reasons: dict[tuple[str, date | None, str], str] = {}
    for r in menu.refusals:
        reasons.setdefault((r.athlete, r.day, r.unit), r.reason)
    for what, wishes in (("must be here", block.fixed), ("would like", block.wishes)):
        for w in wishes:
            met = (w.athlete, w.day, w.unit, "") if not w.slot else None
            if met is not None and (w.athlete, w.day, w.unit) in offered:
                continue
            if w.slot and (w.athlete, w.day, w.slot, w.unit, "full") in by_slot:
                continue
            why = reasons.get((w.athlete, w.day, w.unit)) or reasons.get((w.athlete, w.day, ""))
            text = f"'{what}' cannot be met: {why or 'no slot on this day'}"
            menu.refuse(w.athlete, w.unit, w.day, w.slot, text, w.line)
