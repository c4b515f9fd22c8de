"""The shipped examples, planned once for all tests of their checks."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.flow import Settings, make
from planner.intake import read_block
from planner.season import make_problem

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def planned(name: str) -> tuple[Problem, Outcome, tuple[str, ...]]:
    """Problem, reviewed plan and remarks of an example, with the quick budget."""
    settings = Settings(lambda zone: datetime(2027, 1, 4, 9, tzinfo=ZoneInfo(zone)), budget="quick")
    problem = make_problem(read_block(EXAMPLES / name / "block.yaml"))
    outcome = make(problem, settings)
    return problem, outcome, outcome.remarks


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
