"""A table a person wrote becomes a plan, or every problem of it is told at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path

import pytest

from planner.domain.block import Athlete, Opening, Place
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.review.complaint import BadTable
from planner.review.table import read_plan_table
from planner.rules._tiny import World, draw, problem

UNITS = ("flying-sprints", "heavy-strength", "full-run-ups", "full-long-jumps", "extensive-tempo")
HEAD = "athlete,date,slot,unit,amount"
MONDAY = date(2027, 3, 1)


@pytest.fixture(scope="module")
def world() -> Problem:
    return problem(World(UNITS, days=7, athletes=2, amounts=("full", "lighter")))


def table(tmp_path: Path, text: str | bytes, name: str = "plan.csv") -> Path:
    path = tmp_path / name
    path.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return path


def read(tmp_path: Path, problem: Problem, *rows: str, head: str = HEAD) -> tuple[Plan, frozenset[str]]:
    return read_plan_table(table(tmp_path, "\n".join((head, *rows)) + "\n"), problem)


def only(tmp_path: Path, problem: Problem, row: str, head: str = HEAD) -> Placement:
    (placement,) = read(tmp_path, problem, row, head=head)[0].placements
    return placement


def complaints(tmp_path: Path, problem: Problem, *rows: str, head: str = HEAD) -> list[str]:
    with pytest.raises(BadTable) as caught:
        read(tmp_path, problem, *rows, head=head)
    assert str(caught.value) == "\n".join(str(c) for c in caught.value.complaints)
    return [str(c) for c in caught.value.complaints]


def test_rows_become_the_candidates_themselves(tmp_path: Path, world: Problem) -> None:
    plan, given = read(
        tmp_path,
        world,
        "Ada,2027-03-01,evening,flying-sprints,full",
        "Ada,2027-03-03,evening,heavy-strength,lighter",
        "Bo,2027-03-02,evening,extensive-tempo,full",
    )
    wanted = Plan.of(draw(world, "flying-sprints | - | heavy-strength lighter\n- | extensive-tempo"))
    assert plan == wanted
    assert all(any(p is c for c in world.candidates) for p in plan.placements)
    assert given == frozenset()


def test_a_semicolon_a_mark_a_case_and_display_names_are_understood(tmp_path: Path, world: Problem) -> None:
    head = "\ufeffUnit; Amount ;DATE;Athlete;slot;coach"
    text = head + "\r\nFlying sprints;FULL;2027-03-01;ada;Evening;kit\r\n\r\n"
    plan, given = read_plan_table(table(tmp_path, text), world)
    (p,) = plan.placements
    assert (p.athlete, p.unit.id, p.slot, p.coach) == ("Ada", "flying-sprints", "evening", "Kit")
    assert given == {"coach"}


def test_an_optional_column_without_a_filled_cell_is_not_given(tmp_path: Path, world: Problem) -> None:
    head = HEAD + ",coach,place,order,group"
    _, given = read(tmp_path, world, "Ada,2027-03-01,evening,flying-sprints,full,,straight,1,", head=head)
    assert given == {"place", "order"}


def test_a_group_trains_together_and_others_do_not(tmp_path: Path, world: Problem) -> None:
    head = HEAD + ",group"
    rows = [f"{name},2027-03-0{day},evening,full-run-ups,full,{group}" for name, day, group in (
        ("Ada", 1, "jumpers"), ("Bo", 1, "jumpers"), ("Ada", 3, "jumpers"), ("Bo", 3, ""))]  # fmt: skip
    plan, _ = read(tmp_path, world, *rows, head=head)
    assert {(p.athlete, p.day.day): p.partners for p in plan.placements} == {
        ("Ada", 1): ("Bo",), ("Bo", 1): ("Ada",), ("Ada", 3): (), ("Bo", 3): ()}  # fmt: skip


# --- amounts -----------------------------------------------------------------------------------------


def test_a_figure_that_is_the_weeks_amount_is_that_amount(tmp_path: Path, world: Problem) -> None:
    full, _ = world.weeks["Ada"][0].doses["flying-sprints"]
    p = only(tmp_path, world, f"Ada,2027-03-01,evening,flying-sprints,{full.amount} m")
    assert p.dose == full and p in world.candidates


@pytest.mark.parametrize(
    ("unit", "text", "amount"),
    [
        ("flying-sprints", "60 m", 60),
        ("flying-sprints", "60 metres", 60),
        ("flying-sprints", "60m", 60),
        ("flying-sprints", "4x30 m", 120),
        ("flying-sprints", "4 × 30 m", 120),
        ("full-run-ups", "6 run-ups", 6),
        ("full-run-ups", "1 run-up", 1),
        ("heavy-strength", "3x3@85 %", 3),
        ("heavy-strength", "3 x 3 at 85 %", 3),
        ("heavy-strength", "5x5", 5),
        ("heavy-strength", "4 sets", 4),
    ],
)
def test_a_figure_with_its_unit(tmp_path: Path, world: Problem, unit: str, text: str, amount: int) -> None:
    p = only(tmp_path, world, f"Ada,2027-03-01,evening,{unit},{text}")
    assert (p.dose.amount, p.dose.measure) == (amount, p.unit.measure)


def test_a_figure_scales_the_full_amount_in_proportion(tmp_path: Path, world: Problem) -> None:
    """Hand count: full is 150 m in 65 minutes; 60 m is two fifths: 60 fast metres, 26 minutes."""
    full, _ = world.weeks["Ada"][0].doses["flying-sprints"]
    assert (full.amount, full.minutes, full.counters) == (150, 65, {"fast-metres": 150})
    dose = only(tmp_path, world, "Ada,2027-03-01,evening,flying-sprints,60 m").dose
    assert (dose.word, dose.minutes, dose.counters) == ("full", 26, {"fast-metres": 60})
    assert (dose.neural, dose.effort, dose.loads) == (full.neural, full.effort, full.loads)


def test_take_offs_scale_with_their_legs_and_keep_their_sum(tmp_path: Path, world: Problem) -> None:
    full, _ = world.weeks["Ada"][0].doses["full-long-jumps"]
    dose = only(tmp_path, world, "Ada,2027-03-01,evening,full-long-jumps,3 jumps").dose
    assert dose.counters["take-offs"] == 3 * full.counters["take-offs"] // full.amount == 3
    assert dict(dose.take_offs) == {"left": 3, "right": 0}


def test_more_of_it_may_make_it_a_fast_day(tmp_path: Path, world: Problem) -> None:
    """Full run-ups: fast from the seventh on; lifts: fast from 90 percent on."""
    neural = {
        text: only(tmp_path, world, f"Ada,2027-03-01,evening,{text}").dose.neural
        for text in (
            "full-run-ups,6 run-ups", "full-run-ups,7 run-ups",
            "heavy-strength,3x3@85 %", "heavy-strength,3x3@90 %", "heavy-strength,3x2@85-92 %",
        )
    }  # fmt: skip
    assert list(neural.values()) == [2, 3, 2, 3, 3]


@pytest.mark.parametrize(
    ("unit", "amount", "said"),
    [
        ("flying-sprints", "60", "a figure needs its unit; Flying sprints is counted in metres"),
        ("flying-sprints", "6 run-ups", "counted in metres: full, lighter or a whole figure is needed"),
        ("flying-sprints", "", "found an empty cell; needed Flying"),
        ("flying-sprints", "0 m", "found '0 m'"),
        ("flying-sprints", "-60 m", "found '-60 m'"),
        ("flying-sprints", "1.5 km", "found '1.5 km'"),
        ("flying-sprints", "4x30", "Maybe '4x30 metres' is meant."),
        ("heavy-strength", "3x3@850 %", "found '3x3@850 %'"),
        ("heavy-strength", "a lot", "found 'a lot'"),
    ],
)
def test_an_amount_that_says_nothing_is_refused(
    tmp_path: Path, world: Problem, unit: str, amount: str, said: str
) -> None:
    (text,) = complaints(tmp_path, world, f"Ada,2027-03-01,evening,{unit},{amount}")
    assert text.startswith("plan.csv, line 2, column 5, amount: found ") and said in text and "Maybe" in text


# --- what the program would not place ----------------------------------------------------------------


def test_what_the_program_would_never_offer_can_still_be_written(tmp_path: Path) -> None:
    """No candidates at all: the dose is the week's, the place and the start those of the slot."""
    offered = problem(World(UNITS, days=7, amounts=("full", "lighter")))
    bare = replace(offered, candidates=())
    p = only(tmp_path, bare, "Ada,2027-03-01,evening,full-long-jumps,lighter")
    assert p.dose == bare.weeks["Ada"][0].doses["full-long-jumps"][1]
    assert (p.place, p.venue, p.begins) == ("pit", "track", datetime(2027, 3, 1, 17))
    (same,) = (c for c in offered.candidates if c == p)
    assert same.dose == p.dose and same.begins == p.begins


