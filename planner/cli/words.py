"""Lines for the terminal, 80 columns wide."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from planner.catalogue import unit_in_words
from planner.domain.competing import limits_against, several_events
from planner.domain.finding import TIERS
from planner.domain.plan import Outcome, Placement, TierStatus
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.domain.who_goes import nobody_goes
from planner.sheets.looks import look_of

if TYPE_CHECKING:
    from planner.flow import Result
    from planner.sheets import PrintReport
    from planner.sheets.report import Overflow

WIDTH = 80
CELL = 8  # columns of a day in the week's table, at least
MOST_REMARKS = 6  # of what cannot be had, on the screen
WHO_GOES = "Who goes with them? Maybe add the day to 'away' of a coach, or another adult goes."
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
    return f"{counted(p.dose.amount, p.dose.measure)}{word}"


def sure_words(status: TierStatus | None) -> str:
    """'proved best', or how many of the points given way another plan could still win at most."""
    if status is None or status.bound is None:
        return "how many could still be won is not known"
    return "proved best" if status.proved else f"at most {status.gap} of them could still be won"


def build_summary(result: Result, file: Path) -> list[str]:
    """What a build came to: revision, how sure, what could not be had."""
    from planner.review.exceptions import prices

    outcome, problem = result.outcome, result.problem
    sessions = {(p.athlete, p.day, p.slot) for p in outcome.plan.placements}
    state = "stands unchanged" if result.unchanged else "is recorded as a draft"
    lines = [
        f"{problem.block.name}: revision {result.revision.number} {state}.",
        f"{counted(len(problem.athletes), 'athletes')}, {counted(len(problem.days), 'days')}, "
        f"{counted(len(sessions), 'sessions')}, "
        f"{counted(len(outcome.plan.placements), 'units')}. Every must is kept.",
    ]
    idle = [a for a in problem.athletes if not any(s[0] == a for s in sessions)]
    if idle:
        lines += wrapped(f"Not one session: {', '.join(idle)}. Look at what is unusual: planner check {file}", "")
    lines += [part for said in _undecided(problem) for part in wrapped(said, "")]
    lines += who_goes_lines(problem)
    for tier in TIERS[1:]:
        points = sum(outcome.score.get(tier, {}).values())
        status = outcome.plan.status.get(tier)
        lines.append(f"{TIER_WORDS[tier].capitalize()}: {points} points given way; {sure_words(status)}.")
    for price in prices(outcome.plan, problem):
        lines += wrapped(str(price))
    if outcome.plan.stopped_early:
        lines.append("Stopped early; a second run may differ.")
    if outcome.remarks:
        lines.append("Cannot be had:")
        for remark in _telling(outcome.remarks, idle)[:MOST_REMARKS]:
            lines += wrapped(remark.replace(": cannot be had, because: ", "; because: "))
        more = len(outcome.remarks) - min(MOST_REMARKS, len(_telling(outcome.remarks, idle)))
        if more > 0:
            lines.append(f"  ... and {more} more, on the coach's own copy of the board.")
    return lines


def who_goes_lines(problem: Problem) -> list[str]:
    """Athletes who compete while every coach is planned at home, a competition once."""
    return [part for found in nobody_goes(problem.block) for part in wrapped(f"{found}. {WHO_GOES}", "")]


def _undecided(problem: Problem) -> list[str]:
    """Who is entered under a limit, or in several events: the plan goes on, and says who decides that."""
    early: dict[str, list[str]] = {}
    both: dict[str, list[str]] = {}
    for c in problem.block.competitions:
        if limits_against(problem.block, c):
            early.setdefault(c.athlete, []).append(f"{c.name} ({c.first_day:%a %d %b})")
        several = several_events(problem.block, c) if c.importance == "main" else None
        if several is not None and not several.accepted and c.first_day >= problem.block.begins:
            both.setdefault(f"{c.name} ({c.first_day:%a %d %b})", []).append(f"{c.athlete} ({several})")
    return [
        *(
            f"{athlete} is entered in {', '.join(meets)} under a limit of the body. The plan does not decide "
            "that: a person does (clinician, coach and athlete)."
            for athlete, meets in early.items()
        ),
        *(
            f"Several events on one day at {meet}: {'; '.join(people)}. The plan does not decide that: a person "
            "accepts it in the block file ('gap_accepted'), or takes one out."
            for meet, people in both.items()
        ),
    ]


def _telling(remarks: Sequence[str], idle: Sequence[str]) -> list[str]:
    """Remarks for the screen: of whoever trains not once the first only, for all of theirs say the same."""
    first: dict[str, str] = {}
    for remark in remarks:
        who = next((a for a in idle if remark.startswith((f"{a},", f"{a}:"))), remark)
        first.setdefault(who, remark)
    return list(first.values())


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
        ("Does not fit", _once(report.overflow)),
        ("Mind", report.warnings),
    ):
        if items:
            lines.append(f"{title}:")
            for item in items:
                lines += wrapped(str(item))
    return lines


def _once(overflow: Sequence[Overflow]) -> list[str]:
    """What does not fit, the same text in the same corner of many pages said once."""
    first: dict[tuple[str, str], Overflow] = {}
    more: Counter[tuple[str, str]] = Counter()
    for one in overflow:
        first.setdefault((one.cell, one.text), one)
        more[one.cell, one.text] += 1
    return [f"{one}" + (f" And on {n} more pages." if (n := more[key] - 1) else "") for key, one in first.items()]


def week_lines(problem: Problem, placements: Sequence[Placement], days: Sequence[date]) -> list[str]:
    """One week of the squad: a row an athlete, a column a day, families by their first letters."""
    view = PlanView([p for p in placements if days[0] <= p.day <= days[-1]], problem)
    first, last = problem.block.begins, problem.block.ends
    width = min(WIDTH - 7 * CELL, max(len(a) for a in problem.athletes) + 2)
    cell = (WIDTH - width) // 7
    called = in_room(tuple(problem.athletes), width - 1)
    lines = [(" " * width + "".join(f"{d:%a %d}".ljust(cell) for d in days)).rstrip()]
    for athlete in problem.athletes:
        cells = []
        for day in days:
            if problem.competition_on(athlete, day):
                cells.append("COMPETE"[: cell - 1])
                continue
            units = [p for p in view.on(athlete, day) if first <= p.day <= last]
            marks = "".join(_short(p) for p in units)
            fast = "!" if view.neural(athlete, day) >= 3 else ""
            cells.append((marks or "-")[: cell - 1 - len(fast)] + fast)
        lines.append((called[athlete].ljust(width) + "".join(c.ljust(cell) for c in cells)).rstrip())
    return lines


def in_room(athletes: Sequence[str], room: int) -> dict[str, str]:
    """A name as long as there is room for it: whole, else with the family name's first letter, else cut."""
    found = {}
    for name in athletes:
        short = _initial(name)
        alone = sum(_initial(a) == short for a in athletes) == 1
        found[name] = (name if len(name) <= room or not alone else short)[:room]
    return found


