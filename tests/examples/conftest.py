"""The shipped examples, planned once for all tests of their checks."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.intake import read_block
from planner.review import review
from planner.season import make_problem, parts_of, plan_in_parts
from planner.solve import assign_coaches, shortfalls, solve

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str) -> tuple[Problem, Outcome, tuple[str, ...]]:
    """Problem, reviewed plan and remarks of an example, with the quick budget."""
    problem = make_problem(read_block(EXAMPLES / name / "block.yaml"))
    plan = plan_in_parts(problem, lambda part: solve(part, budget="quick"))
    remarks = shortfalls(plan, problem, None) if len(parts_of(problem)) == 1 else ()
    return problem, review(assign_coaches(plan, problem), problem), remarks


class Planned:
    """An example with its plan, and the questions its checks ask."""

    def __init__(self, name: str) -> None:
        self.problem, self.outcome, self.remarks = planned(name)
        self.view = PlanView(self.outcome.plan, self.problem)

    def neural(self, athlete: str, day: object) -> int:
        return self.view.neural(athlete, day)  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def easter() -> Planned:
    return Planned("easter-block")


@pytest.fixture(scope="session")
def juniors() -> Planned:
    return Planned("juniors")


@pytest.fixture(scope="session")
def outdoor() -> Planned:
    return Planned("indoor-to-outdoor")


@pytest.fixture(scope="session")
def heat_camp() -> Planned:
    return Planned("heat-camp")


@pytest.fixture(scope="session")
def club_camp() -> Planned:
    return Planned("club-camp")