def test_a_unit_the_week_holds_no_amount_of_takes_the_catalogues(tmp_path: Path, world: Problem) -> None:
    assert "full-high-jumps" not in world.weeks["Ada"][0].doses
    unit = world.units["full-high-jumps"]
    p = only(tmp_path, world, "Ada,2027-03-01,evening,full-high-jumps,full")
    assert p.dose.amount == unit.amounts["advanced"].low > 0
    assert p.dose.neural == unit.demand.neural
    assert p.dose.take_offs["left"] == p.dose.counters["take-offs"]
    lighter = only(tmp_path, world, "Ada,2027-03-01,evening,full-high-jumps,lighter")
    assert lighter.dose.neural == unit.lighter.neural < p.dose.neural


def test_a_place_is_taken_as_written_with_its_own_opening(tmp_path: Path) -> None:
    gym = Place("hall", "gym", "gym", 8, outdoor=False)
    made = problem(World(UNITS, days=2))
    late = Opening(MONDAY, "evening", gym, time(18, 30), time(20))
    block = replace(made.block, openings=(*made.block.openings, late))
    made = replace(made, block=block)
    head = HEAD + ",place"
    p = only(tmp_path, made, "Ada,2027-03-01,evening,heavy-strength,full,hall / gym", head)
    assert (p.venue, p.place, p.begins) == ("hall", "gym", datetime(2027, 3, 1, 18, 30))
    closed = only(tmp_path, made, "Ada,2027-03-02,evening,heavy-strength,full,hall / gym", head)
    assert (closed.venue, closed.begins) == ("hall", datetime(2027, 3, 2, 17))


