"""YAML and workbook say the same; reading is repeatable; a new file reads back clean and nothing is lost."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from coachs_files import KINDS, SMALL, small, without_lines, write

from planner.domain.record import block_record, canonical
from planner.intake import BadFile, check_block, read_block, schema, write_new
from planner.intake.tables import TABLES, columns

FULL = Path(__file__).with_name("full.yaml")

TEN_LINES = """\
block:
  name: Spring
  from: 2027-03-22
  until: 2027-04-04
athletes:
  - name: Tove Marn
    events: long jump
    level: advanced
    age: 20
    take_off_leg: right
"""


def test_ten_lines_are_enough(tmp_path: Path) -> None:
    path = tmp_path / "ten.yaml"
    path.write_text(TEN_LINES)
    assert len(TEN_LINES.splitlines()) == 10
    block, warnings = check_block(path)
    assert warnings == ()
    assert len(block.slots) == 12  # two weeks, Monday to Saturday
    assert {(s.begins.hour, s.ends.hour) for s in block.slots} == {(17, 19)}
    assert {o.place.kind for o in block.openings} >= {"pit", "straight", "track", "gym", "grass"}
    assert {(p.name, p.minutes) for p in block.presences} == {("Coach", 120)}
    assert {a.subject for a in block.assumptions} == {"slots", "venues", "coaches", "block", "Tove Marn"}


def test_every_table_is_in_the_full_file() -> None:
    block = read_block(FULL)
    assert (len(block.slots), len(block.athletes), len(block.marks)) == (35, 3, 5)
    for part in (
        "run_ups",
        "away",
        "competitions",
        "limits",
        "themes",
        "phases",
        "fixed",
        "wishes",
        "settings",
        "before",
        "last_done",
        "weather",
        "own_units",
        "openings",
        "presences",
    ):
        assert getattr(block, part), part


def test_full_file_as_a_workbook_is_the_same_block(tmp_path: Path) -> None:
    path = write_new(tmp_path, like=FULL, workbook=True)
    assert path.name == "block.xlsx"
    assert without_lines(read_block(path)) == without_lines(read_block(FULL))


def test_small_file_is_the_same_in_both(tmp_path: Path) -> None:
    tables = small(
        away=[{"athlete": "Tove Marn", "from": date(2027, 3, 24), "kind": "exam"}],
        helpers=[{"name": "Åse", "tasks": "rake; adult", "hours": "Tue 17:00-18:00"}],
        before=[{"athlete": "Mirel Ost", "week": date(2027, 3, 15), "fast_metres": 300, "load": 1200}],
    )
    yaml, xlsx = (check_block(write(kind, tmp_path, tables)) for kind in KINDS)
    assert without_lines(yaml[0]) == without_lines(xlsx[0])
    assert [c.found for c in yaml[1]] == [c.found for c in xlsx[1]]


@pytest.mark.parametrize("kind", KINDS)
def test_read_twice_is_the_same_to_the_byte(kind: str, tmp_path: Path) -> None:
    path = write(kind, tmp_path, SMALL)
    assert canonical(block_record(read_block(path))) == canonical(block_record(read_block(path)))
    assert read_block(path) == read_block(path)


def test_the_same_under_another_hash_seed() -> None:
    code = (
        "import sys; from pathlib import Path; from planner.intake import check_block; "
        "print(repr(check_block(Path(sys.argv[1]))))"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code, str(FULL)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parents[2])},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert said[0] == said[1] != b""


def test_reading_yaml_leaves_the_workbook_reader_alone() -> None:
    code = (
        "import sys; from pathlib import Path; from planner.intake import read_block; "
        "read_block(Path(sys.argv[1])); print('openpyxl' in sys.modules, 'pandas' in sys.modules)"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    done = subprocess.run([sys.executable, "-c", code, str(FULL)], env=env, capture_output=True, check=True)
    assert done.stdout.split() == [b"False", b"False"]


# --- new files ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("workbook", [False, True])
def test_a_new_file_reads_clean(workbook: bool, tmp_path: Path) -> None:
    path = write_new(tmp_path / "spring" / "first", workbook=workbook)
    block, warnings = check_block(path)
    assert warnings == ()
    assert [a.name for a in block.athletes] == ["First Athlete", "Second Athlete"]
    assert sorted(p.name for p in path.parent.iterdir()) == [path.name]


def test_the_two_new_files_say_the_same(tmp_path: Path) -> None:
    yaml, xlsx = (read_block(write_new(tmp_path / str(w), workbook=w)) for w in (False, True))
    assert without_lines(yaml) == without_lines(xlsx)


def test_every_commented_example_of_the_new_file_is_good(tmp_path: Path) -> None:
    """A coach takes the '#' away and it works; the two rows with '...' are for a rule's own id."""
    lines = []
    for line in write_new(tmp_path / "new").read_text().splitlines():
        bare = line.removeprefix("# ")
        keeps = line.startswith("# ") and (bare.endswith(":") or bare.startswith(("  - ", "     ")))
        lines.append(bare if keeps else line)
    text = "\n".join(lines).replace("rule: ..., parameter: ..., value: 3", "rule: rest_day, tier: must")
    path = tmp_path / "bare.yaml"
    path.write_text(text.replace("rule: ...,", "rule: rest_day,") + "\n")
    block, warnings = check_block(path, known_rules={"rest_day": _NoNumbers()})
    assert warnings == ()
    for part in (
        "run_ups",
        "away",
        "limits",
        "themes",
        "phases",
        "fixed",
        "wishes",
        "settings",
        "before",
        "last_done",
        "weather",
        "own_units",
    ):
        assert getattr(block, part), part


