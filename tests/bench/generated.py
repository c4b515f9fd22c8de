"""Squads made up for measuring: a block file by size and random number, as a coach would write it.

    python tests/bench/generated.py 8x6 FOLDER [--random-seed 1]      writes FOLDER/block.yaml

A mix of long and triple jumpers, sprinters, combined-eventers and juniors of all levels; two coaches who each
teach some families; one pit, one straight and one gym that hold fewer than come; days away, an examination week,
one limit after an injury; supporting competitions every fourth week and a main one at the end of each half year.
Names, marks and places are invented. The shipped catalogue and every rule stand at their defaults.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from random import Random

MONDAY = date(2027, 1, 4)  # every block begins here
LONGEST_WITHOUT_MAIN = 5  # weeks up to which a block has no main competition and names its phase itself
HALF_YEAR = 20  # weeks at most between two main competitions

Row = Mapping[str, object]
Tables = Mapping[str, Row | list[Row]]

# events, level, born, training years: in turn
KINDS = (
    ("long jump", "advanced", 2005, 8),
    ("100 m; 200 m", "developing", 2006, 4),
    ("triple jump", "advanced", 2004, 8),
    ("400 m", "developing", 2006, 4),
    ("heptathlon", "advanced", 2005, 7),
    ("long jump; 100 m", "novice", 2012, 1),
    ("triple jump", "developing", 2008, 3),
    ("100 m", "advanced", 2003, 9),
    ("high jump", "developing", 2007, 4),
    ("long jump", "developing", 2007, 4),
    ("400 m", "advanced", 2004, 8),
    ("long jump", "novice", 2013, 2),
)
FIRST = ("Ada", "Bo", "Cille", "Dag", "Eyra", "Finn", "Gro", "Hal", "Ida", "Jorn", "Kai", "Lea", "Mio", "Nia")
LAST = ("Vasse", "Trell", "Ormond")
PLACES = (
    ("pit", "pit", 8),
    ("straight", "straight", 12),
    ("track", "track", 24),
    ("hurdle lanes", "hurdles", 6),
    ("bed", "bed", 6),
    ("circle", "circle", 6),
    ("grass", "grass", 40),
    ("gym", "gym", 10),
)
LIMIT = {"region": "knee", "side": "right", "stage": 5, "days_between": 3}
TAUGHT = (
    "acceleration; run-ups; technical-jumps; full-jumps; high-multi-jumps; low-multi-jumps; hurdles; throws; test",
    "acceleration; top-speed; speed-endurance; special-endurance; tempo; strength; general; run-ups",
)
# an advanced athlete's usual week by counter; the others do a part of it
USUAL = {"fast_metres": 280, "quick_metres": 180, "short_jumps": 24, "high_contacts": 50, "low_contacts": 180}
PART_OF_USUAL = {"advanced": 100, "developing": 75, "novice": 45}  # percent


def tables(athletes: int, weeks: int, random_seed: int) -> Tables:
    """The tables of a block file; the same three numbers always give the same file."""
    random = Random(random_seed * 1_000_003 + athletes * 1_009 + weeks)
    ends = MONDAY + timedelta(days=7 * weeks - 1)
    people = [_athlete(n, random) for n in range(athletes)]
    names = [str(p["name"]) for p in people]
    made: dict[str, Row | list[Row]] = {
        "block": {
            "name": f"{athletes} athletes, {weeks} weeks",
            "from": MONDAY.isoformat(),
            "until": ends.isoformat(),
            "time_zone": "Europe/London",
            "adults_present": 2,
        },
        "slots": [
            {"days": "Tue; Thu; Sat", "name": "morning", "from": "09:30", "until": "12:00"},
            {"days": "Mon; Tue; Wed; Thu; Fri", "name": "evening", "from": "17:00", "until": "19:30"},
        ],
        "venues": [_place(name, kind, capacity) for name, kind, capacity in PLACES],
        "coaches": [{"name": n, "families": f} for n, f in zip(("Reyk", "Sabo"), TAUGHT, strict=True)],
        "athletes": people,
        "away": _absences(names, weeks, random),
        "competitions": _competitions(weeks),
        "limits": [{"athlete": names[min(2, athletes - 1)], **LIMIT}],
        "before": [row for p in people for row in _before(p, random)],
    }
    if weeks <= LONGEST_WITHOUT_MAIN:
        made["phases"] = [{"phase": "specific-preparation", "from": MONDAY.isoformat(), "until": ends.isoformat()}]
    return {table: rows for table, rows in made.items() if rows}


def write_file(folder: Path, athletes: int, weeks: int, random_seed: int) -> Path:
    """The block file of such a squad, one row a line."""
    lines: list[str] = []
    for table, rows in tables(athletes, weeks, random_seed).items():
        lines.append(f"{table}:")
        if isinstance(rows, list):
            lines += [f"  - {_flat(row)}" for row in rows]
        else:
            lines += [f"  {key}: {json.dumps(value)}" for key, value in rows.items()]
        lines.append("")
    file = folder / "block.yaml"
    file.write_text("\n".join(lines), encoding="utf-8")
    return file


def _flat(row: Row) -> str:
    return "{" + ", ".join(f"{key}: {json.dumps(value)}" for key, value in row.items()) + "}"


def _place(name: str, kind: str, capacity: int) -> Row:
    row: dict[str, object] = {"venue": "Haldwick field", "place": name, "kind": kind, "capacity": capacity}
    if kind == "pit":
        row["jumps_per_hour"] = 40
    if kind == "gym":
        row["outdoor"] = "no"
    return row


def _athlete(n: int, random: Random) -> Row:
    events, level, born, years = KINDS[n % len(KINDS)]
    name = f"{FIRST[n % len(FIRST)]} {LAST[n // len(FIRST) % len(LAST)]}"
    if n >= len(FIRST) * len(LAST):
        name += f" {n // (len(FIRST) * len(LAST)) + 1}"
    return {
        "name": name,
        "born": date(born, random.randint(1, 12), random.randint(1, 28)).isoformat(),
        "sex": "female" if events == "heptathlon" or n % 2 else "male",
        "events": events,
        "level": level,
        "training_years": years,
        "take_off_leg": random.choice(("left", "right")),
        "sound_landing": "no" if level == "novice" else "yes",
    }


def _absences(names: list[str], weeks: int, random: Random) -> list[Row]:
    """A few days away for about every second athlete each month, and one week of examinations."""
    rows: list[Row] = []
    for name in names:
        for month in range(-(-weeks // 4)):
            first = MONDAY + timedelta(days=28 * month + random.randint(0, 27))
            last = first + timedelta(days=random.randint(0, 2))
            if random.random() < 0.5 and last < MONDAY + timedelta(days=7 * weeks):
                rows.append(_away(name, "away", first, last))
    if weeks > 2:
        monday = MONDAY + timedelta(days=7 * (weeks // 2))
        rows.append(_away(names[1 % len(names)], "exam", monday, monday + timedelta(days=4)))
    return rows


def _away(name: str, kind: str, first: date, last: date) -> Row:
    return {"athlete": name, "kind": kind, "from": first.isoformat(), "until": last.isoformat()}


def _competitions(weeks: int) -> list[Row]:
    """A supporting one on the Saturday of every fourth week; the last one of each half year is the main one."""
    if weeks <= LONGEST_WITHOUT_MAIN:
        return []
    main = {weeks - 1, *range(HALF_YEAR - 1, weeks - 1, HALF_YEAR)}
    on = main | {w for w in range(3, weeks, 4) if not any(0 < m - w < 3 for m in main)}
    return [
        {
            "name": f"meeting {number}",
            "date": (MONDAY + timedelta(days=7 * week + 5)).isoformat(),
            "athletes": "all",
            "importance": "main" if week in main else "supporting",
        }
        for number, week in enumerate(sorted(on), 1)
    ]


def _before(person: Row, random: Random) -> list[Row]:
    """What was done in each of the three weeks before the block."""
    part = PART_OF_USUAL[str(person["level"])]
    jumps = "jump" in str(person["events"]) or person["events"] == "heptathlon"
    rows: list[Row] = []
    for week in (3, 2, 1):
        done = {
            counter: usual * part * random.randint(90, 110) // 10_000
            for counter, usual in USUAL.items()
            if jumps or "jumps" not in counter
        }
        rows.append({"athlete": person["name"], "week": (MONDAY - timedelta(days=7 * week)).isoformat(), **done})
    return rows


def size_of(words: str) -> tuple[int, int]:
    """'8x6' -> 8 athletes, 6 weeks."""
    athletes, weeks = words.split("x")
    return int(athletes), int(weeks)


def main() -> None:
    """Write one block file."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("size", help="athletes x weeks, for example 8x6")
    asked.add_argument("folder", type=Path)
    asked.add_argument("--random-seed", type=int, default=1)
    given = asked.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    print(write_file(given.folder, *size_of(given.size), given.random_seed))


if __name__ == "__main__":
    main()
