"""From a placement to lines to train by; the whole plan at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from planner.catalogue import Ladder, ladders
from planner.domain.block import RunUp
from planner.domain.facts import Done
from planner.domain.plan import Placement, PlacementKey, Plan
from planner.domain.problem import Problem
from planner.numbers.case import Case, Shares
from planner.numbers.due import due_words
from planner.numbers.errors import NoNumber
from planner.numbers.jumps import jump_lines
from planner.numbers.lifts import lift_lines, lighter_lift
from planner.numbers.lines import Lines
from planner.numbers.marks import of_athlete
from planner.numbers.other_leg import trial_lines
from planner.numbers.others import bound_lines, effort_lines, hurdle_lines
from planner.numbers.progress import Exposure, exposures
from planner.numbers.runs import STARTS, lighter_run, run_lines
from planner.science.errors import OutOfReach

NO_SHARES: Mapping[str, Shares] = {}
BY_KIND: Mapping[str, Callable[[Case, Ladder, Lines], dict[str, Any]]] = {
    **dict.fromkeys(STARTS, run_lines),
    **dict.fromkeys(("jump", "phases", "run-up"), jump_lines),
    "kilograms": lift_lines,
    "bounds": bound_lines,
    "hurdles": hurdle_lines,
    "effort": effort_lines,
}


def lines_for(
    placement: Placement,
    problem: Problem,
    done: Sequence[Done] = (),
    *,
    shares: Mapping[str, Shares] = NO_SHARES,
) -> Lines:
    """The lines of one placement. Earlier times are those known to the problem and those recorded as done.

    `shares` are own shares of hop, step and jump in percent by athlete. A mark counts from its own day on, one
    without a date always. A mark that cannot be used is said in the lines' notes and the words of effort stand;
    nothing is raised for it.
    """
    mine = sorted({p for p in (*problem.history, *problem.kept) if _of(p) == _of(placement)}, key=lambda p: p.key)
    facts = [d for d in done if (d.athlete, d.unit) == _of(placement)]
    times = exposures(mine, facts)
    return _lines(placement, problem, times, shares, _kinds(problem))


def numbers(
    plan: Plan | Iterable[Placement],
    problem: Problem,
    done: Sequence[Done] = (),
    *,
    shares: Mapping[str, Shares] = NO_SHARES,
) -> Mapping[PlacementKey, Lines]:
    """The lines of every placement of a plan, by its key.

    What stands earlier in the plan is taken as done as planned until something else is recorded.
    """
    placements = plan.placements if isinstance(plan, Plan) else tuple(plan)
    every = {*placements, *problem.kept}
    known = _by_unit(sorted({*every, *problem.history}, key=lambda p: p.key))
    facts: dict[tuple[str, str], list[Done]] = {}
    for d in done:
        facts.setdefault((d.athlete, d.unit), []).append(d)
    kinds = _kinds(problem)
    found: dict[PlacementKey, Lines] = {}
    for key, mine in known.items():
        times = exposures(mine, facts.get(key, ()))
        for p in (p for p in mine if p in every):
            found[p.key] = _lines(p, problem, times, shares, kinds)
    return found


def _of(p: Placement) -> tuple[str, str]:
    return p.athlete, p.unit.id


def _by_unit(placements: Iterable[Placement]) -> dict[tuple[str, str], list[Placement]]:
    found: dict[tuple[str, str], list[Placement]] = {}
    for p in placements:
        found.setdefault(_of(p), []).append(p)
    return found


def _kinds(problem: Problem) -> dict[tuple[str, str], str]:
    return {(o.place.venue, o.place.name): o.place.kind for o in problem.block.openings}


def _lines(
    p: Placement,
    problem: Problem,
    times: Sequence[Exposure],
    shares: Mapping[str, Shares],
    kinds: Mapping[tuple[str, str], str],
) -> Lines:
    ladder = ladders().get(p.unit.id)
    case = Case(
        placement=p,
        problem=problem,
        athlete=problem.block.athlete(p.athlete),
        ladder=ladder,
        times=times,
        marks=tuple(m for m in of_athlete(problem.block, p.athlete) if m.day is None or m.day <= p.day),
        run_ups=_known_by(problem.block.run_ups, p),
        shares=shares.get(p.athlete),
        kinds=kinds,
    )
    base = _base(case)
    try:
        made: dict[str, Any] = _fields(case, base)
        text, number = _lighter(case)
        made.setdefault("lighter", f"{text} ({number})" if number else text)
        made.setdefault("lighter_number", number)
    except (NoNumber, OutOfReach) as told:
        made = {"notes": (str(told),)}
    return replace(base, **made)


def _known_by(run_ups: Iterable[RunUp], p: Placement) -> tuple[RunUp, ...]:
    """The athlete's run-ups as they were set by the day; one that was first set later stands for itself."""
    own = [r for r in run_ups if r.athlete == p.athlete]
    by_then = [r for r in own if r.day is None or r.day <= p.day]
    known = {(r.event, r.steps, r.leg, r.worn) for r in by_then}
    return tuple(r for r in own if r in by_then or (r.event, r.steps, r.leg, r.worn) not in known)


def _base(case: Case) -> Lines:
    """The catalogue's own words."""
    p, unit = case.placement, case.placement.unit
    stand = case.standing
    shoes = unit.shoes
    if case.on_grass and "spikes" in shoes:
        shoes = "flats on grass"
    return Lines(
        athlete=p.athlete,
        day=p.day,
        slot=p.slot,
        unit=unit.id,
        word=p.dose.word,
        amount=_amount(p),
        target="" if case.easy else unit.target,
        recovery=unit.recovery,
        shoes=shoes,
        stop=unit.stop_rule,
        lighter="" if case.easy else unit.lighter_text,
        rung=stand.number if stand else 0,
        why=stand.why if stand else "",
        of_rungs=len(case.ladder.rungs) if case.ladder else 0,
        source=case.ladder.source if case.ladder else unit.source,
    )


def _amount(p: Placement) -> str:
    much, measure = p.dose.amount, p.dose.measure
    short = {"metres": "m", "minutes": "min"}.get(measure)
    if short:
        return f"{much} {short}"
    return f"{much} {measure[:-1] if much == 1 and measure.endswith('s') else measure}"


def _fields(case: Case, base: Lines) -> dict[str, Any]:
    ladder = case.ladder
    if case.placement.unit.id == "testing":
        due = due_words(case.athlete, case.marks, case.placement.day)
        return {"notes": (due,) if due else ()}
    if case.placement.unit.is_trial:
        return trial_lines(case)
    if ladder is None or (case.easy and case.placement.unit.lighter_measure):
        return {}  # a lighter row in a measure of its own is another unit, and the catalogue names it
    return BY_KIND[ladder.kind](case, ladder, base)


def _lighter(case: Case) -> tuple[str, str]:
    """The lighter line and its number where the athlete has a mark; both '' for what is lighter already."""
    if case.easy or case.ladder is None:
        return "" if case.easy else case.placement.unit.lighter_text, ""
    number = ""
    if case.ladder.kind in STARTS and not case.placement.unit.lighter_measure:
        number = lighter_run(case, case.ladder)
    elif case.ladder.kind == "kilograms":
        number = lighter_lift(case, case.ladder)
    return case.placement.unit.lighter_text, number
