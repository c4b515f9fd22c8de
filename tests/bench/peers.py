"""The rivals of the planner, on the same rows: by hand's order, one sweep over it, and another solver.

Each takes the problem of a block (or of one part of a long one) and gives the placements it came to, and the
bound it can certify (None: none).
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.rules import book
from planner.solve.cpsat import Limits
from planner.solve.first import first_plan
from planner.solve.linear import LinearModel, linear_model
from planner.solve.neighbourhoods import by_person_and_week
from planner.solve.parts import Parts
from planner.solve.rows import write_rows
from planner.solve.state import State
from planner.solve.workers import Workers

SWEEP_SECONDS = 1.0  # deterministic, for each person's week of the sweep
FIRST_PLAN_SECONDS = 60.0  # deterministic, where the order by hand does not keep a must


@dataclass(frozen=True)
class Found:
    """What a rival came to; no placements: it found no plan."""

    placements: tuple[Placement, ...] | None
    bound: int | None = None


def begun(problem: Problem) -> tuple[LinearModel, State]:
    """The rows and the first plan; every generated squad has one."""
    store = write_rows(problem, book())
    state = first_plan(store, Limits(FIRST_PLAN_SECONDS))
    assert state is not None, "no plan keeps the musts of this generated squad"
    return linear_model(store), state


def by_hand(problem: Problem) -> Found:
    """Greedy: week by week, what matters most first, in the habitual slots."""
    _, state = begun(problem)
    return Found((*problem.kept, *state.placements()))


def swept(problem: Problem) -> Found:
    """Greedy, then each person's week solved once with all else as it stands."""
    model, state = begun(problem)
    parts, workers = Parts(model), Workers(1)
    workers.load(model.numbers)
    for part in by_person_and_week(model.store):
        parts.resolve(state, [part], Limits(SWEEP_SECONDS), workers)
    return Found((*problem.kept, *state.placements()))


def by_highs(problem: Problem, seconds: float, *, with_start: bool) -> Found:
    """HiGHS on the same rows, one thread, the should tier; with or without the greedy plan to begin from."""
    if with_start:
        model, state = begun(problem)
        start: list[int] | None = state.start(model)
    else:
        model, start = linear_model(write_rows(problem, book())), None
    chosen, bound = _highs(model, seconds, start)
    if chosen is None:
        return Found(None, bound)
    columns = model.store.columns
    placed = [p for c in chosen if (p := columns[c].placement) is not None]
    return Found((*problem.kept, *placed), bound)


def _highs(model: LinearModel, seconds: float, start: list[int] | None) -> tuple[list[int] | None, int | None]:
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", seconds)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.passModel(_written(model))
    if start is not None:
        begin = highspy.HighsSolution()
        begin.col_value = [float(v) for v in start]
        solver.setSolution(begin)
    solver.run()
    info = solver.getInfo()
    bound = int(np.ceil(info.mip_dual_bound - 1e-6)) if abs(info.mip_dual_bound) < 1e15 else None
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None, bound
    values = solver.getSolution().col_value
    return [c for c in model.store.free if values[c] > 0.5], bound


def _written(model: LinearModel) -> highspy.HighsLp:
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(model.low), len(model.rows)
    cost = np.zeros(lp.num_col_)
    for c, w in model.objective["should"].items():
        cost[c] = w
    lp.col_cost_, lp.offset_ = cost, float(model.constant["should"])
    lp.col_lower_, lp.col_upper_ = np.array(model.low, float), np.array(model.high, float)
    none = highspy.kHighsInf
    lp.row_lower_ = np.array([-none if row.low is None else row.low for row in model.rows], float)
    lp.row_upper_ = np.array([none if row.high is None else row.high for row in model.rows], float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(row.columns) for row in model.rows)])
    lp.a_matrix_.index_ = np.array([c for row in model.rows for c in row.columns])
    lp.a_matrix_.value_ = np.array([k for row in model.rows for k in row.coefficients], float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * lp.num_col_
    return lp
