"""A day from a filled-in sheet, and runs from a timing file: all of it is recorded, or nothing."""

from __future__ import annotations

import csv
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from commands import Ran, here

from planner import known
from planner.catalogue import units
from planner.domain.facts import Done, Fact, Result
from planner.intake.day_sheet import write_day_sheet
from planner.ledger import Ledger

DAY, EVENING = "2027-03-01", "2027-03-01 21:00"
ADA = "Ada Lindmoor"


def facts(folder: Path) -> tuple[Fact, ...]:
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        return ledger.facts()


def refused(ran: Ran, folder: Path, *words: str) -> None:
    """Exit 2, every one of these words said, and nothing recorded."""
    assert ran.code == 2, ran.said
    for word in words:
        assert word in ran.err, f"'{word}' is missing in: {ran.err}"
    assert "Maybe" in ran.err and "bug" not in ran.err and facts(folder) == ()


def fullest(folder: Path) -> str:
    """The day with the most units, at least four of them: the plan may change, the tests need rows."""
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        placements = ledger.revision(1, units()).placements
    count = Counter(str(p.day) for p in placements)
    day, most = max(sorted(count.items()), key=lambda found: found[1])
    assert most >= 4
    return day


def evening(folder: Path) -> str:
    return f"{fullest(folder)} 21:00"


def blank(folder: Path, name: str = "day.csv") -> Path:
    sheet = folder / name
    ran = here("day", folder, fullest(folder), "--blank", sheet)
    assert ran.code == 0 and str(sheet) in ran.out, ran.said
    return sheet


def filled(sheet: Path, *changes: tuple[int, str, str]) -> None:
    """Put (row from 0, column, text) into a CSV sheet."""
    rows = list(csv.DictReader(sheet.read_text(encoding="utf-8").splitlines()))
    for row, column, text in changes:
        rows[row][column] = text
    with sheet.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


# --- the day's sheet -------------------------------------------------------------------------------------------


def test_a_blank_sheet_left_as_it_is_says_as_planned(given: Path) -> None:
    sheet = blank(given)
    ran = here("day", given, "--from", sheet, "--now", evening(given))
    rows = len(sheet.read_text(encoding="utf-8").splitlines()) - 1
    assert ran.code == 0 and f"{rows} as planned, 0 otherwise" in ran.out, ran.said
    assert len(facts(given)) == rows >= 4
    assert {(f.athlete, f.remark, f.amount) for f in facts(given) if isinstance(f, Done)} == {
        (ADA, "as planned", None)
    }


def test_one_of_a_measure_is_one_and_not_several(given: Path) -> None:
    problem, stored = known.at_a_glance(given / "block.yaml")
    two = enumerate(stored.placements[:2], 1)
    placements = [replace(p, dose=replace(p.dose, amount=n, measure="sets")) for n, p in two]
    text = write_day_sheet(given / "one.csv", placements, problem).read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    assert {row["planned"].split(":")[0].split(",")[0] for row in rows} == {"1 set", "2 sets"}


def test_what_is_written_in_by_unit_is_recorded(given: Path) -> None:
    sheet = blank(given)
    filled(
        sheet, (0, "done", "4 of 6"), (0, "felt", "flat"), (1, "remark", "missed"), (2, "done", "lighter"),
        (3, "effort", "7"), (3, "note", "kept an eye on the left foot"),
    )  # fmt: skip
    ran = here("day", given, fullest(given), "--from", sheet, "--now", evening(given))
    assert ran.code == 0 and " as planned, 3 otherwise" in ran.out and "planner replan" in ran.out, ran.said
    first, second, third, fourth, *_ = (f for f in facts(given) if isinstance(f, Done))
    assert (first.amount, first.felt, first.remark) == (4, "flat", "as planned")
    assert second.remark == "missed" and third.remark == "lighter"
    assert fourth.effort == 7 and fourth.note == "kept an eye on the left foot"


