"""What was done elsewhere is in no catalogue; every rule can still be asked about it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time

import pytest

from planner.domain.elsewhere import SLOT, UNKNOWN_LOAD
from planner.domain.plan import Placement, Plan
from planner.domain.units import REGIONS, SIDES, Dose
from planner.domain.view import PlanView
from planner.rules import book
from planner.solve.rows import write_rows

NOTHING = {(region, side): 0 for region in REGIONS for side in SIDES}


@pytest.mark.parametrize("rule", sorted(book()))
def test_every_rule_takes_load_from_elsewhere(rule: str) -> None:
    one = book()[rule]
    made = one.universe()
    counters = {"take-offs": 12, "short-jumps": 12}
    dose = Dose("full", 1, "times", 0, 0, 20, 5, NOTHING, counters, {})
    day = made.days[0]
    told = Placement(
        made.athletes[0], day, f"{SLOT} 1", UNKNOWN_LOAD, dose, datetime.combine(day, time(12)), fixed=True
    )
    asked = replace(made, kept=(*made.kept, told))
    plan = tuple(sorted({*asked.kept, *asked.history}, key=lambda p: p.key))
    found = one.check(PlanView(Plan.of(asked.kept), asked), asked)
    rows = write_rows(asked, {rule: one}).evaluate(frozenset(plan))
    if not one.rule.stricter:
        assert bool(rows.broken) == any(f.tier == "must" for f in found)
    for f in found:
        assert one.explain(f)
