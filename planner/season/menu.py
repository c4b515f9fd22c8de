"""Everything that may be placed, and what is impossible from the start, with the line that says so.

A placement is left out only where it could never stand. The lighter form is offered where it can matter:
strength always (it is lighter on the day after a big day) and every fixed place; what a limit touches, in
the weeks of the limit; every unit in weeks with exams, a taper, an easing or an easier week, within four
days before a competition and within two days of an arrival or a departure; a unit that is new, because its
family was not allowed in the four weeks before, or because, at the beginning, the earlier block's plan does not
hold it. Recovery is light as it is. Elsewhere only the full form.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from planner.domain.block import Block, Opening, Place, Slot, Wish
from planner.domain.plan import Placement, Refusal
from planner.domain.problem import AthleteWeek
from planner.domain.units import Dose, Unit
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES
from planner.season.counts import level_in, wanted_families
from planner.season.doses import Body, Dosing
from planner.season.person import NEVER_LIGHTER, Person
from planner.season.weeks import hindrance, slots_by_day

WEEKS_BACK = 4  # a unit that these weeks before do not hold is new
TRIED = "supporting"  # how much a trial of the other leg matters; common practice, no source
ROOMY = ("grass", "gym", "track")


@dataclass
class Menu:
    """What the search through athletes, days, slots and units finds."""

    block: Block
    units: Mapping[str, Unit]
    done: Mapping[str, frozenset[str]] = field(default_factory=dict)  # athlete -> units of the earlier block's end
    candidates: list[Placement] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.slots = slots_by_day(self.block)
        self.openings: dict[tuple[date, str], list[Opening]] = {}
        for opening in self.block.openings:
            self.openings.setdefault((opening.day, opening.slot), []).append(opening)
        self._would_do: dict[tuple[tuple[date, str], tuple[str, ...]], list[Opening]] = {}

    def add(
        self, person: Person, weeks: Sequence[AthleteWeek], only: Collection[tuple[str, date]] | None = None
    ) -> None:
        """All of one athlete; of these (athlete, day) only, where they are given."""
        for i, week in enumerate(weeks):
            new = self._new(person, weeks, i)
            families = wanted_families(person.athlete, week.phase)
            for day in week.days:
                if only is not None and (person.athlete.name, day) not in only:
                    continue
                wanted = self._wanted(person, week, day, families)
                for slot in self.slots.get(day, ()) if wanted else ():
                    self._slot(person, week, slot, wanted, new)

    def _new(self, person: Person, weeks: Sequence[AthleteWeek], number: int) -> frozenset[str]:
        """Units of which it is sure that the four weeks before the week of that number do not hold them."""
        done = self.done.get(person.athlete.name)
        if number < WEEKS_BACK and done is None:
            return frozenset()
        before = weeks[max(0, number - WEEKS_BACK) : number]
        allowed = {f for w in before for f, count in w.counts.items() if count.maximum > 0}
        lately = done if done is not None and number < WEEKS_BACK else frozenset()
        return frozenset(u.id for u in person.units if u.family not in allowed and u.id not in lately)

    def _wanted(
        self, person: Person, week: AthleteWeek, day: date, families: frozenset[str]
    ) -> list[Unit]:
        """The units an athlete may do on a day; what is hindered is refused with its line."""
        name = person.athlete.name
        meet = person.competition_on(day)
        if meet is not None:
            self.refusals.append(
                Refusal(name, "", day, "", f"{meet.name}: no training on a competition day", meet.line)
            )
            return []
        found = []
        for unit in person.units:
            if not person.has_use_for(unit, week, day, families):
                continue
            why = person.hindered(unit, week, day)
            if why is None:
                found.append(unit)
            else:
                self.refusals.append(Refusal(name, unit.id, day, "", *why))
        return found

    def _slot(
        self, person: Person, week: AthleteWeek, slot: Slot, wanted: list[Unit], new: frozenset[str]
    ) -> None:
        name = person.athlete.name
        begins, ends = datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)
        away = hindrance(self.block, name, begins, ends)
        if away is not None:
            text = f"{away.kind}: not there in this slot"
            self.refusals.append(Refusal(name, "", slot.day, slot.name, text, away.line))
            return
        lighter = person.lighter_everywhere(week, slot.day)
        for unit in wanted:
            places = self._places(unit, slot)
            if not places:
                text = f"{unit.name}: no {' or '.join(unit.place_kinds)} is open in this slot"
                self.refusals.append(Refusal(name, unit.id, slot.day, slot.name, text, slot.line))
                continue
            fixed = person.is_fixed(unit.id, slot.day, slot.name)
            full, light = self._doses(person, week, unit, slot)
            matters = lighter or unit.id in new or person.lighter_matters(unit, week)
            both = matters and unit.family not in NEVER_LIGHTER
            for dose in (full, light) if both or fixed else (full,):
                opening = next((o for o in places if needed(unit, dose) <= o.minutes), None)
                if opening is None:
                    longest = max(places, key=lambda o: o.minutes)
                    text = (
                        f"{unit.name} ({dose.word}): needs {needed(unit, dose)} minutes, "
                        f"{longest.minutes} are open at most"
                    )
                    self.refusals.append(Refusal(name, unit.id, slot.day, slot.name, text, longest.line))
                    continue
                usual = week.importance.get(unit.family, "if there is time")
                self.candidates.append(
                    Placement(
                        name,
                        slot.day,
                        slot.name,
                        unit,
                        dose,
                        datetime.combine(slot.day, opening.begins),
                        place=opening.place.name,
                        venue=opening.place.venue,
                        importance=TRIED if unit.is_trial else usual,
                        fixed=fixed,
                    )
                )

    def _doses(self, person: Person, week: AthleteWeek, unit: Unit, slot: Slot) -> tuple[Dose, Dose]:
        """The week's two doses; an amount the coach wrote beside a fixed place or wish is the full one."""
        full, light = week.doses[unit.id]
        wish = person.asked(unit.id, slot.day, slot.name)
        amount = own_amount(wish) if wish is not None else 0
        if not amount:
            return full, light
        body = Body.of(person.athlete, person.athlete.age_on(slot.day))
        own = Dosing(self.units, body).at(unit, level_in(person.athlete, unit.family), amount)
        return own or full, light

    def _places(self, unit: Unit, slot: Slot) -> list[Opening]:
        """Openings that would do, best kind first; looked for once, whoever may do the unit."""
        key = (slot.key, unit.place_kinds)
        if key not in self._would_do:
            self._would_do[key] = self._openings_for(unit, slot)
        return self._would_do[key]

    def _openings_for(self, unit: Unit, slot: Slot) -> list[Opening]:
        """Best kind first; 'anywhere' is any that is open, or the slot itself."""
        openings = self.openings.get(slot.key, [])
        found: list[Opening] = []
        for kind in unit.place_kinds:
            if kind == "anywhere":
                found.extend(sorted(openings, key=_in_the_way) or [_open_ground(slot)])
            else:
                found.extend(o for o in openings if o.place.kind == kind)
        return found

    def tell_unmet(self) -> None:
        """A fixed place or a wish that no placement can meet is said, with its own line."""
        if not (self.block.fixed or self.block.wishes):
            return
        offered = {(p.athlete, p.day, p.unit.id, s) for p in self.candidates for s in ("", p.slot)}
        reasons: dict[tuple[str, date | None, str], str] = {}
        for r in self.refusals:
            reasons.setdefault((r.athlete, r.day, r.unit), r.reason)
        for what, wishes in (("must be here", self.block.fixed), ("would like", self.block.wishes)):
            for w in wishes:
                if (w.athlete, w.day, w.unit, w.slot) in offered:
                    continue
                why = reasons.get((w.athlete, w.day, w.unit)) or reasons.get((w.athlete, w.day, ""))
                text = f"'{what}' cannot be met: {why or 'there is no such slot on this day'}"
                self.refusals.append(Refusal(w.athlete, w.unit, w.day, w.slot, text, w.line))


