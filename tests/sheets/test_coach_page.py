"""The coach's session page: five-minute lines, places, who stands where, and what stands behind it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from planner.domain.timetable import Clash, TimetableLine
from planner.sheets.build_coach import coach_view
from planner.sheets.paper import BOARDS
from tests.sheets import world
from tests.sheets.slot_world import (
    DAY,
    FRIDAY,
    REVISION,
    SLOT,
    at,
    coach,
    given,
    here,
    printed,
    table,
)
from tests.sheets.test_print import pdf, text_of


def test_there_is_a_line_for_every_five_minutes_and_a_column_for_every_place_and_coach() -> None:
    view = coach()
    assert [c.title for c in view.columns] == ["Marit Lo stands at", "Any free spot", "North pit"]
    clocks = [line.clock for line in view.lines]
    assert clocks[0] == "17:00" and clocks[-1] == "18:50"
    minutes = [int(c[:2]) * 60 + int(c[3:]) for c in clocks]
    assert {b - a for a, b in pairwise(minutes)} == {5}
    assert abs(sum(c.width_mm for c in view.columns) + 14 - BOARDS["A4"].inner_width) < 1


def test_a_line_says_who_begins_what_in_which_order_and_where_the_coach_stands() -> None:
    view = coach()
    line = next(x for x in view.lines if x.clock == "17:30")
    stands, free, pit = line.cells
    assert (stands.entries[0].what, stands.entries[0].who, stands.entries[0].until) == (
        "North pit",
        "Signe, Tuva",
        "18:00",
    )
    assert not free.busy and pit.busy
    amounts = {p.athlete: p.dose.amount for p in here() if p.unit.id == "medium-long-jumps"}
    assert pit.entries[0].who == f"1 Signe {amounts[world.S]}, 2 Tuva {amounts[world.T]}"
    quiet = next(x for x in view.lines if x.clock == "17:35")
    assert not quiet.opens and [c.busy for c in quiet.cells] == [True, False, True]


def test_a_long_stretch_of_nothing_is_one_line() -> None:
    late = replace(
        table(), lines=(*table().lines, TimetableLine(world.A, "unit", at(20, 0), at(20, 10), "mobility"))
    )
    view = coach_view(
        DAY, SLOT, here(), given(), table=late, clash=None, lines={}, revision=REVISION, paper=BOARDS["A4"]
    )
    gaps = [x for x in view.lines if x.gap]
    assert [(x.clock, x.gap) for x in gaps] == [("18:55", "nobody until 20:00")]


def test_helpers_limits_stop_rules_lighter_lines_and_weather_stand_on_it() -> None:
    view = coach()
    assert [(j.who, j.task, j.when) for j in view.jobs] == [("Ola", "rakes", "17:30 to 18:30, north pit")]
    assert any(x.startswith("Tuva: Right knee") for x in view.limits)
    jumps = next(b for b in view.behind if b.name == "Long jumps from 10-14 steps")
    assert jumps.stop and jumps.lighter and "novices" not in jumps.lighter
    sprints = next(b for b in view.behind if b.name == "Short accelerations")
    assert sprints.people
    assert any("Lightning" in x for x in view.weather)
    assert not any("full run-up;" in x for x in view.weather), "nobody jumps from the full run-up on Monday"
    friday = coach_view(
        FRIDAY,
        SLOT,
        here(FRIDAY),
        given(),
        table=None,
        clash=None,
        lines={},
        revision=REVISION,
        paper=BOARDS["A4"],
    )
    assert any("3 m/s" in x and "full run-up;" in x for x in friday.weather)


def test_a_slot_without_a_timetable_says_why_and_lists_who_does_what_when_the_place_opens() -> None:
    clash = Clash(DAY, SLOT, (), "one pit for 40 jumps in half an hour", ("Maybe open it earlier.",))
    view = coach(timed=False, clash=clash)
    assert "one pit for 40 jumps" in view.warning and "Maybe open it earlier." in view.warning
    assert view.lines[0].clock == "17:00" and any(c.entries for c in view.lines[0].cells)


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_coachs_page_prints_on_the_long_side(tmp_path: Path, paper: str) -> None:
    report = printed(tmp_path, "session", "2027-04-05", SLOT, paper=paper)
    assert report.complete and not report.warnings, report
    reader = pdf(report)
    assert float(reader.pages[0].mediabox.width) > float(reader.pages[0].mediabox.height)
    text = text_of(reader)
    for needed in (
        "Mon 5 Apr 2027, evening",
        "17:00 to 18:55",
        "Coach's own copy",
        "Marit Lo stands at",
        "mid jumps",
        "Helpers",
        "Limits today",
        "What stands behind it",
        "Wet and windy",
        "Afterwards",
        "as planned",
    ):
        assert needed in text, needed


def test_a_lighter_row_goes_by_the_name_it_has_then() -> None:
    """Long jumps from a medium run-up become, lighter, jumps from a short one; full and lighter stand together."""
    made = given()
    unit = made.units["medium-long-jumps"]
    assert unit.lighter_short and unit.lighter_short != unit.short
    both = f"{unit.short} / {unit.lighter_short}"
    for lighter, what in (({world.S, world.T}, unit.lighter_short), ({world.T}, both)):
        timed = table()
        lines = tuple(
            replace(x, amount="lighter") if x.athlete in lighter and x.unit == unit.id else x for x in timed.lines
        )
        view = coach_view(
            DAY, SLOT, here(), made, table=replace(timed, lines=lines), clash=None, lines={}, revision=REVISION,
            paper=BOARDS["A4"],
        )  # fmt: skip
        entries = [e for x in view.lines if x.clock == "17:30" for c in x.cells for e in c.entries]
        (pit,) = [e for e in entries if "2 Tuva" in e.who]
        assert pit.what == what and "lighter" in pit.who
