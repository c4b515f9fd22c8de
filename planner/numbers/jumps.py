"""Jumps, phases and run-ups: steps, marks as targets, where the start mark lies."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.catalogue import Ladder, run_up_steps
from planner.domain.block import Athlete, RunUp
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import UNNAMED, Shoe, worn
from planner.numbers.case import Case, Shares
from planner.numbers.errors import NoNumber
from planner.numbers.lines import Lines, Target, metres
from planner.numbers.marks import best_mark
from planner.science.jumps import ACCURACY_AIMS, EVEN_PATTERN, NOVICE_PATTERN, SHARE_BAND, marks_for
from planner.science.run_up import CLASSES, Steps, start_mark_m
from planner.science.short_run_up import USUAL_PERCENT

EVENTS = (("long-jump", "long jump"), ("triple-jump", "triple jump"), ("high-jump", "high jump"),
          ("hop-and-step", "triple jump"))  # fmt: skip
NOT_A_FORECAST = "usual band of all jumpers, common practice, no source: orientation only"


def event_of(case: Case) -> str:
    """The jump a unit belongs to; for run-ups the athlete's first jump with one."""
    for part, event in EVENTS:
        if part in case.placement.unit.id:
            return event
    for event in case.athlete.events:
        if event in ("long jump", "triple jump"):
            return event
    known = [r.event for r in case.run_ups]
    return known[0] if known else "long jump"


def jump_lines(case: Case, ladder: Ladder, base: Lines) -> dict[str, object]:
    """The fields of a jump's lines that differ from the catalogue's words."""
    event = event_of(case)
    if ladder.kind in ("run-up", "phases"):
        return _run_up(case, ladder, event)
    if event == "high jump":
        return _high_jump(case, ladder, event)
    full = not ladder.rungs
    steps = full_steps(case, event) if full else _short_steps(case, ladder, event)
    found: dict[str, object] = {"steps": steps, "notes": _notes(case, ladder, steps)}
    amount = case.placement.dose.amount
    if case.placement.dose.measure == "jumps":
        found["amount"] = f"{amount} {'jump' if amount == 1 else 'jumps'} from {steps} steps"
    targets = _full_targets(case, event) if full else _short_targets(case, ladder, event, steps)
    if case.easy:
        targets = ()
    if event == "triple jump" and targets:
        targets = (*targets, *_phase_targets(case, targets[0]))
    if targets:
        found |= {"targets": targets, "target": _words(case, targets, full)}
        found["doubt"] = "; ".join(dict.fromkeys(t.doubt for t in targets if t.doubt))
        found["stop"] = _stop(ladder, targets[0], base.stop)
    elif not case.easy:
        found["test"] = f"a measured {event} from {steps} steps gives the number"
    return found


def full_steps(case: Case, event: str) -> int:
    """Steps of the athlete's full run-up: the longest set one for the take-off leg, else the usual one."""
    own = [r.steps for r in case.run_ups if r.event == event and r.leg in (None, case.athlete.take_off_leg)]
    steps = max(own, default=0)
    if not steps:
        steps = run_up_steps(event, case.level, case.athlete.age_on(case.placement.day))
    return min(steps, case.most_steps or steps)


def _short_steps(case: Case, ladder: Ladder, event: str) -> int:
    """Even as on the ladder; one less where the athlete starts from the other foot (an odd full run-up)."""
    stand = case.standing
    steps = stand.rung.each[0] if stand else ladder.rungs[0].each[0]
    if case.level in ladder.spans:
        low, high = ladder.spans[case.level]
        steps = min(max(steps, low), high)
    if case.easy and ladder.lighter and ladder.lighter.each:
        steps = min(steps, ladder.lighter.each)
    if full_steps(case, event) % 2:
        steps -= 1
    return min(steps, case.most_steps or steps)


def _full_targets(case: Case, event: str) -> tuple[Target, ...]:
    best = best_mark(case.marks, event, "cm")
    if best is None:
        return ()
    low = best.value * 97 // 100
    return (Target(event, low, best.value, "cm", f"97-100 % of own best {metres(best.value)} m"),)


def _short_targets(case: Case, ladder: Ladder, event: str, steps: int) -> tuple[Target, ...]:
    own = best_mark(case.marks, f"{event} {steps} steps", "cm")
    if own is not None:
        low, high = ladder.percent
        return (
            Target(
                f"{steps} steps", own.value * low // 100, own.value * high // 100, "cm",
                f"{low}-{high} % of own {metres(own.value)} m from {steps} steps",
            ),
        )  # fmt: skip
    best = best_mark(case.marks, event, "cm")
    if best is None or event not in ("long jump", "triple jump"):
        return ()
    table = USUAL_PERCENT["long jump" if event == "long jump" else "triple jump"]
    even = min(16, steps + steps % 2)
    if even not in table:
        return ()
    low, high = table[even]
    basis = f"usually {low}-{high} % of the own best {metres(best.value)} m from the full run-up"
    lowest, highest = best.value * low // 100, best.value * high // 100
    return (Target(f"{steps} steps", lowest, highest, "cm", basis, NOT_A_FORECAST),)