def test_an_order_against_the_day_order_shows_in_the_starts(tmp_path: Path, world: Problem) -> None:
    head = HEAD + ",order"
    rows = ["Ada,2027-03-01,evening,flying-sprints,full,{}", "Ada,2027-03-01,evening,heavy-strength,full,{}"]
    usual, _ = read(tmp_path, world, rows[0].format(1), rows[1].format(2), head=head)
    assert {p.begins for p in usual.placements} == {datetime(2027, 3, 1, 17)}
    turned, _ = read(tmp_path, world, rows[0].format(2), rows[1].format(1), head=head)
    assert {p.unit.id: p.begins.minute for p in turned.placements} == {
        "heavy-strength": 0,
        "flying-sprints": 1,
    }


# --- all problems at once ----------------------------------------------------------------------------


def test_every_problem_is_told_with_line_column_and_nearest_spelling(tmp_path: Path, world: Problem) -> None:
    found = complaints(
        tmp_path,
        world,
        "Adda,2027-03-01,evening,flying-sprints,full",
        "Ada,2027-02-30,evening,flying-sprnts,full",
        "Ada,01.03.2027,evenning,flying-sprints,lots",
        "Ada,2028-03-01,evening,rest,full",
        "Ada,2027-03-02,evening,take-off-drills,full",
        "Ada,2027-03-02,evening,flying-sprints,full",
        "Ada,2027-03-02,evening,Flying sprints,lighter",
        "Ada,2027-03-03,evening,flying-sprints,full,more",
    )
    for text, (place, said) in zip(found, [
        ("line 2, column 1, athlete", "Maybe 'Ada' is meant."),
        ("line 3, column 2, date", "found '2027-02-30'; needed a real date"),
        ("line 3, column 4, unit", "Maybe 'flying-sprints' is meant."),
        ("line 4, column 2, date", "written year-month-day"),
        ("line 4, column 3, slot", "Maybe 'evening' is meant."),
        ("line 4, column 5, amount", "found 'lots'"),
        ("line 5, column 2, date", "a day of the block, 2027-03-01 to 2027-03-07"),
        ("line 5, column 4, unit", "rest is a day without rows"),
        ("line 6, column 4, unit", "comes with its session"),
        ("line 8, column 4, unit", "again, as in line 7"),
        ("line 9", "'more' behind the last column"),
    ], strict=True):  # fmt: skip
        assert text.startswith(f"plan.csv, {place}: found "), text
        assert said in text, text


