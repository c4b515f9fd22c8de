"""Camp dates, dusk, crossing places, quiet runways and hold-backs: what the file may say and get wrong."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import pytest
from coachs_files import KINDS, complaints, edited, small, write

from planner.intake import read_block


@pytest.mark.parametrize("kind", KINDS)
def test_all_of_it_is_read(kind: str, tmp_path: Path) -> None:
    tables = edited(
        lambda t: (
            t["block"].update(camp_from=date(2027, 3, 24), camp_until=date(2027, 3, 28), dusk="18:40"),
            t["athletes"][0].update(needs="caller; quiet runway"),
        )
    )
    tables["venues"] = [
        {"venue": "field", "place": "pit", "kind": "pit", "jumps_per_hour": 30, "crosses": "lanes"},
        {"venue": "field", "place": "lanes", "kind": "hurdles", "lit": "no", "dusk": "18:10"},
    ]
    tables["helpers"] = [{"name": "Ivo", "tasks": "caller; rake"}]
    tables["limits"] = [{"athlete": "Mirel Ost", "kind": "hold back", "stage": 5, "lighter_only": "yes"}]
    block = read_block(write(kind, tmp_path, tables))
    assert (block.camp_begins, block.camp_ends) == (date(2027, 3, 24), date(2027, 3, 28))
    assert block.dusk == time(18, 40)
    assert block.athletes[0].needs == ("caller", "quiet runway")
    places = {o.place.name: o.place for o in block.openings}
    assert places["pit"].crosses == ("lanes",)
    assert places["lanes"].dusk == time(18, 10)
    assert {p.tasks for p in block.presences if p.name == "Ivo"} == {("caller", "rake")}
    assert block.limits[0].hold_back and block.limits[0].lighter_only and block.limits[0].stage == 5


@pytest.mark.parametrize("kind", KINDS)
def test_silence_means_none(kind: str, tmp_path: Path) -> None:
    block = read_block(write(kind, tmp_path, small()))
    assert (block.camp_begins, block.camp_ends, block.dusk) == (None, None, None)
    assert all(a.needs == () for a in block.athletes)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    ("block", "words"),
    [
        ({"camp_from": date(2027, 3, 24)}, "'camp_from' and 'camp_until'"),
        ({"camp_from": date(2027, 3, 20), "camp_until": date(2027, 3, 24)}, "outside the block"),
        ({"camp_from": date(2027, 3, 26), "camp_until": date(2027, 3, 24)}, "before the beginning"),
    ],
)
def test_camp_dates_that_do_not_fit(
    kind: str, block: dict[str, date], words: str, tmp_path: Path
) -> None:
    found = complaints(write(kind, tmp_path, edited(lambda t: t["block"].update(block))))
    assert len(found) == 1
    assert words in found[0] and "Maybe" in found[0]


@pytest.mark.parametrize("kind", KINDS)
def test_a_crossing_place_must_exist(kind: str, tmp_path: Path) -> None:
    venues = [{"venue": "field", "place": "pit", "kind": "pit", "jumps_per_hour": 30, "crosses": "lane"}]
    found = complaints(write(kind, tmp_path, small(venues=venues)))
    assert len(found) == 1
    assert "the unknown place 'lane'" in found[0]
