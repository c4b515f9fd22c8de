"""Runs: target times from own bests with the same start, surface and timing; rests; when to stop."""

from __future__ import annotations

from fractions import Fraction

from planner.catalogue import Ladder, Rung
from planner.numbers.case import Case
from planner.numbers.cutting import Group, cut, words
from planner.numbers.effort_words import of_speed
from planner.numbers.lines import Lines, Target, rest_words, seconds
from planner.numbers.marks import Best, Start, best_run, other_start
from planner.science.pace import FLATS_ON_GRASS_PERCENT, rest_for, target_band, target_time

STARTS: dict[str, Start] = {
    "standing": "standing", "blocks": "blocks", "race": "race", "flying": "flying", "build-up": "flying",
}  # fmt: skip
BUILD_UP_ZONE_M = 20  # the last metres of a build-up, which are timed


def run_lines(case: Case, ladder: Ladder, base: Lines) -> dict[str, object]:
    """The fields of a run's lines that differ from the catalogue's words."""
    stand = case.standing
    rung = stand.rung if stand else None
    groups = () if rung is None else _groups(case, ladder, rung)
    percent = case.capped(rung.percent if rung else ladder.percent)
    distances = tuple(sorted({m for g in groups for m in g.each}))
    found: dict[str, object] = {"groups": groups, "notes": _notes(case, percent, rung)}
    if groups and rung is not None:
        found["amount"] = _amount(case, groups, rung)
        found["recovery"] = _recovery(rung, ladder, groups, percent) or base.recovery
    targets, missing, said = _targets(case, ladder, distances, percent)
    if targets:
        found |= {"targets": targets, "target": _target_words(case, ladder, targets, percent)}
        found["doubt"] = "; ".join(dict.fromkeys(t.doubt for t in targets if t.doubt))
        found["stop"] = _stop(ladder, targets, base.stop, len(distances))
    else:
        found["target"] = f"{_percent_words(percent)} of own best: {of_speed(percent)}"
    if missing:
        found["test"] = _test(ladder, missing)
        found["notes"] = (*_notes(case, percent, rung), *said)
    return found


def lighter_run(case: Case, ladder: Ladder) -> str:
    """What a lighter run may not be faster than: '30 m not under 4.67 s'; '' without a mark."""
    form = ladder.lighter
    if form is None or not form.percent or not form.each or ladder.kind == "build-up":
        return ""
    best = best_run(case.marks, form.each, STARTS.get(ladder.kind, "race"))
    if best is None or not _believable(best, form.each):
        return ""
    (percent, _) = case.capped((form.percent, form.percent))
    time = target_time(best.value, percent)
    if form.flats_on_grass or case.on_grass:
        time = target_time(time, 100 - FLATS_ON_GRASS_PERCENT[0])
    return f"{form.each} m not under {seconds(time)} s"


def _groups(case: Case, ladder: Ladder, rung: Rung) -> tuple[Group, ...]:
    dose = case.placement.dose
    if dose.measure == "starts":
        span = ladder.spans[case.level]
        return (Group(1, (min(max(rung.each[0], span[0]), span[1]),) * dose.amount),)
    if dose.measure != "metres":
        return ()
    span = ladder.spans.get(case.level, (1, max(rung.each)))
    form = ladder.lighter
    if case.easy and form and form.each:
        return cut(dose.amount, 1, (form.each,), (min(span[0], form.each), max(span[1], form.each)), ladder.step)
    return cut(dose.amount, rung.sets, rung.each, span, ladder.step)


def _amount(case: Case, groups: tuple[Group, ...], rung: Rung) -> str:
    said = words(groups, "m")
    if rung.run_in:
        said += f", run-in {rung.run_in} m"
    return said