class _NoNumbers:
    parameters: dict[str, Any] = {}  # noqa: RUF012


def test_like_copies_an_example_with_its_comments(tmp_path: Path) -> None:
    path = write_new(tmp_path / "new", like=FULL)
    assert path.read_bytes() == FULL.read_bytes()
    assert path.read_text().startswith("# A squad with every table")


def test_like_a_bad_file_writes_nothing(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("block: {}\n")
    with pytest.raises(BadFile):
        write_new(tmp_path / "new", like=bad)
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("workbook", [False, True])
def test_never_overwrites(workbook: bool, tmp_path: Path) -> None:
    path = write_new(tmp_path, workbook=workbook)
    path.write_bytes(b"mine")
    with pytest.raises(BadFile, match="already"):
        write_new(tmp_path, workbook=workbook)
    assert path.read_bytes() == b"mine"


def test_a_full_disk_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_new(tmp_path / "new")
    assert list(tmp_path.iterdir()) == []


def test_a_name_taken_while_writing_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def taken(source: str, target: Path) -> None:
        Path(target).write_bytes(b"mine")
        raise FileExistsError(errno.EEXIST, "File exists")

    monkeypatch.setattr(os, "link", taken)
    with pytest.raises(BadFile, match="already"):
        write_new(tmp_path)
    assert [(p.name, p.read_bytes()) for p in tmp_path.iterdir()] == [("block.yaml", b"mine")]


def test_a_disk_without_hard_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(source: str, target: Path) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", none)
    read_block(write_new(tmp_path))
    assert [p.name for p in tmp_path.iterdir()] == ["block.yaml"]


def test_the_blank_workbook(tmp_path: Path) -> None:
    one, two = (write_new(tmp_path / n, workbook=True) for n in "ab")
    assert one.read_bytes() == two.read_bytes()
    book: Any = openpyxl.load_workbook(one)
    assert [s.title for s in book if s.title != "lists"] == list(TABLES)
    for table in TABLES:
        sheet = book[table]
        assert tuple(c.value for c in sheet[1]) == columns(table)
        assert all(c.comment and c.comment.text for c in sheet[1])
    dropped = {str(v.sqref): v.formula1 for v in book["athletes"].data_validations.dataValidation}
    letter = chr(65 + columns("athletes").index("level"))
    assert dropped[f"{letter}2:{letter}500"] == '"novice,developing,advanced"'


# --- the schema ---------------------------------------------------------------------------------------


def test_schema_names_every_table_and_column_with_a_description() -> None:
    found = schema()
    assert found["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert found["required"] == ["block", "athletes"]
    assert tuple(found["properties"]) == tuple(TABLES)
    for table, part in found["properties"].items():
        assert part["description"]
        row = part if table == "block" else part["items"]
        assert tuple(row["properties"]) == columns(table)
        assert row["additionalProperties"] is False
        assert all(c["description"] for c in row["properties"].values())
    assert found["properties"]["athletes"]["items"]["required"] == ["name"]
    assert found["properties"]["limits"]["items"]["properties"]["stage"]["maximum"] == 6


def test_own_known_rules_and_units_are_used(tmp_path: Path) -> None:
    path = write(
        "yaml", tmp_path, small(fixed=[{"athlete": "all", "date": date(2027, 3, 23), "unit": "odd"}])
    )
    assert [w.unit for w in read_block(path, known_units={}).fixed] == ["odd", "odd"]
    with pytest.raises(BadFile, match="unknown unit 'odd'"):
        read_block(path)


def test_tables_are_in_file_order_and_every_record_knows_its_line() -> None:
    block = read_block(FULL)
    assert [a.name for a in block.athletes] == ["Tove Marn", 'Jory "Jo" O\'Wel <k>/é', "Mirel Ost"]
    assert [FULL.read_text().splitlines()[a.line.line - 1].strip()[:7] for a in block.athletes] == [
        "- name:"
    ] * 3
    assert all(o.line.line > 0 for o in block.openings) and all(p.line.line > 0 for p in block.presences)