def _initial(name: str) -> str:
    """'Ada L.' of 'Ada Lindmoor'."""
    given, *rest = name.split() or [name]
    return " ".join([given, *(f"{word[0]}." for word in rest[-1:])])


def _short(p: Placement) -> str:
    letter = look_of(p.unit.family).letter
    return letter.lower() if p.dose.word == "lighter" else letter


def legend(families: Iterable[str]) -> list[str]:
    """What the letters of the week table mean."""
    looks = sorted({(look_of(f).letter, look_of(f).name) for f in families})
    text = ", ".join(f"{letter} {name.lower()}" for letter, name in looks)
    return textwrap.wrap(f"{text}; small letter: lighter; ! fast day; - rest", WIDTH)


def day_lines(
    problem: Problem, placements: Sequence[Placement], days: Iterable[date], athlete: str = ""
) -> list[str]:
    """What the calendar says of the days, then sessions: when, what, how much, where, with whom.

    Of one athlete, or of all, each named.
    """
    sessions: dict[tuple[date, str, str], list[Placement]] = {}
    for p in placements:
        sessions.setdefault((p.day, p.athlete, p.slot), []).append(p)
    people = (athlete,) if athlete else tuple(problem.athletes)
    lines: list[str] = []
    for day in days:
        for name in people:
            lines += _calendar_lines(problem, name, day, named=not athlete)
        own = [s for (on, name, _), s in sessions.items() if on == day and name in people]
        for session in sorted(own, key=lambda s: (min(p.begins for p in s), s[0].athlete, s[0].slot)):
            lines += _session_lines(session, named=not athlete)
    return lines


def _calendar_lines(problem: Problem, athlete: str, day: date, *, named: bool) -> list[str]:
    """A competition, an exam, an absence: 'Sat 22 May  County match, main competition'."""
    from planner.sheets.build_athlete import calendar

    who = f"  {athlete}:" if named else ""
    said = [", ".join(x for x in (e.title.rstrip("."), e.text) if x) for e in calendar(athlete, day, problem)]
    lines = [f"{day:%a %d %b}{who}  {text}" for text in said]
    return [part for line in lines for part in textwrap.wrap(line, WIDTH, subsequent_indent="  ")]


def _session_lines(session: Sequence[Placement], *, named: bool) -> list[str]:
    first = session[0]
    who = f"  {first.athlete}" if named else ""
    lines = [f"{first.day:%a %d %b}  {first.slot} {min(p.begins for p in session):%H:%M}{who}"]
    in_time = sorted(session, key=lambda p: (p.starts or p.begins, p.unit.order, p.unit.id))
    for unit, amount, measure in (first for p in in_time for first in p.dose.preparation):
        lines.append(f"    first: {unit_in_words(unit)}, {counted(amount, measure)}")
    for p in in_time:
        where = ", ".join(x for x in (p.place, p.coach) if x)
        starts = f"{p.starts:%H:%M} " if p.starts else ""
        line = f"    {starts}{p.name}, {amount_words(p)}" + (f"  [{where}]" if where else "")
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
