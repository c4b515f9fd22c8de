"""Bounds, hurdles and units that are aimed at by effort: contacts in sets, spacings, words."""

from __future__ import annotations

from planner.catalogue import Ladder, hurdle_spacing
from planner.numbers.case import Case
from planner.numbers.cutting import Group, cut, words
from planner.numbers.lines import Lines, Target, metres, rest_words
from planner.numbers.marks import best_mark

BOUND_TESTS = {3: "standing triple jump", 5: "five bounds", 10: "ten bounds"}  # contacts -> test


def bound_lines(case: Case, ladder: Ladder, base: Lines) -> dict[str, object]:
    """Contacts in sets; a distance to reach where the athlete has a mark for so many from standing."""
    found: dict[str, object] = {}
    stand = case.standing
    dose = case.placement.dose
    if stand is None or case.easy or dose.amount <= 0:
        return found
    if dose.measure != "contacts":
        return found
    rung = stand.rung
    span = ladder.spans.get(case.level, (1, dose.amount))
    each = tuple(min(max(e, span[0]), span[1]) for e in rung.each)
    groups = cut(dose.amount, rung.sets, each, span, ladder.step)
    alike = all(e == rung.each[0] for g in groups for e in g.each)
    name = f", {rung.name}" if rung.name and alike else ""
    found = {"groups": groups, "amount": f"{words(groups, 'contacts')}{name}", "notes": _note(stand.note)}
    if rung.rest:
        found["recovery"] = f"{rest_words(rung.rest)} between sets"
    if ladder.kind == "bounds" and rung.name and "standing" in rung.name and alike:
        found |= _bound_target(case, ladder, groups, base)
    return found


def _note(note: str) -> tuple[str, ...]:
    return (note,) if note else ()


def _bound_target(case: Case, ladder: Ladder, groups: tuple[Group, ...], base: Lines) -> dict[str, object]:
    contacts = groups[0].each[0]
    test = BOUND_TESTS.get(contacts)
    if test is None:
        return {}
    best = best_mark(case.marks, test, "cm")
    if best is None:
        return {"test": f"{test} gives the number"}
    low, high = ladder.percent
    one = Target(f"{contacts} contacts", best.value * low // 100, best.value * high // 100, "cm",
                 f"{low}-{high} % of own {test} {metres(best.value)} m")  # fmt: skip
    found: dict[str, object] = {"targets": (one,), "target": f"{one.words} each; {base.target}"}
    if ladder.stop:
        percent, poor = ladder.stop
        short = one.high * (100 - percent) // 100
        found["stop"] = f"{poor} sets in a row under {metres(short)} m ({percent} % short)"
    return found


def hurdle_lines(case: Case, ladder: Ladder, base: Lines) -> dict[str, object]:
    """How much closer than in a race, by phase, and the spacing in metres where the race's is laid down."""
    if case.easy:
        return {}
    if case.standing is not None:
        rung, much = case.standing.rung, case.placement.dose.amount
        groups = cut(much, rung.sets, rung.each, ladder.spans.get(case.level, (1, much)), ladder.step)
        return {"groups": groups, "amount": words(groups, "hurdles"), "notes": _note(case.standing.note)}
    closer = ladder.closer.get(case.week.phase) if case.week else None
    if closer is None or case.week is None:
        return {}
    low, high = closer
    if high == 0:
        return {"target": "race rhythm at race spacing"}
    said = f"spacing {low}-{high} % shorter than in a race" if low != high else f"spacing {low} % shorter"
    event = next((e for e in case.athlete.events if "hurdles" in e), "")
    race = hurdle_spacing(event, case.athlete.sex) if event else None
    if race:
        one, two = (round(race[1] * (100 - p) / 100 / 5) * 5 for p in (high, low))
        said += f": {metres(one)}-{metres(two)} m" if one != two else f": {metres(one)} m"
    lower = ladder.lower.get(case.week.phase, "")
    return {"target": "; ".join(part for part in (base.target, said, lower) if part)}


def effort_lines(case: Case, ladder: Ladder, base: Lines) -> dict[str, object]:
    """Amounts in repetitions where a ladder has them; else the catalogue's own words stand."""
    if case.standing is None or case.easy:
        return {}
    if case.placement.dose.measure == "contacts":
        return bound_lines(case, ladder, base)
    if case.placement.dose.measure != "metres":
        return {}
    rung = case.standing.rung
    span = ladder.spans.get(case.level, (1, case.placement.dose.amount))
    groups = cut(case.placement.dose.amount, rung.sets, rung.each, span, ladder.step)
    found: dict[str, object] = {"groups": groups, "amount": words(groups, "m"), "notes": _note(case.standing.note)}
    if rung.rest:
        found["recovery"] = rest_words(rung.rest)
    return found
