"""What a coach may get wrong in a file: one message per problem, with place and remedy, and all at once."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from coachs_files import KINDS, Tables, complaints, edited, setting, small, write

from planner.domain.errors import Told
from planner.intake import BadFile, check_block, read_block

RULE = "no_two_fast_days_running"
D = date


# name of the slip -> the file, and what the one message must hold
SLIPS: dict[str, tuple[Tables, tuple[str, ...]]] = {
    "end before start": (
        edited(setting("block", 0, until=D(2027, 3, 1))),
        ("2027-03-01", "before the beginning"),
    ),
    "block too long": (edited(setting("block", 0, until=D(2028, 6, 1))), ("400 days", "several blocks")),
    "slot ends before it begins": (edited(setting("slots", 0, until="16:00")), ("16:00", "changed places")),
    "away ends before it begins": (
        small(away=[{"athlete": "Tove Marn", "from": D(2027, 3, 25), "until": D(2027, 3, 24)}]),
        ("before the beginning", "changed places"),
    ),
    "duplicate athlete": (
        edited(lambda t: t["athletes"].append({**t["athletes"][0]})),
        ("a second time", "Tove Marn"),
    ),
    "duplicate slot": (edited(lambda t: t["slots"].append({**t["slots"][0]})), ("'evening' a second time",)),
    "duplicate coach": (
        edited(lambda t: t["coaches"].append({"name": "Reidun"})),
        ("'Reidun' a second time",),
    ),
    "unknown athlete": (
        small(marks=[{"athlete": "Tove Marm", "event": "long jump", "mark": "5.74 m"}]),
        ("unknown athlete 'Tove Marm'", "Maybe 'Tove Marn'"),
    ),
    "unknown athlete in a list": (
        small(
            competitions=[
                {
                    "name": "Match",
                    "date": D(2027, 4, 3),
                    "athletes": "Tove Marn; Nobody",
                    "importance": "main",
                }
            ]
        ),
        ("'Nobody'", "group"),
    ),
    "unknown unit": (
        small(fixed=[{"athlete": "all", "date": D(2027, 3, 23), "unit": "flying-sprint"}]),
        ("unknown unit 'flying-sprint'", "Maybe 'flying-sprints'"),
    ),
    "unknown place": (
        small(venues=[{"place": "pit"}], openings=[{"place": "pitt", "days": "Mon", "closed": "yes"}]),
        ("unknown place 'pitt'", "Maybe 'pit'"),
    ),
    "unknown venue": (small(openings=[{"venue": "hall", "days": "Mon"}]), ("unknown venue 'hall'", "track")),
    "unknown slot": (
        small(weather=[{"date": D(2027, 3, 23), "slot": "evenin", "rain": "yes"}]),
        ("unknown slot 'evenin'", "Maybe 'evening'"),
    ),
    "unknown event": (edited(setting("athletes", 0, events="long jmp")), ("'long jmp'", "Maybe 'long jump'")),
    "unknown region": (
        small(limits=[{"athlete": "Tove Marn", "region": "kne", "stage": 4}]),
        ("'kne'", "Maybe 'knee'"),
    ),
    "wrong unit of a mark": (
        small(marks=[{"athlete": "Tove Marn", "event": "long jump", "mark": "5.74 s"}]),
        ("'5.74 s' for the long jump", "a length such as 6.35 m"),
    ),
    "mark without a unit": (
        small(marks=[{"athlete": "Tove Marn", "event": "long jump", "mark": 5.74}]),
        ("'5.74'", "unit is missing"),
    ),
    "wrong unit of a length": (
        small(run_ups=[{"athlete": "Tove Marn", "event": "long jump", "steps": 18, "start_mark": "33.2 kg"}]),
        ("'33.2 kg'", "33.20 m"),
    ),
    "jump beyond human reach": (
        small(marks=[{"athlete": "Tove Marn", "event": "long jump", "mark": "8.20 m"}]),
        ("'8.20 m'", "beyond human reach"),
    ),
    "run beyond human reach": (
        small(marks=[{"athlete": "Tove Marn", "event": "100 m", "mark": "9.10 s"}]),
        ("'9.10 s'", "beyond human reach"),
    ),
    "return stage of 7": (
        small(limits=[{"athlete": "Tove Marn", "region": "knee", "stage": 7}]),
        ("'7'", "from 0 to 6"),
    ),
    "limit that limits nothing": (
        small(limits=[{"athlete": "Tove Marn", "region": "knee"}]),
        ("limits nothing", "stage"),
    ),
    "empty squad": (small(athletes=[]), ("no athlete", "at least one row")),
    "empty slots": (small(slots=[]), ("empty table 'slots'", "Mon-Sat 17:00-19:00")),
    "unknown rule": (
        small(rules=[{"rule": "no_two_fast_dys_running", "tier": "must"}]),
        ("unknown rule", f"Maybe '{RULE}'"),
    ),
    "unknown number of a rule": (
        small(rules=[{"rule": RULE, "parameter": "days_betwen", "value": 1}]),
        ("'days_betwen'", "Maybe 'days_between'"),
    ),
    "number of a rule out of range": (
        small(rules=[{"rule": RULE, "parameter": "days_between", "value": 9}]),
        ("9 for 'days_between'", "from 0 to 2"),
    ),
    "exception without reason": (
        small(exceptions=[{"rule": RULE, "athlete": "Tove Marn", "from": D(2027, 3, 29), "off": "yes"}]),
        ("without a reason", "10 characters"),
    ),
    "exception with a short reason": (
        small(exceptions=[{"rule": RULE, "from": D(2027, 3, 29), "off": "yes", "reason": "because"}]),
        ("'because'", "10 characters"),
    ),
    "exception outside the block": (
        small(
            exceptions=[
                {
                    "rule": RULE,
                    "from": D(2027, 5, 1),
                    "until": D(2027, 5, 2),
                    "off": "yes",
                    "reason": "a two-day meeting",
                }
            ]
        ),
        ("wholly outside the block", "2027-03-22 to 2027-04-04"),
    ),
    "overlapping phases": (
        small(
            phases=[
                {"phase": "specific-preparation", "from": D(2027, 3, 22), "until": D(2027, 3, 30)},
                {"phase": "pre-competition", "from": D(2027, 3, 29), "until": D(2027, 4, 4)},
            ]
        ),
        ("pre-competition", "before 'specific-preparation' ends", "2027-03-31"),
    ),
    "a hole between phases": (
        small(
            phases=[
                {"phase": "specific-preparation", "from": D(2027, 3, 22), "until": D(2027, 3, 27)},
                {"phase": "pre-competition", "from": D(2027, 3, 29), "until": D(2027, 4, 4)},
            ]
        ),
        ("days without a phase", "'from: 2027-03-28'"),
    ),
    "phases that end too soon": (
        small(phases=[{"phase": "taper", "from": D(2027, 3, 22), "until": D(2027, 4, 1)}]),
        ("days without a phase", "'until: 2027-04-04'"),
    ),
    "a competition before the block": (
        small(competitions=[{"name": "Indoor", "date": D(2027, 2, 21), "athletes": "all"}]),
        ("'Indoor' on 2027-02-21, before the block's first day", "2027-03-22 to 2028-04-02"),
    ),
    "a competition over a year after the block": (
        small(competitions=[{"name": "Far", "date": D(2028, 4, 3), "athletes": "all", "importance": "main"}]),
        ("'Far' on 2028-04-03, over 52 weeks after the last day", "year is wrong"),
    ),
    "a return stage left out": (
        small(limits=[
            {"athlete": "Tove Marn", "region": "knee", "side": "left", "stage": 3, "until": D(2027, 3, 25)},
            {"athlete": "Tove Marn", "region": "knee", "side": "left", "stage": 5, "from": D(2027, 3, 26)},
        ]),
        ("stage 5 from 2027-03-26", "straight after stage 3", "one stage at a time", "'stage: 4'"),
    ),
    "fixed on the day of a competition": (
        small(competitions=[{"name": "Match", "date": D(2027, 3, 27), "athletes": "all"}],
              fixed=[{"athlete": "Tove Marn", "date": D(2027, 3, 27), "unit": "short-accelerations"}]),
        ("on 2027-03-27, the day of 'Match'", "a day without a competition"),
    ),
    "fixed when away": (
        small(away=[{"athlete": "Tove Marn", "from": D(2027, 3, 26), "until": D(2027, 3, 27)}],
              fixed=[{"athlete": "Tove Marn", "date": D(2027, 3, 26), "unit": "short-accelerations"}]),
        ("on 2027-03-26, when the athlete is not there", "a slot in which the athlete is there"),
    ),
    "fixed twice a day": (
        small(slots=[{"name": "early", "days": "Mon-Sat", "from": "10:00", "until": "12:00"},
                     {"name": "evening", "days": "Mon-Sat", "from": "17:00", "until": "19:00"}],
              fixed=[{"athlete": "Tove Marn", "date": D(2027, 3, 26), "unit": "short-accelerations",
                      "slot": slot} for slot in ("early", "evening")]),
        ("on 2027-03-26 a second time", "a unit once a day"),
    ),
    "fixed twice in one slot": (
        small(fixed=[{"athlete": "Tove Marn", "date": D(2027, 3, 26), "unit": "short-accelerations"}] * 2),
        ("on 2027-03-26 twice", "one row for an athlete, a day and a unit", "delete one"),
    ),
    "fixed in a slot of another day": (
        small(slots=[{"name": "early", "days": "Mon", "from": "10:00", "until": "12:00"},
                     {"name": "evening", "days": "Mon-Sat", "from": "17:00", "until": "19:00"}],
              fixed=[{"athlete": "Tove Marn", "date": D(2027, 3, 26), "unit": "short-accelerations",
                      "slot": "early"}]),
        ("no slot 'early' on 2027-03-26", "a day with that slot"),
    ),
    "phases that begin too late": (
        small(phases=[{"phase": "taper", "from": D(2027, 3, 24), "until": D(2027, 4, 4)}]),
        ("days without a phase", "'from: 2027-03-22'"),
    ),
    "air hotter than any": (
        small(weather=[{"date": D(2027, 3, 23), "air": 60}]),
        ("'60'", "an air temperature in degrees, such as 6.5"),
    ),
    "unknown tier": (small(rules=[{"rule": RULE, "tier": "shuold"}]), ("'shuold'", "Maybe 'should'")),
    "a formula in a name": (edited(setting("coaches", 0, name="=HYPERLINK(1)")), ("= + - or @", "HYPERLINK")),
    "a formula in own words": (
        small(themes=[{"athlete": "all", "aim": "@SUM(1)"}]),
        ("= + - or @",),
    ),
    "fixed outside the block": (
        small(fixed=[{"athlete": "all", "date": D(2027, 5, 1), "unit": "short-accelerations"}]),
        ("2027-05-01, outside the block",),
    ),
    "fixed on a day without a slot": (
        small(fixed=[{"athlete": "all", "date": D(2027, 3, 28), "unit": "short-accelerations"}]),
        ("no slot on 2027-03-28",),
    ),
    "before is not before": (
        small(before=[{"athlete": "Tove Marn", "week": D(2027, 3, 29), "fast_metres": 300}]),
        ("not before the block",),
    ),
    "unknown time zone": (
        edited(setting("block", 0, time_zone="Europe/Olso")),
        ("'Europe/Olso'", "Maybe 'Europe/Oslo'"),
    ),
    "own unit like nothing": (
        small(units=[{"id": "beach-runs", "like": "extensive-temp"}]),
        ("extensive-temp", "'extensive-tempo'"),
    ),
    "athlete in two groups": (
        small(groups=[{"name": "a", "athletes": "Tove Marn"}, {"name": "b", "athletes": "Tove Marn"}]),
        ("'Tove Marn' in two groups",),
    ),
    "an athlete of the future": (edited(setting("athletes", 0, born=D(2027, 1, 1))), ("2027-01-01", "year")),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("slip", sorted(SLIPS))
def test_one_slip_is_one_message(slip: str, kind: str, tmp_path: Path) -> None:
    tables, needed = SLIPS[slip]
    found = complaints(write(kind, tmp_path, tables))
    assert len(found) == 1, found
    for words in needed:
        assert words in found[0]
    place = "block.yaml, line " if kind == "yaml" else "block.xlsx, sheet "
    assert found[0].startswith(place)
    assert " Maybe " in found[0] and "; needed " in found[0]


@pytest.mark.parametrize("kind", KINDS)
def test_a_bad_date_does_not_hide_an_unknown_athlete(kind: str, tmp_path: Path) -> None:
    row = {"athlete": "Tove Marm", "event": "long jump", "mark": "5.74 m", "date": "2026-17-11"}
    found = complaints(write(kind, tmp_path, small(marks=[row])))
    assert len(found) == 2, found
    assert any("'Tove Marm'" in f and "Maybe 'Tove Marn' is meant" in f for f in found)
    assert any("'2026-17-11'" in f for f in found)


@pytest.mark.parametrize("day", ["2027-02-30", "2027-13-01", "30.2.2027", "27-02-03", "tomorrow"])
def test_impossible_date(day: str, tmp_path: Path) -> None:
    (only,) = complaints(write("yaml", tmp_path, small(weather=[{"date": day, "rain": "yes"}])))
    assert f"'{day}'" in only and "a date that exists, such as 2027-03-22" in only


@pytest.mark.parametrize("kind", KINDS)
def test_unknown_key_offers_the_nearest(kind: str, tmp_path: Path) -> None:
    found = complaints(write(kind, tmp_path, edited(setting("athletes", 0, takeoff="left"))))
    assert len(found) == 1
    assert "'takeoff'" in found[0]
    assert "Maybe 'take_off_leg' is meant" in found[0]


@pytest.mark.parametrize("kind", KINDS)
def test_unknown_table_offers_the_nearest(kind: str, tmp_path: Path) -> None:
    found = complaints(write(kind, tmp_path, small(mark=[{"athlete": "Tove Marn"}])))
    assert len(found) == 1
    assert "Maybe 'marks' is meant" in found[0]


@pytest.mark.parametrize("kind", KINDS)
def test_all_problems_of_a_file_at_once(kind: str, tmp_path: Path) -> None:
    tables = small(
        marks=[
            {"athlete": "Nobody", "event": "long jump", "mark": "5.74 s"},
            {"athlete": "Tove Marn", "event": "long jump", "mark": "19 m"},
        ],
        limits=[{"athlete": "Tove Marn", "region": "knee", "stage": 7}],
        exceptions=[{"rule": "nothing_like_it", "off": "yes"}],
    )
    tables["athletes"][1]["level"] = "expert"
    tables["block"]["time_zone"] = "Nowhere/Atall"
    assert len(complaints(write(kind, tmp_path, tables))) == 8


def test_a_reference_to_a_row_that_does_not_fit_is_no_second_problem(tmp_path: Path) -> None:
    tables = small(marks=[{"athlete": "Mirel Ost", "event": "400 m", "mark": "56.80 s"}])
    tables["athletes"][1]["level"] = "expert"
    assert len(complaints(write("yaml", tmp_path, tables))) == 1


def test_the_place_is_line_and_column(tmp_path: Path) -> None:
    path = tmp_path / "squad.yaml"
    path.write_text("block:\n  name: A\n  from: 2027-03-22\n  until: 2027-02-30\nathletes:\n  - name: B\n")
    with pytest.raises(BadFile) as caught:
        read_block(path)
    (only,) = caught.value.complaints
    assert (only.where.line, only.where.column, only.where.key) == (4, 3, "block.until")
    assert str(only) == (
        "squad.yaml, line 4, column 3, block.until: found '2027-02-30'; needed a date that exists, such as "
        "2027-03-22. Maybe that month has fewer days; look at the calendar."
    )


def test_the_place_is_sheet_and_cell(tmp_path: Path) -> None:
    path = write("xlsx", tmp_path, edited(setting("athletes", 1, level="expert")))
    (only,) = complaints(path)
    assert only.startswith("block.xlsx, sheet athletes, cell E3, level: found 'expert'")


# --- what is allowed ----------------------------------------------------------------------------------

NAMES = (
    'O\'Brien "Bo"',
    "<b>Ann</b> & co",
    "a/b\\c",
    "Zoë Ünal-Łoś",
    "Mia 🚀",
    "نور الهدى",
    "李小龍",
    "..",
    "null",
)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", NAMES)
def test_names_may_be_anything_readable(name: str, kind: str, tmp_path: Path) -> None:
    block, warnings = check_block(write(kind, tmp_path, edited(setting("athletes", 0, name=name))))
    assert block.athletes[0].name == name
    assert bool(warnings) == any(ord(c) > 0x2FF for c in name)


def test_warnings_of_the_unusual(tmp_path: Path) -> None:
    tables = small(
        away=[{"athlete": "Mirel Ost", "from": D(2027, 3, 20), "until": D(2027, 4, 10)}],
        competitions=[{"name": "Indoor", "date": D(2027, 3, 14), "importance": "main"}],
        weather=[{"date": D(2027, 4, 7), "rain": "yes"}],
        marks=[{"athlete": "Tove Marn", "event": "long jump", "mark": "0.94 m"}],
    )
    tables["athletes"][0]["born"] = D(2013, 5, 1)
    _, warnings = check_block(write("yaml", tmp_path, tables))
    said = "\n".join(str(w) for w in warnings)
    assert all(w.warning for w in warnings)
    for words in (
        "in every slot", "'Indoor' on 2027-03-14", "weather of 2027-04-07, outside", "far from usual",
        "fewer than 2 adults",
    ):  # fmt: skip
        assert words in said
    assert all("; needed " in str(w) and " Maybe " in str(w) and ", line " in str(w) for w in warnings)


def test_a_note_lets_a_stage_be_left_out_and_stays_in_the_file(tmp_path: Path) -> None:
    limits = [
        {"athlete": "Tove Marn", "region": "knee", "stage": 3, "until": D(2027, 3, 25)},
        {"athlete": "Tove Marn", "region": "knee", "stage": 5, "from": D(2027, 3, 26),
         "note": "tested by the physiotherapist on Thursday"},
    ]  # fmt: skip
    block, _ = check_block(write("yaml", tmp_path, small(limits=limits)))
    assert [x.stage for x in block.limits] == [3, 5]
    assert "physiotherapist" not in repr(block)


@pytest.mark.parametrize(
    "stages", [((3, "left"), (5, "right")), ((5, "left"), (3, "left")), ((4, "left"), (5, "left"))]
)
def test_other_sides_and_stages_going_down_need_no_note(
    stages: tuple[tuple[int, str], ...], tmp_path: Path
) -> None:
    limits = [
        {"athlete": "Tove Marn", "region": "knee", "side": side, "stage": stage, "from": D(2027, 3, 22 + i)}
        for i, (stage, side) in enumerate(stages)
    ]
    check_block(write("yaml", tmp_path, small(limits=limits)))


def test_a_bad_file_is_told_not_traced() -> None:
    assert issubclass(BadFile, Told)


def test_date_cells_with_a_clock(tmp_path: Path) -> None:
    tables = small(
        away=[{"athlete": "Tove Marn", "from": datetime(2027, 3, 24, 15), "until": D(2027, 3, 25)}]
    )
    for kind in KINDS:
        (away,) = read_block(write(kind, tmp_path, tables)).away
        assert (away.begins, away.ends) == (datetime(2027, 3, 24, 15), datetime(2027, 3, 25, 23, 59))
        assert away.ends - away.begins > timedelta(days=1)
