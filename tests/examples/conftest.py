"""The shipped examples, planned once for all tests of their checks."""

from __future__ import annotations

import pytest
from planned_examples import planned

from planner.domain.view import PlanView


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
