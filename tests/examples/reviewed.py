"""A shipped example with its plan, as the tests of its checks look at it."""

from __future__ import annotations

from planned_examples import planned

from planner.domain.view import PlanView


class Planned:
    """An example with its plan, and the questions its checks ask."""

    def __init__(self, name: str) -> None:
        self.problem, self.outcome, self.remarks = planned(name)
        self.view = PlanView(self.outcome.plan, self.problem)

    def neural(self, athlete: str, day: object) -> int:
        return self.view.neural(athlete, day)  # type: ignore[arg-type]
