"""From the coach's block to the problem: weeks with their wishes and amounts, then all that may be placed."""

from __future__ import annotations

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from planner import catalogue
from planner.domain.block import Assumption, Athlete, Block, Limit
from planner.domain.edge import Edge
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import FAMILIES, Dose, Unit
from planner.science.load import WARM_UP_EFFORT, WARM_UP_MINUTES, median_load
from planner.season import bounds, volumes
from planner.season.caps import caps_for, hours_cap
from planner.season.counts import Days, counts_for, events_of, importance_of, level_in
from planner.season.doses import Ask, Body, Dosing
from planner.season.edge import block_after
from planner.season.eligible import eligible
from planner.season.gaps import Gaps
from planner.season.menu import menu_for
from planner.season.past import LOOK_BACK_WEEKS, history_of, reference_of, return_percent
from planner.season.phases import frame_for, phases_for
from planner.season.shares import Share, shares_for, usual_share
from planner.season.weeks import Week, slots_by_day, there_on, weeks_of

FILLERS = ("tempo", "general", "low-multi-jumps", "recovery")
FAST = 3  # neural demand of a fast unit
USUAL_FAST_DAYS = 6  # done fast days whose middle load is the usual one


def make_problem(
    block: Block,
    *,
    history: tuple[Placement, ...] = (),
    kept: tuple[Placement, ...] = (),
    edge: Edge | None = None,
    only: Collection[tuple[str, date]] | None = None,
) -> Problem:
    """Everything a rule or the solver may know about a block.

    `history` are placements done before the first day (the file's own last dates are added), `kept` those
    inside the block that are settled already. `edge` is the record of the earlier block: it fills what
    the file leaves open, and its placements are history. With `only` what may be placed is looked for on these
    days of these athletes alone, and refusals are not: () is enough for what only prints.
    """
    loaded: Mapping[str, int] = {}
    if edge is not None and edge.until < block.begins:
        names = {a.name for a in block.athletes}
        block, loaded = block_after(block, edge), edge.loaded
        history = (*history, *(p for p in edge.placements if p.athlete in names))
    units = all_units(block)
    weeks: dict[str, tuple[AthleteWeek, ...]] = {}
    assumptions: list[Assumption] = []
    known: dict[Hashable, Dose] = {}  # most weeks of most athletes ask for doses that were made before
    for athlete in block.athletes:
        weeks[athlete.name], assumed = weeks_for(
            block, athlete, units, history, loaded.get(athlete.name, 0), known
        )
        assumptions.extend(assumed)
    told = {(p.athlete, p.day, p.unit.id) for p in history}
    dated = history_of(block, units, weeks)
    past = (*history, *(p for p in dated if (p.athlete, p.day, p.unit.id) not in told))
    menu = menu_for(block, units, weeks, _done_lately(edge, block), only)
    settled = {p.key for p in kept}
    return Problem(
        block=replace(block, assumptions=(*block.assumptions, *assumptions)),
        units=units,
        weeks=weeks,
        candidates=tuple(p for p in menu.candidates if p.key not in settled),
        refusals=tuple(menu.refusals) if only is None else (),
        history=tuple(sorted(past, key=lambda p: p.key)),
        kept=kept,
    )


def _done_lately(edge: Edge | None, block: Block) -> dict[str, frozenset[str]]:
    """Athlete -> units of the earlier block's last four weeks; nobody's where there is no such record."""
    if edge is None or edge.until >= block.begins:
        return {}
    told = {p.athlete for p in edge.placements}
    return {name: frozenset(p.unit.id for p in edge.placements if p.athlete == name) for name in sorted(told)}


def all_units(block: Block) -> Mapping[str, Unit]:
    """The catalogue's units with the coach's own added or put in their place."""
    own = {u.id: u for u in block.own_units if isinstance(u, Unit)}
    return {**catalogue.units(), **own} if own else catalogue.units()


