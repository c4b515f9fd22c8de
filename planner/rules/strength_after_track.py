"""Lift after the track, not before: heavy legs are never lifted less than six hours before speed or jumps.

Within one slot strength follows the track anyway. Sessions that are settled on both sides are not spoken of.
"""

from datetime import datetime, timedelta
from itertools import product

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

Start = tuple[datetime, str]
_CLOSE = {"slots": ("midday", "evening")}
LAST_FRESH_ORDER = 20  # day-order class of speed endurance, the last of the fast ones

RULE = Rule(
    id="strength_after_track",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: legs are fresh for speed and jumps."),
    parameters={"hours": Parameter(6, "hours", 0, 12, "least hours, start to start, from lift to speed")},
    examples=(
        Example("midday: heavy-strength + evening: short-long-jumps | -", 1, "five hours before", _CLOSE),
        Example("- | midday: heavy-strength + evening: speed-endurance", 1, "the last edge", _CLOSE),
        Example("midday: flying-sprints + evening: heavy-strength | -", 0, "after the track", _CLOSE),
        Example("midday: heavy-strength + evening: extensive-tempo", 0, "tempo is not speed", _CLOSE),
        Example("morning: heavy-strength + evening: flying-sprints", 0, "seven hours before"),
        Example("midday: power-lifts + evening: flying-sprints", 0, "power lifts are not heavy", _CLOSE),
        Example("midday: heavy-strength + evening: low-multi-jumps", 0, "low multi-jumps are easy", _CLOSE),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "heavy-strength", "extensive-tempo")
    kept = "evening: short-long-jumps | elsewhere: heavy-strength"  # elsewhere at noon, as midday begins
    return problem(World(units, days=2, slots=("midday", "evening"), kept=kept))


def is_heavy(p: Placement) -> bool:
    return p.unit.family == "strength" and p.unit.heavy_legs


def is_fresh(p: Placement) -> bool:
    return p.dose.neural >= 2 and p.unit.order <= LAST_FRESH_ORDER


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            hours = timedelta(hours=RULE.number(problem, "hours", athlete, day))
            lifts: dict[Start, list[Column]] = {}
            fresh: dict[Start, list[Column]] = {}
            for p in problem.known_on(athlete, day):
                if is_heavy(p):
                    lifts.setdefault((p.begins, p.slot), []).append(board.placed(p))
                elif is_fresh(p):
                    fresh.setdefault((p.begins, p.slot), []).append(board.placed(p))
            for (lifted, slot), heavy in lifts.items():
                for (begins, later), columns in fresh.items():
                    if slot != later and lifted < begins < lifted + hours:
                        both = [board.any_of(heavy), board.any_of(columns)]
                        if both != [board.always, board.always]:
                            board.at_most([(1, c) for c in both], 1, Where(athlete, day, later))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            hours = RULE.number(problem, "hours", athlete, day)
            clashes: dict[tuple[Start, Start], list[tuple[Placement, Placement]]] = {}
            for lift, run in product(filter(is_heavy, view.on(athlete, day)), view.on(athlete, day)):
                if view.hours_between(lift.begins, run.begins) >= hours:
                    continue
                if is_fresh(run) and not is_heavy(run) and lift.slot != run.slot and lift.begins < run.begins:
                    starts = ((lift.begins, lift.slot), (run.begins, run.slot))
                    clashes.setdefault(starts, []).append((lift, run))
            for ((lifted, _), (begins, slot)), pairs in sorted(clashes.items()):
                if any(problem.settled.issuperset(pair) for pair in pairs):
                    continue
                lift, run = pairs[0]
                gap = view.hours_between(lifted, begins)
                facts = {"lift": lift.unit.name, "run": run.unit.name, "gap": gap, "hours": hours}
                tier = RULE.tier_at(problem, athlete, day)
                found.append(Finding(RULE.id, tier, 1, athlete, day, slot, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: on {finding.day:%a %d %b} {f['lift']} starts {f['gap']:g} h before {f['run']}, "
        f"at least {f['hours']} h are needed. Maybe lift after the track."
    )