def shares_for(level: str, own: Shares | None) -> tuple[Shares, str]:
    """Shares of hop, step and jump in percent, and where they come from."""
    if own is not None:
        return own, "own shares"
    if level == "novice":
        return NOVICE_PATTERN, "even rhythm 34/31/35, common practice, no source"
    return EVEN_PATTERN, "usual 35/30/35; own shares once three whole jumps are measured"


def _phase_targets(case: Case, total: Target) -> tuple[Target, ...]:
    """Where hop and step land for the middle of the target: cones beside the runway, 2 % points either way."""
    shares, said = shares_for(case.level, case.shares)
    middle = (total.low + total.high) // 2
    hop, step = marks_for(middle, shares)
    either = middle * SHARE_BAND // 100
    basis = f"for {metres(middle)} m, {said}"
    doubt = "" if case.shares else "no shares suit everybody"
    return (
        Target("hop lands at", hop - either, hop + either, "cm", basis, doubt),
        Target("step lands at", step - either, step + either, "cm", basis, doubt),
    )


def _words(case: Case, targets: tuple[Target, ...], full: bool) -> str:
    first = targets[0]
    said = f"{first.words}"
    if first.doubt:
        said = f"usually {first.words}, good take-offs first"
    phases = [t for t in targets if t.what.endswith("lands at")]
    if phases:
        cones = ", ".join(f"{t.what.split()[0]} {metres((t.low + t.high) // 2)}" for t in phases)
        said += f"; marks: {cones} m"
    if full:
        share, behind, _ = ACCURACY_AIMS[case.level]
        said += f"; {share} % of take-offs within {behind} cm behind the line"
    return said


def _stop(ladder: Ladder, target: Target, usual: str) -> str:
    """Jumps stop at failures: a failure is also a jump well short of the target; common practice, no source."""
    if ladder.stop is None or target.doubt:
        return usual
    percent, poor = ladder.stop
    return f"{poor} in a row that fail or are under {metres(target.low * (100 - percent) // 100)} m"


def _notes(case: Case, ladder: Ladder, steps: int) -> tuple[str, ...]:
    notes = [case.standing.note] if case.standing and case.standing.note else []
    if case.most_steps is not None and steps == case.most_steps:
        notes.append(f"not more than {steps} steps for now")
    return tuple(notes)


def _high_jump(case: Case, ladder: Ladder, event: str) -> dict[str, object]:
    best = best_mark(case.marks, event, "cm")
    if best is None:
        return {} if case.easy else {"test": "a measured high jump gives the number"}
    if case.easy:
        return {}
    low, high = ladder.percent
    one = Target("bar", best.value * low // 100, best.value * high // 100, "cm",
                 f"{low}-{high} % of own best {metres(best.value)} m")  # fmt: skip
    return {"targets": (one,), "target": f"bar at {one.words}, as in competition"}


