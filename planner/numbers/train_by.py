"""Everything a page needs to train by, from the plan and from what was recorded, in one place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from planner.domain.facts import Done, Fact
from planner.domain.plan import Placement, PlacementKey, Plan
from planner.domain.problem import Problem
from planner.numbers.build import lines_for, numbers
from planner.numbers.case import Shares
from planner.numbers.lines import Lines
from planner.numbers.recorded import run_ups_in_force, shares_of


@dataclass(frozen=True)
class TrainBy:
    """Lines by placement, the athletes' own shares of the triple jump, and the facts behind them."""

    problem: Problem
    lines: Mapping[PlacementKey, Lines] = field(hash=False)
    shares: Mapping[str, Shares] = field(hash=False)
    facts: tuple[Fact, ...] = ()

    def of(self, placement: Placement) -> Lines:
        """The lines of a placement; of one that stands in no plan (history) they are made now."""
        return self.lines.get(placement.key) or lines_for(placement, self.problem, shares=self.shares)


def train_by(plan: Plan, problem: Problem, facts: Sequence[Fact] = ()) -> TrainBy:
    """The numbers of a plan, from the marks of the block, start marks in force and what was recorded as done."""
    told = tuple(facts)
    known = replace(problem, block=replace(problem.block, run_ups=run_ups_in_force(problem.block, told)))
    shares = shares_of(told, problem.athletes)
    done = [f for f in told if isinstance(f, Done)]
    return TrainBy(known, numbers(plan, known, done, shares=shares), shares, told)
