"""Three weeks of a long jumper before a main competition and a sprinter without one, planned once and for all.

The plan is a solver's own, written down: tests of what happens then need not wait for it.
"""

from __future__ import annotations

from pathlib import Path

from week import at

from planner import flow, known
from planner.ledger import Ledger
from planner.review import review
from planner.review.table import read_plan_table

BLOCK = """\
block: {name: Three weeks, from: 2027-03-01, until: 2027-03-21, time_zone: Europe/London}
athletes:
  - {name: Ada Lindmoor, events: long jump, level: developing, training_years: 5, born: 2004-05-02}
  - {name: Ivo Marsten, events: 100 m, level: developing, training_years: 5, born: 2004-05-02}
competitions:
  - {name: Spring meeting, date: 2027-03-14, athletes: Ada Lindmoor, importance: main}
"""
PLAN = """\
Ada | 2027-03-01 | full-run-ups, short-accelerations, upper-body lighter
Ada | 2027-03-03 | mobility, power-lifts, short-long-jumps
Ada | 2027-03-04 | active-recovery
Ada | 2027-03-08 | power-lifts, short-accelerations, short-long-jumps
Ada | 2027-03-11 | active-recovery, full-run-ups, mobility, upper-body lighter
Ada | 2027-03-15 | extensive-tempo
Ada | 2027-03-17 | active-recovery
Ada | 2027-03-18 | active-recovery, general-strength
Ivo | 2027-03-01 | special-endurance, speed-endurance
Ivo | 2027-03-02 | extensive-tempo, heavy-strength lighter, low-multi-jumps
Ivo | 2027-03-03 | mobility
Ivo | 2027-03-04 | long-accelerations, power-lifts, resisted-accelerations
Ivo | 2027-03-05 | extensive-tempo, upper-body
Ivo | 2027-03-06 | flying-sprints, intensive-bounds
Ivo | 2027-03-08 | special-endurance, speed-endurance
Ivo | 2027-03-09 | extensive-tempo, heavy-strength lighter, robustness
Ivo | 2027-03-10 | mobility
Ivo | 2027-03-11 | long-accelerations, resisted-accelerations
Ivo | 2027-03-12 | extensive-tempo, low-multi-jumps, power-lifts lighter
Ivo | 2027-03-13 | flying-sprints, intensive-bounds
Ivo | 2027-03-15 | active-recovery, extensive-bounds lighter, extensive-tempo, heavy-strength
Ivo | 2027-03-17 | long-accelerations, speed-endurance
Ivo | 2027-03-19 | active-recovery, extensive-tempo lighter, general-strength lighter, power-lifts lighter
Ivo | 2027-03-20 | block-starts lighter, flying-sprints, intensive-bounds
"""
ADA, IVO = "Ada Lindmoor", "Ivo Marsten"


def three_weeks(folder: Path) -> Path:
    """The block's file in this folder, its plan recorded and handed out; nothing is printed or solved."""
    file = folder / "block.yaml"
    file.write_text(BLOCK, encoding="utf-8")
    rows = ["athlete,date,slot,unit,amount"]
    for line in PLAN.splitlines():
        who, day, units = (cell.strip() for cell in line.split("|"))
        name = ADA if who == "Ada" else IVO
        for unit in units.split(", "):
            name_of_unit, _, word = unit.partition(" ")
            rows.append(f"{name},{day},training,{name_of_unit},{word or 'full'}")
    table = folder / "plan.csv"
    table.write_text("\n".join(rows) + "\n", encoding="utf-8")
    problem = known.understand(file)
    plan, _ = read_plan_table(table, problem)
    outcome = review(plan, problem)
    assert not outcome.musts_broken, outcome.musts_broken
    settings = at("2027-02-27 09:00")
    with Ledger.open(file, create=True) as ledger:
        made = flow.record(ledger, None, problem, outcome, settings)
        ledger.hand_out(made.revision.number, settings.now("Europe/London"))
    return file
