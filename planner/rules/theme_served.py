"""A theme runs through the days: three days a week serve it, or every second day where there are fewer.

A day serves a theme when one of the theme's units (or a unit of a family it names, or a drill that prepares
one) stands on it. Counted are the days of a calendar week inside the theme's span on which such a unit may
be placed at all; half of them, rounded up, and at most three, are asked for. Without units a theme is words.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from planner.domain.block import RuleSetting, Theme
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem


def _theme(first: int, last: int, *units: str) -> dict[str, object]:
    begins, ends = MONDAY + timedelta(first), MONDAY + timedelta(last)
    return {"block": {"themes": (Theme("Ada", "the last four steps", "", begins, ends, units),)}}


_FOUR = _theme(0, 3, "full-run-ups")
RULE = Rule(
    id="theme_served",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=8,
    source=Source("common practice", "Common practice, no source: a theme met once is forgotten."),
    parameters={"days": Parameter(3, "days a week", 1, 7, "days that serve a theme, at most")},
    examples=(
        Example("full-run-ups | - | full-run-ups | -", 0, "two of four days", _FOUR),
        Example("full-run-ups | - | - | -", 1, "one of four days, first edge", _FOUR),
        Example("- | - | - | full-run-ups", 1, "the last edge", _FOUR),
        Example("- | short-long-jumps", 0, "a family", _theme(0, 1, "technical-jumps", "run-ups")),
        Example("full-run-ups | - | - | -", 0, "a theme of two days", _theme(0, 1, "full-run-ups")),
        Example("- | - | - | -", 0, "a theme in words only", _theme(0, 3)),
        Example("extensive-tempo | - | full-run-ups | -", 1, "tempo does not serve it", _FOUR),
    ),
)  # fmt: skip


def universe() -> Problem:
    themes = (
        Theme("Ada", "the last four steps", "", MONDAY, MONDAY + timedelta(3), ("full-run-ups",)),
        Theme("Ada", "patience", "", None, None, ("tempo",)),
    )
    block = {"themes": themes, "settings": (RuleSetting(RULE.id, "days", 1, "Ada", MONDAY, MONDAY),)}
    return problem(World(("full-run-ups", "extensive-tempo"), days=5, block=block))


def _serves(theme: Theme, p: Placement) -> bool:
    drills = {name for name, _, _ in p.dose.preparation}
    return p.unit.id in theme.units or p.unit.family in theme.units or bool(drills & set(theme.units))


def _asked(problem: Problem) -> Iterator[tuple[Theme, AthleteWeek, list[date], int]]:
    """A theme, a week, the days that can serve it, and how many should."""
    for theme in problem.block.themes:
        for week in problem.weeks.get(theme.athlete, ()) if theme.units else ():
            inside = [d for d in week.days if (theme.begins or d) <= d <= (theme.ends or d)]
            can = [d for d in inside if any(_serves(theme, p) for p in problem.known_on(theme.athlete, d))]
            if can:
                most = RULE.number(problem, "days", theme.athlete, week.first_day)
                yield theme, week, can, min(most, (len(can) + 1) // 2)


def constrain(board: Board, problem: Problem) -> None:
    for theme, week, can, needed in _asked(problem):
        days = []
        for day in can:
            known = problem.known_on(theme.athlete, day)
            days.append(board.any_of(board.placed(p) for p in known if _serves(theme, p)))
        where = Where(theme.athlete, week.first_day, line=theme.line)
        board.at_least([(1, c) for c in days], needed, where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for theme, week, can, needed in _asked(problem):
        served = [d for d in can if any(_serves(theme, p) for p in view.on(theme.athlete, d))]
        if len(served) < needed:
            facts = {"aim": theme.aim, "n": len(served), "needed": needed}
            day, missing = week.first_day, needed - len(served)
            tier = RULE.tier_at(problem, theme.athlete, day)
            found.append(Finding(RULE.id, tier, missing, theme.athlete, day, facts=facts, line=theme.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: the theme '{f['aim']}' is met on "
        f"{counted(f['n'], 'days')}, wanted on {f['needed']}. Maybe name one more unit that serves it."
    )