def _run_up(case: Case, ladder: Ladder, event: str) -> dict[str, object]:
    steps = full_steps(case, event)
    easy = ladder.lighter.each if case.easy and ladder.lighter and ladder.lighter.each else 0
    if easy:
        steps = min(steps, easy)
    dose = case.placement.dose
    one = dose.measure[:-1] if dose.amount == 1 else dose.measure
    found: dict[str, object] = {
        "steps": steps, "amount": f"{dose.amount} {one} of {steps} steps", "notes": _notes(case, ladder, steps),
    }  # fmt: skip
    said, doubt = start_words(
        case.run_ups, case.athlete, event, steps, case.placement.day.year, case.placement.unit.shoes
    )
    low, high = case.capped(ladder.percent)
    speed = f"{low}-{high} %" if low != high else f"at most {low} %"
    found["target"] = f"{speed} of own run-up speed; {said}"
    found["doubt"] = doubt
    if doubt:
        found["test"] = "five runs on the track, the middle one measured, give the start mark"
    if ladder.kind == "phases":
        best = best_mark(case.marks, "triple jump", "cm")
        if best:
            total = Target(event, best.value * 97 // 100, best.value, "cm", "own best")
            targets = _phase_targets(case, total)
            cones = ", ".join(f"{t.what.split()[0]} {metres((t.low + t.high) // 2)}" for t in targets)
            found |= {"targets": targets, "target": f"{found['target']}; marks: {cones} m"}
    if case.level in ACCURACY_AIMS and ladder.stop:
        found["stop"] = f"{ladder.stop[1]} in a row over a foot (30 cm) off the mark"
    return found


SHORT_RUN_UPS = (4, 6, 8, 10, 12)  # even steps that a card lists beside the full run-up


def in_whole_shoes(run_ups: Iterable[RunUp], shoes: Sequence[Shoe]) -> tuple[RunUp, ...]:
    """One athlete's run-ups, each with the whole shoe it stands for; `shoes` are the athlete's own."""
    whole = ((r, worn(r.worn, shoes)) for r in run_ups)
    return tuple(replace(r, shoe=shoe.length, shoe_name=shoe.name) for r, shoe in whole)


def full_in_shoe(run_ups: Iterable[RunUp], event: str, leg: str, shoe: Shoe) -> int:
    """Steps of the full run-up in a shoe; 0 while none is set for the leg.

    The longest one set in it; where that is a short run-up, the longest one of the leg in whatever shoe.
    """
    of_leg = [(r.steps, r.worn) for r in run_ups if r.event == event and r.leg in (None, leg)]
    own = max((steps for steps, other in of_leg if other == shoe), default=0)
    return own if own > SHORT_RUN_UPS[-1] else max((steps for steps, _ in of_leg), default=0)


def own_run_up(
    run_ups: tuple[RunUp, ...], event: str, steps: int, leg: str, shoe: Shoe | None = None
) -> RunUp | None:
    """The run-up in force for an event, steps, leg and shoe (None: any): the latest dated one with a start mark.

    NoNumber when two of one day, or two without a date, have different start marks for the same shoe.
    """
    own = [r for r in run_ups if r.event == event and r.steps == steps and r.leg in (None, leg) and r.start_mark]
    own = [r for r in own if shoe is None or r.worn == shoe]
    own.sort(key=lambda r: (r.day is not None, r.day.toordinal() if r.day else 0))
    if not own:
        return None
    last = own[-1]
    for other in own[:-1]:
        if other.day == last.day and other.worn == last.worn and other.start_mark != last.start_mark:
            raise NoNumber(
                f"two start marks stand for {last.athlete}'s {event} from {steps} steps: "
                f"{metres(other.start_mark or 0)} m and {metres(last.start_mark or 0)} m; needed one. "
                "Maybe date both, and the later one holds."
            )
    return last


def marks_by_shoe(
    run_ups: Iterable[RunUp], athlete: str, event: str, steps: int, leg: str, shoes: str = ""
) -> tuple[tuple[str, RunUp], ...]:
    """(what the shoe is called, its run-up in force) for each shoe a start mark stands in for a unit.

    Where the athlete has marks in several, those whose name holds a word of `shoes` ('jumping spikes'), or all of
    them when none does. The only shoe an athlete has needs no name: ''.
    """
    known = own_shoes(athlete, run_ups := tuple(run_ups))
    mine = in_whole_shoes((r for r in run_ups if r.athlete == athlete), known)
    found = [(s, r) for s in known if (r := own_run_up(mine, event, steps, leg, s)) is not None]
    asked = set(re.findall(r"\w+", shoes.casefold()))
    fit = [(s, r) for s, r in found if asked & set(re.findall(r"\w+", s.name.casefold()))]
    return tuple((str(s.label or UNNAMED) if len(known) > 1 else "", r) for s, r in fit or found)


def _mark_words(own: RunUp, shoe: str) -> str:
    said = f"still-wind start mark {metres(own.start_mark or 0)} m" + (f" in {shoe}" if shoe else "")
    if own.check_mark and own.check_steps:
        said += f", check {metres(own.check_mark)} m at step {own.check_steps}"
    if own.coach_mark:
        said += f", coach's mark {metres(own.coach_mark)} m"
    return said


def step_class(athlete: Athlete, age: int | None) -> tuple[str, Steps]:
    """The class whose step lengths serve as a first estimate, by age, sex and level; derived, no source."""
    woman = athlete.sex[:1].lower() != "m"
    if age is not None and age < 13:
        name = "under 13"
    elif age is not None and age < 15:
        name = "under 15"
    elif (age is not None and age < 18) or athlete.level == "novice":
        name = "under 18 girl, novice woman" if woman else "under 18 boy, woman"
    elif athlete.level == "developing":
        name = "under 18 boy, woman" if woman else "advanced woman, developing man"
    else:
        name = "advanced woman, developing man" if woman else "advanced man"
    return name, CLASSES[name]


def start_words(
    run_ups: tuple[RunUp, ...], athlete: Athlete, event: str, steps: int, year: int, shoes: str = ""
) -> tuple[str, str]:
    """('still-wind start mark 33.20 m, check 5.35 m at step 4', '') or a first estimate and its doubt.

    Of two shoes the ones the unit asks for (`shoes`, in the catalogue's words), each mark with its shoe's name.
    """
    own = marks_by_shoe(run_ups, athlete.name, event, steps, athlete.take_off_leg, shoes)
    if own:
        return "; ".join(_mark_words(mark, shoe) for shoe, mark in own), ""
    age = None if athlete.born is None else year - athlete.born.year
    name, model = step_class(athlete, age)
    about = round(start_mark_m(steps, model) * 10) * 10
    return f"try the start mark at about {metres(about)} m", (
        f"a first estimate for '{name}' from the step count; replace it after the first measured runs"
    )


