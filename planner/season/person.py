"""One athlete with what of the file concerns them, and why a unit is not for them on a day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from planner.domain.block import Athlete, Away, Block, Competition, Limit, Theme, Wish
from planner.domain.finding import Line
from planner.domain.problem import AthleteWeek
from planner.domain.units import Unit
from planner.season.bounds import forbids_load, removes, touches
from planner.season.eligible import ON_DEMAND, eligible
from planner.season.weeks import last_day

LIGHTER_KINDS = ("taper", "easier", "easing")
ALWAYS_LIGHTER = ("strength",)  # families: lighter on the day after a big day
NEVER_LIGHTER = ("recovery",)  # families that are light as they are
WHOLE_BODY = ("whole", "illness")
DAYS_BEFORE_COMPETITION = 4
DAYS_AROUND_TRAVEL = 2
OWN_WORK_UP_TO = 2  # return stage

Why = tuple[str, Line]


@dataclass(frozen=True)
class Person:
    """What is looked up once per athlete; `units` are those that may be asked for at all, in id order."""

    athlete: Athlete
    units: tuple[Unit, ...]
    competitions: tuple[Competition, ...]
    limits: tuple[Limit, ...]
    away: tuple[Away, ...]
    fixed: tuple[Wish, ...]
    wishes: tuple[Wish, ...]
    themes: tuple[Theme, ...]

    @staticmethod
    def of(block: Block, athlete: Athlete, units: Mapping[str, Unit]) -> Person:
        name = athlete.name
        fixed = tuple(w for w in block.fixed if w.athlete == name)
        wishes = tuple(w for w in block.wishes if w.athlete == name)
        themes = tuple(t for t in block.themes if t.athlete == name)
        named = {w.unit for w in (*fixed, *wishes)} | {u for t in themes for u in t.units}
        own = {u.id for u in block.own_units if isinstance(u, Unit)}  # a coach's own units fit everybody
        fitting = eligible(athlete) | named | own | set(ON_DEMAND)
        return Person(
            athlete,
            tuple(u for i, u in sorted(units.items()) if i in fitting and not u.preparation),
            tuple(c for c in block.competitions if c.athlete == name),
            tuple(x for x in block.limits if x.athlete == name),
            tuple(a for a in block.away if a.athlete == name),
            fixed,
            wishes,
            themes,
        )

    def competition_on(self, day: date) -> Competition | None:
        return next((c for c in self.competitions if c.first_day <= day <= c.last_day), None)

    def asked(self, unit: str, day: date, slot: str = "") -> Wish | None:
        """The fixed place or wish for a unit on a day (and slot, when both name one); a fixed one first."""
        for wish in (*self.fixed, *self.wishes):
            if wish.unit == unit and wish.day == day and (not slot or wish.slot in ("", slot)):
                return wish
        return None

    def is_fixed(self, unit: str, day: date, slot: str) -> bool:
        return any(w.unit == unit and w.day == day and w.slot in ("", slot) for w in self.fixed)

    def has_use_for(self, unit: Unit, week: AthleteWeek, day: date, wanted: frozenset[str]) -> bool:
        """Is the unit asked for, or of a family with a target, or needed for a reason of its own?

        `wanted` are the families a whole week of the phase asks for: they are offered even in a week too
        short for them. A family the phase does not allow counts too, so that its refusal is said.
        """
        if self.asked(unit.id, day) or any(_serves(t, unit, day) for t in self.themes):
            return True
        if unit.id in ON_DEMAND:
            return self._demands(unit.id, day)
        return unit.family not in week.counts or unit.family in wanted

    def _demands(self, unit: str, day: date) -> bool:
        limits = [x for x in self.limits if x.active_on(day) and not x.hold_back]
        if unit == "own-work":
            return any(x.stage <= OWN_WORK_UP_TO for x in limits)
        if unit == "off-feet-conditioning":
            return bool(limits)
        if unit == "primer":
            return any(c.first_day - day == timedelta(days=1) for c in self.competitions)
        return False

    def hindered(self, unit: Unit, week: AthleteWeek, day: date) -> Why | None:
        """Why the athlete cannot do the unit on the day, wherever, with the line; None when they can."""
        return self._limited(unit, day) or self._too_young(unit, day) or self._unwanted(unit, week, day)

    def _limited(self, unit: Unit, day: date) -> Why | None:
        for limit in self.limits:
            if not limit.active_on(day):
                continue
            what = f"the limit ({limit.region}, stage {limit.stage})"
            if unit.id in limit.banned or unit.family in limit.banned:
                return f"{unit.name}: ruled out by a person", limit.line
            if removes(limit, unit, self.athlete.take_off_leg):
                return f"{unit.name}: {what} takes it out", limit.line
            if forbids_load(limit) and touches(unit, limit, self.athlete.take_off_leg):
                return f"{unit.name}: {what} allows no load there", limit.line
        return None

    def _too_young(self, unit: Unit, day: date) -> Why | None:
        age, years = self.athlete.age_on(day), self.athlete.training_years
        if age is not None and age < unit.least_age:
            return f"{unit.name}: from {unit.least_age} years on, age is {age}", self.athlete.line
        if years is not None and years < unit.least_training_years:
            least = unit.least_training_years
            return f"{unit.name}: from {least} training years on, there are {years}", self.athlete.line
        return None

    def _unwanted(self, unit: Unit, week: AthleteWeek, day: date) -> Why | None:
        if unit.id not in week.doses:
            return f"{unit.name}: not done at this level", self.athlete.line
        count = week.counts.get(unit.family)
        wanted = count is not None and count.maximum > 0
        if not wanted and unit.id not in ON_DEMAND and self.asked(unit.id, day) is None:
            return f"{unit.name}: none in this phase ({week.phase})", self.athlete.line
        return None

    def lighter_everywhere(self, week: AthleteWeek, day: date) -> bool:
        """May the lighter form of any unit be needed on this day?"""
        if week.kind in LIGHTER_KINDS or week.exam_week:
            return True
        if any(x.hold_back or x.region in WHOLE_BODY for x in self._limits_in(week)):
            return True
        gaps = ((c.first_day - day).days for c in self.competitions)
        return any(0 < g <= DAYS_BEFORE_COMPETITION for g in gaps) or any(
            a.kind != "exam" and min(abs((day - last_day(a)).days), abs((a.begins.date() - day).days))
            <= DAYS_AROUND_TRAVEL
            for a in self.away
        )  # fmt: skip

    def lighter_matters(self, unit: Unit, week: AthleteWeek) -> bool:
        """May the lighter form of this unit be needed: strength always, else what a limit touches?"""
        return unit.family in ALWAYS_LIGHTER or any(
            touches(unit, x, self.athlete.take_off_leg) for x in self._limits_in(week)
        )

    def _limits_in(self, week: AthleteWeek) -> list[Limit]:
        return [x for x in self.limits if any(x.active_on(d) for d in week.days)]


def _serves(theme: Theme, unit: Unit, day: date) -> bool:
    """Does the theme name the unit or its family, on a day of its span?"""
    named = unit.id in theme.units or unit.family in theme.units
    return named and (theme.begins or day) <= day <= (theme.ends or day)
