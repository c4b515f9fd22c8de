"""A Monday evening with a timetable drawn by hand, for the sheets of a slot and for cards."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

from planner.domain.block import Mark, RunUp
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, HelperTask, SlotTimetable, Station, TimetableLine, Watched
from planner.numbers import numbers
from planner.sheets import Beside, PrintReport, Recorded, print_sheets
from planner.sheets.build_athlete import revision_view
from planner.sheets.build_coach import coach_view
from planner.sheets.build_measuring import measuring_view
from planner.sheets.paper import BOARDS
from planner.sheets.view_coach import CoachView
from planner.sheets.view_measuring import MeasuringView
from tests.sheets import world

DAY = world.FIRST
SLOT = "evening"
FRIDAY = DAY + timedelta(days=4)
SUNDAY = DAY + timedelta(days=13)
REVISION = revision_view(world.REVISION, True)
RUN_UPS = (
    RunUp(world.S, "long jump", 18, 3320, 4, 535, 805, 262, day=date(2027, 3, 24)),
    RunUp(world.S, "long jump", 12, 2080, day=date(2027, 3, 24)),
    RunUp(world.J, "triple jump", 14, 2710, board=1100),
)
MARKS = (Mark(world.J, "triple jump", 1462, "cm"),)


def given(**more: object) -> Problem:
    return world.problem(replace(world.block(), **{"run_ups": RUN_UPS, "marks": MARKS, **more}))  # type: ignore[arg-type]


def here(day: date = DAY, slot: str = SLOT) -> tuple[Placement, ...]:
    return tuple(p for p in world.placements() if (p.day, p.slot) == (day, slot))


def at(hour: int, minute: int) -> datetime:
    return datetime.combine(DAY, time(hour, minute))


def table() -> SlotTimetable:
    """Monday evening by hand: two long jumpers share the pit and take turns, a third comes later."""
    lines = []
    for name, begins, ends, turn in (
        (world.S, (17, 30), (18, 0), 1),
        (world.T, (17, 30), (18, 0), 2),
        (world.J, (18, 0), (18, 30), 1),
    ):
        lines += [
            TimetableLine(name, "warm-up", at(17, 0), at(17, 25)),
            TimetableLine(
                name,
                "unit",
                at(*begins),
                at(*ends),
                "medium-long-jumps",
                "full",
                "Solbakken",
                "north pit",
                "Marit Lo",
                2,
                turn,
            ),
            TimetableLine(
                name, "unit", at(*ends), at(18, 55), "low-multi-jumps", "full", "Solbakken", "north pit"
            ),
        ]
    watched = Watched("medium-long-jumps", "north pit", (world.S, world.T), True)
    return SlotTimetable(
        DAY,
        SLOT,
        tuple(lines),
        (Station("Marit Lo", at(17, 30), at(18, 0), "Solbakken", "north pit", (watched,)),),
        (HelperTask("Ola", "rake", at(17, 30), at(18, 30), "Solbakken", "north pit"),),
    )


def measuring(made: Problem | None = None, *, timed: bool = True, day: date = DAY) -> MeasuringView:
    made = made or given()
    asked = [p for p in here(day) if p.place == "north pit" and p.dose.measure in ("jumps", "run-ups", "attempts")]
    lines = numbers(Plan.of(asked), made)
    return measuring_view(
        day,
        SLOT,
        asked,
        made,
        table=table() if timed else None,
        lines=lines,
        recorded=Recorded(),
        revision=REVISION,
    )


def coach(made: Problem | None = None, *, timed: bool = True, clash: Clash | None = None) -> CoachView:
    made = made or given()
    return coach_view(
        DAY,
        SLOT,
        here(),
        made,
        table=table() if timed else None,
        clash=clash,
        lines=numbers(Plan.of(here()), made),
        revision=REVISION,
        paper=BOARDS["A4"],
    )


def printed(folder: Path, *names: str, paper: str = "A4", problem: Problem | None = None) -> PrintReport:
    beside = Beside(DAY, tables={(DAY, SLOT): table()})
    return print_sheets(
        world.outcome(), problem or given(), world.REVISION, folder, paper=paper, names=names, beside=beside
    )