def test_unknown_place_coach_and_order_are_told(tmp_path: Path, world: Problem) -> None:
    head = HEAD + ",place,coach,order"
    found = complaints(
        tmp_path, world, "Ada,2027-03-01,evening,flying-sprints,full,strait,Kitt,first", head=head
    )
    assert ["'straight'" in found[0], "'Kit'" in found[1], "a whole number" in found[2]] == [True] * 3


@pytest.mark.parametrize(
    ("head", "said"),
    [
        ("athlete,date,slot,unit", "found no column amount"),
        ("athlete,date,slot,unit,amount,cooch", "found 'cooch'; needed a column of athlete"),
        ("athlete,date,slot,unit,amount,unit", "found column 'unit' twice"),
        ("", "found an empty file; needed a first line 'athlete,date,slot,unit,amount'"),
        (HEAD, "found no rows"),
        (HEAD + '\n"Ada,2027-03-01', "Maybe a quotation mark was opened and not closed"),
    ],
)
def test_a_table_that_is_none(tmp_path: Path, world: Problem, head: str, said: str) -> None:
    assert any(said in text for text in complaints(tmp_path, world, head=head))


def test_a_file_that_cannot_be_read_or_is_not_utf_8(tmp_path: Path, world: Problem) -> None:
    with pytest.raises(BadTable, match=r"^none\.csv: found No such file"):
        read_plan_table(tmp_path / "none.csv", world)
    with pytest.raises(BadTable, match="found Is a directory"):
        read_plan_table(tmp_path, world)
    latin = table(tmp_path, f"{HEAD}\nRené,2027-03-01,evening,flying-sprints,full\n".encode("latin-1"))
    with pytest.raises(BadTable, match=r"line 2: found letters that are not UTF-8.*CSV UTF-8"):
        read_plan_table(latin, world)


def test_a_huge_file_is_refused_unread(tmp_path: Path, world: Problem) -> None:
    with pytest.raises(BadTable, match="at most 5000000 bytes"):
        read_plan_table(table(tmp_path, b"x" * 5_000_001), world)


def test_names_alike_but_for_case_are_told_apart_by_exact_spelling(tmp_path: Path) -> None:
    persons = tuple(Athlete(n, date(2000, 1, 1), level="advanced") for n in ("Mia K", "mia k"))
    made = problem(World(UNITS, days=2, persons=persons))
    assert only(tmp_path, made, "mia k,2027-03-01,evening,flying-sprints,full").athlete == "mia k"
    assert (
        "athlete: found 'MIA K'"
        in complaints(tmp_path, made, "MIA K,2027-03-01,evening,flying-sprints,full")[0]
    )
