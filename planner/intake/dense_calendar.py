"""Competitions that lie close together: made of the calendar alone, so no plan could mend it, but a coach may."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planner.catalogue import competitions_close_together, event_type, has_own_table, weekends_running
from planner.domain.block import Athlete, Block, Competition
from planner.intake.complaints import Reporter, quoted

WEEK = timedelta(days=7)


def look_for_dense_calendar(block: Block, report: Reporter) -> None:
    """Warn once per athlete and event of too many competitions, and once per athlete of weekends running."""
    for athlete in block.athletes:
        own = [c for c in block.competitions if c.athlete == athlete.name]
        own.sort(key=lambda c: (c.first_day, c.name))
        for event in athlete.events:
            _event(athlete, event, [c for c in own if event in (c.events or athlete.events)], report)
        _weekends(athlete, own, report)


def _event(athlete: Athlete, event: str, meets: list[Competition], report: Reporter) -> None:
    figure = competitions_close_together(_kind(event))
    if figure is None:
        return
    most, days = figure
    counted = [(d, c) for c in meets for d in _counted(event, c)]
    for i, (last, meet) in enumerate(counted):
        inside = sum(last - d < timedelta(days=days) for d, _ in counted[: i + 1])
        if inside > most:
            what = "days of competition" if event_type(event) == "sprint" else "competitions"
            report.warn(
                meet.line,
                f"{inside} {what} of {quoted(athlete.name)} in the {event} within {days} days, to {last}",
                f"{most} at most in {days} days",
                "leave one out, or train through it",
            )
            return


def _kind(event: str) -> str:
    """The event's own figures, or those of its kind; '' where it only borrows weekly figures of another."""
    if event.endswith("athlon"):
        return "combined events"
    return event_type(event) if event != "all" and has_own_table(event) else ""


def _counted(event: str, meet: Competition) -> Iterator[date]:
    """The dates that count: every day for sprints, the first one of a competition for the others."""
    day = meet.first_day
    yield day
    while event_type(event) == "sprint" and day < meet.last_day:
        day += timedelta(days=1)
        yield day


def _weekends(athlete: Athlete, meets: list[Competition], report: Reporter) -> None:
    most, running, before = weekends_running(), 0, date.min
    for meet in meets:
        saturday = next((d for d in _weekend_days(meet)), None)
        if saturday is None or saturday == before:
            continue
        running = running + 1 if saturday - WEEK == before else 1
        before = saturday
        if running > most:
            report.warn(
                meet.line,
                f"{running} weekends running with a competition of {quoted(athlete.name)}, to {meet.last_day}",
                f"a weekend without one after {most}",
                "leave one out",
            )
            return


def _weekend_days(meet: Competition) -> Iterator[date]:
    """The Saturday of each weekend that a competition touches."""
    day = meet.first_day
    while day <= meet.last_day:
        if day.weekday() >= 5:
            yield day - timedelta(days=day.weekday() - 5)
        day += timedelta(days=1)
