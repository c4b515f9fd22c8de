"""A small invented world: one athlete, given marks, placements by hand."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from planner.catalogue import units
from planner.domain.block import Athlete, Block, Limit, Mark, Opening, Place, RunUp
from planner.domain.facts import Done
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import AmountWord, Dose, Level

MONDAY = date(2027, 3, 1)
WHO = "Runa Teigland"
TRACK = Place("Fjordvang", "straight", "straight")
GRASS = Place("Fjordvang", "lawn", "grass")


def mark(event: str, value: int, unit: str = "hundredths", day: date | None = None) -> Mark:
    return Mark(WHO, event, value, unit, day=day)


def problem(
    *marks: Mark,
    level: Level = "developing",
    run_ups: tuple[RunUp, ...] = (),
    limits: tuple[Limit, ...] = (),
    kinds: tuple[str, ...] = ("loading",) * 12,
    phase: str = "specific-preparation",
    events: tuple[str, ...] = ("long jump",),
) -> Problem:
    athlete = Athlete(WHO, date(2004, 5, 6), "female", events, level)
    days = [MONDAY + timedelta(i) for i in range(7 * len(kinds))]
    openings = tuple(Opening(d, "evening", p, time(17), time(19)) for d in days for p in (TRACK, GRASS))
    block = Block(
        "Spring", days[0], days[-1], athletes=(athlete,), marks=marks, run_ups=run_ups, limits=limits,
        openings=openings,
    )  # fmt: skip
    weeks = tuple(
        AthleteWeek(WHO, i, days[7 * i], tuple(days[7 * i : 7 * i + 7]), phase, 100, kind, 7, {}, Count(1, 2, 3),
                    Count(3, 4, 6), {}, {}, {})
        for i, kind in enumerate(kinds)
    )  # fmt: skip
    return Problem(block, units(), {WHO: weeks}, ())


def placed(
    unit: str, amount: int, day: int = 0, word: AmountWord = "full", place: Place = TRACK, measure: str = ""
) -> Placement:
    of = units()[unit]
    on = MONDAY + timedelta(day)
    dose = Dose(word, amount, measure or of.measure, 2, 1, 40, 6, {}, {}, {})
    return Placement(WHO, on, "evening", of, dose, datetime.combine(on, time(17)), place.name, place.venue)


def done(p: Placement, remark: str = "as planned", amount: int | None = None) -> Done:
    moment = datetime.combine(p.day, time(20))
    return Done(
        recorded_at=moment, athlete=p.athlete, day=p.day, slot=p.slot, unit=p.unit.id, word=p.dose.word,
        remark=remark, amount=amount,
    )  # type: ignore[arg-type]  # fmt: skip
