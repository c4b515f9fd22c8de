"""Which rows cannot hold together? Rows of the store as assumptions, shrunk until each one is needed.

Only rows that hold are looked at, nothing is minimised. The model is written once; a trial changes nothing
but the assumptions (Marques-Silva 2010, 'Minimal unsatisfiability: models, algorithms and applications').
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from planner.domain.finding import Where
from planner.solve.cpsat import Limits, watched
from planner.solve.linear import LinearModel, linear_model
from planner.solve.rows import RowStore

CHECK_SECONDS = 10.0  # deterministic, for one trial; a trial that does not end counts as 'these can hold'
Group = tuple[int, ...]  # rows of the store that are assumed or dropped together


@dataclass(frozen=True)
class Verdict:
    """`core`: groups that cannot hold together, or None when they can (or the trial did not end)."""

    core: tuple[int, ...] | None
    chosen: tuple[int, ...] | None = None  # candidates of a plan in which all assumed groups hold


class Assumed:
    """Groups of rows behind one switch each, over the columns they need."""

    def __init__(
        self,
        store: RowStore,
        groups: Sequence[Group],
        random_seed: int = 0,
        stop: Callable[[], bool] | None = None,
    ) -> None:
        self.store = store
        self.limits = Limits(CHECK_SECONDS, random_seed, stop)
        wanted = {r for g in groups for r in g}
        model = linear_model(store, wanted)
        needed = _needed(store, wanted)
        self.cp = cp_model.CpModel()
        self._variables: dict[int, cp_model.IntVar] = {}
        self._write_definitions(model, needed)
        self._switches = [self.cp.new_bool_var("") for _ in groups]
        self._group_of = {int(s.index): n for n, s in enumerate(self._switches)}
        for n, group in enumerate(groups):
            for r in group:
                row = store.rows[r]
                columns, weights = [c for _, c in row.terms], [k for k, _ in row.terms]
                made = self._linear(columns, weights, row.low, row.high)
                made.only_enforce_if(self._switches[n])

    def _variable(self, model_low: int, model_high: int, column: int) -> cp_model.IntVar:
        if column not in self._variables:
            self._variables[column] = self.cp.new_int_var(model_low, model_high, "")
        return self._variables[column]

    def _write_definitions(self, model: LinearModel, needed: Collection[int]) -> None:
        for c in sorted(needed):
            self._variable(model.low[c], model.high[c], c)
        for row in model.rows:
            if row.source < 0 and max(c for c in row.columns if c < model.store_columns) in needed:
                for c in row.columns:
                    self._variable(model.low[c], model.high[c], c)
                self._linear(row.columns, row.coefficients, row.low, row.high)

    def _linear(
        self, columns: Sequence[int], weights: Sequence[int], low: int | None, high: int | None
    ) -> cp_model.Constraint:
        return self.cp.add_linear_constraint(
            cp_model.LinearExpr.weighted_sum([self._variables[c] for c in columns], list(weights)),
            cp_model.INT_MIN if low is None else low,
            cp_model.INT_MAX if high is None else high,
        )

    def check(self, groups: Collection[int]) -> Verdict:
        """Can these groups (by number) hold together?"""
        self.cp.clear_assumptions()
        self.cp.add_assumptions([self._switches[n] for n in sorted(groups)])
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = self.limits.random_seed
        solver.parameters.max_deterministic_time = self.limits.budget
        solver.parameters.cp_model_presolve = False  # short trials end sooner without it; measured
        solver.parameters.catch_sigint_signal = False
        status, _, _ = watched(solver, self.cp, self.limits)
        if status == cp_model.INFEASIBLE:
            found = {self._group_of[int(i)] for i in solver.sufficient_assumptions_for_infeasibility()}
            return Verdict(tuple(sorted(found & set(groups))))
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            columns = self.store.columns
            chosen = [
                c for c, v in self._variables.items()
                if c < len(columns) and columns[c].kind == "placed" and solver.value(v)
            ]  # fmt: skip
            return Verdict(None, tuple(sorted(chosen)))
        return Verdict(None)

    def irreducible(self, first_dropped: Sequence[int]) -> dict[int, tuple[int, ...] | None] | None:
        """Groups of which each is needed for the collision, with a plan in which only that one fails.

        `first_dropped` names all groups in the order in which they are tried to be left out: those at its
        end tend to stay, so the coach's own lines belong there. None when everything can hold together.
        """
        core = self.check(first_dropped).core
        if core is None:
            return None
        kept = [n for n in first_dropped if n in core]
        witnesses: dict[int, tuple[int, ...] | None] = {}
        for n in list(kept):
            if n not in kept:
                continue
            verdict = self.check([m for m in kept if m != n])
            if verdict.core is None:
                witnesses[n] = verdict.chosen
            else:
                kept = [m for m in kept if m in verdict.core]
        return {n: witnesses.get(n) for n in kept}


def _needed(store: RowStore, rows: Collection[int]) -> set[int]:
    """The columns of these rows, and all they are worked out from."""
    waiting = [c for r in rows for _, c in store.rows[r].terms]
    needed: set[int] = set(waiting)
    while waiting:
        for _, c in store.columns[waiting.pop()].terms:
            if c not in needed:
                needed.add(int(c))
                waiting.append(c)
    return needed


def grouped(
    store: RowStore, rows: Collection[int], key: Callable[[int], tuple[object, ...]]
) -> list[Group]:
    """Rows by a key, in the order in which each key first comes."""
    found: dict[tuple[object, ...], list[int]] = {}
    for r in sorted(rows):
        found.setdefault(key(r), []).append(r)
    return [tuple(g) for g in found.values()]


def irreducible_rows(
    store: RowStore,
    rows: Collection[int],
    random_seed: int = 0,
    stop: Callable[[], bool] | None = None,
    kept_last: Mapping[int, int] | None = None,
) -> dict[Group, tuple[int, ...] | None] | None:
    """An irreducible set of groups (rule, place, the coach's line) that collide; None when none do.

    One line of the coach is one group, whomever it means. First in coarse groups without days, then day by day
    inside those that are left. Rows named in
    `kept_last` (row -> rank) are the last to be left out, after the coach's own lines.
    """
    where = {r: store.rows[r].where for r in rows}
    whose = {r: w._replace(athlete="") if _in_the_file(w) else w for r, w in where.items()}
    coarse = grouped(store, rows, lambda r: (store.rows[r].rule, whose[r].athlete, str(where[r].line)))
    found = _filtered(store, coarse, random_seed, stop, kept_last or {})
    if found is None:
        return None
    left = {r for group in found for r in group}
    fine = grouped(store, left, lambda r: (store.rows[r].rule, whose[r], r if r in (kept_last or {}) else -1))
    return _filtered(store, fine, random_seed, stop, kept_last or {}) or found


def _in_the_file(where: Where) -> bool:
    return where.line is not None and bool(where.line.line or where.line.cell)


def _filtered(
    store: RowStore,
    groups: Sequence[Group],
    random_seed: int,
    stop: Callable[[], bool] | None,
    kept_last: Mapping[int, int],
) -> dict[Group, tuple[int, ...] | None] | None:
    def rank(n: int) -> tuple[int, bool, int]:
        row = groups[n][0]
        return (max(kept_last.get(r, 0) for r in groups[n]), store.rows[row].where.line is not None, n)

    assumed = Assumed(store, groups, random_seed, stop)
    found = assumed.irreducible(sorted(range(len(groups)), key=rank))
    return None if found is None else {groups[n]: w for n, w in sorted(found.items())}
