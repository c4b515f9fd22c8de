"""Competitions close together are told when the file is read: once, with the line of the one too many."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from coachs_files import small, write

from planner.intake import check_block

D = date


def warned(folder: Path, events: str, *dates: tuple[date, date]) -> list[str]:
    tables = small(
        competitions=[
            {"name": f"Meet {i}", "date": first, "until": last, "athletes": "Tove Marn", "events": events}
            for i, (first, last) in enumerate(dates, 1)
        ]
    )
    tables["athletes"][0]["events"] = events
    _, warnings = check_block(write("yaml", folder, tables))
    return [str(w) for w in warnings if "within" in str(w) or "weekends running" in str(w)]


def one(*days: date) -> list[tuple[date, date]]:
    return [(d, d) for d in days]


@pytest.mark.parametrize(
    ("events", "dates", "said"),
    [
        ("triple jump", one(D(2027, 3, 23), D(2027, 3, 30)), ""),
        ("triple jump", one(D(2027, 3, 23), D(2027, 3, 30), D(2027, 4, 5)),
         "3 competitions of 'Tove Marn' in the triple jump within 14 days, to 2027-04-05; needed 2 at most"),
        ("triple jump", one(D(2027, 3, 23), D(2027, 3, 30), D(2027, 4, 6)), ""),  # the first is 14 days back
        ("long jump", one(D(2027, 3, 23), D(2027, 3, 26), D(2027, 3, 30)), ""),
        ("long jump", one(D(2027, 3, 23), D(2027, 3, 26), D(2027, 3, 30), D(2027, 4, 1)), "4 competitions"),
        ("100 m", [(D(2027, 3, 23), D(2027, 3, 25)), (D(2027, 3, 29), D(2027, 3, 29))], ""),
        ("100 m", [(D(2027, 3, 23), D(2027, 3, 25)), (D(2027, 3, 29), D(2027, 3, 30))],
         "5 days of competition of 'Tove Marn' in the 100 m within 14 days, to 2027-03-30"),
        ("heptathlon", [(D(2027, 3, 23), D(2027, 3, 24)), (D(2027, 4, 12), D(2027, 4, 13))], "2 competitions"),
        ("heptathlon", [(D(2027, 3, 23), D(2027, 3, 24)), (D(2027, 4, 13), D(2027, 4, 14))], ""),
        ("shot put", one(D(2027, 3, 23), D(2027, 3, 24), D(2027, 3, 25), D(2027, 3, 26)), ""),
    ],
)  # fmt: skip
def test_too_many_in_so_many_days(
    events: str, dates: list[tuple[date, date]], said: str, tmp_path: Path
) -> None:
    found = warned(tmp_path, events, *dates)
    assert len(found) == bool(said), found
    if said:
        assert said in found[0] and ", line " in found[0] and " Maybe leave one out" in found[0]


def test_a_weekend_off_after_three(tmp_path: Path) -> None:
    weekends = [D(2027, 3, 27), D(2027, 4, 4), D(2027, 4, 10), D(2027, 4, 18)]  # Saturdays and Sundays
    assert warned(tmp_path, "shot put", *one(*weekends[:3])) == []
    (found,) = warned(tmp_path, "shot put", *one(*weekends))
    assert "4 weekends running with a competition of 'Tove Marn', to 2027-04-18" in found
    assert "a weekend without one after 3" in found
    apart = [*weekends[:2], D(2027, 4, 17), D(2027, 4, 24)]
    assert warned(tmp_path, "shot put", *one(*apart)) == []
