"""What the coach would like stands where it was wished for.

A wish that nothing on offer can meet (closed place, away, a limit) is no breach here: it is said when the
block is read, with its line.
"""

from collections.abc import Iterator
from datetime import timedelta

from planner.domain.block import Wish
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_MONDAY = Wish("Ada", MONDAY, "flying-sprints")
_LAST = Wish("", MONDAY + timedelta(3), "heavy-strength", "evening", "lighter")
_BOTH: dict[str, object] = {"block": {"wishes": (_MONDAY, _LAST)}}
RULE = Rule(
    id="wishes",
    tier="prefer",
    scope="athlete",
    reach=Reach(),
    weight=5,
    source=Source("coach's decision", "the coach's own table of what they would like"),
    examples=(
        Example("flying-sprints | - | - | heavy-strength lighter", 0, "both are there", _BOTH),
        Example("- | flying-sprints | - | heavy-strength lighter", 1, "the first on another day", _BOTH),
        Example("flying-sprints | - | - | heavy-strength + heavy-strength lighter", 0, "more is fine", _BOTH),
        Example("flying-sprints | heavy-strength lighter | - | heavy-strength", 1, "not as lighter", _BOTH),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "heavy-strength")
    wished = (_MONDAY, Wish("", MONDAY + timedelta(1), "heavy-strength", "evening", "lighter"))
    nobody = Wish("Ada", MONDAY, "mobility")  # not on offer, so nothing can be asked
    block = {"wishes": (*wished, nobody)}
    return problem(World(units, 2, athletes=2, amounts=("full", "lighter"), block=block))


def _each(problem: Problem) -> Iterator[tuple[str, Wish]]:
    """Every row of the table, for each athlete it means (none named: all)."""
    for wish in problem.block.wishes:
        for athlete in problem.athletes if wish.athlete in ("", "all") else (wish.athlete,):
            yield athlete, wish


def _meets(wish: Wish, p: Placement) -> bool:
    word = wish.amount if wish.amount in ("full", "lighter") else p.dose.word
    return (p.unit.id, p.dose.word) == (wish.unit, word) and wish.slot in ("", p.slot)


def constrain(board: Board, problem: Problem) -> None:
    for athlete, wish in _each(problem):
        good = [p for p in problem.known_on(athlete, wish.day) if _meets(wish, p)]
        if good:
            where = Where(athlete, wish.day, wish.slot, wish.line)
            board.at_least([(1, board.any_of(board.placed(p) for p in good))], 1, where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete, wish in _each(problem):
        if not any(_meets(wish, p) for p in problem.known_on(athlete, wish.day)):
            continue  # never on offer: said when the block is read
        if not any(_meets(wish, p) for p in view.on(athlete, wish.day)):
            unit = problem.units[wish.unit].name
            tier = RULE.tier_at(problem, athlete, wish.day)
            facts = {"unit": unit, "amount": wish.amount}
            found.append(Finding(RULE.id, tier, 1, athlete, wish.day, wish.slot, facts, wish.line))
    return found


def explain(finding: Finding) -> str:
    slot = f", {finding.slot}" if finding.slot else ""
    amount = f" ({finding.facts['amount']})" if finding.facts["amount"] else ""
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}{slot}: {finding.facts['unit']}{amount} is "
        "wished for here and is not there. Maybe fix it, and see what gives way for it."
    )