def _recovery(rung: Rung, ladder: Ladder, groups: tuple[Group, ...], percent: tuple[int, int]) -> str:
    longest = max(m for g in groups for m in g.each)
    several = sum(g.sets for g in groups) > 1
    if ladder.kind == "flying":
        minutes = max(90, 6 * (longest + rung.run_in))  # a minute for 10 m, the run-in counted
        rest, sets = (minutes, minutes), (360, 480)
    elif rung.rest is None:
        usual = rest_for(percent[0], min(500, max(10, longest)))
        rest, sets = usual.repetitions, usual.sets or (0, 0)
    else:
        rest, sets = rung.rest, rung.set_rest or (0, 0)
        if longest > max(rung.each) and rung.each:  # longer runs than the rung's: the rest grows along
            rest = tuple(-(-s * longest // max(rung.each) // 30) * 30 for s in rest)  # type: ignore[assignment]
    alone = sum(g.repetitions for g in groups) == 1
    if alone:
        return ""
    inside = any(len(g.each) > 1 for g in groups)
    if several and sets[1] and inside:
        return f"{rest_words(rest)}; sets {rest_words(sets)}"
    return rest_words(rest)


def _targets(
    case: Case, ladder: Ladder, distances: tuple[int, ...], percent: tuple[int, int]
) -> tuple[tuple[Target, ...], tuple[int, ...], tuple[str, ...]]:
    """Targets, distances for which no mark serves, and what to say of marks that look as if they did."""
    start = STARTS[ladder.kind]
    if ladder.kind == "build-up":
        distances = (BUILD_UP_ZONE_M,)
    found, missing, said = [], [], []
    for metres in distances:
        best = best_run(case.marks, metres, start)
        if best is None or not _believable(best, metres):
            missing.append(metres)
            said.append(other_start(case.marks, metres, start))
        elif not case.easy:
            found.append(_target(case, metres, best, percent))
        else:
            found.append(_target(case, metres, best, (percent[0], _lighter_percent(ladder, percent))))
    return tuple(found), tuple(missing), tuple(dict.fromkeys(s for s in said if s))


def _lighter_percent(ladder: Ladder, percent: tuple[int, int]) -> int:
    return min(percent[1], ladder.lighter.percent if ladder.lighter and ladder.lighter.percent else percent[1])


def _believable(best: Best, metres: int) -> bool:
    return best.value * 14 >= metres * 100  # nobody runs faster than 14 m/s


def _target(case: Case, metres: int, best: Best, percent: tuple[int, int]) -> Target:
    low, high = min(percent), max(percent)
    quick, slow = target_band(best.value, low, high)
    doubt = best.doubt
    if case.on_grass:
        low_more, high_more = FLATS_ON_GRASS_PERCENT
        quick = target_time(quick, 100 - low_more)
        slow = target_time(slow, 100 - high_more)
        doubt = "; ".join(d for d in (doubt, f"flats on grass: {low_more}-{high_more} % slower") if d)
    basis = f"{_percent_words((low, high))} of {best.words}"
    return Target(f"{metres} m", quick, slow, "hundredths", basis, doubt)


def _percent_words(percent: tuple[int, int]) -> str:
    low, high = percent
    return f"{low} %" if low == high else f"{low}-{high} %"


def _target_words(
    case: Case, ladder: Ladder, targets: tuple[Target, ...], percent: tuple[int, int]
) -> str:
    if case.easy:
        said = "; ".join(f"{t.what} not under {seconds(t.low)} s" for t in targets)
    elif ladder.kind == "build-up":
        said = f"last {targets[0].what} in {targets[0].words}"
    elif len(targets) == 1:
        said = f"{targets[0].what} in {targets[0].words}"
    else:
        said = "; ".join(f"{t.what} {t.words}" for t in targets)
    by_hand = any("by hand" in t.doubt for t in targets)
    return f"{said} (by hand)" if by_hand else said


def _stop(ladder: Ladder, targets: tuple[Target, ...], usual: str, distances: int) -> str:
    """'slower than 4.35 s (3 %), or 2 poor runs in a row': percent over the middle of the band.

    Full-rest speed stops at 3 %, runs with short rests and longer ones at 6 %; common practice, no source.
    """
    if ladder.stop is None:
        return usual
    percent, poor = ladder.stop
    longest = targets[-1]
    middle = Fraction(longest.low + longest.high, 2)
    time = int((middle * (100 + percent) / 100 * 2 + 1) // 2)
    where = f" over {longest.what}" if distances > 1 or ladder.kind == "build-up" else ""
    tail = f"{poor} poor runs in a row" if poor > 1 else "form goes"
    return f"slower than {seconds(time)} s{where} ({percent} %), or {tail}"


def _test(ladder: Ladder, missing: tuple[int, ...]) -> str:
    if ladder.test:
        return f"{ladder.test} gives the number"
    longest = max(missing)
    how = {"blocks": " from blocks", "standing": " from standing", "race": " flat out"}.get(ladder.kind, "")
    return f"{longest} m{how} gives the number"


def _notes(case: Case, percent: tuple[int, int], rung: Rung | None) -> tuple[str, ...]:
    notes = []
    if case.standing and case.standing.note:
        notes.append(case.standing.note)
    if rung and case.most_speed is not None and percent != rung.percent:
        notes.append(f"held to {case.most_speed} % of own speed")
    return tuple(notes)


