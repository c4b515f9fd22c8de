"""The last ten days before a main competition, as coaches write them, and the first ones after it.

One column an event, advanced, competition on a Saturday; common practice, no source. No must may object, or rule
and place are stated here and argued. The venue is open long enough, so that only the training is judged.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from test_weeks_of_the_trade import MONDAY, block

from planner.domain.block import Block, Competition, Opening, PhaseSpan, Presence
from planner.domain.plan import Outcome
from planner.review import review, sentence
from planner.review.table import read_plan_table
from planner.season import make_problem

SATURDAY = MONDAY + timedelta(12)  # the block begins twelve days before
RECOVERY = ("mobility full", "active-recovery full", "primer full")
COUNTED = ("training days", "technical jumps", "acceleration", "throws")  # words that tell two objections apart
LAST_DAY = 15  # of the block, counted from its first: three days after the competition

# days before the competition -> what is done; what is negative comes after it
LONG_JUMP = {
    10: "medium-long-jumps 6 jumps; heavy-strength 3x3@85 %",
    9: "extensive-tempo 800 m",
    7: "full-run-ups 4 run-ups; full-long-jumps 4 jumps",
    6: "active-recovery full",
    5: "short-accelerations 140 m; short-long-jumps 6 jumps; power-lifts 3x2@75 %",
    4: "mobility full",
    3: "full-run-ups 4 run-ups; run-up-pop-off 2 run-ups",
    1: "primer full",
    -1: "active-recovery full",
}
TRIPLE_JUMP = {
    10: "medium-triple-jumps 5 jumps; heavy-strength 3x3@85 %",
    9: "active-recovery full",
    7: "full-run-ups 5 run-ups; short-accelerations 100 m",
    5: "short-triple-jumps 6 jumps; power-lifts 3x2@75 %",
    4: "mobility full",
    3: "full-run-ups 4 run-ups; short-triple-jumps 2 jumps",
    1: "primer full",
    -1: "active-recovery full",
}
SPRINT = {
    10: "speed-endurance 360 m",
    9: "extensive-tempo 800 m",
    8: "mobility full",
    7: "flying-sprints 80 m; heavy-strength 2x3@80 %",
    5: "block-starts 6 starts; long-accelerations 120 m",
    4: "extensive-tempo 600 m",
    3: "block-starts 4 starts; long-accelerations 60 m",
    1: "primer full",
    -1: "active-recovery full",
}
FOUR_HUNDRED = {
    10: "long-special-endurance 600 m",
    8: "short-accelerations 120 m; heavy-strength 3x3@82 %",
    7: "extensive-tempo 1000 m",
    5: "speed-endurance 240 m",
    4: "extensive-tempo 600 m",
    3: "short-accelerations 80 m; build-ups 150 m",
    1: "primer full",
    -1: "active-recovery full",
    -2: "extensive-tempo 600 m",
}
COMBINED = {
    10: "race-hurdles 12 barriers; short-high-jumps 6 jumps",
    9: "throws-technique 15 throws; mobility full",
    7: "full-long-jumps 3 jumps; long-accelerations 120 m; throws-technique 10 throws",
    5: "race-hurdles 8 barriers; short-high-jumps 6 jumps; throws-technique 8 throws",
    4: "active-recovery full",
    3: "short-accelerations 80 m; throws-technique 6 throws",  # run-up starts come with what they prepare
    1: "primer full",
    -3: "active-recovery full",
}
COLUMNS = {
    "long jump": (LONG_JUMP, 1),
    "triple jump": (TRIPLE_JUMP, 1),
    "100 m": (SPRINT, 1),
    "400 m": (FOUR_HUNDRED, 1),
    "heptathlon": (COMBINED, 2),
}

# Where the book objects, and why both stand.
# weekly_maximum, training days: the columns fill six days in the week of the competition, three of which are
#   mobility, the primer or the walk of the day after. For us a day of recovery alone is a day at the track; who
#   sees it otherwise raises the number. Without those days each column keeps it (see the last test).
# weekly_maximum, a family: the counts of the same trade allow one time of technical jumps and of throws in a taper
#   and two of accelerations. The triple jumper's two jumps at the end of the last run-ups, the light throws of
#   combined events twice a week, starts and runs in one session counted as two units: each small, and one too many
#   by the letter. A coach who wants them says so.
# fast_days_per_week: the counts leave competitions out, our cap does not, because the most a body bears in a week
#   includes them. The sprinter's starts three days before, and the combined events' hurdles five days before a
#   competition of two days, are each one fast day more; they want an exception with a reason.
TRAINING_DAYS = ("weekly_maximum", "training days")
FAST_DAYS = ("fast_days_per_week", "")
ARGUED = {
    "long jump": {TRAINING_DAYS},
    "triple jump": {TRAINING_DAYS, ("weekly_maximum", "technical jumps")},
    "100 m": {TRAINING_DAYS, FAST_DAYS, ("weekly_maximum", "acceleration")},
    "400 m": {TRAINING_DAYS},
    "heptathlon": {TRAINING_DAYS, FAST_DAYS, ("weekly_maximum", "throws")},
}


def taper(event: str, days: int) -> Block:
    """One athlete, sixteen days, a main competition on the second Saturday."""
    week = block((event,), "advanced")
    meet = Competition("Championships", "Ada", SATURDAY, SATURDAY + timedelta(days - 1), (event,), "main")
    slots = tuple(replace(week.slots[0], day=MONDAY + timedelta(i)) for i in range(LAST_DAY + 1))
    places = [o.place for o in week.openings if o.day == MONDAY]
    coach = week.presences[0].coach
    after = meet.last_day + timedelta(1)
    return replace(
        week,
        ends=slots[-1].day,
        slots=slots,
        openings=tuple(Opening(s.day, s.name, p, s.begins, s.ends) for s in slots for p in places),
        presences=tuple(Presence(s.day, s.name, "Kit", s.minutes, coach) for s in slots),
        competitions=(meet,),
        phases=(
            PhaseSpan("Ada", "taper", MONDAY, meet.last_day),
            PhaseSpan("Ada", "competition", after, slots[-1].day),
        ),
    )


def placed(event: str, folder: Path, column: dict[int, str]) -> Outcome:
    problem = make_problem(taper(event, COLUMNS[event][1]))
    lines = ["athlete,date,slot,unit,amount"]
    for before, cell in column.items():
        for part in cell.split(";"):
            unit, amount = part.strip().split(" ", 1)
            lines.append(f"Ada,{SATURDAY - timedelta(before)},training,{unit},{amount}")
    table = folder / "column.csv"
    table.write_text("\n".join(lines) + "\n", encoding="utf-8")
    plan, given = read_plan_table(table, problem)
    assert len(plan.placements) == len(lines) - 1
    return review(plan, problem, given)


def objections(found: Outcome) -> set[tuple[str, str]]:
    return {(f.rule, next((w for w in COUNTED if w in sentence(f)), "")) for f in found.musts_broken}


@pytest.mark.parametrize("event", COLUMNS)
def test_no_must_objects_to_a_coachs_last_ten_days(event: str, tmp_path: Path) -> None:
    found = placed(event, tmp_path, COLUMNS[event][0])
    assert objections(found) == ARGUED[event], [sentence(f) for f in found.musts_broken]
    assert MONDAY + timedelta(7) in {f.day for f in found.musts_broken}


@pytest.mark.parametrize("event", COLUMNS)
def test_without_days_of_recovery_alone_the_training_days_are_kept(event: str, tmp_path: Path) -> None:
    column = {d: cell for d, cell in COLUMNS[event][0].items() if cell not in RECOVERY}
    found = placed(event, tmp_path, column)
    assert objections(found) == ARGUED[event] - {TRAINING_DAYS}
