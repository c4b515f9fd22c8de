"""What the sheets say of a day beside the training: the day of the camp, how hot or cold the slot will be."""

from __future__ import annotations

from datetime import date

from planner.domain.camp import camp_dates, camp_day
from planner.domain.problem import Problem
from planner.domain.view import Session
from planner.numbers.heat_notes import cold_note, heat_note
from planner.rules._weather import heat, outdoors, said
from planner.sheets import words


def day_note(problem: Problem, athlete: str, day: date) -> str:
    """'Camp day 3', counted from the athlete's own arrival; '' outside a camp."""
    number = camp_day(problem, athlete, day)
    return f"Camp day {number}" if number else ""


def weather_note(problem: Problem, session: Session) -> str:
    """What heat or cold asks of a session, as sentences; '' indoors, without a forecast, or in usual weather."""
    if not any(outdoors(problem, p) for p in session.placements):
        return ""
    notes = [heat_note(problem, session.athlete, session.day, session.slot)]
    if any(p.dose.neural >= 3 for p in session.placements):
        notes.append(cold_note(problem, session.athlete, session.day, session.slot))
    return " ".join(words.sentence(n) for n in notes if n)


def lane_notes(problem: Problem, day: date, slot: str, opens: bool) -> tuple[str, ...]:
    """For a column's head: the camp's own day where the column opens it, and the forecast of the slot."""
    found = []
    dates = camp_dates(problem.block)
    if opens and dates is not None and dates[0] <= day <= dates[1]:
        found.append(f"camp day {(day - dates[0]).days + 1}")
    hot = heat(problem, day, slot) if slot else None
    if hot is not None and hot.wbgt is not None:
        found.append(f"WBGT {hot.wbgt / 10:g} °C")
    air = said(problem, day, slot, lambda w: w.air) if slot else None
    if air is not None and air.air is not None:
        found.append(f"air {air.air / 10:g} °C")
    return tuple(found)
