"""When a minor trains, enough adults are there: at least two, and one for every eight minors.

Both numbers are the club's own; the block file may give them. Adults are the coaches who are present in the slot,
and of the helpers those whom the file names as adults: others may be young themselves. An athlete without a date
of birth is taken for an adult.
"""

from datetime import date, timedelta

from planner.domain.block import Athlete, Coach, Presence, Slot
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _there(*counts: int, young: int = 0) -> tuple[Presence, ...]:
    """So many adults in the evening of each day, one a coach, the others helpers; and `young` who only rake."""
    people: tuple[tuple[str, Coach | None, str], ...] = (
        ("coach", Coach("coach"), ""),
        *((f"adult {n}", None, "adult") for n in range(1, max(counts))),
    )
    rakers = tuple((f"raker {n}", None, "rake") for n in range(young))
    return tuple(
        Presence(MONDAY + timedelta(i), "evening", name, 180, coach, (task,) if task else ())
        for i, count in enumerate(counts)
        for name, coach, task in (*people[:count], *rakers)
    )


_SQUAD = (
    Athlete("Ada", date(2014, 5, 1), "f", ("all",), "novice"),
    Athlete("Bo", date(2013, 5, 1), "m", ("all",), "novice"),
    Athlete("Cy", date(2009, 3, 2), "m", ("all",), "novice"),  # eighteen on Tuesday
)
_WORLD: dict[str, object] = {
    "persons": _SQUAD,
    "block": {"presences": _there(2, 1, 0, 2), "minor_ratio": 1, "adults_present": 2},
}
_CROWD: dict[str, object] = {
    "persons": _SQUAD,
    "block": {"presences": _there(1, 1, 1, 1), "minor_ratio": 1, "adults_present": 1},
}
_RAKED: dict[str, object] = {
    "persons": _SQUAD,
    "block": {"presences": _there(1, 2, young=1), "minor_ratio": 1, "adults_present": 2},
}
RULE = Rule(
    id="adults_present",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("coach's decision", "the club's own rule; eight to one and two adults: common practice"),
    parameters={"below_age": Parameter(18, "years", 8, 21, "for whom adults are needed")},
    examples=(
        Example(
            "mobility | - | - | -\nmobility | - | - | -\n- | mobility | mobility | -",
            0,
            "two adults on Monday; Cy is eighteen on Tuesday, and needs none",
            _WORLD,
        ),
        Example("- | mobility | - | -\n- | - | mobility | -\n- | - | - | -", 2, "one adult, none", _WORLD),
        Example("- | - | - | mobility\n- | - | - | mobility\n- | - | - | -", 1, "two, one adult", _CROWD),
        Example("mobility | - | - | -\nmobility | - | - | -\n- | - | - | -", 1, "the same at first", _CROWD),
        Example("mobility | -\n- | mobility\n- | -", 1, "who only rakes is not the second adult", _RAKED),
    ),
)  # fmt: skip


def universe() -> Problem:
    block = {"presences": _there(2, 1, 0, 3, young=1), "minor_ratio": 1, "adults_present": 1}
    return problem(World(("mobility",), days=4, persons=_SQUAD, block=block))


def _adults(problem: Problem, slot: Slot) -> set[str]:
    return {p.name for p in problem.presences_in(slot.day, slot.name) if p.is_adult}


def constrain(board: Board, problem: Problem) -> None:
    born = {a.name: a for a in problem.block.athletes}
    for slot in problem.block.slots:
        below = RULE.number(problem, "below_age", "", slot.day)
        minors: dict[str, list[Placement]] = {}
        for p in problem.known_in_slot(slot.day, slot.name):
            age = born[p.athlete].age_on(slot.day)
            if age is not None and age < below:
                minors.setdefault(p.athlete, []).append(p)
        settled = [n for n, ps in minors.items() if any(p in problem.settled for p in ps)]
        adults = len(_adults(problem, slot))
        enough = adults >= problem.block.adults_present
        most = adults * problem.block.minor_ratio if enough else 0
        most = max(most, len(settled))
        if len(minors) > most:
            terms = [(1, board.any_of(board.placed(p) for p in ps)) for _, ps in sorted(minors.items())]
            board.at_most(terms, most, Where(day=slot.day, slot=slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for slot in problem.block.slots:
        minors: set[str] = set()
        fixed: set[str] = set()
        for p in view.in_slot(slot.day, slot.name):
            age = problem.block.athlete(p.athlete).age_on(slot.day)
            if age is not None and age < RULE.number(problem, "below_age", "", slot.day):
                minors.add(p.athlete)
                fixed |= {p.athlete} if p in problem.settled else set()
        adults = _adults(problem, slot)
        needed = max(problem.block.adults_present, -(-len(minors) // problem.block.minor_ratio))
        if len(minors) > len(fixed) and len(adults) < needed:
            possible = len(adults) * problem.block.minor_ratio
            most = possible if len(adults) >= problem.block.adults_present else 0
            over = len(minors) - max(most, len(fixed))
            facts = {
                "minors": len(minors),
                "adults": len(adults),
                "needed": needed,
                "present": problem.block.adults_present,
                "ratio": problem.block.minor_ratio,
            }
            tier = RULE.tier_at(problem, "", slot.day)
            found.append(Finding(RULE.id, tier, over, "", slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    minors, adults, needed = (_number(finding, name) for name in ("minors", "adults", "needed"))
    present, ratio = (_number(finding, name) for name in ("present", "ratio"))
    return (
        f"{finding.day:%a %d %b}, {finding.slot}: {counted(minors, 'athletes')} under 18 and "
        f"{counted(adults, 'adults')} there, {counted(needed, 'adults')} must be: the club's rule asks for "
        f"{present} at least, and one for every {counted(ratio, 'athletes')}. "
        f"Maybe {'; '.join(_ways_out(minors, adults, needed, present, ratio))}."
    )


def _number(finding: Finding, name: str) -> int:
    value = finding.facts[name]
    return value if isinstance(value, int) else 0


def _ways_out(minors: int, adults: int, needed: int, present: int, ratio: int) -> list[str]:
    """More adults; fewer athletes or none; and what the club alone may allow."""
    more = {1: "another adult", 2: "two more adults"}.get(needed - adults, f"{needed - adults} more adults")
    ways = [f"find {more}", "cancel it for athletes under 18"]
    few = min(minors, adults * ratio)
    if adults >= present:
        ways.append(f"let {few} of them come")
    elif adults:
        alone = "one adult alone" if adults == 1 else f"{adults} adults"
        then = "it may be held" if few == minors else f"{few} of them may come"
        ways.append(f"ask the club's officer: where the rule allows {alone}, {then}")
    return ways
