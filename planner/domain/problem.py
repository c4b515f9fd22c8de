"""Everything a solver or a rule may know: the block, the season's weeks, and what may be placed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import Literal

from planner.domain.block import Away, Block, Competition, Limit, Opening, Presence, RuleSetting, Slot
from planner.domain.plan import Placement, Refusal
from planner.domain.units import Dose, Unit

Importance = Literal["key", "supporting", "if there is time"]
Placements = tuple[Placement, ...]


@dataclass(frozen=True)
class Count:
    """How often something should happen in a week."""

    minimum: int
    target: int
    maximum: int


@dataclass(frozen=True)
class AthleteWeek:
    """What the season fixes for one athlete in one calendar week.

    `share` is percent of the block's peak week; `kind` is loading, easier, taper, easing, competition,
    camp or transition. `counts` are by family, already scaled to the available days (maxima are not).
    `caps` are weekly maxima by counter. `doses` give, by unit id, the resolved full and lighter dose.
    """

    athlete: str
    index: int
    begins: date
    days: tuple[date, ...]  # those inside the block
    phase: str
    share: int
    kind: str
    available_days: int
    counts: Mapping[str, Count] = field(hash=False)
    fast_days: Count
    training_days: Count
    caps: Mapping[str, int] = field(hash=False)
    doses: Mapping[str, tuple[Dose, Dose]] = field(hash=False)
    importance: Mapping[str, Importance] = field(hash=False)  # family -> how much it matters now
    hours_cap: int | None = None  # minutes of organised training a week, other sport included
    usual_fast_day: int = 0  # load of the athlete's usual fast day (effort x minutes)
    reference: Mapping[str, int] = field(default_factory=dict, hash=False)
    # counter -> highest amount of a completed week among the last four before the block (for the ramp)
    reference_known: bool = False
    exam_week: bool = False
    main_units: Mapping[str, str] = field(default_factory=dict, hash=False)
    # family -> the unit that leads it in this phase for this athlete

    @property
    def first_day(self) -> date:
        """The first day inside the block: where what is said of the week stands, and a coach's number is read."""
        return self.days[0]

    @property
    def calendar(self) -> tuple[date, ...]:
        """All seven dates of the calendar week, those outside the block included."""
        return tuple(self.begins + timedelta(days=i) for i in range(7))

    def planned(self, counter: str, units: Mapping[str, Unit]) -> int:
        """What the week's targets amount to in a counter: per family, target x its largest full dose."""
        largest: dict[str, int] = {}
        for name, (full, _) in self.doses.items():
            family = units[name].family
            largest[family] = max(largest.get(family, 0), full.counters.get(counter, 0))
        return sum(self.counts[f].target * n for f, n in sorted(largest.items()) if f in self.counts)


