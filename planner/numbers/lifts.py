"""Lifts: kilograms from own best single lifts, what goes first and what stays when it is lightened."""

from __future__ import annotations

from dataclasses import dataclass

from planner.catalogue import Ladder, Rung
from planner.domain.block import Mark
from planner.numbers.case import Case
from planner.numbers.lines import Lines, Target, kilograms
from planner.numbers.marks import best_mark
from planner.science.strength import load_at

EMPTY_BAR = 40  # half kilograms; below it weights go up in half kilograms, not by plates
MAIN_LIFTS = ("first lift", "second lift", "third lift")


@dataclass(frozen=True)
class Lift:
    """One lift: its name ('' while the athlete has no mark), sets, repetitions and the best single."""

    name: str
    sets: int
    reps: int
    best: Mark | None


def lift_lines(case: Case, ladder: Ladder, _base: Lines) -> dict[str, object]:
    """The fields of a strength unit's lines that differ from the catalogue's words."""
    dose = case.placement.dose
    if dose.measure != "sets" or not ladder.rungs:
        return {"goes_first": ladder.goes_first, "stays": ladder.stays}
    stand = case.standing
    rung = stand.rung if stand else ladder.rungs[0]
    percent, reps = _percent(case, ladder, rung)
    lifts = _lifts(case, ladder, rung, reps)
    most = ladder.most.get(case.level, 100)
    targets = tuple(_target(x.name, x.best.value, percent, most) for x in lifts if x.best is not None)
    found: dict[str, object] = {
        "amount": _amount(lifts, targets), "goes_first": ladder.goes_first, "stays": ladder.stays,
        "notes": (stand.note,) if stand and stand.note else (),
    }  # fmt: skip
    left = "2-3 repetitions left in every set"
    if targets:
        said = ", ".join(f"{t.what} {t.words}" for t in targets)
        found |= {"targets": targets, "target": f"{percent} %: {said}; {left}"}
        found["doubt"] = "percentages differ by lift and athlete: how many repetitions are left decides"
    else:
        found["target"] = f"a weight that leaves 2-3 repetitions (about {percent} % of a best single)"
        novice = case.level == "novice"
        found["test"] = "" if novice else "a set of 3-5 repetitions, the last only just clean, gives the number"
        if novice:
            found["target"] = "technique first; a weight that leaves 3 repetitions. No test of a maximum"
    return found


def lighter_lift(case: Case, ladder: Ladder) -> str:
    """'squat 97.5 kg' at the lighter row's percentage; '' without a mark."""
    form = ladder.lighter
    if form is None or not form.percent:
        return ""
    most = ladder.most.get(case.level, 100)
    for lift in _lifts(case, ladder, ladder.rungs[0], 1):
        if lift.best is not None:
            target = _target(lift.name, lift.best.value, min(form.percent, most), most)
            return f"{target.what} {target.words}"
    return ""


def _percent(case: Case, ladder: Ladder, rung: Rung) -> tuple[int, int]:
    percent, reps = rung.percent[1], rung.reps
    if case.easy and ladder.lighter:
        percent, reps = min(percent, ladder.lighter.percent), ladder.lighter.reps or reps
    return min(percent, ladder.most.get(case.level, percent)), reps


def _lifts(case: Case, ladder: Ladder, rung: Rung, reps: int) -> tuple[Lift, ...]:
    """The sets shared out over lifts, the first one getting the odd set."""
    total = case.placement.dose.amount
    many = max(1, min(len(ladder.lifts) or 1, (total + rung.sets // 2) // rung.sets))
    if case.easy:
        many = 1
    found = []
    for i in range(many):
        sets = total // many + (1 if i < total % many else 0)
        marks = [best_mark(case.marks, name, "half-kg") for name in ladder.lifts[i]] if ladder.lifts else []
        best = next((m for m in marks if m is not None), None)
        found.append(Lift(best.event if best else "", sets, reps, best))
    return tuple(found)


def _target(name: str, best: int, percent: int, most: int) -> Target:
    """To the nearest step of the bar, yet never above the level's highest share by rounding."""
    step = 5 if best * percent >= 100 * EMPTY_BAR else 1
    weight = load_at(best, percent, step=step)
    if weight * 100 > best * most:
        weight -= step
    return Target(name, weight, weight, "half-kg", f"{percent} % of own {kilograms(best)} kg")


def _amount(lifts: tuple[Lift, ...], targets: tuple[Target, ...]) -> str:
    if not targets:
        said = ", ".join(f"{lift.sets} x {lift.reps}" for lift in lifts)
        return said if len(lifts) == 1 else f"{len(lifts)} lifts: {said}"
    return ", ".join(f"{lift.name or MAIN_LIFTS[i]} {lift.sets} x {lift.reps}" for i, lift in enumerate(lifts))
