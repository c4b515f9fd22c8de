"""No published figure is forgotten: every numbered row is tested, or a line says why not."""

from __future__ import annotations

import pytest

from tests.science import (
    test_heat_rows,
    test_jump_rows,
    test_load_rows,
    test_response_rows,
    test_sprint_rows,
    test_strength_rows,
    test_wind_rows,
)
from tests.science.published import EVERY_ROW, NOT_TESTED, PARTLY, SUBJECTS_ELSEWHERE, Row, numbers

ROWS: list[Row] = [
    *test_load_rows.ROWS, *test_response_rows.ROWS, *test_strength_rows.ROWS, *test_sprint_rows.ROWS,
    *test_wind_rows.ROWS, *test_jump_rows.ROWS, *test_heat_rows.ROWS,
]  # fmt: skip


@pytest.mark.parametrize("subject", sorted(EVERY_ROW))
def test_every_row_is_tested_or_accounted_for(subject: int) -> None:
    listed = {f"{subject}.{row}" for row in EVERY_ROW[subject]}
    tested = {number for number in numbers(ROWS) if number.split(".")[0] == str(subject)}
    assert listed - tested == {row for row in NOT_TESTED if row.split(".")[0] == str(subject)}


def test_subjects_are_here_or_elsewhere() -> None:
    assert sorted([*EVERY_ROW, *SUBJECTS_ELSEWHERE]) == list(range(1, 17))
    assert set(PARTLY) <= numbers(ROWS)


def test_every_row_has_a_source_and_a_name_of_its_own() -> None:
    names = [row.id for row in ROWS]
    assert len(set(names)) == len(names)
    assert all(len(row.source) >= len("derived") for row in ROWS)
