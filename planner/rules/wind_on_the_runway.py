"""In a strong head or cross wind nobody jumps from the full run-up: the marks lie.

Strong is more than 3 m/s from the front or the side ('wind_from' head or cross, or a wind below zero without
a direction). A compass direction is not judged: the file does not say which way the runway lies. High jump is
not meant. Better another direction of the runway, or a short run-up; the wind is noted beside every mark.
"""

from datetime import timedelta

from planner.domain.block import Weather
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._weather import outdoors, said


def _wind(*rows: tuple[int, int, str]) -> dict[str, object]:
    weather = (Weather(MONDAY + timedelta(d), "", wind=w, wind_from=f) for d, w, f in rows)
    return {"block": {"weather": tuple(weather)}}


RULE = Rule(
    id="wind_on_the_runway",
    tier="should",
    weight=8,
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source; a rehearsal for a competition may differ."),
    parameters={"most": Parameter(30, "tenths of a metre per second", 5, 150, "wind from front or side")},
    examples=(
        Example("full-long-jumps | -", 0, "3.0 m/s", _wind((0, 30, "head"))),
        Example("short-long-jumps | -", 0, "a short run-up", _wind((0, 50, "head"))),
        Example("full-long-jumps | -", 1, "3.1 m/s from the side", _wind((0, 31, "cross"))),
        Example("- | full-triple-jumps", 1, "-3.5, the last edge", _wind((1, -35, ""))),
        Example("full-long-jumps | -", 0, "from behind", _wind((0, 60, "tail"))),
        Example("full-long-jumps | -", 0, "from the north", _wind((0, 60, "N"))),
        Example("full-high-jumps | -", 0, "high jump", _wind((0, 60, "head"))),
    ),
)  # fmt: skip


def universe() -> Problem:
    block = _wind((0, 45, "head"), (1, 45, "tail"), (2, -45, ""))["block"]
    units = ("full-long-jumps", "short-long-jumps", "full-high-jumps")
    return problem(World(units, days=3, kept="- | short-long-jumps", block=block))  # type: ignore[arg-type]


def _spoilt(problem: Problem, p: Placement) -> Weather | None:
    """The row of the forecast that spoils a jump; None when none does."""
    if p.unit.family != "full-jumps" or "pit" not in p.unit.place_kinds or not outdoors(problem, p):
        return None
    row = said(problem, p.day, p.slot, lambda w: w.wind)
    if row is None or row.wind is None or p in problem.settled:
        return None
    against = {"": -row.wind, "head": abs(row.wind), "cross": abs(row.wind)}.get(row.wind_from)
    most = RULE.number(problem, "most", p.athlete, p.day)
    return row if against is not None and against > most else None


def constrain(board: Board, problem: Problem) -> None:
    for p in problem.candidates:
        row = _spoilt(problem, p)
        if row is not None:
            board.at_most([(1, board.placed(p))], 0, Where(p.athlete, p.day, p.slot, row.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for p in view.of(athlete):
            row = _spoilt(problem, p)
            if row is not None and row.wind is not None:
                tier = RULE.tier_at(problem, athlete, p.day)
                facts = {"unit": p.unit.name, "wind": abs(row.wind)}
                found.append(Finding(RULE.id, tier, 1, athlete, p.day, p.slot, facts, row.line))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: {finding.facts['unit']} in a wind of "
        f"{int(str(finding.facts['wind'])) / 10:.1f} m/s from front or side. Maybe turn the runway round, or "
        "take a short run-up."
    )
