"""The shoe of a run-up in the file: named, by its length, left out where there is only one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from coachs_files import KINDS, complaints, small, write

from planner.domain.shoe import NO_SHOE, Shoe
from planner.intake import read_block

TOVE = "Tove Marn"


def rows(*shoes: str, **more: Any) -> list[dict[str, Any]]:
    """Run-ups of growing length, each in one of the shoes ('' leaves the cell empty)."""
    return [
        {"athlete": TOVE, "event": "long jump", "steps": 14 + 2 * i, "start_mark": f"{26 + 3 * i}.00 m", **more,
         **({"shoe": shoe} if shoe else {})}
        for i, shoe in enumerate(shoes)
    ]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_every_row_has_its_whole_shoe(kind: str, tmp_path: Path) -> None:
    spikes, flats = Shoe("spikes", 262), Shoe("flats", 270)
    given = rows("spikes", "flats 27.0 cm", "Spikes 26.2 cm", "270 mm")
    block = read_block(write(kind, tmp_path, small(run_ups=given)))
    assert [r.worn for r in block.run_ups] == [spikes, flats, spikes, flats]
    assert not [a for a in block.assumptions if "shoe" in a.text]


@pytest.mark.parametrize("kind", KINDS)
def test_the_only_shoe_is_taken_and_said(kind: str, tmp_path: Path) -> None:
    block = read_block(write(kind, tmp_path, small(run_ups=rows("spikes 26.2 cm", ""))))
    assert [r.worn for r in block.run_ups] == [Shoe("spikes", 262)] * 2
    (said,) = [a for a in block.assumptions if "shoe" in a.text]
    assert (said.subject, said.text) == (TOVE, "shoe of the long jump from 16 steps not given: spikes 26.2 cm")
    nobody = read_block(write(kind, tmp_path, small(run_ups=rows("", ""))))
    assert [r.worn for r in nobody.run_ups] == [NO_SHOE] * 2
    assert not any("shoe" in a.text for a in nobody.assumptions)


@pytest.mark.parametrize("kind", KINDS)
def test_two_shoes_have_two_marks_for_one_run_up_of_one_day(kind: str, tmp_path: Path) -> None:
    two = [dict(r, steps=18) for r in rows("spikes 26.2 cm", "flats 27.0 cm")]
    assert len(read_block(write(kind, tmp_path, small(run_ups=two))).run_ups) == 2
    same = [dict(r, steps=18) for r in rows("spikes 26.2 cm", "spikes")]
    (said,) = complaints(write(kind, tmp_path, small(run_ups=same)))
    assert "29.00 m beside 26.00 m for the same run-up" in said and "name the shoe of each" in said


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    ("given", "said"),
    [
        (("spikes 26.2 cm", "flats 27.0 cm", ""),
         "found no shoe where 'Tove Marn' has 2; needed the name of one of them: spikes 26.2 cm, flats 27.0 cm. "
         "Maybe write shoe: spikes."),
        (("old spikes 26.2 cm", "new spikes 26.2 cm", "26.2 cm"), "found 26.2 cm where 'Tove Marn' has 3"),
        (("spikes 26.2 cm", "spikes 26.5 cm"), "found spikes 26.5 cm beside spikes 26.2 cm; needed one length"),
        (("spikes 62 cm",), "15 to 40 cm"),
        (("EU 40",), "a size is no length. Maybe measure the sole from toe to heel"),
        (("26.2",), "such as 'spikes 26.2 cm'"),
    ],
)  # fmt: skip
def test_which_shoe_is_meant_must_be_clear(kind: str, given: tuple[str, ...], said: str, tmp_path: Path) -> None:
    found = complaints(write(kind, tmp_path, small(run_ups=rows(*given))))
    assert any(said in one for one in found), found
    assert all("shoe" in one or "F" in one for one in found), "the column or the cell is named"
