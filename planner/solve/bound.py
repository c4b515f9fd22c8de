"""A certified bound on a tier for plans too large to be proved whole.

The linear relaxation is solved approximately by PDLP, a first-order method that gives useful prices of the
rows within a fixed number of rounds. The prices are then taken as nothing more than a good guess: any
prices give a true bound once they are rounded to whole numbers and the sum is done exactly
(Geoffrion 1974, Mathematical Programming Study 2). No tolerance of a solver enters the result.
"""

from __future__ import annotations

from math import isfinite

from planner.domain.finding import Tier
from planner.solve.linear import LinearModel

PRICE_SCALE = 1 << 20  # prices are rounded to this fraction of a point
SECONDS_PER_TERM = 6e-9  # deterministic seconds charged for a term of the rows in one round; measured


def relaxed_bound(model: LinearModel, tier: Tier, budget: float) -> int:
    """The least value the tier can have in any plan; `budget` in deterministic seconds.

    When the budget ends before the relaxation is solved the bound is weaker but still true.
    """
    least = model.least(tier)
    prices = _prices(model, tier, budget)
    return max(least, certified(model, tier, prices)) if prices else least


def certified(model: LinearModel, tier: Tier, prices: list[float]) -> int:
    """Exact bound from guessed prices of the rows: sum of price x bound + the least of what remains."""
    left = {c: w * PRICE_SCALE for c, w in model.objective[tier].items()}
    total = model.constant[tier] * PRICE_SCALE
    for row, guess in zip(model.rows, prices, strict=True):
        price = round(guess * PRICE_SCALE) if isfinite(guess) else 0
        side = row.low if price > 0 else row.high
        if not price or side is None:
            continue
        total += price * side
        for c, k in zip(row.columns, row.coefficients, strict=True):
            left[c] = left.get(c, 0) - price * k
    total += sum(w * (model.low[c] if w > 0 else model.high[c]) for c, w in left.items())
    return -(-total // PRICE_SCALE)


def _prices(model: LinearModel, tier: Tier, budget: float) -> list[float]:
    from ortools.linear_solver.python import model_builder_helper as mb

    helper = mb.ModelBuilderHelper()
    for low, high in zip(model.low, model.high, strict=True):
        column = helper.add_var()
        helper.set_var_lower_bound(column, low)
        helper.set_var_upper_bound(column, high)
    for c, w in model.objective[tier].items():
        helper.set_var_objective_coefficient(c, w)
    for row in model.rows:
        r = helper.add_linear_constraint()
        if row.low is not None:
            helper.set_constraint_lower_bound(r, row.low)
        if row.high is not None:
            helper.set_constraint_upper_bound(r, row.high)
        for c, k in zip(row.columns, row.coefficients, strict=True):
            helper.add_term_to_constraint(r, c, k)
    terms = sum(len(row.columns) for row in model.rows)
    rounds = max(1, int(budget / (SECONDS_PER_TERM * max(1, terms))))
    solver = mb.ModelSolverHelper("pdlp")
    solver.set_solver_specific_parameters(
        f"num_threads: 1 termination_criteria {{ iteration_limit: {rounds} }}"
    )
    solver.solve(helper)
    return [float(p) for p in solver.dual_values()] if solver.has_response() else []
