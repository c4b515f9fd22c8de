"""Files that are no block file, or damaged, or unreadable: clean complaints, in both kinds of file."""

from __future__ import annotations

import os
import sys
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from coachs_files import KINDS, SMALL, complaints, edited, setting, write, yaml_text

# --- files that are not what they should be -----------------------------------------------------------


def _yaml(tmp_path: Path, text: str | bytes) -> Path:
    path = tmp_path / "block.yaml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("athletes: &a [*a]\n", "a row of 'athletes'"),
        ("athletes:\n  - &r {name: x, levels: *r}\n", "an alias that contains itself"),
        ("a: &a\n  b: *a\n", "unknown table 'a'"),
        ("block: &b {name: *b}\n", "contains itself"),
        ("block: {name: [\n", "not YAML"),
        ("block:\n\tname: x\n", "not YAML"),
        ("block:\n\tname: x\n", "a tab stands before this line"),
        ("block:\n  name: x\n   from: 2027-03-01\n", "too far left or right"),
        ("block:\n  name:x\n  from: 2027-03-01\n", "a blank is missing behind the ':' of 'name:x'"),
        ("away:\n  - {kind: exam\n  - {kind: travel}\n", "a bracket is missing in '- {kind: exam'"),
        ("athletes:\n  - {name: x, mark: 6,35 m}\n", "a decimal point belongs there"),
        ("just words\n", "no table"),
        ("", "an empty file"),
        ("# only a note\n", "an empty file"),
        ("- block\n- athletes\n", "no table"),
        ("block: {name: x}\n---\nblock: {name: y}\n", "not YAML"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"block: {name: \xe9}\n", "UTF-8"),
        (b"\x00\x01\x02", "not YAML"),
        ('block: {name: "\\U99999999"}\n', "not YAML"),
        ("[" * 4000, "deep"),
        ("athletes: " + "[" * 60 + "x" + "]" * 60, "a list"),
        ("athletes:\n  - name: " + "[" * 60 + "x" + "]" * 60 + "\n", "deep"),
        ("? [a, b]\n: c\n", "a list where a key belongs"),
        ("athletes: Tove\n", "a list of rows"),
        ("athletes:\n  - Tove\n", "a row of 'athletes'"),
        ("athletes: {name: Tove}\n", "put '- ' before each row"),
    ],
)
def test_not_a_block_file(text: str | bytes, words: str, tmp_path: Path) -> None:
    assert any(words in c for c in complaints(_yaml(tmp_path, text)))


def test_aliases_that_multiply(tmp_path: Path) -> None:
    lines = ["athletes:", "  - name: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"  - name: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 12)]
    assert any("multiply" in c for c in complaints(_yaml(tmp_path, "\n".join(lines) + "\n")))


def test_key_given_twice(tmp_path: Path) -> None:
    text = yaml_text(SMALL).replace('  name: "Spring"', "  name: Spring\n  name: Summer")
    (only,) = complaints(_yaml(tmp_path, text))
    assert "line 3, column 3" in only
    assert "'name' a second time (first in line 2)" in only


def test_table_given_twice(tmp_path: Path) -> None:
    (only,) = complaints(_yaml(tmp_path, yaml_text(SMALL) + "coaches:\n  - {name: Odd}\n"))
    assert "'coaches' a second time" in only


def test_another_kind_of_file_is_given_up(tmp_path: Path) -> None:
    text = yaml_text(SMALL) + "weather:\n" + "  - {rain: maybe}\n" * 6000
    found = complaints(_yaml(tmp_path, text))
    assert any("6000 rows of 'weather'" in c for c in found)
    assert "more than 300 problems" in found[-1] and len(found) <= 302


@pytest.mark.parametrize("kind", KINDS)
def test_oversized(kind: str, tmp_path: Path) -> None:
    path = tmp_path / f"block.{kind}"
    path.write_bytes(b"#" * 2_000_001)
    (only,) = complaints(path)
    assert "more than 2 MB" in only


def test_a_workbook_that_unpacks_to_too_much(tmp_path: Path) -> None:
    path = write("xlsx", tmp_path, SMALL)
    with zipfile.ZipFile(path, "a", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("padding", b"0" * 41_000_000)
    (only,) = complaints(path)
    assert "when unpacked" in only


@pytest.mark.parametrize("kind", KINDS)
def test_missing_file_and_folder(kind: str, tmp_path: Path) -> None:
    (only,) = complaints(tmp_path / f"nothing.{kind}")
    assert "no such file" in only
    folder = tmp_path / f"folder.{kind}"
    folder.mkdir()
    (only,) = complaints(folder)
    assert "a folder" in only


@pytest.mark.skipif(sys.platform == "win32", reason="folders have other rights there")
def test_unreadable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write("yaml", tmp_path, SMALL)
    if os.geteuid() == 0:  # the superuser may read everything, so the refusal is acted out

        def refuse(self: Path, *args: object, **more: object) -> object:
            raise PermissionError(13, "Permission denied", str(self))

        monkeypatch.setattr(Path, "open", refuse)
    else:
        path.chmod(0)
    (only,) = complaints(path)
    assert "you may not read" in only


def test_other_endings(tmp_path: Path) -> None:
    path = tmp_path / "block.csv"
    path.write_text("name\n")
    (only,) = complaints(path)
    assert "ends in '.csv'" in only and ".xlsx" in only


# --- workbooks ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("data", [b"not packed", b"PK\x03\x04broken", b""])
def test_not_a_workbook(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "block.xlsx"
    path.write_bytes(data)
    (only,) = complaints(path)
    assert "no workbook" in only


def test_damaged_inside(tmp_path: Path) -> None:
    path = tmp_path / "block.xlsx"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("[Content_Types].xml", "<broken")
    (only,) = complaints(path)
    assert "damaged" in only


def test_renamed_header(tmp_path: Path) -> None:
    path = write("xlsx", tmp_path, SMALL)
    book: Any = openpyxl.load_workbook(path)
    book["athletes"]["A1"] = "nmae"
    book.save(path)
    unknown, missing = complaints(path)
    assert "sheet athletes, cell A1" in unknown and "'nmae'" in unknown and "Maybe 'name'" in unknown
    assert "no column 'name'" in missing


@pytest.mark.parametrize("text", ["2006-05-01", "1 May 2006"])
def test_text_where_a_date_belongs(text: str, tmp_path: Path) -> None:
    (only,) = complaints(write("xlsx", tmp_path, edited(setting("athletes", 0, born=text))))
    assert "cell B2, born" in only and "a real date cell" in only and "formatted as text" in only


def test_formula_in_a_cell(tmp_path: Path) -> None:
    path = write("xlsx", tmp_path, SMALL)
    book: Any = openpyxl.load_workbook(path)
    book["block"]["B2"] = "=TODAY()"
    book.save(path)
    (only,) = complaints(path)
    assert "cell B2, from: found a formula" in only and "paste it as values" in only


def test_a_cell_under_no_name(tmp_path: Path) -> None:
    path = write("xlsx", tmp_path, SMALL)
    book: Any = openpyxl.load_workbook(path)
    book["athletes"]["H2"] = "remember her shoes"
    book.create_sheet("Notes of mine")["A1"] = "left alone"
    book.save(path)
    (only,) = complaints(path)
    assert "cell H2" in only and "under no column name" in only
