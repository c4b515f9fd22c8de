"""A long block is planned in consecutive parts of four to six weeks, from left to right.

The season fixes phases, shares and amounts of the whole block first. Each part then sees all that is settled
before it, and one week beyond its own end, which is planned along and thrown away: so that no part ends in
a way that leaves the next one without a plan. Parts end where most athletes end an easier week or a phase.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem

LONGEST_IN_ONE = 8  # weeks planned at once; longer blocks go in parts
SHORTEST, LONGEST = 4, 6  # weeks of a part
BEYOND = 7  # days planned along after a part's end: musts reach no further forward than a week
ENDS_WELL = ("easier", "taper", "transition")  # kinds of weeks after which a part may end


@dataclass(frozen=True)
class Part:
    """Consecutive whole calendar weeks of a block: first and last day inside the block."""

    begins: date
    ends: date


def parts_of(problem: Problem) -> tuple[Part, ...]:
    """The parts of a block in order; one part for a block of at most eight weeks."""
    weeks = problem.weeks[problem.athletes[0]]
    if len(weeks) <= LONGEST_IN_ONE:
        return (Part(problem.block.begins, problem.block.ends),)
    cuts = _cheapest([_cost(problem, i) for i in range(len(weeks) + 1)])
    return tuple(Part(weeks[i].days[0], weeks[j - 1].days[-1]) for i, j in pairwise(cuts))


def _cost(problem: Problem, cut: int) -> int:
    """How badly a part would end before the week of that number: 3 points for an athlete in mid-loading."""
    cost = 0
    for name in problem.athletes:
        weeks = problem.weeks[name]
        if 0 < cut < len(weeks) and weeks[cut - 1].kind not in ENDS_WELL:
            cost += 1 if weeks[cut - 1].phase != weeks[cut].phase else 3
    return cost


def _cheapest(costs: list[int]) -> list[int]:
    """The cuts of least cost, then fewest, then latest first ones, from 0 to the last week."""
    best: dict[int, tuple[int, int, list[int]]] = {0: (0, 0, [0])}
    for end in range(1, len(costs)):
        ways = []
        for begins in range(max(0, end - LONGEST), end - SHORTEST + 1):
            if begins in best:
                cost, number, cuts = best[begins]
                ways.append((cost + costs[end], number + 1, [*cuts, end]))
        if ways:
            best[end] = min(ways, key=lambda w: (w[0], w[1], [-c for c in w[2]]))
    return best[len(costs) - 1][2]


def problem_of(problem: Problem, part: Part, settled: tuple[Placement, ...]) -> Problem:
    """The problem of one part: `settled` stands for everything before it, nothing after it is known.

    The block ends a week after the part; what begins before the part can no longer be chosen. Competitions
    stay as they are, those still to come included.
    """
    ends = min(part.ends + timedelta(days=BEYOND), problem.block.ends)
    block = problem.block
    earlier = tuple(p for p in settled if p.day < part.begins)
    stands = {p.key for p in earlier}
    own_kept = tuple(p for p in problem.kept if p.day <= ends and p.key not in stands)
    return replace(
        problem,
        block=replace(
            block,
            ends=ends,
            slots=tuple(s for s in block.slots if s.day <= ends),
            openings=tuple(o for o in block.openings if o.day <= ends),
            presences=tuple(p for p in block.presences if p.day <= ends),
            fixed=tuple(w for w in block.fixed if w.day <= ends),
            wishes=tuple(w for w in block.wishes if w.day <= ends),
        ),
        weeks={
            name: tuple(
                replace(w, days=tuple(d for d in w.days if d <= ends)) for w in weeks if w.days[0] <= ends
            )
            for name, weeks in problem.weeks.items()
        },
        candidates=tuple(p for p in problem.candidates if part.begins <= p.day <= ends),
        refusals=tuple(r for r in problem.refusals if r.day is None or r.day <= ends),
        kept=(*earlier, *own_kept),
    )


def plan_in_parts(problem: Problem, solve: Callable[[Problem], Plan]) -> Plan:
    """The plan of a whole block: each part solved in turn by `solve`, seeing what was settled before it.

    A block of one part is given to `solve` as it is. The plan of several parts carries no bound: each is as
    good as it could be made after the one before, which does not prove the whole. Its value per tier is for
    the review of the whole to say. Whatever `solve` raises passes through.
    """
    parts = parts_of(problem)
    if len(parts) == 1:
        return solve(problem)
    settled: tuple[Placement, ...] = ()
    early = False
    for part in parts:
        made = solve(problem_of(problem, part, settled))
        early |= made.stopped_early
        settled = tuple(p for p in made.placements if p.day <= part.ends)
    return replace(made, placements=Plan.of(settled).placements, status={}, stopped_early=early)