def menu_for(
    block: Block,
    units: Mapping[str, Unit],
    weeks: Mapping[str, tuple[AthleteWeek, ...]],
    done: Mapping[str, frozenset[str]] | None = None,
    only: Collection[tuple[str, date]] | None = None,
) -> Menu:
    """Candidates in key order, and refusals. `done`: athlete -> units of the earlier block's last four weeks.

    With `only` the days of athletes that stand in it, and no refusal of what the coach asked for.
    """
    menu = Menu(block, units, done or {})
    asked = None if only is None else {name for name, _ in only}
    for athlete in block.athletes:
        if asked is None or athlete.name in asked:
            menu.add(Person.of(block, athlete, units), weeks[athlete.name], only)
    if only is None:
        menu.tell_unmet()
    menu.candidates.sort(key=lambda p: p.key)
    return menu


def needed(unit: Unit, dose: Dose) -> int:
    """Minutes of a session with this unit alone, warm-up and drills included."""
    drills = max(0, dose.preparation_minutes - PREPARATION_INSIDE_WARM_UP)
    return dose.minutes + drills + (0 if unit.recovery_only else WARM_UP_MINUTES)


def own_amount(wish: Wish) -> int:
    """The figure of an amount such as '240 m' or '6 run-ups'; 0 for 'full', 'lighter' or nothing.

    A lifting amount such as '3x3@85 %' counts its sets.
    """
    found = re.match(r"\s*(\d{1,5})", wish.amount)
    return int(found.group(1)) if found else 0


def _in_the_way(opening: Opening) -> int:
    """Where somebody who may be anywhere is least in the way: grass, gym, track, then the rest."""
    kind = opening.place.kind
    return ROOMY.index(kind) if kind in ROOMY else len(ROOMY)


def _open_ground(slot: Slot) -> Opening:
    """Where nothing is open, a unit that may be done anywhere has the slot's own time."""
    return Opening(slot.day, slot.name, Place("", "", "anywhere"), slot.begins, slot.ends, slot.line)
