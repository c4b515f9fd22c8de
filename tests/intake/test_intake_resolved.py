"""Weekdays, dates, clock times and defaults become dated records. Expected figures are counted by hand."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
from coachs_files import small, write

from planner.domain.block import Block, Opening
from planner.domain.units import AmountRange
from planner.intake import read_block

D = date


def block_of(tmp_path: Path, **tables: Any) -> Block:
    return read_block(write("yaml", tmp_path, small(**tables)))


def open_times(block: Block, place: str, day: date) -> list[tuple[str, time, time]]:
    found: list[Opening] = [o for o in block.openings if o.place.name == place and o.day == day]
    return [(o.slot, o.begins, o.ends) for o in found]


TWO_A_DAY = [
    {"name": "morning", "days": "daily", "from": "10:00", "until": "13:00"},
    {"name": "afternoon", "days": "daily", "from": "15:00", "until": "18:00"},
]


def test_a_date_wins_over_a_weekday_whatever_the_order(tmp_path: Path) -> None:
    closed = {"name": "morning", "date": D(2027, 3, 24), "closed": "yes"}
    for rows in ([*TWO_A_DAY, closed], [closed, *TWO_A_DAY]):
        block = block_of(tmp_path, slots=rows)
        assert [s.name for s in block.slots if s.day == D(2027, 3, 24)] == ["afternoon"]
        assert len(block.slots) == 27  # fourteen days twice, less one


def test_a_dated_slot_keeps_the_clock_time_it_does_not_change(tmp_path: Path) -> None:
    rows = [*TWO_A_DAY, {"name": "morning", "date": D(2027, 3, 24), "until": "12:00"}]
    (slot,) = (s for s in block_of(tmp_path, slots=rows).slots if s.key == (D(2027, 3, 24), "morning"))
    assert (slot.begins, slot.ends, slot.minutes) == (time(10), time(12), 120)


def test_first_and_last_day_are_inside(tmp_path: Path) -> None:
    rows = [{**TWO_A_DAY[0], "first_day": D(2027, 3, 24), "last_day": D(2027, 3, 26)}]
    assert [s.day.day for s in block_of(tmp_path, slots=rows).slots] == [24, 25, 26]


def test_slot_days_are_inclusive_of_the_blocks_ends(tmp_path: Path) -> None:
    days = [s.day for s in block_of(tmp_path, slots=TWO_A_DAY[:1]).slots]
    assert (days[0], days[-1], len(days)) == (D(2027, 3, 22), D(2027, 4, 4), 14)


VENUES = [
    {"venue": "park", "place": "pit"},
    {"venue": "park", "place": "straight"},
    {"venue": "hall", "place": "gym"},
]


def test_a_place_without_a_row_is_open_in_every_slot(tmp_path: Path) -> None:
    block = block_of(tmp_path, slots=TWO_A_DAY, venues=VENUES)
    assert open_times(block, "gym", D(2027, 3, 22)) == [
        ("morning", time(10), time(13)),
        ("afternoon", time(15), time(18)),
    ]
    assert len(block.openings) == 14 * 2 * 3


def test_openings_are_cut_to_their_slots(tmp_path: Path) -> None:
    rows = [
        {"venue": "park", "days": "daily", "from": "09:00", "until": "12:00"},
        {"place": "pit", "days": "daily", "slot": "afternoon", "from": "15:30", "until": "20:00"},
    ]
    block = block_of(tmp_path, slots=TWO_A_DAY, venues=VENUES, openings=rows)
    day = D(2027, 3, 22)
    assert open_times(block, "pit", day) == [
        ("morning", time(10), time(12)),
        ("afternoon", time(15, 30), time(18)),
    ]
    assert open_times(block, "straight", day) == [("morning", time(10), time(12))]
    assert open_times(block, "gym", day)[1] == ("afternoon", time(15), time(18))


def test_a_later_row_wins_and_a_closed_date_closes(tmp_path: Path) -> None:
    rows = [
        {"place": "pit", "days": "daily", "from": "10:00", "until": "11:00"},
        {"place": "pit", "days": "Tue", "from": "10:00", "until": "12:00"},
        {"place": "pit", "date": D(2027, 3, 24), "closed": "yes"},
    ]
    block = block_of(tmp_path, slots=TWO_A_DAY, venues=VENUES, openings=rows)
    assert open_times(block, "pit", D(2027, 3, 22)) == [("morning", time(10), time(11))]
    assert open_times(block, "pit", D(2027, 3, 23)) == [("morning", time(10), time(12))]
    assert open_times(block, "pit", D(2027, 3, 24)) == []
    assert len(open_times(block, "straight", D(2027, 3, 24))) == 2


def test_an_open_date_replaces_the_whole_day(tmp_path: Path) -> None:
    rows = [{"venue": "park", "date": D(2027, 3, 29), "from": "14:00", "until": "17:00"}]
    block = block_of(tmp_path, slots=TWO_A_DAY, venues=VENUES, openings=rows)
    assert open_times(block, "pit", D(2027, 3, 29)) == [("afternoon", time(15), time(17))]
    assert len(open_times(block, "pit", D(2027, 3, 30))) == 2


@pytest.mark.parametrize(
    ("begins", "ends", "left"),
    [
        ("10:00", "12:00", (12, 13)),
        ("12:00", "13:00", (10, 12)),
        ("11:00", "11:30", (11.5, 13)),
        ("09:00", "14:00", ()),
    ],
)
def test_closed_hours_are_taken_off(begins: str, ends: str, left: tuple[float, ...], tmp_path: Path) -> None:
    rows = [{"place": "pit", "days": "Tue", "from": begins, "until": ends, "closed": "yes"}]
    found = open_times(
        block_of(tmp_path, slots=TWO_A_DAY, venues=VENUES, openings=rows), "pit", D(2027, 3, 23)
    )
    hours = [(b.hour + b.minute / 60, e.hour + e.minute / 60) for slot, b, e in found if slot == "morning"]
    assert hours == ([left] if left else [])


def test_places_have_the_defaults_of_their_kind(tmp_path: Path) -> None:
    block = block_of(tmp_path, venues=[*VENUES, {"place": "long pit", "kind": "pit", "jumps_per_hour": 55}])
    places = {o.place.name: o.place for o in block.openings}
    assert (
        places["pit"].jumps_per_hour,
        places["long pit"].jumps_per_hour,
        places["gym"].jumps_per_hour,
    ) == (40, 55, 0)
    assert (places["pit"].outdoor, places["gym"].outdoor) == (True, False)
    assert places["long pit"].venue == "track"


def test_minutes_of_a_coach_are_those_inside_the_slot(tmp_path: Path) -> None:
    rows = [
        {"name": "all day"},
        {"name": "late", "from": "16:00"},
        {"name": "hours", "hours": "Mon 12:00-16:00; Thu 15:00-15:30"},
        {"name": "mornings", "slots": "morning", "days": "Mon; Tue", "away": "2027-03-23"},
        {"name": "one day", "date": D(2027, 3, 25)},
    ]
    helpers = [{"name": "Åse", "tasks": "rake", "days": "Mon", "until": "11:00"}]
    block = block_of(tmp_path, slots=TWO_A_DAY, coaches=rows, helpers=helpers)
    there = {(p.name, p.day.day, p.slot): p.minutes for p in block.presences}
    assert there["all day", 22, "morning"] == 180
    assert ("late", 22, "morning") not in there and there["late", 22, "afternoon"] == 120
    assert (there["hours", 22, "morning"], there["hours", 22, "afternoon"]) == (60, 60)
    assert there["hours", 25, "afternoon"] == 30 and ("hours", 23, "afternoon") not in there
    assert [k[1] for k in sorted(there) if k[0] == "mornings"] == [22, 29, 30]
    assert sorted(k[1:] for k in there if k[0] == "one day") == [(25, "afternoon"), (25, "morning")]
    assert there["Åse", 22, "morning"] == 60
    (helper,) = {(p.coach, p.tasks) for p in block.presences if p.name == "Åse"}
    assert helper == (None, ("rake",))


def test_absences(tmp_path: Path) -> None:
    rows = [
        {"athlete": "Tove Marn", "from": D(2027, 3, 24)},
        {"athlete": "Tove Marn", "until": datetime(2027, 3, 23, 15), "kind": "camp arrival"},
        {
            "athlete": "Tove Marn",
            "from": datetime(2027, 4, 2, 12),
            "kind": "camp departure",
            "travel_hours": "4 h",
        },
        {"athlete": "all", "from": D(2027, 3, 30), "until": D(2027, 3, 31), "kind": "exam"},
    ]
    away = block_of(tmp_path, away=rows).away
    assert (away[0].begins, away[0].ends) == (datetime(2027, 3, 24), datetime(2027, 3, 24, 23, 59))
    assert (away[1].begins, away[1].ends) == (datetime(2027, 3, 22), datetime(2027, 3, 23, 15))
    assert (away[2].begins, away[2].ends) == (datetime(2027, 4, 2, 12), datetime(2027, 4, 4, 23, 59))
    assert away[2].travel_hours == 4
    assert [(a.athlete, a.kind) for a in away[3:]] == [("Tove Marn", "exam"), ("Mirel Ost", "exam")]


def test_competitions_are_one_an_athlete(tmp_path: Path) -> None:
    rows = [{"name": "Match", "date": D(2027, 4, 3)}]
    groups = [{"name": "jumps", "athletes": "Tove Marn"}]
    more = {
        "name": "Games",
        "date": D(2027, 4, 3),
        "until": D(2027, 4, 4),
        "athletes": "jumps",
        "importance": "main",
    }
    block = block_of(tmp_path, competitions=[*rows, more], groups=groups)
    assert [(c.name, c.athlete, c.importance) for c in block.competitions] == [
        ("Match", "Tove Marn", "train-through"),
        ("Match", "Mirel Ost", "train-through"),
        ("Games", "Tove Marn", "main"),
    ]
    assert block.athletes[0].group == "jumps"
    assert "importance not given: train-through" in [
        a.text for a in block.assumptions if a.subject == "Match"
    ]


def test_marks_in_whole_steps(tmp_path: Path) -> None:
    rows = [
        ("long jump", "6,35 m", 635, "cm"),
        ("100 m", "11.92 s", 1192, "hundredths"),
        ("800 m", "2:12.5", 13250, "hundredths"),
        ("squat", "92.5 kg", 185, "half-kg"),
        ("heptathlon", "4780 points", 4780, "points"),
        ("1500 m", "4:59.99", 29999, "hundredths"),
    ]
    table = [{"athlete": "Tove Marn", "event": e, "mark": m, "wind": "-1.2 m/s"} for e, m, _, _ in rows]
    found = block_of(tmp_path, marks=table).marks
    assert [(m.event, m.value, m.unit, m.wind) for m in found] == [(e, v, u, -12) for e, _, v, u in rows]


def test_defaults_of_an_athlete_are_told(tmp_path: Path) -> None:
    block = block_of(tmp_path, athletes=[{"name": "Ny"}])
    (athlete,) = block.athletes
    assert (athlete.level, athlete.take_off_leg, athlete.events, athlete.born) == (
        "developing",
        "left",
        ("all",),
        None,
    )
    told = {a.text for a in block.assumptions if a.subject == "Ny"}
    assert told >= {
        "level not given: developing",
        "take-off leg not given: left",
        "events not given: training for all events",
        "age not given: planned as an adult",
    }


def test_age_and_other_sport(tmp_path: Path) -> None:
    rows = [
        {"name": "A", "age": 14, "other_sport": "Mon 1.5; Wed-Thu 2 h"},
        {"name": "B", "other_sport": 3.5},
        {"name": "C", "other_sport": "4 h"},
    ]
    a, b, c = block_of(tmp_path, athletes=rows).athletes
    assert (a.age_on(D(2027, 3, 22)), a.age_on(D(2027, 4, 4))) == (14, 14)
    assert a.other_sport_minutes == {0: 90, 2: 120, 3: 120}
    assert b.other_sport_minutes == dict.fromkeys(range(7), 30)
    assert sum(c.other_sport_minutes.values()) == 240 and max(c.other_sport_minutes.values()) == 35


def test_hold_back_needs_no_region(tmp_path: Path) -> None:
    rows = [
        {"athlete": "Mirel Ost", "kind": "hold back", "stage": 4, "from": D(2027, 3, 29)},
        {
            "athlete": "Mirel Ost",
            "region": "illness",
            "side": "left",
            "stage": 3,
            "banned": "tempo; depth-jumps",
        },
    ]
    held, ill = block_of(tmp_path, limits=rows).limits
    assert (held.hold_back, held.region, held.side, held.stage) == (True, "whole", "both", 4)
    assert (ill.hold_back, ill.side, ill.banned) == (False, "both", ("tempo", "depth-jumps"))


def test_weeks_before_begin_on_the_week_start(tmp_path: Path) -> None:
    rows = [
        {
            "athlete": "Tove Marn",
            "week": D(2027, 3, 18),
            "full_jumps": 6,
            "load": 1500,
            "unit": "flying-sprints",
            "last": D(2027, 3, 17),
        }
    ]
    block = block_of(tmp_path, before=rows)
    assert (block.before[0].week_begins, block.before[0].counters) == (
        D(2027, 3, 15),
        {"full-jumps": 6, "load": 1500},
    )
    assert (block.last_done[0].unit, block.last_done[0].day) == ("flying-sprints", D(2027, 3, 17))


def test_exceptions_and_settings(tmp_path: Path) -> None:
    rule = "no two fast days running"  # blanks for the lines between the words will do
    block = block_of(
        tmp_path,
        rules=[{"rule": rule, "parameter": "days between", "value": 2, "tier": "should", "weight": 7}],
        exceptions=[
            {
                "rule": rule,
                "athlete": "Tove Marn",
                "from": D(2027, 3, 30),
                "off": "yes",
                "reason": "a two-day rehearsal",
            }
        ],
    )
    said = [(s.parameter, s.value, s.athlete, s.is_exception) for s in block.settings]
    assert said == [
        ("days_between", 2, "", False),
        ("tier", "should", "", False),
        ("weight", 7, "", False),
        ("off", 1, "Tove Marn", True),
    ]
    assert block.settings[3].applies("Tove Marn", D(2027, 4, 4))
    assert not block.settings[3].applies("Tove Marn", D(2027, 3, 29))


def test_own_units(tmp_path: Path) -> None:
    rows: list[dict[str, Any]] = [
        {
            "id": "beach-runs",
            "like": "extensive-tempo",
            "minutes": "25-40",
            "amounts": "novice 600-1000",
            "loads": "calf-achilles 3",
        },
        {"id": "heavy-strength", "eyes": 2},
    ]
    fixed = [{"athlete": "Mirel Ost", "date": D(2027, 3, 24), "unit": "beach-runs"}]
    block = block_of(tmp_path, units=rows, fixed=fixed)
    beach, heavy = block.own_units
    assert (beach.id, beach.name, beach.family, beach.demand.minutes) == (
        "beach-runs",
        "Beach runs",
        "tempo",
        (25, 40),
    )
    assert beach.demand.loads["calf-achilles"] == 3
    assert (beach.amounts["novice"].low, beach.amounts["novice"].high) == (600, 1000)
    assert isinstance(beach.amounts["advanced"], AmountRange)
    assert (heavy.id, heavy.eyes) == ("heavy-strength", 2)
    assert block.fixed[0].unit == "beach-runs"
