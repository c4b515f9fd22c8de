"""Fast and technical work comes before tiring work: never in a later slot of a day than strength or tempo.

Units of one slot are always done in day-order, so only two slots of a day can break this. Preparation may
come before or after anything. Sessions that are settled on both sides are not spoken of.
"""

from datetime import date, time, timedelta
from itertools import combinations

from planner.domain.block import Slot
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import settled_on, slots_of
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

FRESH = range(1, 21)  # day-order classes of fast running, jumps, throws, multi-jumps and speed endurance
TIRING = (30, 40)  # strength; special endurance and tempo
_HOURS = {"block": {"slots": (
    Slot(MONDAY, "morning", time(10), time(13)), Slot(MONDAY, "evening", time(17), time(20)),
    Slot(MONDAY + timedelta(1), "morning", time(19), time(21)))}}  # fmt: skip
_ONE_HOUR = {"block": {"slots": tuple(Slot(MONDAY, s, time(17), time(20)) for s in ("morning", "evening"))}}
_TWO = {"slots": ("morning", "evening")}

RULE = Rule(
    id="day_order",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: skill and hamstrings want fresh legs."),
    examples=(
        Example("morning: flying-sprints + evening: heavy-strength | -", 0, "fast, then strength"),
        Example("morning: heavy-strength + evening: flying-sprints | -", 1, "the first edge, wrong way"),
        Example("- | morning: extensive-tempo + evening: short-long-jumps", 1, "the last edge"),
        Example("evening: flying-sprints + extensive-tempo | -", 0, "one slot: done in day-order", _TWO),
        Example("morning: general-strength + evening: flying-sprints", 0, "general work tires little"),
        Example("morning: heavy-strength + evening: flying-sprints | -", 1, "Tuesday's morning is late", _HOURS),
        Example("morning: flying-sprints + evening: heavy-strength", 1, "of one hour: by name", _ONE_HOUR),
        Example("morning: heavy-strength + evening: extensive-tempo", 0, "neither wants fresh legs"),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "heavy-strength", "extensive-tempo")
    return problem(World(units, days=2, slots=("morning", "evening"), kept="evening: short-long-jumps"))


def is_fresh(unit: Unit) -> bool:
    return unit.order in FRESH and not unit.preparation


def is_tiring(unit: Unit) -> bool:
    return unit.order in TIRING


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            known = problem.known_on(athlete, day)
            for (earlier, _), (later, _) in combinations(slots_of(problem, athlete, day), 2):
                tiring = board.any_of(
                    board.placed(p) for p in known if p.slot == earlier and is_tiring(p.unit)
                )
                fresh = board.any_of(board.placed(p) for p in known if p.slot == later and is_fresh(p.unit))
                if not tiring == fresh == board.always:
                    board.at_most([(1, tiring), (1, fresh)], 1, Where(athlete, day, later))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            start = dict(slots_of(problem, athlete, day))
            for slot, begins in start.items():
                here = [p.unit for p in view.on(athlete, day) if p.slot == slot and is_fresh(p.unit)]
                if not here:
                    continue
                before = {
                    p.slot: p.unit.name
                    for p in view.on(athlete, day)
                    if (start.get(p.slot, begins), p.slot) < (begins, slot)
                    and is_tiring(p.unit)
                    and not _both_settled(problem, athlete, day, (p.slot, slot))
                }
                for tiring in before.values():
                    facts = {"fresh": here[0].name, "tiring": tiring}
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, 1, athlete, day, slot, facts=facts))
    return found


def _both_settled(problem: Problem, athlete: str, day: date, slots: tuple[str, str]) -> bool:
    settled = settled_on(problem, athlete, day)
    tiring = any(p.slot == slots[0] and is_tiring(p.unit) for p in settled)
    return tiring and any(p.slot == slots[1] and is_fresh(p.unit) for p in settled)


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} has {finding.facts['fresh']} in the {finding.slot} after "
        f"{finding.facts['tiring']} in an earlier slot; fast and technical work comes first. "
        "Maybe change the two slots round."
    )
