"""Run-ups without a jump are not enough: of every two days with them, one has a real take-off too.

An athlete steers to the board much less when no jump follows. What counts as a real take-off: a jump or a low
take-off from the full or the medium run-up, in the week or the one before, or any jump on the day of the run-ups
themselves. Competitions count. Where a limit or the catalogue leaves no such jump in the two weeks, run-ups alone
are right and nothing is asked.
"""

from datetime import date, timedelta

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

RUN_THROUGH = "full-run-ups"
AT_SPEED = (
    "full-long-jumps", "full-triple-jumps", "medium-long-jumps", "medium-triple-jumps", "run-up-pop-off",
    "hop-and-step-run-ups",
)  # fmt: skip
EVERY = 2  # days of run-ups for which one real take-off is asked
RULE = Rule(
    id="run_throughs_with_take_offs",
    tier="should",
    scope="athlete",
    reach=Reach(back=7, whole_weeks=True),
    weight=5,
    source=Source(
        "study",
        "Bradshaw, Aisbett 2006, Sports Biomechanics 5(3):279-304: steering by eye in run-throughs is less than "
        "half of that in long jumps; one in two is common practice.",
    ),
    examples=(
        Example("full-run-ups | - | - | run-up-pop-off", 0, "a low take-off beside it"),
        Example("full-run-ups | - | - | full-run-ups", 0, "no jump can be had at all"),
        Example("full-run-ups | - | full-run-ups | - | -", 1, "two, first edge", {
            "units": ("full-run-ups", "full-long-jumps")}),
        Example("- | - | full-run-ups + short-long-jumps | full-run-ups | full-run-ups", 1,
                "one of three with a jump on the day, last edge",
                {"units": ("full-run-ups", "short-long-jumps", "full-long-jumps")}),
        Example("- | - | - | - | full-run-ups", 1, "one more last week", {
            "units": ("full-run-ups", "run-up-pop-off"), "history": "full-run-ups | - | -"}),
        Example("- | - | - | - | full-run-ups", 0, "those of the week before that no longer count", {
            "units": ("full-run-ups", "run-up-pop-off"), "history": "full-run-ups" + " | -" * 7}),
        Example("full-run-ups | - | full-run-ups | -", 1, "Saturday and Monday: too many on Monday only", {
            "units": ("full-run-ups", "run-up-pop-off"), "first": MONDAY + timedelta(5)}),
        Example("- | - | - | -", 0, "both are done, and none may be chosen", {
            "units": ("run-up-pop-off",), "kept": "full-run-ups | - | full-run-ups"}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = (RUN_THROUGH, "short-long-jumps", "run-up-pop-off")
    first = MONDAY + timedelta(5)
    return problem(World(units, days=4, first=first, history="full-run-ups | -", kept="| | full-run-ups"))


def _days(problem: Problem, week: AthleteWeek) -> tuple[date, ...]:
    """The calendar week before and this one, as far as the block reaches."""
    first = week.begins - timedelta(7)
    return tuple(d for d in (first + timedelta(i) for i in range(14)) if d <= problem.block.ends)


def _asked(problem: Problem, athlete: str, days: tuple[date, ...]) -> bool:
    """May a run-up still be chosen in these weeks, and a jump at speed be had?"""
    offered = [p for d in days for p in problem.on(athlete, d) if p not in problem.settled]
    return any(p.unit.id == RUN_THROUGH for p in offered) and any(p.unit.id in AT_SPEED for p in offered)


def _jump(p: Placement) -> bool:
    return p.unit.id in AT_SPEED or any(p.dose.counters.get(c) for c in ("short-jumps", "full-jumps"))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        alone: dict[date, Column] = {}
        at_speed: dict[date, Column] = {}
        for week in problem.weeks[athlete]:
            days = _days(problem, week)
            if not _asked(problem, athlete, days):
                continue
            for d in days:
                if d not in alone:
                    alone[d], at_speed[d] = _columns(board, problem, athlete, d)
            terms = [(1, alone[d]) for d in days] + [(-EVERY, at_speed[d]) for d in days]
            board.at_most(terms, EVERY - 1, Where(athlete, week.first_day))


def _columns(board: Board, problem: Problem, athlete: str, day: date) -> tuple[Column, Column]:
    """0/1 each: run-ups with no jump that day; a take-off at speed."""
    known = problem.known_on(athlete, day)
    runs = board.any_of(board.placed(p) for p in known if p.unit.id == RUN_THROUGH)
    jumps = board.any_of(board.placed(p) for p in known if _jump(p))
    if problem.competition_on(athlete, day):
        return board.any_of(()), board.always
    fast = board.any_of(board.placed(p) for p in known if p.unit.id in AT_SPEED)
    return board.over([(1, runs), (-1, jumps)], 0), fast


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            days = _days(problem, week)
            if not _asked(problem, athlete, days):
                continue
            alone = fast = 0
            for d in days:
                on = view.on(athlete, d)
                meet = problem.competition_on(athlete, d) is not None
                fast += meet or any(p.unit.id in AT_SPEED for p in on)
                if any(p.unit.id == RUN_THROUGH for p in on) and not meet and not any(map(_jump, on)):
                    alone += 1
            over = alone - EVERY * fast - (EVERY - 1)
            if over > 0:
                tier = RULE.tier_at(problem, athlete, week.first_day)
                facts = {"alone": alone, "fast": fast}
                found.append(Finding(RULE.id, tier, over, athlete, week.first_day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    alone, fast = int(str(finding.facts["alone"])), int(str(finding.facts["fast"]))
    return (
        f"{finding.athlete}, to the end of the week of {finding.day:%a %d %b}: {counted(alone, 'days')} of "
        f"run-ups without a jump in two weeks beside {counted(fast, 'days')} with a take-off at speed; one is "
        "wanted for every two. Maybe end a run-up session with two or three low take-offs."
    )
