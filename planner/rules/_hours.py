"""Hours to recover, start to start, between different dates: the figures, and the two ways of counting.

Two rules read this: the floor (must) and the preferred hours (should). A unit asks for its hours before
(a) another fast unit, or one of its own family that is at least medium, and (b) when it loads 3 on a region
and side, before another unit that loads 3 there. The floor is 24 hours less where 72 or more are
preferred, else equal. An easy row (neural 0-1) asks for 24 hours before the next fast unit at most. A limit
at return stage 5 adds 24 hours on its region, to both. A competition day starts at noon, as far as we know.
Two dates later always satisfies 48 hours, whatever the clock says.
Only the `rows_` part speaks to the Board, only the `found_` part reads a view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cache
from typing import NamedTuple

from planner.catalogue import (
    event,
    family_in_words,
    hours_after_competition,
    hours_to_neural_2_after_combined_events,
    return_stage,
)
from planner.domain.block import Competition, Limit
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import REGIONS, SIDES
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import judged_days
from planner.rules._limits import region_name
from planner.rules._rule import Rule

DAYS_BACK = 7  # no unit and no competition asks for more than 168 hours
NOON = time(12)
TWO_DATES_LATER = 48  # hours that two dates later always satisfies
EASY_HOURS = 24  # the most that drills and light work ask for
STAGE_5_HOURS = return_stage(5).more_hours  # on a limited region
COMBINED = ("heptathlon", "decathlon", "combined events")

Kind = tuple[str, ...]  # ("fast",), ("family", name), ("region", region, side), ("medium",)


@dataclass(frozen=True)
class Hours:
    """Which of the two rules asks, of which problem, and whether it asks for the floor."""

    rule: Rule
    problem: Problem
    floor: bool

    def short(self, athlete: str, day: date) -> int:
        return self.rule.number(self.problem, "short", athlete, day)


def lowered(hours: int, floor: bool) -> int:
    """The floor that goes with preferred hours, when the floor is asked for."""
    return hours - 24 if floor and hours >= 72 else hours


def competition_hours(problem: Problem, competition: Competition, floor: bool) -> int:
    """Hours to the next fast unit after a competition, least or preferred: the longest of its events."""
    return max(
        (hours_after_competition(e)[0 if floor else 1] for e in _events(problem, competition)), default=48
    )


def is_combined(problem: Problem, competition: Competition) -> bool:
    return any(event(e).name in COMBINED for e in _events(problem, competition))


def _events(problem: Problem, competition: Competition) -> tuple[str, ...]:
    return competition.events or problem.block.athlete(competition.athlete).events


def hours_fast(placement: Placement) -> int:
    """Preferred hours before the next fast unit, or the next medium one of the same family."""
    hours = placement.unit.hours_neural
    return hours if placement.dose.neural >= 2 else min(hours, EASY_HOURS)


def at_stage_5(limits: Iterable[Limit], region: str, side: str) -> bool:
    return any(x.stage == 5 and x.region == region and x.side in ("both", side) for x in limits)


# --- for `constrain` -------------------------------------------------------------------------------


class Source(NamedTuple):
    """Things of one day that ask for the same: until when, and in which kind of need."""

    kind: Kind
    until: datetime
    columns: list[Column]


def rows(rule: Rule, board: Board, problem: Problem, floor: bool) -> None:
    """Say to the Board that no session begins while something earlier still asks for hours."""
    asked = Hours(rule, problem, floor)
    for athlete in problem.athletes:
        first = problem.days[0]
        earlier = {
            d: _sources(asked, board, athlete, d)
            for d in (first + timedelta(days=i) for i in range(-DAYS_BACK, len(problem.days) + DAYS_BACK))
        }
        for day in judged_days(problem, athlete):
            before = [s for back in range(1, DAYS_BACK + 1) for s in earlier.get(day - timedelta(back), ())]
            for (slot, begins), targets in _targets(board, problem, athlete, day).items():
                where = Where(athlete, day, slot)
                clashes = _clashes(board, [s for s in before if s.until > begins], targets)
                if not clashes:
                    continue
                if rule.tier_at(problem, athlete, day) == "must":  # pairs are tighter; a price counts once
                    for s, t in clashes:
                        board.at_most([(1, s), (1, t)], 1, where)
                else:
                    both = [board.reaches([(1, s), (1, t)], 2) for s, t in clashes]
                    board.at_most([(1, board.any_of(both))], 0, where)


def _clashes(
    board: Board, sources: list[Source], targets: dict[Kind, list[Column]]
) -> list[tuple[Column, Column]]:
    by_kind: dict[Kind, list[Column]] = {}
    for s in sources:
        if s.kind in targets:
            by_kind.setdefault(s.kind, []).extend(s.columns)
    found: dict[tuple[Column, Column], None] = {}
    for kind, columns in by_kind.items():
        source, target = board.any_of(columns), board.any_of(targets[kind])
        if not source == target == board.always:  # both settled: the calendar's, not ours
            found[source, target] = None
    return list(found)


def _sources(asked: Hours, board: Board, athlete: str, day: date) -> list[Source]:
    problem, floor = asked.problem, asked.floor
    short = asked.short(athlete, day)
    found: dict[tuple[Kind, datetime], list[Column]] = {}
    meet = problem.competition_on(athlete, day)
    if meet:
        noon = datetime.combine(day, NOON)
        hours = competition_hours(problem, meet, floor)
        found[("fast",), _until(noon, hours, short)] = [board.always]
        if is_combined(problem, meet):
            hours = hours_to_neural_2_after_combined_events()
            found[("medium",), _until(noon, hours, short)] = [board.always]
    limits = problem.limits_on(athlete, day)
    for p in problem.known_on(athlete, day):
        column = board.placed(p)
        until = _until(p.begins, lowered(hours_fast(p), floor), short)
        if until.date() > day:
            found.setdefault((("fast",), until), []).append(column)
            found.setdefault((("family", p.unit.family), until), []).append(column)
        for region, side in p.dose.heavy:
            more = STAGE_5_HOURS if at_stage_5(limits, region, side) else 0
            until = _until(p.begins, lowered(p.unit.hours_region, floor) + more, short)
            if until.date() > day:
                found.setdefault((("region", region, side), until), []).append(column)
    return [Source(kind, until, columns) for (kind, until), columns in found.items()]


@cache  # few starts and hours, asked for by every candidate
def _until(begins: datetime, hours: int, short: int) -> datetime:
    """From when on the next may start; two dates later at the latest for up to 48 hours."""
    until = begins + timedelta(hours=hours - short)
    if hours <= TWO_DATES_LATER:
        until = min(until, datetime.combine(begins.date() + timedelta(2), time(0)))
    return until


def _targets(
    board: Board, problem: Problem, athlete: str, day: date
) -> dict[tuple[str, datetime], dict[Kind, list[Column]]]:
    found: dict[tuple[str, datetime], dict[Kind, list[Column]]] = {}
    if problem.competition_on(athlete, day):
        found["", datetime.combine(day, NOON)] = {("fast",): [board.always]}
    for p in problem.known_on(athlete, day):
        kinds = found.setdefault((p.slot, p.begins), {})
        column = board.placed(p)
        if p.dose.neural >= 3:
            kinds.setdefault(("fast",), []).append(column)
        if p.dose.neural >= 2:
            kinds.setdefault(("medium",), []).append(column)
            kinds.setdefault(("family", p.unit.family), []).append(column)
        for key in p.dose.heavy:
            kinds.setdefault(("region", *key), []).append(column)
    return found


# --- for `check` -----------------------------------------------------------------------------------


def found(rule: Rule, view: PlanView, problem: Problem, floor: bool) -> list[Finding]:
    """One finding per session (or competition) that begins before its hours are up."""
    findings = []
    asked = Hours(rule, problem, floor)
    for athlete in problem.athletes:
        needs: dict[date, list[Need]] = {}
        for day in judged_days(problem, athlete):
            starts = {(p.slot, p.begins) for p in view.on(athlete, day)}
            if problem.competition_on(athlete, day):
                starts.add(("", datetime.combine(day, NOON)))
            for slot, begins in sorted(starts, key=lambda s: (s[1], s[0])):
                here = [p for p in view.on(athlete, day) if (p.slot, p.begins) == (slot, begins)]
                reason = _too_soon(asked, view, (athlete, day, begins), here, needs)
                if reason:
                    tier = rule.tier_at(problem, athlete, day)
                    findings.append(Finding(rule.id, tier, 1, athlete, day, slot, facts=reason))
    return findings


def _too_soon(
    asked: Hours,
    view: PlanView,
    start: tuple[str, date, datetime],
    here: list[Placement],
    needs: dict[date, list[Need]],
) -> dict[str, object]:
    """Facts of the first need that is not met when a session begins; empty when all are.

    `needs` are those of the days looked at so far, of this athlete.
    """
    athlete, day, begins = start
    settled_things = asked.problem.settled
    broken: dict[Kind, dict[str, object]] = {}
    settled: set[Kind] = set()
    for back in range(DAYS_BACK, 0, -1):
        before = day - timedelta(back)
        if before not in needs:
            needs[before] = list(_needs_of_day(asked, view, athlete, before))
        for kind, hours, since, cause in needs[before]:
            gap = view.hours_between(since, begins)
            hit = [q for q in here if _hit_by(kind, q)]
            meets = not here and kind == ("fast",)
            in_time = gap + asked.short(athlete, before) >= hours or (hours <= TWO_DATES_LATER and back >= 2)
            if in_time or not (hit or meets):
                continue
            names = [x.unit.name if x else "the competition" for x in (cause, hit[0] if hit else None)]
            facts = {"kind": kind, "hours": hours, "gap": int(gap), "before": before}
            broken.setdefault(kind, {**facts, "cause": names[0], "unit": names[1]})
            if (cause is None or cause in settled_things) and (
                meets or any(q in settled_things for q in hit)
            ):
                settled.add(kind)
    for kind in sorted(broken):
        if kind not in settled:
            return broken[kind]
    return {}


Need = tuple[Kind, int, datetime, Placement | None]


def _needs_of_day(asked: Hours, view: PlanView, athlete: str, day: date) -> Iterator[Need]:
    meet = asked.problem.competition_on(athlete, day)
    if meet is not None:
        noon = datetime.combine(day, NOON)
        yield ("fast",), competition_hours(asked.problem, meet, asked.floor), noon, None
        if is_combined(asked.problem, meet):
            yield ("medium",), hours_to_neural_2_after_combined_events(), noon, None
    for p in view.on(athlete, day):
        yield from _needs(asked.problem, p, asked.floor)


def _needs(problem: Problem, p: Placement, floor: bool) -> Iterator[Need]:
    hours = lowered(hours_fast(p), floor)
    yield ("fast",), hours, p.begins, p
    yield ("family", p.unit.family), hours, p.begins, p
    for region in REGIONS:
        for side in SIDES:
            if p.dose.loads.get((region, side), 0) < 3:
                continue
            hours = lowered(p.unit.hours_region, floor)
            if at_stage_5(problem.limits_on(p.athlete, p.day), region, side):
                hours += STAGE_5_HOURS
            yield ("region", region, side), hours, p.begins, p


def _hit_by(kind: Kind, q: Placement) -> bool:
    match kind:
        case ("fast",):
            return q.dose.neural == 3
        case ("medium",):
            return q.dose.neural >= 2
        case ("family", family):
            return q.dose.neural >= 2 and q.unit.family == family
        case (_, region, side):
            return any(load >= 3 for key, load in q.dose.loads.items() if key == (region, side))
    return False


def sentence(finding: Finding) -> str:
    """Who, when, what comes too soon after what, by how many hours, and two ways out."""
    f = finding.facts
    kind = f["kind"]
    assert isinstance(kind, tuple)
    what = {"fast": "the next fast unit", "medium": "the next medium unit"}.get(str(kind[0]), "")
    if kind[0] == "family":
        what = f"the next {family_in_words(str(kind[1]))} unit"
    if kind[0] == "region":
        what = f"the next hard load on the {kind[2]} {region_name(str(kind[1]))}"
    return (
        f"{finding.athlete}: {f['unit']} on {finding.day:%a %d %b} starts {f['gap']} h after {f['cause']} of "
        f"{f['before']:%a %d %b}; {what} needs {f['hours']} h. "
        "Maybe move it a day, or take the lighter version of one."
    )
