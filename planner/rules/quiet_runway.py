"""Who needs a quiet runway, a caller or a guide has the pit alone.

Some jump by ear: a voice calls them in, and any other noise or runner on the runway is a danger. In a slot in
which such an athlete jumps or runs up at a pit, nobody else uses that pit. As long as no start times are
fixed, all athletes who use a place in a slot are taken to be there at once.
"""

from collections.abc import Iterator
from datetime import date

from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

ALONE = ("quiet runway", "caller", "guide")
_PAIR: dict[str, object] = {
    "persons": (
        Athlete("Ada", date(2000, 1, 1), level="advanced", training_years=8, needs=("caller",)),
        Athlete("Bo", date(2000, 1, 1), level="advanced", training_years=8),
    )
}
_BOTH: dict[str, object] = {
    "persons": tuple(
        Athlete(n, date(2000, 1, 1), level="advanced", training_years=8, needs=("quiet runway",))
        for n in ("Ada", "Bo")
    )
}
RULE = Rule(
    id="quiet_runway",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: safety of athletes who jump by ear."),
    examples=(
        Example("short-long-jumps | -\n- | short-long-jumps", 0, "on two days", _PAIR),
        Example("short-long-jumps | -\nshort-long-jumps | -", 1, "together, first edge", _PAIR),
        Example("- | short-long-jumps\n- | short-long-jumps + full-long-jumps", 1, "last edge", _PAIR),
        Example("short-long-jumps | -\nflying-sprints | -", 0, "the other is on the straight", _PAIR),
        Example("short-long-jumps | -\nshort-long-jumps | -", 1, "both need it, counted once", _BOTH),
        Example("short-long-jumps | -\nshort-long-jumps | -", 0, "nobody needs it"),
    ),
    needs=("place",),
)


def universe() -> Problem:
    units = ("short-long-jumps", "full-long-jumps", "flying-sprints")
    return problem(World(units, days=2, **_PAIR))  # type: ignore[arg-type]


def _pits(problem: Problem, day: date, slot: str) -> tuple[tuple[str, str], ...]:
    openings = problem.openings_in(day, slot)
    return tuple((o.place.venue, o.place.name) for o in openings if o.place.kind == "pit")


def _pairs(problem: Problem) -> Iterator[tuple[str, str]]:
    """An athlete who needs the pit alone and another one, each pair once."""
    alone = [a.name for a in problem.block.athletes if any(n in ALONE for n in a.needs)]
    for i, name in enumerate(alone):
        for other in problem.athletes:
            if other != name and other not in alone[:i]:
                yield name, other


def constrain(board: Board, problem: Problem) -> None:
    pairs = tuple(_pairs(problem))
    for slot in problem.block.slots if pairs else ():
        for pit in _pits(problem, slot.day, slot.name):
            there: dict[str, list[Placement]] = {}
            for p in problem.known_in_slot(slot.day, slot.name):
                if (p.venue, p.place) == pit:
                    there.setdefault(p.athlete, []).append(p)
            for name, other in pairs:
                both = [board.any_of(board.placed(p) for p in there.get(a, ())) for a in (name, other)]
                if name in there and other in there and both != [board.always, board.always]:
                    board.at_most([(1, c) for c in both], 1, Where(name, slot.day, slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    pairs = tuple(_pairs(problem))
    for slot in problem.block.slots if pairs else ():
        placed = view.in_slot(slot.day, slot.name)
        for pit in _pits(problem, slot.day, slot.name):
            there = {p.athlete for p in placed if (p.venue, p.place) == pit}
            sure = {p.athlete for p in placed if (p.venue, p.place) == pit and p in problem.settled}
            for name, other in pairs:
                if {name, other} <= there and not {name, other} <= sure:
                    tier = RULE.tier_at(problem, name, slot.day)
                    facts = {"other": other, "pit": pit[1]}
                    found.append(Finding(RULE.id, tier, 1, name, slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: needs the {finding.facts['pit']} alone, "
        f"and {finding.facts['other']} is there too. Maybe give one of them another slot."
    )
