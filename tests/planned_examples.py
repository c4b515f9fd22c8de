"""The shipped examples, planned once for all tests that ask for them."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.flow import Settings, make
from planner.intake import read_block
from planner.season import make_problem

EXAMPLES = Path(__file__).parents[1] / "examples"
SETTINGS = Settings(lambda zone: datetime(2027, 1, 4, 9, tzinfo=ZoneInfo(zone)), budget="quick")


@cache
def planned(name: str) -> tuple[Problem, Outcome, tuple[str, ...]]:
    """Problem, reviewed plan and remarks of an example, with the quick budget."""
    problem = make_problem(read_block(EXAMPLES / name / "block.yaml"))
    outcome = make(problem, SETTINGS)
    return problem, outcome, outcome.remarks