@dataclass(frozen=True)
class Problem:
    """The block, its weeks, and all candidates. Rules read it; nothing here changes.

    `history` are placements done before the first day (as far as known); `kept` are placements inside
    the block that are already settled and part of every plan (done, handed out).
    """

    block: Block
    units: Mapping[str, Unit]
    weeks: Mapping[str, tuple[AthleteWeek, ...]]  # athlete -> weeks in order
    candidates: tuple[Placement, ...]
    refusals: tuple[Refusal, ...] = ()
    history: tuple[Placement, ...] = ()
    kept: tuple[Placement, ...] = ()
    handed_out: tuple[Placement, ...] = ()  # the plan athletes hold, in a re-plan; whole, as it was given
    now: datetime | None = None  # of a re-plan, in the block's own time without a zone
    untouched: frozenset[str] = frozenset()  # athletes to whom nothing happened, in a re-plan
    come_in: tuple[Competition, ...] = ()  # competitions that the handed-out plan did not know
    opened: frozenset[tuple[str, date]] = frozenset()
    # (athlete, first day of a calendar week): handed-out weeks that are planned anew at their own level

    @cached_property
    def days(self) -> tuple[date, ...]:
        n = (self.block.ends - self.block.begins).days + 1
        return tuple(self.block.begins + timedelta(days=i) for i in range(n))

    @cached_property
    def athletes(self) -> tuple[str, ...]:
        return tuple(a.name for a in self.block.athletes)

    @cached_property
    def _by_athlete_day(self) -> Mapping[tuple[str, date], tuple[Placement, ...]]:
        found: dict[tuple[str, date], list[Placement]] = {}
        for p in self.candidates:
            found.setdefault((p.athlete, p.day), []).append(p)
        return {k: tuple(v) for k, v in found.items()}

    def on(self, athlete: str, day: date) -> tuple[Placement, ...]:
        """The candidates of an athlete on a day, in key order."""
        return self._by_athlete_day.get((athlete, day), ())

    @cached_property
    def _by_slot(self) -> Mapping[tuple[date, str], tuple[Placement, ...]]:
        found: dict[tuple[date, str], list[Placement]] = {}
        for p in self.candidates:
            found.setdefault((p.day, p.slot), []).append(p)
        return {k: tuple(v) for k, v in found.items()}

    def in_slot(self, day: date, slot: str) -> tuple[Placement, ...]:
        """The candidates of the whole squad in a slot."""
        return self._by_slot.get((day, slot), ())

    @cached_property
    def _settled_by_day(self) -> Mapping[tuple[str, date], tuple[Placements, Placements]]:
        found: dict[tuple[str, date], tuple[list[Placement], list[Placement]]] = {}
        for i, placements in enumerate((self.history, self.kept)):
            for p in placements:
                found.setdefault((p.athlete, p.day), ([], []))[i].append(p)
        return {k: (tuple(done), tuple(kept)) for k, (done, kept) in found.items()}

    @cached_property
    def settled(self) -> frozenset[Placement]:
        """What no plan can change: history and the placements that are part of every plan."""
        return frozenset((*self.history, *self.kept))

    def history_on(self, athlete: str, day: date) -> tuple[Placement, ...]:
        return self._settled_by_day.get((athlete, day), ((), ()))[0]

    def settled_on(self, athlete: str, day: date) -> tuple[Placement, ...]:
        """Placements of a day that no plan can change: history and what is settled."""
        done, kept = self._settled_by_day.get((athlete, day), ((), ()))
        return (*done, *kept)

    def known_on(self, athlete: str, day: date) -> tuple[Placement, ...]:
        """All that stands or may stand on a day, each once: history, what is settled, and the candidates."""
        return self._known_by_athlete_day.get((athlete, day), ())

    @cached_property
    def _known_by_athlete_day(self) -> Mapping[tuple[str, date], Placements]:
        """As the candidates, but for the days on which something is settled."""
        found = dict(self._by_athlete_day)
        for key, (done, kept) in self._settled_by_day.items():
            free = found.get(key, ())
            if kept:
                free = tuple(p for p in free if p not in self.settled)
            found[key] = (*done, *kept, *free)
        return found

    def known_in_slot(self, day: date, slot: str) -> tuple[Placement, ...]:
        """All of the whole squad that stands or may stand in a slot, each once."""
        kept = self._kept_by_slot.get((day, slot), ())
        free = self.in_slot(day, slot)
        return (*kept, *(p for p in free if p not in self.settled)) if kept else free

    @cached_property
    def _kept_by_slot(self) -> Mapping[tuple[date, str], Placements]:
        found: dict[tuple[date, str], list[Placement]] = {}
        for p in self.kept:
            found.setdefault((p.day, p.slot), []).append(p)
        return {k: tuple(v) for k, v in found.items()}

    def week_of(self, athlete: str, day: date) -> AthleteWeek | None:
        return self._week_of_day.get((athlete, day))

    @cached_property
    def _week_of_day(self) -> Mapping[tuple[str, date], AthleteWeek]:
        own = ((name, week) for name, weeks in self.weeks.items() for week in reversed(weeks))
        return {(name, day): week for name, week in own for day in week.days}

    def planned(self, week: AthleteWeek, counter: str) -> int:
        """What a week's targets amount to in a counter: several rules ask it of every week before."""
        key = (week.athlete, week.begins, counter)
        if key not in self._planned:
            self._planned[key] = week.planned(counter, self.units)
        return self._planned[key]

    @cached_property
    def _planned(self) -> dict[tuple[str, date, str], int]:
        return {}

    def opened_on(self, athlete: str, day: date) -> bool:
        """Is the day's week of this athlete planned anew at its own level, whatever was handed out?"""
        week = self.week_of(athlete, day) if self.opened else None
        return week is not None and (athlete, week.begins) in self.opened

    @cached_property
    def _competitions(self) -> Mapping[str, tuple[Competition, ...]]:
        found: dict[str, list[Competition]] = {}
        for c in self.block.competitions:
            found.setdefault(c.athlete, []).append(c)
        return {k: tuple(sorted(v, key=lambda c: (c.first_day, c.name))) for k, v in found.items()}

    def competitions_of(self, athlete: str) -> tuple[Competition, ...]:
        """All competitions of an athlete in date order, those just outside the block included."""
        return self._competitions.get(athlete, ())

    def competition_on(self, athlete: str, day: date) -> Competition | None:
        for c in self.competitions_of(athlete):
            if c.first_day <= day <= c.last_day:
                return c
        return None

    def away_of(self, athlete: str, *kinds: str) -> tuple[Away, ...]:
        """Entries of the `away` table of an athlete, of the kinds given (all when none is)."""
        return tuple(a for a in self.block.away if a.athlete == athlete and (not kinds or a.kind in kinds))

    def limits_on(self, athlete: str, day: date) -> tuple[Limit, ...]:
        return tuple(x for x in self.block.limits if x.athlete == athlete and x.active_on(day))

    @cached_property
    def _openings(self) -> Mapping[tuple[date, str], tuple[Opening, ...]]:
        found: dict[tuple[date, str], list[Opening]] = {}
        for o in self.block.openings:
            found.setdefault((o.day, o.slot), []).append(o)
        return {k: tuple(v) for k, v in found.items()}

    def openings_in(self, day: date, slot: str) -> tuple[Opening, ...]:
        return self._openings.get((day, slot), ())

    @cached_property
    def _slots_by_day(self) -> Mapping[date, tuple[Slot, ...]]:
        found: dict[date, list[Slot]] = {}
        for s in self.block.slots:
            found.setdefault(s.day, []).append(s)
        return {k: tuple(v) for k, v in found.items()}

    def slots_on(self, day: date) -> tuple[Slot, ...]:
        """The slots of a day, in the order of the block."""
        return self._slots_by_day.get(day, ())

    @cached_property
    def _slots(self) -> Mapping[tuple[date, str], Slot]:
        return {s.key: s for s in self.block.slots}

    def kind_of_place(self, placement: Placement) -> str:
        """Pit, straight, gym ... where the placement's place is open in its slot; else the place's own name."""
        opening = self.opening_of(placement)
        return placement.place if opening is None else opening.place.kind

    def opening_of(self, placement: Placement) -> Opening | None:
        """When the placement's place is open in its slot; None where the block names no such opening."""
        where = (placement.day, placement.slot, placement.venue, placement.place)
        return self._opening_by_place.get(where)

    @cached_property
    def _opening_by_place(self) -> Mapping[tuple[date, str, str, str], Opening]:
        """The first where a place is open twice in a slot."""
        return {(o.day, o.slot, o.place.venue, o.place.name): o for o in reversed(self.block.openings)}

    def window_of(self, placement: Placement) -> tuple[datetime, datetime]:
        """When the placement's place is open in its slot and its athlete there.

        The slot's own times where no opening is named; a settled placement in a slot that is no more has the
        rest of its day. Coming late or leaving early cuts the window, as long as some of it is left.
        """
        begins, ends = opened, closed = self._open_for(placement)
        for a in self._cut_short.get((placement.athlete, placement.day), ()):
            if a.kind == "late" and a.begins < closed and opened < a.ends:
                begins = max(begins, a.ends)
            elif a.kind == "leaving early" and a.begins < closed and opened < a.ends:
                ends = min(ends, a.begins)
        return (begins, ends) if begins < ends else (opened, closed)

    @cached_property
    def _cut_short(self) -> Mapping[tuple[str, date], tuple[Away, ...]]:
        found: dict[tuple[str, date], list[Away]] = {}
        for a in self.block.away:
            if a.kind in ("late", "leaving early"):
                found.setdefault((a.athlete, a.begins.date()), []).append(a)
        return {k: tuple(v) for k, v in found.items()}

    def _open_for(self, placement: Placement) -> tuple[datetime, datetime]:
        day, slot = placement.day, placement.slot
        window = self._windows.get((day, slot, placement.venue, placement.place))
        if window is not None:
            return window
        known = self._slots.get((day, slot))
        if known is not None:
            return datetime.combine(day, known.begins), datetime.combine(day, known.ends)
        return placement.begins, datetime.combine(day, time.max)

    @cached_property
    def _windows(self) -> Mapping[tuple[date, str, str, str], tuple[datetime, datetime]]:
        return {
            where: (datetime.combine(o.day, o.begins), datetime.combine(o.day, o.ends))
            for where, o in self._opening_by_place.items()
        }

    @cached_property
    def _presences(self) -> Mapping[tuple[date, str], tuple[Presence, ...]]:
        found: dict[tuple[date, str], list[Presence]] = {}
        for p in self.block.presences:
            found.setdefault((p.day, p.slot), []).append(p)
        return {k: tuple(v) for k, v in found.items()}

    def presences_in(self, day: date, slot: str) -> tuple[Presence, ...]:
        return self._presences.get((day, slot), ())

    @cached_property
    def _settings(self) -> Mapping[tuple[str, str], tuple[tuple[int, RuleSetting], ...]]:
        found: dict[tuple[str, str], list[tuple[int, RuleSetting]]] = {}
        for i, s in enumerate(self.block.settings):
            found.setdefault((s.rule, s.parameter), []).append((i, s))
        return {k: tuple(v) for k, v in found.items()}

    def settings_for(self, rule: str, parameter: str, athlete: str, day: date | None) -> RuleSetting | None:
        """The setting in force; a dated or personal one wins over a general one, later lines over earlier."""
        best: RuleSetting | None = None
        best_rank = (-1, -1)
        for i, s in self._settings.get((rule, parameter), ()):
            if s.applies(athlete, day):
                rank = (int(bool(s.athlete)) + 2 * int(s.begins is not None or s.ends is not None), i)
                if rank >= best_rank:
                    best, best_rank = s, rank
        return best

    def switched_off(self, rule: str, athlete: str, day: date | None) -> bool:
        found = self.settings_for(rule, "off", athlete, day)
        return found is not None and bool(found.value)
