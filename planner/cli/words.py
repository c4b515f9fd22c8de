"""Lines for the terminal, 80 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from planner.domain.finding import TIERS
from planner.domain.plan import Outcome, Placement, TierStatus
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.sheets.looks import look_of

if TYPE_CHECKING:
    from planner.flow import Result
    from planner.sheets import PrintReport

WIDTH = 80
MOST_REMARKS = 6  # of what cannot be had, on the screen
TIER_WORDS = {"must": "musts", "should": "shoulds", "prefer": "preferences"}


def wrapped(text: str, indent: str = "  ") -> list[str]:
    """A sentence as a bullet, broken at 80 columns."""
    lines: list[str] = []
    for i, part in enumerate(text.splitlines() or [""]):
        lead = f"{indent}- " if i == 0 else f"{indent}  "
        lines += textwrap.wrap(part, WIDTH, initial_indent=lead, subsequent_indent=f"{indent}  ") or [lead]
    return lines


def amount_words(p: Placement) -> str:
    """'240 metres', or with the lighter word: '120 metres, lighter'."""
    word = ", lighter" if p.dose.word == "lighter" else ""
    return f"{p.dose.amount} {p.dose.measure}{word}"


def sure_words(status: TierStatus | None) -> str:
    """'proved best', or by how many points at most it may be improved."""
    if status is None or status.bound is None:
        return "may be improved; by how much is not known"
    return "proved best" if status.proved else f"may be improved, by at most {status.gap} of {status.value}"


def build_summary(result: Result, file: Path) -> list[str]:
    """What a build came to: revision, how sure, what could not be had."""
    from planner.review.exceptions import prices

    outcome, problem = result.outcome, result.problem
    sessions = {(p.athlete, p.day, p.slot) for p in outcome.plan.placements}
    state = "stands unchanged" if result.unchanged else "is recorded as a draft"
    lines = [
        f"{problem.block.name}: revision {result.revision.number} {state}.",
        f"{len(problem.athletes)} athletes, {len(problem.days)} days, {len(sessions)} sessions, "
        f"{len(outcome.plan.placements)} units. Every must is kept.",
    ]
    for tier in TIERS[1:]:
        points = sum(outcome.score.get(tier, {}).values())
        status = outcome.plan.status.get(tier)
        lines.append(f"{TIER_WORDS[tier].capitalize()}: {points} points given way, {sure_words(status)}.")
    for price in prices(outcome.plan, problem):
        lines += wrapped(str(price))
    if outcome.plan.stopped_early:
        lines.append("Stopped early; a second run may differ.")
    if outcome.remarks:
        lines.append("Cannot be had:")
        for remark in outcome.remarks[:MOST_REMARKS]:
            lines += wrapped(remark)
        more = len(outcome.remarks) - MOST_REMARKS
        if more > 0:
            lines.append(f"  ... and {more} more, on the coach's own copy of the board.")
    return lines


def sheet_lines(report: PrintReport) -> list[str]:
    """What was written, what stood there already, what could not be written, and what to do about it."""
    lines = []
    if report.written:
        folder = report.written[0].parent
        lines.append(f"{len(report.written)} sheets in {folder}")
    if report.unchanged:
        folder = report.unchanged[0].parent
        lines.append(f"{len(report.unchanged)} sheets unchanged in {folder}")
    for title, items in (
        ("Could not be written or drawn", report.not_written),
        ("Does not fit", report.overflow),
        ("Mind", report.warnings),
    ):
        if items:
            lines.append(f"{title}:")
            for item in items:
                lines += wrapped(str(item))
    return lines


def week_lines(problem: Problem, placements: Sequence[Placement], days: Sequence[date]) -> list[str]:
    """One week of the squad: a row an athlete, a column a day, families by their first letters."""
    view = PlanView(placements, problem)
    width = max(4, min(16, *(len(a) for a in problem.athletes))) if len(problem.athletes) > 1 else 12
    cell = (WIDTH - width) // 7
    lines = [" " * width + "".join(f"{d:%a %d}".ljust(cell) for d in days)]
    for athlete in problem.athletes:
        cells = []
        for day in days:
            if problem.competition_on(athlete, day):
                cells.append("COMPETE"[: cell - 1])
                continue
            units = [p for p in view.on(athlete, day) if p.day in problem.days]
            marks = "".join(_short(p) for p in units)
            fast = "!" if view.neural(athlete, day) >= 3 else ""
            cells.append((marks or "-")[: cell - 1 - len(fast)] + fast)
        lines.append(athlete[: width - 1].ljust(width) + "".join(c.ljust(cell) for c in cells))
    return lines


def _short(p: Placement) -> str:
    letter = look_of(p.unit.family).letter
    return letter.lower() if p.dose.word == "lighter" else letter


def legend(families: Iterable[str]) -> list[str]:
    """What the letters of the week table mean."""
    looks = sorted({(look_of(f).letter, look_of(f).name) for f in families})
    text = ", ".join(f"{letter} {name.lower()}" for letter, name in looks)
    return textwrap.wrap(f"{text}; small letter: lighter; ! fast day; - rest", WIDTH)


def day_lines(problem: Problem, placements: Sequence[Placement], *, names: bool) -> list[str]:
    """Sessions in time order: when, what, how much, where, with whom."""
    lines: list[str] = []
    head: tuple[object, ...] = ()
    opens: dict[tuple[object, ...], datetime] = {}
    for p in placements:
        session = (p.day, p.slot, p.athlete)
        opens[session] = min(p.begins, opens.get(session, p.begins))

    def in_time(p: Placement) -> tuple[object, ...]:
        first = opens[p.day, p.slot, p.athlete]
        return (first, p.athlete, p.slot, p.starts or p.begins, p.unit.order, p.unit.id)

    for p in sorted(placements, key=in_time):
        now = (p.day, p.slot, p.athlete)
        if now != head:
            head = now
            who = f"  {p.athlete}" if names else ""
            lines.append(f"{p.day:%a %d %b}  {p.slot} {opens[now]:%H:%M}{who}")
        for unit, amount, measure in p.dose.preparation:
            lines.append(f"    first: {unit.replace('-', ' ')}, {amount} {measure}")
        where = ", ".join(x for x in (p.place, p.coach) if x)
        starts = f"{p.starts:%H:%M} " if p.starts else ""
        line = f"    {starts}{p.unit.name}, {amount_words(p)}" + (f"  [{where}]" if where else "")
        lines += textwrap.wrap(line, WIDTH, subsequent_indent="      ", drop_whitespace=True) or [line]
        lines[-1] = lines[-1] if lines[-1].startswith(" ") else f"    {lines[-1]}"
    return lines


def review_lines(outcome: Outcome) -> list[str]:
    """Every finding as its rule says it, by tier."""
    from planner.review import sentence

    lines: list[str] = []
    for tier in TIERS:
        found = [f for f in outcome.findings if f.tier == tier]
        points = sum(outcome.score.get(tier, {}).values())
        lines.append(f"{TIER_WORDS[tier].capitalize()}: {len(found)} found, {points} points.")
        for finding in found:
            lines += wrapped(sentence(finding))
    lines += [f"  {text}" for text in outcome.not_judged]
    return lines