def test_a_workbook_and_the_plans_own_export_will_do_as_well(given: Path) -> None:
    import openpyxl

    sheet = blank(given, "day.xlsx")
    book = openpyxl.load_workbook(sheet)
    columns = [c.value for c in book["day"][1]]
    book["day"].cell(2, columns.index("done") + 1, 4)
    book["day"].cell(3, columns.index("remark") + 1, "missed")
    book.save(sheet)
    assert here("day", given, "--from", sheet, "--now", evening(given)).code == 0
    assert [(f.amount, f.remark) for f in facts(given) if isinstance(f, Done)][:2] == [
        (4, "as planned"),
        (None, "missed"),
    ]

    exported = given / "plan.csv"
    assert here("export", given, "--csv", "--to", exported).code == 0
    lines = exported.read_text(encoding="utf-8").splitlines()
    before = len(facts(given))
    others = [f"{line}," for line in lines[1:] if fullest(given) not in line]
    exported.write_text("\n".join([f"{lines[0]},done", *others]), encoding="utf-8")
    ran = here("day", given, "--from", exported, "--now", "2027-03-07 21:00")
    assert ran.code == 0 and len(facts(given)) == before + len(others), ran.said


def test_a_blank_sheet_is_never_written_over_a_filled_one(given: Path) -> None:
    sheet = blank(given)
    filled(sheet, (0, "done", "4"))
    before = sheet.read_bytes()
    ran = here("day", given, fullest(given), "--blank", sheet)
    assert ran.code == 2 and "already" in ran.err and sheet.read_bytes() == before


def test_rows_taken_out_are_named_and_nothing_is_recorded_of_them(given: Path) -> None:
    sheet = blank(given)
    sheet.write_text("\n".join(sheet.read_text(encoding="utf-8").splitlines()[:3]), encoding="utf-8")
    ran = here("day", given, "--from", sheet, "--now", evening(given))
    assert ran.code == 0 and "Not in the sheet" in ran.out and len(facts(given)) == 2, ran.said


def test_all_that_is_wrong_with_a_sheet_is_told_at_once(given: Path) -> None:
    sheet = blank(given)
    filled(
        sheet, (0, "athlete", "Ada Lindmor"), (1, "date", "2027-04-31"), (2, "unit", ""),
        (3, "remark", "missed"), (3, "done", "3"),
    )  # fmt: skip
    refused(
        here("day", given, "--from", sheet, "--now", evening(given)), given,
        "line 2", "'Ada Lindmoor' is meant", "line 3", "2027-04-31", "line 4", "half-filled", "unit",
        "line 5", "3 of a missed unit",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ((0, "done", "some"), "how much was done"),
        ((0, "done", "-3"), "how much was done"),
        ((0, "remark", "perhaps"), "as planned, lighter, missed"),
        ((0, "effort", "11"), "effort"),
        ((0, "date", "2027-05-01"), "a day of the block"),
        ((0, "slot", "midnight"), "a slot of the block"),
        ((0, "unit", "flying sprints"), "not planned there"),
        ((0, "felt", "=1+1"), "formula"),
        ((0, "done", "0"), "0 done as planned"),
    ],
)
def test_a_cell_that_cannot_be_is_named_by_line_and_column(
    given: Path, row: tuple[int, str, str], said: str
) -> None:
    sheet = blank(given)
    filled(sheet, row)
    refused(here("day", given, "--from", sheet, "--now", evening(given)), given, "line 2", row[1], said)


def test_a_day_to_come_is_not_done_yet(given: Path) -> None:
    refused(here("day", given, "--from", blank(given), "--now", "2027-02-28 20:00"), given, "a day up to today")


def test_done_and_missed_in_one_sheet_contradict_each_other(given: Path) -> None:
    sheet = blank(given)
    lines = sheet.read_text(encoding="utf-8").splitlines()
    cells = lines[1].split(",")
    cells[6] = "missed"
    sheet.write_text("\n".join([*lines, ",".join(cells)]), encoding="utf-8")
    ran = here("day", given, "--from", sheet, "--now", evening(given))
    refused(ran, given, f"line {len(lines) + 1}", "a second time")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("athlete,date,slot,unit\nA,2027-03-01,training,x", "neither a column 'done' nor 'remark'"),
        ("athlete,date,unit,done,colour\nA,2027-03-01,x,,", "the unknown column 'colour'"),
        ("athlete,date,unit,done\nA,2027-03-01,x,", "no column slot"),
        ("", "an empty file"),
        ("athlete,date,slot,unit,done\n", "no filled row"),
        ("athlete,date,slot,unit,done\nA,2027-03-01,training,x,,,,too many", "under no column name"),
    ],
)
def test_wrong_headers_and_empty_sheets(given: Path, text: str, said: str) -> None:
    sheet = given / "own.csv"
    sheet.write_text(text, encoding="utf-8")
    refused(here("day", given, "--from", sheet, "--now", evening(given)), given, said)