def weeks_for(
    block: Block,
    athlete: Athlete,
    units: Mapping[str, Unit],
    history: tuple[Placement, ...] = (),
    loaded: int = 0,
    known: dict[Hashable, Dose] | None = None,
) -> tuple[tuple[AthleteWeek, ...], tuple[Assumption, ...]]:
    """The weeks of one athlete, in order, and what had to be assumed.

    `loaded` is the number of loading weeks just before the block, since the last easier one. `known` are the
    doses made so far from the same units.
    """
    calendar = weeks_of(block)
    taper = catalogue.taper(catalogue.event_type(events_of(athlete)[0]), athlete.level)
    frame = frame_for(athlete.level, len(calendar), taper.days[1])
    phases, assumptions = phases_for(block, athlete.name, calendar, frame)
    shares = shares_for(block, athlete, calendar, phases, taper, loaded=loaded)
    maker = _Maker(block, athlete, units, taper, {} if known is None else known)
    made = tuple(maker.week(w, p, s) for w, p, s in zip(calendar, phases, shares, strict=True))
    # a lighter week does not make the usual fast day lighter
    usual = _usual_from(history, athlete.name) or max(w.usual_fast_day for w in made)
    made = tuple(replace(w, usual_fast_day=usual) for w in made)
    return made, (*assumptions, *_level_assumptions(athlete))


def _level_assumptions(athlete: Athlete) -> tuple[Assumption, ...]:
    higher = [f for f in sorted(athlete.levels) if level_in(athlete, f) != athlete.levels[f]]
    if not higher:
        return ()
    text = f"{', '.join(higher)}: given above the athlete's own level '{athlete.level}', the lower is used."
    return (Assumption(f"{athlete.name}: levels", text),)


def _usual_from(history: tuple[Placement, ...], athlete: str) -> int:
    """Middle load of the last six fast days done; 0 when none is known."""
    days: dict[date, list[Placement]] = {}
    for p in history:
        if p.athlete == athlete:
            days.setdefault(p.day, []).append(p)
    fast = [days[d] for d in sorted(days) if any(p.dose.neural >= FAST for p in days[d])]
    warm_up = WARM_UP_MINUTES * WARM_UP_EFFORT
    loads = [
        sum(p.dose.load for p in ps) + warm_up * len({p.slot for p in ps if not p.unit.recovery_only})
        for ps in fast[-USUAL_FAST_DAYS:]
    ]
    return median_load(loads)


@dataclass(frozen=True)
class _Wanted:
    """What decides a week's amounts: volumes by counter, counts by family, limits of the week."""

    volumes: Mapping[str, int]
    counts: Mapping[str, Count]
    limits: tuple[Limit, ...]


