"""Where a limit names days between, sessions that load the region at 2 or more lie at least so far apart.

A competition loads legs and back. Judged where the later day lies inside the limit's dates; two days that are
both settled are not spoken of.
"""

from datetime import date, timedelta

from planner.catalogue import competition_demand, limit_regions
from planner.domain.block import Competition, Limit, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import judged_days, settled_on
from planner.rules._limits import NO_REGION, load_at, region_words
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_TUE = MONDAY + timedelta(1)
_KNEE = {"limits": (Limit("Ada", "knee", "left", 5, days_between=2),)}
_MEET = {"competitions": (Competition("Meeting", "Ada", _TUE + timedelta(3), _TUE + timedelta(3)),)}


def _week_after(day: int) -> dict[str, object]:
    on = MONDAY + timedelta(day)
    return {"block": {"limits": (Limit("Ada", "knee", "left", 5, days_between=8),),
                      "competitions": (Competition("Meeting", "Ada", on, on),)}}  # fmt: skip


RULE = Rule(
    id="limit_days_between",
    tier="must",
    scope="athlete",
    reach=Reach(back=14),
    source=Source(
        "study",
        "Malliaras, Cook, Purdam, Rio 2015, Journal of Orthopaedic and Sports Physical "
        "Therapy 45(11):887-898: a tendon is loaded by jumps every third day; the number is a person's.",
    ),
    parameters={"load": Parameter(2, "load, 0-3", 1, 3, "from which load on a session counts")},
    examples=(
        Example("short-long-jumps | - | - | short-long-jumps", 0, "two days between", {"block": _KNEE}),
        Example("short-long-jumps | - | short-long-jumps", 1, "one day between", {"block": _KNEE}),
        Example("- | short-long-jumps | short-long-jumps", 1, "none, at the last edge", {"block": _KNEE}),
        Example(
            "short-long-jumps | -", 1, "jumps the day before", {"block": _KNEE, "history": "short-long-jumps"}
        ),
        Example("short-long-jumps", 1, "six days to the competition, eight are asked", _week_after(6)),
        Example("short-long-jumps", 0, "eight days: no more than the week after is seen", _week_after(8)),
        Example("low-multi-jumps | low-multi-jumps", 0, "load 1 does not count", {"block": _KNEE}),
        Example("- | - | short-long-jumps", 1, "a competition on Friday", {"block": {**_KNEE, **_MEET}}),
        Example("- | short-long-jumps | full-long-jumps", 1, "only load 3 was to count: Wednesday and Friday", {
            "block": {**_KNEE, **_MEET, "settings": (RuleSetting("limit_days_between", "load", 3),)}}),
    ),
)  # fmt: skip


def universe() -> Problem:
    limits = (
        Limit("Ada", "ankle", "left", 5, begins=_TUE, days_between=2),
        Limit("Ada", "knee", "right", 5, ends=_TUE, days_between=1),
    )
    return problem(
        World(
            ("short-long-jumps", "low-multi-jumps"),
            days=4,
            amounts=("full", "lighter"),
            history="short-triple-jumps",
            kept="- | short-long-jumps",
            block={"limits": limits, **_MEET},
        )
    )


def _limits(problem: Problem, athlete: str, day: date) -> list[tuple[Limit, int]]:
    return [(x, x.days_between) for x in problem.limits_on(athlete, day) if x.days_between is not None]


def _meets(problem: Problem, limit: Limit, day: date, least: int) -> bool:
    """Does a competition of the day load the limited region?"""
    if limit.region in (*NO_REGION, "shoulder") or problem.competition_on(limit.athlete, day) is None:
        return False
    return max(competition_demand().loads[r] for r in limit_regions(limit.region)) >= least


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            least = RULE.number(problem, "load", athlete, day)
            for limit, between in _limits(problem, athlete, day):
                now = _loaded(board, problem, limit, day, least)
                for apart in range(1, between + 1):
                    both = [_loaded(board, problem, limit, day - timedelta(apart), least), now]
                    if both != [board.always, board.always]:
                        board.at_most([(1, c) for c in both], 1, Where(athlete, day, line=limit.line))


def _loaded(board: Board, problem: Problem, limit: Limit, day: date, least: int) -> Column:
    if _meets(problem, limit, day, least):
        return board.always
    known = problem.known_on(limit.athlete, day)
    return board.any_of(board.placed(p) for p in known if load_at(limit, p) >= least)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in judged_days(problem, athlete):
            least = RULE.number(problem, "load", athlete, day)
            for limit, between in _limits(problem, athlete, day):
                for apart in range(between, 0, -1):
                    before = day - timedelta(apart)
                    loads, stands = [], []
                    for d in (before, day):
                        meet = least * _meets(problem, limit, d, least)
                        loads.append(max([meet, *(load_at(limit, p) for p in view.on(athlete, d))]))
                        settled = settled_on(problem, athlete, d)
                        stands.append(max([meet, *(load_at(limit, p) for p in settled)]))
                    if min(loads) >= least > min(stands):
                        facts = {"where": region_words(limit), "before": before, "between": between}
                        tier = RULE.tier_at(problem, athlete, day)
                        found.append(Finding(RULE.id, tier, 1, athlete, day, "", facts, limit.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, limit {f['where']}: {f['before']:%a %d %b} and {finding.day:%a %d %b} both load "
        f"it, needed between: {counted(f['between'], 'days')}. Maybe move one, or take work that leaves it alone."
    )
