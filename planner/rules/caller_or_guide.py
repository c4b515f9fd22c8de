"""Who needs a caller or a guide jumps and runs fast only when a person for it is there.

A helper with the task 'caller' or 'guide' (or both) serves one athlete in a slot. Asked for where a unit has
demand 2 or more: run-ups, jumps, sprints.
"""

from datetime import date, timedelta

from planner.domain.block import Athlete, Coach, Presence
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

TASKS = ("caller", "guide")
FAST = 2  # neural demand from which help is needed


def _helpers(*days: int, task: str = "caller") -> tuple[Presence, ...]:
    there = [
        Presence(MONDAY + timedelta(d), "evening", "Lo", 180, tasks=(task,) if d in days else ())
        for d in range(2)
    ]
    coaches = (Presence(MONDAY + timedelta(d), "evening", "Kit", 180, Coach("Kit")) for d in range(2))
    return (*there, *coaches)


def _people(*needs: str) -> tuple[Athlete, ...]:
    names = ("Ada", "Bo", "Cy")
    return tuple(
        Athlete(n, date(2000, 1, 1), level="advanced", training_years=8, needs=(need,) if need else ())
        for n, need in zip(names, needs, strict=False)
    )


_MONDAY: dict[str, object] = {"persons": _people("caller"), "block": {"presences": _helpers(0)}}
_TWO: dict[str, object] = {"persons": _people("caller", "caller"), "block": {"presences": _helpers(0)}}
RULE = Rule(
    id="caller_or_guide",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: safety of who does not see the board."),
    examples=(
        Example("short-long-jumps | mobility", 0, "the caller is there on Monday", _MONDAY),
        Example("- | short-long-jumps", 1, "nobody calls on Tuesday, last edge", _MONDAY),
        Example("short-long-jumps | -\nflying-sprints | -", 1, "one caller for two, first edge", _TWO),
        Example("short-long-jumps | -\n- | mobility", 0, "one at a time", _TWO),
        Example("- | short-long-jumps", 0, "needs nobody", {"persons": _people("")}),
    ),
)


def universe() -> Problem:
    block = {"presences": _helpers(0)}
    people = _people("caller", "guide", "caller")
    return problem(World(("short-long-jumps", "mobility"), days=2, persons=people, block=block))


def _needing(problem: Problem, task: str) -> frozenset[str]:
    return frozenset(a.name for a in problem.block.athletes if task in a.needs)


def constrain(board: Board, problem: Problem) -> None:
    needing = {task: _needing(problem, task) for task in TASKS}
    for slot in problem.block.slots if any(needing.values()) else ():
        fast: dict[str, list[Placement]] = {}
        for p in problem.known_in_slot(slot.day, slot.name):
            if p.dose.neural >= FAST:
                fast.setdefault(p.athlete, []).append(p)
        for task in TASKS:
            own = {name: ps for name, ps in sorted(fast.items()) if name in needing[task]}
            helpers = {p.name for p in problem.presences_in(slot.day, slot.name) if task in p.tasks}
            sure = sum(any(p in problem.settled for p in ps) for ps in own.values())
            most = max(len(helpers), sure)
            if len(own) > most:
                terms = [(1, board.any_of(board.placed(p) for p in ps)) for ps in own.values()]
                board.at_most(terms, most, Where(day=slot.day, slot=slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for task in TASKS:
        needing = _needing(problem, task)
        for slot in problem.block.slots if needing else ():
            placed = [p for p in view.in_slot(slot.day, slot.name) if p.dose.neural >= FAST]
            there = {p.athlete for p in placed} & needing
            sure = {p.athlete for p in placed if p in problem.settled} & needing
            helpers = {p.name for p in problem.presences_in(slot.day, slot.name) if task in p.tasks}
            missing = len(there) - max(len(helpers), len(sure))
            if missing > 0:
                facts = {"who": ", ".join(sorted(there)), "task": task, "helpers": len(helpers)}
                tier = RULE.tier_at(problem, "", slot.day)
                found.append(Finding(RULE.id, tier, missing, "", slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.day:%a %d %b}, {finding.slot}: no {f['task']} for {finding.amount} of {f['who']} "
        f"({f['helpers']} there). Maybe ask a helper to come, or move the session."
    )
