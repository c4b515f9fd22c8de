"""Is a fact possible, before it is recorded? Every problem at once, each with a remedy.

The names, dates and words of a fact must be those of the block; it must not contradict what is known; a
return stage goes up one at a time, unless a person writes down why not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from functools import singledispatch
from zoneinfo import ZoneInfo

from planner.catalogue import LIMIT_REGIONS
from planner.domain import facts as f
from planner.domain.finding import Line
from planner.domain.problem import Problem
from planner.domain.units import COUNTERS, SIDES
from planner.review.complaint import Complaint, meant, shown
from planner.review.own_events import not_own, unknown_meet
from planner.review.pit_check import pit_complaints

STAGES = range(7)  # return stages 0 to 6
NOTE_AT_LEAST = 10  # characters of a person's note that says why
CLEARED = 6
EFFORTS = range(11)
NEAR = timedelta(days=183)  # dates further from the block than this are a slip of the pen
NEAR_MEETS = 2  # days between two competitions of a triple jumper; common practice, no source
MOST_WIND = 300  # tenths of a metre per second: a storm, as in the block file; nobody trains in more
IMPORTANCES = ("main", "supporting", "train-through")


def complaints_about(
    fact: f.Fact, problem: Problem, known_facts: Iterable[f.Fact], now: datetime
) -> tuple[Complaint, ...]:
    """Everything that speaks against recording a fact; () when nothing does.

    `known_facts` are all facts recorded before, undoings included; `now` has a time zone.
    """
    known = tuple(known_facts)
    check = _Check(fact, problem, known, f.in_force(known), now.astimezone(ZoneInfo(problem.block.time_zone)))
    check.common()
    _judge(fact, check)
    return tuple(check.found)


@singledispatch
def _judge(fact: f.Fact, check: _Check) -> None:
    """What a kind of fact asks for beyond the common; a lighter day asks for nothing."""


@dataclass
class _Check:
    """One fact beside what is known."""

    fact: f.Fact
    problem: Problem
    known: Sequence[f.Fact]
    active: Sequence[f.Fact]
    now: datetime
    found: list[Complaint] = field(default_factory=list)

    @property
    def today(self) -> date:
        return self.now.date()

    def say(self, key: str, found: str, needed: str, maybe: str = "") -> None:
        self.found.append(Complaint(Line(f"the fact '{self.fact.kind}'", key=key), found, needed, maybe))

    def among(self, key: str, value: str, words: Iterable[str], what: str) -> bool:
        words = tuple(words)
        if value in words:
            return True
        self.say(key, shown(value), what, meant(value, words))
        return False

    def common(self) -> None:
        """Moment, people and dates, which every kind has in its own way."""
        if self.fact.recorded_at.tzinfo is None:
            self.say("recorded_at", str(self.fact.recorded_at), "a moment with a time zone")
        elif self.fact.recorded_at > self.now:
            self.say("recorded_at", f"{self.fact.recorded_at:%Y-%m-%d %H:%M}", "a moment that is not to come")
        for name in f.people_of(self.fact):
            self.among("athlete", name, self.problem.athletes, "an athlete of the squad")
        begins, ends = getattr(self.fact, "begins", None), getattr(self.fact, "ends", None)
        if begins is not None and ends is not None and ends < begins:
            self.say("ends", str(ends), f"an end not before {begins}", "the two have changed places")
        elif isinstance(ends, datetime) and ends == begins:
            found = f"{ends:%Y-%m-%d %H:%M}, when it begins"
            self.say("ends", found, "an end that comes later", "the hour of the end is missing")
        day, block = f.day_of(self.fact), self.problem.block
        if day is not None and not block.begins - NEAR <= day <= block.ends + NEAR:
            stretch = f"{block.begins} to {block.ends}"
            self.say("date", str(day), f"a date near the block ({stretch})", "the year is wrong")

    def not_to_come(self, key: str, day: date) -> None:
        if day > self.today:
            needed = f"a day up to today, {self.today}: a fact has happened"
            self.say(key, str(day), needed, "the month is wrong, or record it when it has happened")

    def whole(self, key: str, value: int | None, least: int, most: int, what: str) -> None:
        if value is not None and not least <= value <= most:
            self.say(key, str(value), f"{what} from {least} to {most}")

    def tenths(self, key: str, value: int | None, span: tuple[int, int], what: str, maybe: str = "") -> None:
        """A figure kept in tenths of `span`; it was typed in whole ones, and they are spoken of."""
        if value is not None and not span[0] <= value <= span[1]:
            needed = f"{what} from {span[0] // 10} to {span[1] // 10}"
            self.say(key, f"{value / 10:g}", needed, f"{value / 100:g} is meant{maybe}")

    def slot(self, day: date, slot: str) -> bool:
        names = [s.name for s in self.problem.block.slots if s.day == day]
        if not names:
            self.say("date", str(day), "a day with a slot of the block", "another day is meant")
            return False
        return self.among("slot", slot, names, "a slot of that day")


# --- what was done -------------------------------------------------------------------------------------


@_judge.register
def _done(fact: f.Done, check: _Check) -> None:
    known_unit = check.among("unit", fact.unit, check.problem.units, "a unit of the catalogue or the block")
    check.not_to_come("date", fact.day)
    if check.problem.block.begins <= fact.day <= check.problem.block.ends and check.slot(fact.day, fact.slot):
        begins = next(s.begins for s in check.problem.block.slots if s.key == (fact.day, fact.slot))
        if fact.day == check.today and begins > check.now.time():
            needed = f"a slot that has begun; it is {check.now:%H:%M}"
            check.say("slot", f"'{fact.slot}' at {begins:%H:%M}", needed, "record it when it has happened")
    measure = check.problem.units[fact.unit].measure if known_unit else "amount"
    check.whole("amount", fact.amount, 0, 100_000, measure)
    check.whole("effort", fact.effort, 0, EFFORTS[-1], "an effort")
    check.whole("minutes", fact.minutes, 0, 600, "minutes")
    if fact.remark == "missed" and fact.amount:
        check.say("amount", f"{fact.amount} of a missed unit", "no amount", "it was done 'lighter'")
    if fact.remark == "as planned" and fact.amount == 0:
        check.say("amount", "0 done as planned", "an amount above 0", "it was 'missed'")
    for other in check.active:
        if isinstance(other, f.Done) and _same_place(other, fact):
            check.say(
                "remark",
                f"'{fact.remark}' beside '{other.remark}' (fact {other.id}) for the same unit",
                "one fact for a unit of an athlete in a slot",
                f"undo fact {other.id} first",
            )


def _same_place(a: f.Done, b: f.Done) -> bool:
    return (a.athlete, a.day, a.slot, a.unit) == (b.athlete, b.day, b.slot, b.unit)


@_judge.register
def _elsewhere(fact: f.LoadElsewhere, check: _Check) -> None:
    check.not_to_come("date", fact.day)
    for counter, amount in sorted(fact.counters.items()):
        check.among("counters", counter, COUNTERS, "something that is counted")
        check.whole(counter, amount, 0, 100_000, "an amount")
    if fact.unit:
        check.among("unit", fact.unit, check.problem.units, "a unit of the catalogue or the block")
    check.whole("effort", fact.effort, 0, EFFORTS[-1], "an effort")
    check.whole("minutes", fact.minutes, 0, 600, "minutes")
    if not fact.counters and not fact.minutes and not fact.unit:
        check.say("counters", "nothing", "an amount, minutes or a unit that it was like")


# --- at the pit: planner/review/pit_check.py says what is asked of these ---


@_judge.register
def _at_the_pit(fact: f.Result | f.RunUpReadings | f.StartMark, check: _Check) -> None:
    check.not_to_come("date", fact.day)
    check.found += pit_complaints(
        fact, Line(f"the fact '{fact.kind}'"), check.active, check.problem.block.run_ups
    )
    if fact.athlete in check.problem.athletes:
        for said in not_own(fact, check.problem.block):
            check.say(*said)
    if isinstance(fact, f.Result):
        for said in unknown_meet(fact, (name for name, _, _ in _meets(check))):
            check.say(*said)


# --- the body ------------------------------------------------------------------------------------------


@_judge.register
def _of_the_body(fact: f.OfTheBody, check: _Check) -> None:
    regions = tuple(r for r in LIMIT_REGIONS if r != "illness")
    known = check.among("region", fact.region, regions, "a region of the body")
    sided = check.among("side", fact.side, (*SIDES, "both"), "left, right or both")
    check.not_to_come("date", fact.day)
    if not fact.entered_by.strip():
        check.say("entered_by", "nobody", "the person who says so", "add it: stages are set by people only")
    stage: int | None = getattr(fact, "stage", None)
    if stage is not None and stage not in STAGES:
        check.say("stage", str(stage), "a return stage from 0 (stop) to 6 (cleared)")
    elif stage is not None and known and sided:
        against = _hurt_again if isinstance(fact, f.Hurt) else _against_present
        against(check, fact, stage)


def _hurt_again(check: _Check, fact: f.OfTheBody, stage: int) -> None:
    """Where a limit stands already, a new hurt may keep or lower its stage; raising is another decision."""
    present = _present_stage(check, fact)
    if present is not None and stage > present:
        found = f"hurt again at stage {stage}, where stage {present} is in force ({fact.region}, {fact.side})"
        check.say("stage", found, f"a stage up to {present}", "'stage-changed' is meant")


def _against_present(check: _Check, fact: f.OfTheBody, stage: int) -> None:
    present = _present_stage(check, fact)
    if present is None:
        found = f"no limit of {fact.athlete} there ({fact.region}, {fact.side})"
        check.say("region", found, "a region that is limited", "another region or side is meant, or 'hurt'")
    elif isinstance(fact, f.TestPassed) and stage != present:
        needed = f"the stage the athlete is in, {present}"
        check.say("stage", f"a test passed at stage {stage}", needed, "change the stage first")
    elif isinstance(fact, f.Setback) and stage > present:
        check.say("stage", f"a setback from stage {present} up to {stage}", f"a stage up to {present}")
    elif isinstance(fact, f.StageChanged) and stage > present + 1 and len(fact.note.strip()) < NOTE_AT_LEAST:
        check.say(
            "stage",
            f"a step from stage {present} to {stage}",
            f"stage {present + 1}, or a note of at least {NOTE_AT_LEAST} characters that says why",
            "add the note of the person who decided it",
        )


def _present_stage(check: _Check, fact: f.OfTheBody) -> int | None:
    """The lowest stage in force on any side the fact speaks of; None when there is no limit."""
    stages = [_on_side(check, fact, side) for side in SIDES if fact.side in (side, "both")]
    return min((s for s in stages if s is not None), default=None)


def _on_side(check: _Check, fact: f.OfTheBody, side: str) -> int | None:
    begins = check.problem.block.begins
    told: list[tuple[date, int, int]] = [
        (x.begins or begins, -1, x.stage)
        for x in check.problem.block.limits
        if (x.athlete, x.region) == (fact.athlete, fact.region) and not x.hold_back
        and x.side in (side, "both", "") and x.active_on(fact.day)
    ]  # fmt: skip
    told += [
        (o.day, i, o.stage)
        for i, o in enumerate(check.active)
        if isinstance(o, f.Hurt | f.StageChanged | f.Setback) and o.day <= fact.day
        and (o.athlete, o.region) == (fact.athlete, fact.region) and o.side in (side, "both", "")
    ]  # fmt: skip
    return max(told)[2] if told else None


@_judge.register
def _ill(fact: f.Ill, check: _Check) -> None:
    check.not_to_come("begins", fact.begins)


@_judge.register
def _hold_back(fact: f.HoldBack, check: _Check) -> None:
    if fact.stage not in STAGES:
        check.say("stage", str(fact.stage), "a ceiling from 0 to 6, as of a return stage")


@_judge.register
def _other_leg(fact: f.OtherLeg, check: _Check) -> None:
    if fact.changed:
        check.not_to_come("date", fact.day)
        if not fact.entered_by.strip():
            check.say("entered_by", "nobody", "the person who decided the change", "add the name")
        return
    changes = [x for x in check.active if isinstance(x, f.OtherLeg) and x.changed and x.athlete == fact.athlete]
    own = [a.take_off_leg for a in check.problem.block.athletes if a.name == fact.athlete]
    if fact.leg in ([changes[-1].leg] if changes else own):
        check.say("leg", fact.leg, "for a trial the leg that is not the take-off leg", "the other one is meant")


# --- time, places, people ------------------------------------------------------------------------------


@_judge.register
def _cut_short(fact: f.Late | f.LeavingEarly, check: _Check) -> None:
    check.slot(fact.day, fact.slot)
    check.whole("minutes", fact.minutes, 1, 600, "minutes")


@_judge.register
def _venue(fact: f.VenueClosed | f.VenueOpened, check: _Check) -> None:
    places = [o.place for o in check.problem.block.openings]
    venues = sorted({p.venue for p in places})
    fresh = isinstance(fact, f.VenueOpened) and bool(fact.place_kind)
    if fresh or not check.among("venue", fact.venue, venues, "a venue of the block"):
        return
    names = sorted({p.name for p in places if p.venue == fact.venue})
    if fact.place or isinstance(fact, f.VenueOpened):
        check.among("place", fact.place, names, "a place of that venue")


@_judge.register
def _person(fact: f.PersonAway, check: _Check) -> None:
    names = {*(p.name for p in check.problem.block.presences), *check.problem.athletes}
    check.among("name", fact.name, sorted(names), "a coach, helper or athlete of the block")


@_judge.register
def _weather(fact: f.WeatherFact, check: _Check) -> None:
    if fact.slot:
        check.slot(fact.day, fact.slot)
    check.tenths("wbgt", fact.wbgt, (-300, 600), "degrees Celsius (wet-bulb globe temperature)")
    check.tenths("air", fact.air, (-400, 500), "degrees Celsius")
    check.tenths("wind", fact.wind, (0, MOST_WIND), "a wind in m/s", ", or it is in km/h")
    if fact.wbgt is None and fact.air is None and fact.wind is None and not fact.rain and not fact.wind_from:
        check.say("weather", "nothing", "a temperature, rain or wind")


# --- competitions --------------------------------------------------------------------------------------


@_judge.register
def _added(fact: f.CompetitionAdded, check: _Check) -> None:
    check.among("importance", fact.importance, IMPORTANCES, "an importance")
    if not fact.athletes:
        check.say("athletes", "nobody", "at least one athlete of the squad")
    _last_day(check, fact.first_day, fact.last_day)
    for athlete in fact.athletes:
        if (fact.name, fact.first_day, athlete) in _meets(check):
            found = f"{shown(fact.name)} a second time for {athlete}"
            check.say("name", found, "a competition that the athlete is not in", "it is there already")
        elif not fact.note:
            _too_near(fact, athlete, check)


def _too_near(fact: f.CompetitionAdded, athlete: str, check: _Check) -> None:
    """A triple jumper does not compete twice within two days, unless somebody says why; common practice."""
    if athlete not in check.problem.athletes or "triple jump" not in check.problem.block.athlete(athlete).events:
        return
    for name, day, who in sorted(_meets(check)):
        if who == athlete and abs((day - fact.first_day).days) <= NEAR_MEETS:
            found = f"{fact.first_day}, within {NEAR_MEETS} days of {shown(name)} on {day} for {athlete}"
            needed = f"more than {NEAR_MEETS} days between a triple jumper's competitions, or a note"
            check.say("first_day", found, needed, "leave one of them out, or say who wants it with note='...'")


@_judge.register
def _known_meet(fact: f.CompetitionMoved | f.CompetitionWithdrawn, check: _Check) -> None:
    day = fact.was if isinstance(fact, f.CompetitionMoved) else fact.first_day
    meets = _meets(check)
    if isinstance(fact, f.CompetitionMoved):
        _last_day(check, fact.first_day, fact.last_day)
    if not check.among("name", fact.name, sorted({m[0] for m in meets}), "a competition of the block"):
        return
    days = sorted({m[1] for m in meets if m[0] == fact.name})
    if day not in days:
        said = " or ".join(map(str, days))
        check.say("date", f"{shown(fact.name)} on {day}", f"the day it is on, {said}")
        return
    for athlete in fact.athletes:
        if (fact.name, day, athlete) not in meets:
            check.say("athletes", f"{athlete}, not entered in {shown(fact.name)}", "athletes who are entered")


def _last_day(check: _Check, first: date, last: date) -> None:
    if last < first:
        check.say("last_day", str(last), f"a last day not before {first}", "the two have changed places")


def _meets(check: _Check) -> set[tuple[str, date, str]]:
    """Competitions as they stand after the facts known so far: name, first day, athlete."""
    found = {(c.name, c.first_day, c.athlete) for c in check.problem.block.competitions}
    for o in check.active:
        if isinstance(o, f.CompetitionAdded):
            found |= {(o.name, o.first_day, a) for a in o.athletes}
        elif isinstance(o, f.CompetitionMoved | f.CompetitionWithdrawn):
            day = o.was if isinstance(o, f.CompetitionMoved) else o.first_day
            gone = {m for m in found if m[:2] == (o.name, day) and (not o.athletes or m[2] in o.athletes)}
            found -= gone
            if isinstance(o, f.CompetitionMoved):
                found |= {(o.name, o.first_day, m[2]) for m in gone}
    return found


# --- corrections ---------------------------------------------------------------------------------------


@_judge.register
def _undone(fact: f.Undone, check: _Check) -> None:
    by_id = {o.id: o for o in check.known}
    if fact.fact not in by_id:
        maybe = "look for it with 'planner history FILE --facts'"
        check.say("fact", f"fact {fact.fact}", "the number of a recorded fact", maybe)
        return
    counting = {o.id for o in check.active}
    undoings = {o.id for o in check.known if isinstance(o, f.Undone)} - _undone_ids(check.known)
    if fact.fact not in counting | undoings:
        check.say("fact", f"fact {fact.fact}, which is undone already", "a fact that counts")


def _undone_ids(known: Sequence[f.Fact]) -> set[int]:
    undone: set[int] = set()
    for o in sorted(known, key=lambda o: -o.id):
        if isinstance(o, f.Undone) and o.id not in undone:
            undone.add(o.fact)
    return undone


@_judge.register
def _forgotten(fact: f.Forgotten, check: _Check) -> None:
    check.say("kind", "a forgotten fact", "a fact that happened", "'planner forget' is meant")
