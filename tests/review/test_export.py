"""What goes out: the whole plan as JSON, a table that reads back, and no formula for any spreadsheet."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from dataclasses import fields, replace
from datetime import date, datetime, time, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.domain.block import Athlete, Opening, Place, RuleSetting
from planner.domain.dosing import dose_of
from planner.domain.finding import Finding, Line
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.problem import Problem
from planner.domain.record import inputs_hash
from planner.domain.revision import Revision
from planner.review.amounts import read_figure
from planner.review.cells import escape_cell, unescape_cell
from planner.review.export import plan_csv, plan_json
from planner.review.table import read_plan_table
from planner.rules._tiny import World, draw, problem

UNITS = ("flying-sprints", "heavy-strength", "full-long-jumps", "extensive-tempo")
REVISION = Revision(
    4,
    datetime(2027, 3, 1, 18, 30, tzinfo=timezone(timedelta(hours=1))),
    "rain",
    "draft",
    3,
    "",
    7,
    "quick",
    "0.1.0",
)
RISKY = "=+-@\t\r\n;,'\"＝＋－＠ \x00\x7fab1"


def world(*names: str) -> Problem:
    persons = tuple(Athlete(n, date(2000, 1, 1), level="advanced") for n in names or ("Ada", "Bo"))
    return problem(World(UNITS, days=7, persons=persons, amounts=("full", "lighter")))


def a_plan(made: Problem) -> Plan:
    drawn = draw(
        made,
        "flying-sprints + heavy-strength lighter | - | extensive-tempo\nflying-sprints | full-long-jumps",
    )
    first, second = made.athletes
    together = {first: (second,), second: (first,)}
    return Plan.of(
        p.with_coach("Kit", together[p.athlete]) if p.unit.id == "flying-sprints" else p for p in drawn
    )


def read_back(made: Problem, text: str, folder: Path) -> Plan:
    path = folder / "plan.csv"
    path.write_text(text, encoding="utf-8", newline="")
    return read_plan_table(path, made)[0]


def same(a: Plan, b: Plan) -> bool:
    """Equal in every field (two placements are == when their keys are)."""
    return [[getattr(p, f.name) for f in fields(Placement)] for p in a.placements] == [
        [getattr(p, f.name) for f in fields(Placement)] for p in b.placements
    ]


def outcome(made: Problem) -> Outcome:
    status = {"must": TierStatus(0, 0), "should": TierStatus(40, 32), "prefer": TierStatus(5, None)}
    found = (
        Finding("spread", "prefer", 5, "Ada", date(2027, 3, 1), "evening",
                {"from": date(2027, 3, 2), "of": (1, 2)}, Line("squad.yaml", 4)),
    )  # fmt: skip
    plan = replace(a_plan(made), status=status, random_seed=7, budget="quick")
    return Outcome(
        plan, found, {"must": {}, "should": {"b": 1, "a": 39}, "prefer": {"spread": 5}}, ("x: not judged",)
    )


# --- JSON --------------------------------------------------------------------------------------------


def test_the_document_holds_every_field_that_is_promised() -> None:
    made = world()
    document = plan_json(made, outcome(made), REVISION)
    assert list(document) == [
        "schema_version", "revision", "block", "status", "random_seed", "budget", "placements", "score",
        "findings", "not_judged", "cannot_be_had", "exceptions", "inputs_hash",
    ]  # fmt: skip
    assert document["revision"]["number"] == 4 and document["revision"]["replaces"] == 3
    assert document["block"] == {
        "name": "tiny", "squad": "", "kind": "block", "begins": "2027-03-01", "ends": "2027-03-07",
        "time_zone": "UTC",
    }  # fmt: skip
    assert document["status"] == {
        "word": "best found",
        "tiers": {
            "must": {"value": 0, "bound": 0, "gap": 0, "proved": True},
            "should": {"value": 40, "bound": 32, "gap": 8, "proved": False},
            "prefer": {"value": 5, "bound": None, "gap": None, "proved": False},
        },
        "stopped_early": False,
    }
    assert (document["random_seed"], document["budget"]) == (7, "quick")
    assert document["score"] == {"must": {}, "should": {"a": 39, "b": 1}, "prefer": {"spread": 5}}
    assert document["inputs_hash"] == inputs_hash(made.block)
    (finding,) = document["findings"]
    assert finding["facts"] == {"from": "2027-03-02", "of": [1, 2]} and finding["line"]["line"] == 4
    assert json.loads(json.dumps(document)) == document


def test_a_placement_in_the_document() -> None:
    made = world()
    document = plan_json(made, outcome(made), REVISION)
    by_key = {(p["athlete"], p["unit"]): p for p in document["placements"]}
    jump = by_key["Bo", "full-long-jumps"]
    dose = made.weeks["Bo"][0].doses["full-long-jumps"][0]
    assert (jump["date"], jump["slot"], jump["start"]) == ("2027-03-02", "evening", "2027-03-02T17:00")
    assert (jump["amount_word"], jump["amount"]) == ("full", {"figure": dose.amount, "unit": "jumps"})
    assert jump["amounts"] == {c: n for c, n in dose.counters.items() if n}
    assert jump["take_offs_by_leg"] == {"left": dose.amount, "right": 0}
    assert jump["load"] == dose.effort * dose.minutes == jump["effort"] * jump["minutes"]
    assert (jump["neural"], jump["metabolic"]) == (dose.neural, dose.metabolic)
    assert jump["region_loads"]["knee"] == {s: dose.loads["knee", s] for s in ("left", "right")}  # type: ignore[index]
    assert (jump["place"], jump["importance"], jump["group"], jump["coach"]) == ("pit", "supporting", "", "")
    assert f"stop: {made.units['full-long-jumps'].stop_rule}" in jump["lines"]
    fast = [by_key[name, "flying-sprints"] for name in ("Ada", "Bo")]
    assert [(p["group"], p["coach"], p["partners"]) for p in fast] == [
        ("group 1", "Kit", ["Bo"]), ("group 1", "Kit", ["Ada"])]  # fmt: skip


def test_a_lighter_row_goes_by_its_own_name() -> None:
    """Flying sprints are build-ups in their lighter form; the unit stays the same."""
    made = world()
    plan = Plan.of(draw(made, "flying-sprints lighter | - | flying-sprints\n-"))
    document = plan_json(made, replace(outcome(made), plan=plan), REVISION)
    said = [(p["unit"], p["unit_name"], p["amount_word"]) for p in document["placements"]]
    assert said == [("flying-sprints", "Build-ups", "lighter"), ("flying-sprints", "Flying sprints", "full")]


def test_proved_means_every_tier() -> None:
    made = world()
    plan = replace(
        a_plan(made),
        status={"must": TierStatus(0, 0), "should": TierStatus(4, 4), "prefer": TierStatus(1, 1)},
    )
    document = plan_json(made, replace(outcome(made), plan=plan), REVISION)
    assert document["status"]["word"] == "proved"


def test_exceptions_in_force_stand_with_their_reason_and_settings_do_not() -> None:
    exception = RuleSetting(
        "rest_day", "off", 1, "Ada", date(2027, 3, 2), date(2027, 3, 3), "rehearsal of both days"
    )
    setting = RuleSetting("rest_day", "weight", 3)
    made = world()
    made = replace(made, block=replace(made.block, settings=(setting, exception)))
    (stands,) = plan_json(made, outcome(made), REVISION)["exceptions"]
    assert (stands["rule"], stands["begins"], stands["reason"]) == (
        "rest_day",
        "2027-03-02",
        "rehearsal of both days",
    )


def test_own_lines_and_sentences_can_be_given() -> None:
    made = world()
    document = plan_json(
        made, outcome(made), REVISION, lines=lambda p: [p.athlete], sentence=lambda f: f.rule.upper()
    )
    assert document["placements"][0]["lines"] == ["Ada"]
    assert document["findings"][0]["sentence"] == "SPREAD"


_PRINT = """
import json, test_export as t
made = t.world()
print(json.dumps(t.plan_json(made, t.outcome(made), t.REVISION)))
print(t.plan_csv(made, t.a_plan(made)))
"""


def test_the_same_plan_gives_the_same_bytes_in_another_process() -> None:
    path = os.pathsep.join([str(Path(__file__).parent), *(p for p in sys.path if p)])
    outputs = {
        subprocess.run(
            [sys.executable, "-c", _PRINT],
            env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": start},
            capture_output=True,
            check=True,
        ).stdout
        for start in ("1", "2")
    }
    assert len(outputs) == 1 and b"flying-sprints" in outputs.pop()


# --- CSV ---------------------------------------------------------------------------------------------


def test_the_table_as_it_is_written() -> None:
    made = world()
    assert plan_csv(made, a_plan(made)).splitlines() == [
        "athlete,date,slot,unit,amount,order,place,coach,group",
        "Ada,2027-03-01,evening,flying-sprints,full,1,straight,Kit,group 1",
        "Ada,2027-03-01,evening,heavy-strength,lighter,2,gym,,",
        "Bo,2027-03-01,evening,flying-sprints,full,1,straight,Kit,group 1",
        "Bo,2027-03-02,evening,full-long-jumps,full,1,pit,,",
        "Ada,2027-03-03,evening,extensive-tempo,full,1,grass,,",
    ]


def test_the_table_reads_back_to_the_same_plan(tmp_path: Path) -> None:
    made = world()
    plan = a_plan(made)
    assert same(read_back(made, plan_csv(made, plan), tmp_path), plan)


@pytest.mark.parametrize("text", ["60 m", "4x30 m", "3x3@85 %", "5 sets"])
def test_own_figures_read_back(tmp_path: Path, text: str) -> None:
    made = world()
    unit = made.units["heavy-strength" if "m" not in text else "flying-sprints"]
    full, lighter = made.weeks["Ada"][0].doses[unit.id]
    dose = dose_of(read_figure(text, unit), unit, full, lighter)
    candidate = next(c for c in made.candidates if c.unit is unit)
    plan = Plan.of([replace(candidate, dose=dose)])
    written = plan_csv(made, plan)
    assert dose not in (full, lighter) and ",full," not in written
    assert same(read_back(made, written, tmp_path), plan)


def test_a_place_of_two_venues_carries_its_venue(tmp_path: Path) -> None:
    made = world()
    hall = Opening(date(2027, 3, 1), "evening", Place("hall", "gym", "gym"), time(18), time(20))
    made = replace(made, block=replace(made.block, openings=(*made.block.openings, hall)))
    plan = a_plan(made)
    assert "track / gym" in plan_csv(made, plan)
    assert same(read_back(made, plan_csv(made, plan), tmp_path), plan)


NAMES = st.text(st.sampled_from(RISKY) | st.characters(codec="utf-8"), min_size=1, max_size=8).filter(
    str.strip
)


@given(st.lists(NAMES, min_size=2, max_size=2, unique=True), st.data())
@settings(max_examples=60, deadline=None)
def test_any_names_and_any_plan_round_trip(
    tmp_path_factory: pytest.TempPathFactory, names: list[str], data: st.DataObject
) -> None:
    made = world(*names)
    chosen = data.draw(
        st.lists(st.sampled_from(made.candidates), min_size=1, max_size=12, unique_by=lambda p: p.key[:4])
    )
    plan = Plan.of(chosen)
    assert same(read_back(made, plan_csv(made, plan), tmp_path_factory.mktemp("csv")), plan)


@given(st.text(st.sampled_from(RISKY) | st.characters(codec="utf-8"), max_size=10))
@settings(max_examples=400, deadline=None)
def test_no_cell_begins_like_a_formula_and_none_is_lost(text: str) -> None:
    escaped = escape_cell(text)
    assert unescape_cell(escaped) == text
    for separator in (",", ";", "\t"):  # whatever a spreadsheet cuts at
        for cell in escaped.split(separator):
            assert not cell.lstrip(" ").startswith(tuple("=+-@＝＋－＠"))


def test_a_hostile_name_is_harmless_in_the_file() -> None:
    name = '=HYPERLINK("http://example.org";"Ada")'
    made = world(name, "Bo;=1+1")
    written = plan_csv(made, a_plan(made))
    cells = [cell for row in csv.reader(io.StringIO(written)) for cell in row]
    assert f"'{name}" in cells and "Bo;'=1+1" in cells
    assert not any(cell.startswith(("=", "+", "-", "@")) for cell in cells)
