"""Some pairs never stand on one day, and a novice never jumps two events from the full run-up on a day.

The pairs are the catalogue's (full triple jumps with full high jumps) and may be changed there; a combined-
events rehearsal is a dated exception of the coach. Pairs that are settled are not spoken of.
"""

from itertools import combinations

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

_NOVICE = {"level": "novice"}

RULE = Rule(
    id="never_on_one_day",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: take-off legs and attention have an end."),
    examples=(
        Example("full-triple-jumps | full-high-jumps", 0, "on two days"),
        Example("full-triple-jumps + full-high-jumps | -", 1, "the first edge"),
        Example(
            "- | morning: full-triple-jumps + evening: full-high-jumps", 1, "the last edge, two sessions"
        ),
        Example("full-long-jumps + full-high-jumps | -", 0, "not a novice"),
        Example("full-long-jumps + full-high-jumps | -", 1, "a novice", _NOVICE),
    ),
)


def universe() -> Problem:
    units = ("full-triple-jumps", "full-high-jumps", "full-long-jumps")
    return problem(World(units, days=2, level="novice", amounts=("full", "lighter"), kept="full-long-jumps"))


def _names(a: Unit, b: Unit) -> bool:
    return b.id in a.never_with or b.family in a.never_with


def _never(problem: Problem, athlete: str, a: Unit, b: Unit) -> bool:
    two_full = a.family == b.family == "full-jumps"
    return _names(a, b) or _names(b, a) or (two_full and _novice(problem, athlete))


def _novice(problem: Problem, athlete: str) -> bool:
    return problem.block.athlete(athlete).level_for("full-jumps") == "novice"


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            columns: dict[str, list[Column]] = {}
            known = problem.known_on(athlete, day)
            units = {p.unit.id: p.unit for p in known}  # what was done elsewhere is in no catalogue
            for p in known:
                columns.setdefault(p.unit.id, []).append(board.placed(p))
            for a, b in combinations(sorted(columns), 2):
                if not _never(problem, athlete, units[a], units[b]):
                    continue
                both = [board.any_of(columns[a]), board.any_of(columns[b])]
                if both != [board.always, board.always]:
                    board.at_most([(1, c) for c in both], 1, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            settled = {p.unit.id for p in settled_on(problem, athlete, day)}
            units = sorted({p.unit.id: p.unit for p in view.on(athlete, day)}.items())
            for i, (_, a) in enumerate(units):
                for _, b in units[i + 1 :]:
                    if _never(problem, athlete, a, b) and not {a.id, b.id} <= settled:
                        facts = {"first": a.name, "second": b.name}
                        tier = RULE.tier_at(problem, athlete, day)
                        found.append(Finding(RULE.id, tier, 1, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.facts['first']} and {finding.facts['second']} both stand on "
        f"{finding.day:%a %d %b} and never belong on one day. Maybe move one of them to another day."
    )
