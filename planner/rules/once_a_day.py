"""A unit stands at most once a day for an athlete, at one amount, and a session holds at most eight units.

What is already settled stays: a limit is never lower than what was done or fixed there before.
"""

from collections import Counter

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

RULE = Rule(
    id="once_a_day",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "common practice, no source"),
    parameters={"units_in_a_session": Parameter(8, "units", 1, 12, "units an athlete does in one slot")},
    examples=(
        Example("morning: mobility | evening: mobility", 0, "once on each day"),
        Example("morning: mobility + evening: mobility | evening: robustness", 1, "twice on the first day"),
        Example("morning: robustness | morning: mobility + evening: mobility", 1, "twice on the last day"),
        Example(
            "mobility + robustness + upper-body + medicine-ball + active-recovery + general-strength"
            " + low-multi-jumps + extensive-tempo + power-lifts",
            1,
            "nine units in one session, eight is the most",
        ),
    ),
)


def universe() -> Problem:
    fewer = RuleSetting(RULE.id, "units_in_a_session", 1)
    slots = ("morning", "evening")
    return problem(
        World(
            ("mobility", "robustness"),
            2,
            slots=slots,
            amounts=("full", "lighter"),
            block={"settings": (fewer,)},
        )
    )


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            units: dict[str, list[Placement]] = {}
            slots: dict[str, list[Placement]] = {}
            for p in problem.known_on(athlete, day):
                units.setdefault(p.unit.id, []).append(p)
                slots.setdefault(p.slot, []).append(p)
            settled = settled_on(problem, athlete, day)
            before = Counter(p.unit.id for p in settled)
            for unit, same in sorted(units.items()):
                limit = max(1, before[unit])
                board.at_most([(1, board.placed(p)) for p in same], limit, Where(athlete, day))
            most = RULE.number(problem, "units_in_a_session", athlete, day)
            before = Counter(p.slot for p in settled)
            for slot, there in sorted(slots.items()):
                limit = max(most, before[slot])
                board.at_most([(1, board.placed(p)) for p in there], limit, Where(athlete, day, slot))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            tier = RULE.tier_at(problem, athlete, day)
            placements = view.on(athlete, day)
            before = Counter(p.unit.id for p in placements if p in problem.settled)
            times = Counter(p.unit.id for p in placements)
            for p in {p.unit.id: p for p in placements}.values():
                if times[p.unit.id] > max(1, before[p.unit.id]):
                    over = times[p.unit.id] - max(1, before[p.unit.id])
                    facts = {"unit": p.unit.name, "times": times[p.unit.id]}
                    found.append(Finding(RULE.id, tier, over, athlete, day, facts=facts))
            most = RULE.number(problem, "units_in_a_session", athlete, day)
            for session in view.sessions(athlete, day):
                settled = [p for p in session.placements if p in problem.settled]
                n = len(session.placements)
                if n > max(most, len(settled)):
                    facts = {"units": n, "most": most}
                    over = n - max(most, len(settled))
                    found.append(Finding(RULE.id, tier, over, athlete, day, session.slot, facts))
    return found


def explain(finding: Finding) -> str:
    where, facts = f"{finding.athlete}, {finding.day:%a %d %b}", finding.facts
    if "unit" in facts:
        return (
            f"{where}: {facts['unit']} stands there {facts['times']} times, once a day is the most. "
            "Maybe keep it where it fits best and move the other to another day."
        )
    return (
        f"{where}, {finding.slot}: {facts['units']} units in one session, {facts['most']} are the most. "
        "Maybe leave out what matters least."
    )
