"""The linear model in CP-SAT: one worker, a budget in deterministic seconds.

What binds here are sessions into which things fit or not, and days that exclude each other: propagation sees
that at once, and the linear relaxation does not (its bound is often 0). There are three ways to search:

- plain: without the relaxation, from the best plan down. The quickest to better plans in a part of a block.
- cores: from the bound up. Which prices cannot all be spared together? Each such set (an unsatisfiable core;
  Fu and Malik 2006, SAT 2006, pages 252-265) raises the bound. A week of a whole squad is proved best in about a
  second this way, where the other two do not end in twenty: there the prices of many small wishes add up. Where
  weeks hang together strongly it stays without a plan for long.
- relaxed: plain with the linear relaxation; proves some parts that plain does not (sums over several weeks).

`tests/bench/ways.py` measures them.

The same model, hint, random seed and budget give the same plan on any machine and under any load, because
the budget counts the solver's own steps and not the clock.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Literal

from ortools.sat.python import cp_model

from planner.domain.finding import Tier
from planner.solve.linear import Numbers

Way = Literal["plain", "cores", "relaxed"]
RELAXED_COST = 1.2  # by the clock a deterministic second with the relaxation takes this much more: counted so
POLL_SECONDS = 0.05  # how often a running solver is asked whether it should stop; no influence on the plan


@dataclass(frozen=True)
class Limits:
    """What one run of the solver may spend (deterministic seconds), whether to stop now, and how it searches."""

    budget: float
    random_seed: int = 0
    stop: Callable[[], bool] | None = None
    watch: Callable[[int, int], None] | None = None  # value and bound of the running tier
    way: Way = "plain"


@dataclass(frozen=True)
class Answer:
    """Values of the columns (None: nothing found), and the certified bound of the objective."""

    values: Mapping[int, int] | None
    bound: int | None
    impossible: bool = False
    stopped: bool = False
    spent: float = 0.0


class Written:
    """A linear model, or the part of it that is not fixed, written into CP-SAT."""

    def __init__(
        self,
        model: Numbers,
        values: Sequence[int] | None = None,
        columns: Collection[int] | None = None,
        rows: Collection[int] | None = None,
    ) -> None:
        """With `columns` and `rows` (those that touch them), all other columns stand at their `values`."""
        self.model = model
        self.cp = cp_model.CpModel()
        self.variables: dict[int, cp_model.IntVar] = {}
        whole = range(2, len(model.low)) if columns is None else sorted(columns)
        for c in whole:
            self.variables[c] = self.cp.new_int_var(model.low[c], model.high[c], "")
        for r in range(len(model.rows)) if rows is None else sorted(rows):
            row = model.rows[r]
            self.add_row(row.columns, row.coefficients, row.low, row.high, values)

    def add_row(
        self,
        columns: Sequence[int],
        coefficients: Sequence[int],
        low: int | None,
        high: int | None,
        values: Sequence[int] | None = None,
    ) -> None:
        """A row; columns that are not variables count at their value."""
        fixed = 0
        some: list[cp_model.IntVar] = []
        weights: list[int] = []
        for c, k in zip(columns, coefficients, strict=True):
            if (variable := self.variables.get(c)) is not None:
                some.append(variable)
                weights.append(k)
            elif values is not None:
                fixed += k * values[c]
        self.cp.add_linear_constraint(
            cp_model.LinearExpr.weighted_sum(some, weights),
            cp_model.INT_MIN if low is None else low - fixed,
            cp_model.INT_MAX if high is None else high - fixed,
        )

    def terms(self, tier: Tier) -> dict[int, int]:
        """The objective of a tier over the variables."""
        return {c: w for c, w in self.model.objective[tier].items() if c in self.variables and w}

    def minimise(self, terms: Mapping[int, int], constant: int = 0) -> None:
        variables = [self.variables[c] for c in terms]
        self.cp.minimize(cp_model.LinearExpr.weighted_sum(variables, list(terms.values())) + constant)

    def hint(self, values: Sequence[int]) -> None:
        """A complete start: every variable has a value."""
        self.cp.clear_hints()  # type: ignore[no-untyped-call]  # the library's own gap
        for c, variable in self.variables.items():
            self.cp.add_hint(variable, values[c])

    def hint_at(self, values: Mapping[int, int]) -> None:
        """A start from an answer to this model."""
        self.cp.clear_hints()  # type: ignore[no-untyped-call]  # the library's own gap
        for c, variable in self.variables.items():
            self.cp.add_hint(variable, values[c])

    def run(self, limits: Limits) -> Answer:
        """Search to the end of the budget, or until `stop` says so (Ctrl-C counts as that)."""
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2 if limits.way == "relaxed" else 0
        solver.parameters.optimize_with_core = limits.way == "cores"
        solver.parameters.random_seed = limits.random_seed
        cost = RELAXED_COST if limits.way == "relaxed" else 1.0
        solver.parameters.max_deterministic_time = limits.budget / cost
        solver.parameters.catch_sigint_signal = False
        status, stopped, reported = watched(solver, self.cp, limits)
        spent = float(solver.response_proto.deterministic_time) * cost
        if status == cp_model.INFEASIBLE:
            return Answer(None, None, impossible=True, stopped=stopped, spent=spent)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Answer(None, reported, stopped=stopped, spent=spent)
        bound = _whole(solver.best_objective_bound) if self.cp.has_objective() else None
        values = {c: int(solver.value(v)) for c, v in self.variables.items()}
        return Answer(values, bound, stopped=stopped, spent=spent)


def _whole(bound: float) -> int | None:
    """A solver's bound as a whole number of points, rounded up only past its own tolerance."""
    if not -1e15 < bound < 1e15:
        return None
    nearest = round(bound)
    return nearest if abs(bound - nearest) < 1e-6 else -int(-bound // 1)


def watched(
    solver: cp_model.CpSolver, cp: cp_model.CpModel, limits: Limits
) -> tuple[cp_model.CpSolverStatus, bool, int | None]:
    """Run the solver beside this thread, which stays free to be interrupted and to ask `stop`.

    Its status, whether it was stopped, and the highest bound it reported on its way. Where it found no plan
    only that one counts: a solver that never came to search answers a bound of 0, which is above a price that
    can be negative.
    """
    seen = _Seen()
    solver.best_bound_callback = seen.risen
    stopped = False
    with ThreadPoolExecutor(max_workers=1) as pool:
        running = pool.submit(solver.solve, cp, seen)
        while True:
            try:
                status = running.result(timeout=POLL_SECONDS)
                return status, stopped, seen.bound
            except TimeoutError:
                stop_now = limits.stop is not None and limits.stop()
            except KeyboardInterrupt:
                stop_now = True
            if stop_now:
                stopped = True
                solver.stop_search()
            if seen.last is not None and limits.watch is not None:
                limits.watch(*seen.last)


class _Seen(cp_model.CpSolverSolutionCallback):
    """The last value and bound of a plan the solver reported, and the highest bound of all."""

    def __init__(self) -> None:
        super().__init__()
        self.last: tuple[int, int] | None = None
        self.bound: int | None = None

    def on_solution_callback(self) -> None:
        bound = _whole(self.best_objective_bound)
        self.last = (round(self.objective_value), 0 if bound is None else bound)

    def risen(self, bound: float) -> None:
        """The bound moved without a new plan, as it does when cores are looked for."""
        whole = _whole(bound)
        if whole is None:
            return
        self.bound = whole if self.bound is None else max(whole, self.bound)
        if self.last is not None:
            self.last = (self.last[0], max(whole, self.last[1]))
