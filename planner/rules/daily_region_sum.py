"""A day never loads one region of the body, on one side, by more than eight in sum.

Each unit loads a region 0 to 3. Load that is settled stands; the plan may add none beyond eight.
"""

from collections import defaultdict
from itertools import product

from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import REGIONS, SIDES
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._facts import settled_on
from planner.rules._limits import region_name
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

_NINE = "full-long-jumps + intensive-bounds + short-triple-jumps"
_DONE: dict[str, object] = {"kept": f"{_NINE} + mobility"}

RULE = Rule(
    id="daily_region_sum",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("derived", "Common practice, no source: three hard loads on one day are too many."),
    parameters={"most": Parameter(8, "sum of loads, 0-3 each", 3, 12, "per region and side")},
    examples=(
        Example("full-long-jumps + intensive-bounds | -", 0, "3 + 3 on the left knee and foot"),
        Example(f"{_NINE} | -", 2, "9 on the left knee and foot; 8 on the right and on the calf"),
        Example(f"- | {_NINE}", 2, "the same at the last edge"),
        Example("low-multi-jumps", 9, "what is added to days done: 5 on the left, 4 on the right", _DONE),
    ),
)


def universe() -> Problem:
    units = ("full-long-jumps", "intensive-bounds", "short-triple-jumps")
    world = World(
        units, days=2, amounts=("full", "lighter"), kept="- | medium-long-jumps + triple-jump-phases"
    )
    return problem(world)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            most = RULE.number(problem, "most", athlete, day)
            terms: defaultdict[tuple[str, str], list[Term]] = defaultdict(list)
            for p in problem.known_on(athlete, day):
                column = board.placed(p)
                for key, load in p.dose.loads.items():
                    if load:
                        terms[key].append((load, column))
            settled = settled_on(problem, athlete, day)
            for key in product(REGIONS, SIDES):
                if key in terms:
                    stands = sum(p.dose.loads.get(key, 0) for p in settled)
                    board.at_most(terms[key], max(most, stands), Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            most = RULE.number(problem, "most", athlete, day)
            settled = settled_on(problem, athlete, day)
            for side in SIDES:
                for region in REGIONS:
                    stands = sum(p.dose.loads.get((region, side), 0) for p in settled)
                    load, limit = view.load_on(athlete, day, region, side), max(most, stands)
                    if load > limit:
                        facts = {"region": region, "side": side, "load": load, "limit": limit}
                        tier = RULE.tier_at(problem, athlete, day)
                        found.append(Finding(RULE.id, tier, load - limit, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    region = region_name(str(f["region"]))
    return (
        f"{finding.athlete}: {finding.day:%a %d %b} loads the {f['side']} {region} by {f['load']} in "
        f"sum, at most {f['limit']}. Maybe take the lighter version of one unit, or move it."
    )
