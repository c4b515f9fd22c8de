"""Measure the numbers to train by: seconds for 180 athlete-weeks.

    python tests/bench/lines_to_train_by.py [--weeks 180]

Thirty invented athletes with marks, ten units a week each. Starting Python and loading the catalogue are not
counted.
"""

from __future__ import annotations

import argparse
import time
from datetime import date, datetime, timedelta
from datetime import time as clock

from planner.catalogue import ladders, units
from planner.domain.block import Athlete, Block, Mark, Opening, Place
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import Dose
from planner.numbers import numbers

MONDAY = date(2027, 3, 1)
PEOPLE = 30
UNITS = (
    "short-accelerations", "flying-sprints", "long-accelerations", "short-long-jumps", "full-run-ups",
    "heavy-strength", "power-lifts", "extensive-tempo", "intensive-bounds", "short-rest-runs",
)  # fmt: skip
MARKS = (
    ("30 m", 430, "hundredths"), ("flying 20 m", 220, "hundredths"), ("100 m", 1190, "hundredths"),
    ("200 m", 2440, "hundredths"), ("long jump", 590, "cm"), ("long jump 8 steps", 510, "cm"),
    ("squat", 200, "half-kg"), ("power clean", 140, "half-kg"),
)  # fmt: skip
TRACK = Place("track", "straight", "straight")


def world(athlete_weeks: int) -> tuple[Problem, list[Placement]]:
    """Athletes, marks and placements by hand."""
    names = [f"athlete {i:02d}" for i in range(PEOPLE)]
    weeks = -(-athlete_weeks // PEOPLE)
    days = [MONDAY + timedelta(i) for i in range(7 * weeks)]
    people = tuple(Athlete(n, date(2004, 5, 6), "female", ("long jump",)) for n in names)
    block = Block(
        "bench", days[0], days[-1], athletes=people,
        marks=tuple(Mark(n, *m) for n in names for m in MARKS),
        openings=tuple(Opening(d, "evening", TRACK, clock(17), clock(19)) for d in days),
    )  # fmt: skip
    kept = {
        n: tuple(
            AthleteWeek(n, i, days[7 * i], tuple(days[7 * i : 7 * i + 7]), "specific-preparation", 100, "loading",
                        7, {}, Count(1, 2, 3), Count(3, 4, 6), {}, {}, {})
            for i in range(weeks)
        )
        for n in names
    }  # fmt: skip
    book = units()
    found = []
    for n in names:
        for day in days:
            for k, name in enumerate(UNITS):
                if k % 6 == day.weekday():
                    span = book[name].amounts["developing"]
                    dose = Dose("full", span.high, book[name].measure, 2, 1, 40, 6, {}, {}, {})
                    found.append(Placement(n, day, "evening", book[name], dose, datetime.combine(day, clock(17)),
                                           TRACK.name, TRACK.venue))  # fmt: skip
    return Problem(block, book, kept, ()), found


def main() -> None:
    """Print one line."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--weeks", type=int, default=180)
    weeks = asked.parse_args().weeks
    ladders()
    problem, placements = world(weeks)
    began = time.perf_counter()
    lines = numbers(placements, problem)
    took = time.perf_counter() - began
    print(f"{weeks} athlete-weeks, {len(lines)} units: {took:.2f} s")


if __name__ == "__main__":
    main()
