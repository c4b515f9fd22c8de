"""Jumps, contacts, fast metres, run-ups and heavy sets stay under the level's weekly caps.

A calendar week counts, with what was done in it before the block.
"""

from planner.catalogue import family_in_words
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

CAPS = {"caps": {"short-jumps": 40, "take-offs": 60}}  # an advanced session has 20 jumps
RULE = Rule(
    id="weekly_caps",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("common practice", "weekly caps by level and event, common practice, no source"),
    examples=(
        Example("short-long-jumps | - | short-long-jumps | -", 0, "40 jumps, 40 allowed", {"week": CAPS}),
        Example(
            "short-long-jumps | short-long-jumps | short-long-jumps | -",
            20,
            "60 jumps, 20 over; 60 take-offs are allowed",
            {"week": CAPS},
        ),
        Example(
            "- | short-long-jumps | short-long-jumps lighter | short-long-jumps",
            6,
            "46 jumps, 6 over: the lighter session has 6",
            {"week": CAPS},
        ),
        Example(
            "- | - | short-long-jumps | intensive-bounds",
            40,
            "20 jumps are fine, 100 take-offs are 40 over, at the last edge",
            {"week": CAPS},
        ),
    ),
)


def universe() -> Problem:
    units = ("short-long-jumps", "intensive-bounds")
    return problem(World(units, days=4, amounts=("full", "lighter"), week=CAPS))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            known = [p for d in week.calendar for p in problem.known_on(athlete, d)]
            for counter, cap in sorted(week.caps.items()):
                terms: list[Term] = []
                settled = 0
                for p in known:
                    n = p.dose.counters.get(counter, 0)
                    if n:
                        terms.append((n, board.placed(p)))
                        settled += n * (p in problem.settled)
                board.at_most(terms, max(cap, settled), Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            placements = [p for d in week.calendar for p in view.on(athlete, d)]
            for counter in sorted(week.caps):
                total = sum(p.dose.counters.get(counter, 0) for p in placements)
                before = [p for p in placements if p in problem.settled]
                sure = sum(p.dose.counters.get(counter, 0) for p in before)
                cap = week.caps[counter]
                if total > max(cap, sure):
                    facts = {"what": counter.replace("-", " "), "n": total, "cap": cap}
                    day = week.first_day
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, total - max(cap, sure), athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    done = counted(facts["n"], family_in_words(str(facts["what"])))
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {done}, the cap is "
        f"{facts['cap']}. Maybe take the lighter version of one session, or leave one out."
    )
