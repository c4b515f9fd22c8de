"""What was done, as placements: amounts as they were done, not as they were planned.

A missed session leaves nothing behind: no placement, and no debt.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time

from planner.domain.dosing import Figure, dose_of
from planner.domain.elsewhere import SLOT, UNKNOWN_LOAD
from planner.domain.facts import Done, Fact, LoadElsewhere, in_force
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import REGIONS, SIDES, Dose, Unit
from planner.season.counts import level_in
from planner.season.doses import Ask, Body, Dosing

NOON = time(12)
HUNDREDTHS = 100
USUAL_SHARE = 75  # percent of the range, where no week says how much is usual; common practice, no source


def done_history(
    facts: Iterable[Fact], problem: Problem, planned: Iterable[Placement] = ()
) -> tuple[tuple[Placement, ...], tuple[Placement, ...]]:
    """(history, kept): what was done before the block's first day, and inside it; each in key order.

    `planned` is the plan in which the sessions stood (the handed-out one); what it does not hold is taken
    from the problem's own placements, else made at the week's amounts. KeyError for an athlete or unit that
    the problem does not know: such a fact is complained of before it is recorded.
    """
    told = in_force(tuple(facts))
    maker = _Maker(problem, _by_place((*problem.candidates, *problem.history, *problem.kept, *planned)))
    found: dict[tuple[str, date, str, str], Placement | None] = {}
    for f in told:
        if isinstance(f, Done):
            found[f.athlete, f.day, f.slot, f.unit] = maker.done(f)
        elif isinstance(f, LoadElsewhere):
            found[f.athlete, f.day, f"{SLOT} {f.id or len(found)}", f.unit] = maker.elsewhere(f)
    done = sorted((p for p in found.values() if p is not None), key=lambda p: p.key)
    first = problem.block.begins
    return tuple(p for p in done if p.day < first), tuple(p for p in done if p.day >= first)


def unanswered(facts: Iterable[Fact], planned: Iterable[Placement]) -> frozenset[tuple[str, date]]:
    """(athlete, day) of what was done and the plan alone does not answer.

    A unit or form it does not hold, a full one that was lighter, a unit done elsewhere: these take the week's
    amounts, or what else could have been placed there. Whoever is not among them is told whole by the plan.
    """
    held = {p.key for p in planned}
    found: set[tuple[str, date]] = set()
    for f in in_force(tuple(facts)):
        if isinstance(f, Done):
            nothing = f.remark == "missed" or f.amount == 0
            as_held = (f.athlete, f.day, f.slot, f.unit, f.word) in held
            if not nothing and not (as_held and (f.remark != "lighter" or f.word == "lighter")):
                found.add((f.athlete, f.day))
        elif isinstance(f, LoadElsewhere) and f.unit:
            found.add((f.athlete, f.day))
    return frozenset(found)


def _by_place(placements: Iterable[Placement]) -> dict[tuple[str, date, str, str], dict[str, Placement]]:
    """Placements by athlete, day, slot and unit, then by amount word; later ones in place of earlier ones."""
    found: dict[tuple[str, date, str, str], dict[str, Placement]] = {}
    for p in placements:
        found.setdefault((p.athlete, p.day, p.slot, p.unit.id), {})[p.dose.word] = p
    return found


@dataclass(frozen=True)
class _Maker:
    problem: Problem
    known: Mapping[tuple[str, date, str, str], Mapping[str, Placement]]

    def done(self, fact: Done) -> Placement | None:
        """The placement of what was done; None when nothing was."""
        if fact.remark == "missed" or fact.amount == 0:
            return None
        here = self.known.get((fact.athlete, fact.day, fact.slot, fact.unit), {})
        base = here.get(fact.word) or next(iter(here.values()), None) or self._made(fact)
        dose = base.dose
        if fact.remark == "lighter" and dose.word != "lighter":
            _, dose = self._pair(fact.athlete, fact.day, base.unit)
            dose = here["lighter"].dose if "lighter" in here else dose
        if fact.amount is not None:
            dose = dose_of(Figure(fact.amount, dose.measure), base.unit, dose, dose)
        return replace(base, dose=_as_felt(dose, fact.minutes, fact.effort), fixed=True)

    def _made(self, fact: Done) -> Placement:
        unit = self.problem.units[fact.unit]
        full, lighter = self._pair(fact.athlete, fact.day, unit)
        opens = [s.begins for s in self.problem.block.slots if s.key == (fact.day, fact.slot)]
        begins = datetime.combine(fact.day, opens[0] if opens else NOON)
        dose = lighter if fact.word == "lighter" else full
        return Placement(fact.athlete, fact.day, fact.slot, unit, dose, begins)

    def _pair(self, athlete: str, day: date, unit: Unit) -> tuple[Dose, Dose]:
        """Full and lighter dose: the week's; where it has none, three quarters of the level's range."""
        week = self.problem.week_of(athlete, day) or next(iter(self.problem.weeks.get(athlete, ())), None)
        if week is not None and unit.id in week.doses:
            return week.doses[unit.id]
        person = self.problem.block.athlete(athlete)
        own = level_in(person, unit.family)
        level = own if own in unit.amounts else next(iter(unit.amounts))
        ask = Ask(level, USUAL_SHARE, "loading", None, "", 1)
        pair = Dosing(self.problem.units, Body.of(person, person.age_on(day))).pair(unit, ask)
        if pair is None:
            raise KeyError(f"{unit.id}: no amount at the level {level}")
        return pair

    def elsewhere(self, fact: LoadElsewhere) -> Placement:
        """Load from elsewhere as a placement: its counters as told, demand and loads of its unit."""
        self.problem.block.athlete(fact.athlete)
        begins = datetime.combine(fact.day, NOON)
        slot = f"{SLOT} {fact.id}" if fact.id else SLOT
        if not fact.unit:
            counters = dict(sorted(fact.counters.items()))
            dose = Dose("full", 1, "times", 0, 0, fact.minutes, fact.effort, _NO_LOADS, counters, {})
            return Placement(fact.athlete, fact.day, slot, UNKNOWN_LOAD, dose, begins, fixed=True)
        unit = self.problem.units[fact.unit]
        full, _ = self._pair(fact.athlete, fact.day, unit)
        bare = replace(full, preparation=(), preparation_minutes=0)
        dose = dose_of(Figure(_amount(unit, fact.counters, full.amount), full.measure), unit, bare, bare)
        dose = replace(dose, counters={**dose.counters, **fact.counters}, note="")
        return Placement(
            fact.athlete, fact.day, slot, unit, _as_felt(dose, fact.minutes, fact.effort), begins, fixed=True
        )


_NO_LOADS = {(region, side): 0 for region in REGIONS for side in SIDES}


def _amount(unit: Unit, counters: Mapping[str, int], usual: int) -> int:
    """How much of the unit the counters stand for; the usual amount when they name none of its own."""
    for counter, hundredths in unit.counters.items():
        if hundredths and counter in counters:
            return max(1, counters[counter] * HUNDREDTHS // hundredths)
    return usual


def _as_felt(dose: Dose, minutes: int | None, effort: int | None) -> Dose:
    """The dose with the minutes and the effort a person told, where they did."""
    return replace(dose, minutes=minutes or dose.minutes, effort=effort or dose.effort)