@dataclass
class _Maker:
    """Makes an athlete's weeks one after another: the rise is held over the weeks already made."""

    block: Block
    athlete: Athlete
    units: Mapping[str, Unit]
    taper: catalogue.Taper
    alike: dict[Hashable, Dose]

    def __post_init__(self) -> None:
        self.reference, self.known = reference_of(self.block, self.athlete.name)
        self.slots = slots_by_day(self.block)
        self.fitting = eligible(self.athlete)
        self.gaps = Gaps(self.block, self.athlete.name)
        self.planned: list[dict[str, int]] = []

    def week(self, week: Week, phase: str, share: Share) -> AthleteWeek:
        name, athlete = self.athlete.name, self.athlete
        days = self._days(week)
        counts, fast, training = counts_for(athlete, phase, days, share.kind == "easier")
        limits = tuple(
            x for x in self.block.limits if x.athlete == name and any(x.active_on(d) for d in week.days)
        )
        wanted = _Wanted(self._volumes(week, phase, share, days), counts, limits)
        doses = self._doses(week, share, wanted)
        return AthleteWeek(
            athlete=name,
            index=week.index,
            begins=week.begins,
            days=week.days,
            phase=phase,
            share=share.percent,
            kind=share.kind,
            available_days=days.there,
            counts=counts,
            fast_days=fast,
            training_days=training,
            caps=caps_for(athlete),
            doses=doses,
            importance=importance_of(athlete, phase),
            hours_cap=hours_cap(athlete, athlete.age_on(week.begins)),
            usual_fast_day=self._usual(doses, phase),
            reference=self.reference,
            reference_known=self.known,
            exam_week=share.exam,
            main_units=self._main_units(phase, doses, limits),
        )

    def _main_units(
        self, phase: str, doses: Mapping[str, tuple[Dose, Dose]], limits: tuple[Limit, ...]
    ) -> dict[str, str]:
        """Family -> the first of its leading units that fits the athlete and that no limit takes out."""
        found: dict[str, str] = {}
        for family, names in sorted(catalogue.main_units(phase).items()):
            for name in names:
                out = any(bounds.removes(x, self.units[name], self.athlete.take_off_leg) for x in limits)
                if name in self.fitting and name in doses and not out:
                    found[family] = name
                    break
        return found

    def _days(self, week: Week) -> Days:
        name = self.athlete.name
        there = [d for d in week.days if there_on(self.block, name, d, self.slots.get(d, ()))]
        meets = [c for c in self.block.competitions if c.athlete == name]
        competing = sum(any(c.first_day <= d <= c.last_day for c in meets) for d in week.days)
        return Days(len(there), sum(bool(self.slots.get(d)) for d in there), competing)

    def _volumes(self, week: Week, phase: str, share: Share, days: Days) -> dict[str, int]:
        """What the week holds by counter: its share of the peak, held under the rise, less time missed."""
        peaks = volumes.peak_volumes(self.athlete, phase, usual_share(phase, self.taper))
        back = return_percent(self.block, self.athlete.name, week)
        planned: dict[str, int] = {}
        for counter, peak in peaks.items():
            wanted = volumes.held(counter, peak * share.percent // 100, self._highest(counter))
            planned[counter] = wanted * back // 100
        self.planned.append(planned)
        return {counter: n * days.there // 7 for counter, n in planned.items()}

    def _doses(self, week: Week, share: Share, wanted: _Wanted) -> dict[str, tuple[Dose, Dose]]:
        athlete = self.athlete
        back = return_percent(self.block, athlete.name, week)
        dosing = Dosing(self.units, Body.of(athlete, athlete.age_on(week.begins)), self.alike)
        found: dict[str, tuple[Dose, Dose]] = {}
        for name, unit in self.units.items():
            if unit.preparation:
                continue
            counter = volumes.counter_of(unit)
            limited = bounds.fraction(unit, wanted.limits, athlete.take_off_leg)
            ask = Ask(
                level=level_in(athlete, unit.family),
                share=share.percent * back // 100,
                kind=share.kind,
                volume=wanted.volumes.get(counter),
                counter=counter,
                exposures=volumes.exposures(unit, counter, wanted.counts),
                fraction=min(limited, self.gaps.percent(unit, week, share.percent * back // 100)),
                most=bounds.most(unit, wanted.limits),
            )
            doses = dosing.pair(unit, ask)
            if doses is not None:
                found[name] = doses
        return found

    def _highest(self, counter: str) -> int | None:
        """The counter's highest week of the last four: done ones before the block, then planned ones.

        None when the file does not say what was done before: then nothing is held.
        """
        before = self.reference.get(counter)
        if not self.known or before is None:
            return None
        known = [w[counter] for w in self.planned[-LOOK_BACK_WEEKS:] if counter in w]
        if len(self.planned) < LOOK_BACK_WEEKS:
            known.append(before)
        return max(known, default=None)

    def _usual(self, doses: Mapping[str, tuple[Dose, Dose]], phase: str) -> int:
        """Load of a usual fast day: the phase's two first key fast units at their full amount."""
        kind = catalogue.event_type(events_of(self.athlete)[0])
        keys = catalogue.key_families(kind, self.athlete.level, phase)
        loads = []
        for family in (*keys, *(f for f in FAMILIES if f not in keys)):
            loads.extend(self._fast_loads(doses, family)[:1])
        return WARM_UP_MINUTES * WARM_UP_EFFORT + sum(loads[:2])

    def _fast_loads(self, doses: Mapping[str, tuple[Dose, Dose]], family: str) -> list[int]:
        """Loads of the family's fast units that fit the athlete, in the catalogue's order."""
        fast = [
            doses[name][0]
            for name, unit in self.units.items()
            if unit.family == family and name in self.fitting and name in doses
        ]
        return [dose.load for dose in fast if dose.neural >= FAST]
