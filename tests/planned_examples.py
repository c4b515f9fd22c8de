"""The shipped examples, planned once for all tests that ask for them, in however many processes they run."""

from __future__ import annotations

import os
import pickle
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo

from filelock import FileLock

from planner.domain.plan import Outcome
from planner.domain.problem import Problem
from planner.flow import Settings, make
from planner.intake import read_block
from planner.season import make_problem

EXAMPLES = Path(__file__).parents[1] / "examples"
SETTINGS = Settings(lambda zone: datetime(2027, 1, 4, 9, tzinfo=ZoneInfo(zone)), budget="quick")
SHARED = "PLANNER_TESTS_SHARED"  # names the folder of one run of the tests; `conftest.py` makes and removes it


@cache
def planned(name: str) -> tuple[Problem, Outcome, tuple[str, ...]]:
    """Problem, reviewed plan and remarks of an example, with the quick budget."""
    problem = make_problem(read_block(EXAMPLES / name / "block.yaml"))
    outcome = _outcome(name, problem)
    return problem, outcome, outcome.remarks


def _outcome(name: str, problem: Problem) -> Outcome:
    """Planned by the first process that asks; the others wait for it."""
    shared = os.environ.get(SHARED)
    if not shared:
        return make(problem, SETTINGS)
    kept = Path(shared) / f"{name}.pickle"
    with FileLock(Path(shared) / f"{name}.lock"):
        if not kept.exists():
            with kept.open("wb") as out:
                _Pickler(out).dump(make(problem, SETTINGS))
        made = pickle.loads(kept.read_bytes())
    assert isinstance(made, Outcome)
    return made


def read_only(values: dict[Any, Any]) -> Mapping[Any, Any]:
    """A mapping nobody changes, as the domain's types hold them."""
    return MappingProxyType(values)


class _Pickler(pickle.Pickler):
    """Takes read-only mappings too, which Python's own does not."""

    def reducer_override(self, value: object) -> Any:
        return (read_only, (dict(value),)) if isinstance(value, MappingProxyType) else NotImplemented
