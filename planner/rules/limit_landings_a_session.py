"""Where a limit names landings a session, no session has more of them, drills included.

Landings that are settled stand; none is added to them beyond the number.
"""

from datetime import date

from planner.domain.block import Limit
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import settled_on
from planner.rules._limits import region_words
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_TEN = {"block": {"limits": (Limit("Ada", "low-back", "both", 4, landings_a_session=10),)}}
_NONE = {"block": {"limits": (Limit("Ada", "low-back", "both", 4, landings_a_session=0),)}}

RULE = Rule(
    id="limit_landings_a_session",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("coach's decision", "The number is the coach's or clinician's."),
    examples=(
        Example("full-long-jumps | full-long-jumps", 0, "8 of 10 on each day", _TEN),
        Example("short-long-jumps | -", 10, "20 of 10, at the first edge", _TEN),
        Example("- | full-long-jumps + short-long-jumps lighter", 4, "8 + 6, at the last edge", _TEN),
        Example("morning: full-long-jumps + evening: full-long-jumps", 0, "two sessions of 8", _TEN),
        Example("short-high-jumps | -", 0, "none is allowed, and a bed is no hard landing", _NONE),
        Example("evening: full-long-jumps | -", 0, "20 were done in the morning: they stand", {
            **_TEN, "slots": ("morning", "evening"), "kept": "morning: short-long-jumps"}),
    ),
)  # fmt: skip


def universe() -> Problem:
    limit = Limit("Ada", "low-back", "both", 4, landings_a_session=10, ends=MONDAY)
    stops = Limit("Ada", "knee", "left", 5, landings_a_session=0)
    units = ("short-long-jumps", "full-long-jumps", "short-high-jumps")
    return problem(
        World(
            units,
            days=2,
            amounts=("full", "lighter"),
            kept="- | full-long-jumps",
            block={"limits": (limit, stops)},
        )
    )


def _landings(p: Placement) -> int:
    return p.dose.counters.get("landings", 0)


def _limits(problem: Problem, athlete: str, day: date) -> list[tuple[Limit, int]]:
    on = problem.limits_on(athlete, day)
    return [(x, x.landings_a_session) for x in on if x.landings_a_session is not None]


def _stands(problem: Problem, athlete: str, day: date, slot: str) -> int:
    return sum(_landings(p) for p in settled_on(problem, athlete, day) if p.slot == slot)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            known = [p for p in problem.known_on(athlete, day) if _landings(p)]
            for limit, most in _limits(problem, athlete, day):
                for slot in sorted({p.slot for p in known}):
                    terms = [(_landings(p), board.placed(p)) for p in known if p.slot == slot]
                    stands = _stands(problem, athlete, day, slot)
                    board.at_most(terms, max(most, stands), Where(athlete, day, slot, limit.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for session in view.sessions(athlete, day):
                done = sum(_landings(p) for p in session.placements)
                for limit, number in _limits(problem, athlete, day):
                    most = max(number, _stands(problem, athlete, day, session.slot))
                    if done > most:
                        facts = {"where": region_words(limit), "done": done, "most": most}
                        tier = RULE.tier_at(problem, athlete, day)
                        place = (athlete, day, session.slot)
                        found.append(Finding(RULE.id, tier, done - most, *place, facts, limit.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, limit {f['where']}: {counted(f['done'], 'landings')} on {finding.day:%a %d %b}, "
        f"at most {f['most']}. Maybe take the lighter version, or jumps onto a bed."
    )
