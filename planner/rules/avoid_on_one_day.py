"""Some pairs are better kept off one day, such as flying sprints and special endurance.

The pairs are the catalogue's and may be changed there. Pairs that are settled are not spoken of.
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

RULE = Rule(
    id="avoid_on_one_day",
    tier="should",
    weight=12,
    scope="athlete",
    reach=Reach(),
    source=Source(
        "common practice", "Common practice, no source: each spoils the other or doubles one load."
    ),
    examples=(
        Example("flying-sprints | - | special-endurance", 0, "on two days"),
        Example("flying-sprints + special-endurance | -", 1, "the first edge"),
        Example("- | morning: full-triple-jumps + evening: intensive-bounds", 1, "the last edge"),
        Example("intensive-bounds + speed-endurance + full-triple-jumps", 2, "two pairs"),
        Example("flying-sprints + long-special-endurance | -", 1, "only the entry of the sprints names the other"),
        Example("- | speed-endurance + special-endurance", 1, "one tiring fast unit a day"),
        Example("speed-endurance | long-special-endurance", 0, "each on a day of its own"),
        Example("split-speed-endurance + long-special-endurance | -", 1, "sets count as tiring too"),
        Example("morning: short-rest-runs + evening: split-speed-endurance | -", 1, "two of one kind"),
    ),
)


def universe() -> Problem:
    units = ("full-triple-jumps", "intensive-bounds", "speed-endurance")
    return problem(World(units, days=2, amounts=("full", "lighter"), kept="intensive-bounds | depth-jumps"))


def _names(a: Unit, b: Unit) -> bool:
    return b.id in a.avoid_with or b.family in a.avoid_with


def _avoid(a: Unit, b: Unit) -> bool:
    return _names(a, b) or _names(b, a)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            columns: dict[str, list[Column]] = {}
            known = problem.known_on(athlete, day)
            units = {p.unit.id: p.unit for p in known}  # what was done elsewhere is in no catalogue
            for p in known:
                columns.setdefault(p.unit.id, []).append(board.placed(p))
            for a, b in combinations(sorted(columns), 2):
                if not _avoid(units[a], units[b]):
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
                    if _avoid(a, b) and not {a.id, b.id} <= settled:
                        facts = {"first": a.name, "second": b.name}
                        tier = RULE.tier_at(problem, athlete, day)
                        found.append(Finding(RULE.id, tier, 1, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}: {finding.facts['first']} and {finding.facts['second']} both stand on "
        f"{finding.day:%a %d %b} and spoil each other. Maybe move one of them to another day."
    )