def test_a_sheet_for_another_day_than_asked_for(given: Path) -> None:
    ran = here("day", given, "2027-03-07", "--from", blank(given), "--now", "2027-03-07 20:00")
    refused(ran, given, "the day asked for, 2027-03-07")


# --- timing files ----------------------------------------------------------------------------------------------


def times(folder: Path, text: str) -> Path:
    path = folder / "gate.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_runs_of_a_gate_by_columns_named_once(given: Path) -> None:
    gate = times(given, "Lane;Runner;First gate;Second gate\n1;Lindmoor, Ada;1,93;4,415\n2;ada lindmoor;;4,38\n")
    means = "athlete=Runner; 10 m=First gate; 30 m=Second gate"
    ran = here("day", given, DAY, "--timing", gate, "--columns", means, "--now", EVENING)
    assert ran.code == 0 and "3 runs of 1 athlete." in ran.out, ran.said
    found = {f.event: [a.value for a in f.attempts] for f in facts(given) if isinstance(f, Result)}
    assert found == {"10 m": [193], "30 m": [442, 438]}
    assert (given / "block.timing.csv").is_file()

    gate = times(given, "Runner;First gate;Second gate\nAda Lindmoor;1,91;4,30\n")
    ran = here("day", given, "2027-03-02", "--timing", gate, "--now", "2027-03-02 21:00")
    assert ran.code == 0 and "2 runs" in ran.out, ran.said
    assert [f.day.day for f in facts(given) if isinstance(f, Result)] == [1, 1, 2, 2]


def test_a_row_a_run_with_date_distance_and_wind(given: Path) -> None:
    gate = times(
        given, "when,who,dist,ms,wind\n2027-03-01 18:02:00,Ada Lindmoor,30,4412,+0.8\n"
        "2027-03-01 18:09:00,Ada Lindmoor,30,4380,\n",
    )  # fmt: skip
    means = "athlete=who; date=when; event=dist; time=ms; wind=wind; unit=ms"
    ran = here("day", given, "--timing", gate, "--columns", means, "--now", EVENING)
    assert ran.code == 0, ran.said
    (only,) = (f for f in facts(given) if isinstance(f, Result))
    assert [(a.value, a.wind) for a in only.attempts] == [(441, 8), (438, None)]


def test_the_same_timing_file_twice_is_refused(given: Path) -> None:
    gate = times(given, "Runner,Time\nAda Lindmoor,4.41\n")
    words = ("day", given, DAY, "--timing", gate, "--columns", "athlete=Runner; 30 m=Time", "--now", EVENING)
    assert here(*words).code == 0
    ran = here(*words)
    assert ran.code == 2 and "a second time" in ran.err and len(facts(given)) == 1, ran.said


def test_all_that_is_wrong_with_a_timing_file_is_told_at_once(given: Path) -> None:
    gate = times(given, "Runner,Time\nBo Stern,4.41\nAda Lindmoor,\nAda Lindmoor,fast\nAda Lindmoor,1.2\n")
    ran = here(
        "day", given, DAY, "--timing", gate, "--columns", "athlete=Runner; 30 m=Time", "--now", EVENING
    )
    refused(
        ran, given, "line 2", "an athlete of the block", "line 3", "half-filled", "line 4", "'fast'",
        "line 5", "30 m in 1.20 s",
    )  # fmt: skip
    assert not (given / "block.timing.csv").exists()  # columns are kept only with a file that could be read


@pytest.mark.parametrize(
    ("means", "said"),
    [
        ("30 m=Time", "no column that means athlete"),
        ("athlete=Runner", "no column with times"),
        ("athlete=Runner; 30 m=Tme", "no column 'Tme'"),
        ("athlete=Runner; 31 m=Time", "30 m"),
        ("athlete=Runner; 30 m=Time; time=Time", "one of the two ways"),
        ("athlete=Runner; 30 m=Time; unit=hours", "ms (thousandths)"),
    ],
)
def test_columns_that_mean_nothing(given: Path, means: str, said: str) -> None:
    gate = times(given, "Runner,Time\nAda Lindmoor,4.41\n")
    refused(here("day", given, DAY, "--timing", gate, "--columns", means, "--now", EVENING), given, said)


def test_without_columns_the_command_says_how_to_name_them(given: Path) -> None:
    gate = times(given, "Runner,Time\nAda Lindmoor,4.41\n")
    refused(here("day", given, DAY, "--timing", gate, "--now", EVENING), given, "block.timing.csv", "--columns")
