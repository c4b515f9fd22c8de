"""Prices of rows from the linear relaxation, week by week, and the exact bound any prices give.

A week's relaxation is solved by the simplex method (GLOP); rows from one week to the next are left out, so
that the work grows with the number of weeks and no faster. The prices are good guesses and nothing more:
the bound is summed up exactly from whole numbers, so that no tolerance of a solver enters it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from planner.domain.finding import Tier
from planner.solve.blocks import Block, cut
from planner.solve.linear import LinearModel
from planner.solve.parts import Part

PRICE_SCALE = 1 << 20  # prices are rounded to this fraction of a point
SECONDS_PER_TERM = 2e-6  # deterministic seconds charged for a term of the rows; measured with GLOP
MOST_SECONDS = 4.0  # deterministic, for the relaxation of a week; without an end to it there are no prices


def weekly_prices(model: LinearModel, tier: Tier, weeks: Sequence[Part]) -> list[float]:
    """A price for every row: 0 for rows between weeks, and for weeks whose relaxation did not end."""
    prices = [0.0] * len(model.rows)
    for block in cut(model, weeks).blocks:
        for r, price in zip(block.rows, _relaxed(model, tier, block), strict=False):
            prices[r] = price
    return prices


def pricing_seconds(model: LinearModel) -> float:
    """What the prices of a model are charged with, in deterministic seconds."""
    return SECONDS_PER_TERM * sum(len(row.columns) for row in model.rows)


def certified(model: LinearModel, tier: Tier, prices: Sequence[float]) -> int:
    """Exact bound from guessed prices of all rows: sum of price x bound + the least of what remains."""
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


def _relaxed(model: LinearModel, tier: Tier, block: Block) -> list[float]:
    """The prices of a block's rows; none when the simplex method found no end within its limit."""
    from ortools.linear_solver.python import model_builder_helper as mb

    helper = mb.ModelBuilderHelper()
    own = {c: i for i, c in enumerate(block.columns)}
    for c in block.columns:
        column = helper.add_var()
        helper.set_var_lower_bound(column, model.low[c])
        helper.set_var_upper_bound(column, model.high[c])
        if weight := model.objective[tier].get(c, 0):
            helper.set_var_objective_coefficient(column, weight)
    for row in (model.rows[r] for r in block.rows):
        r = helper.add_linear_constraint()
        if row.low is not None:
            helper.set_constraint_lower_bound(r, row.low)
        if row.high is not None:
            helper.set_constraint_upper_bound(r, row.high)
        for c, k in zip(row.columns, row.coefficients, strict=True):
            helper.add_term_to_constraint(r, own[c], k)
    solver = mb.ModelSolverHelper("glop")
    solver.set_solver_specific_parameters(f"max_deterministic_time: {MOST_SECONDS}")
    solver.solve(helper)
    if not solver.has_response() or solver.status() != mb.SolveStatus.OPTIMAL:
        return []
    return [float(price) for price in solver.dual_values()]
