"""Lines to train by in the words and signs of the athlete page."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from planner.domain.block import Theme
from planner.domain.facts import Fact
from planner.domain.plan import Placement, PlacementKey
from planner.domain.problem import Problem
from planner.domain.view import PlanView, Session
from planner.numbers import Lines
from planner.numbers.case import Shares
from planner.numbers.last_time import last_time
from planner.sheets import words
from planner.sheets.amount_words import amount, measured

ByKey = Mapping[PlacementKey, Lines]
GIVES = re.compile(r",? gives? the (?:number|start mark)$")
AT_THE_PIT = ("technical-jumps", "full-jumps", "run-ups")
LOOK_BACK_DAYS = 14  # what was longer ago is not 'last time' any more


def amount_words(p: Placement, lines: Lines) -> tuple[str, str]:
    """The key number and how it is cut up: ('270 m', '3 × 3 × 30 m'), ('11 jumps', 'from 6 steps')."""
    number, note = amount(p.dose)
    said = words.times(lines.amount)
    total = measured(p.dose.amount, p.dose.measure)
    if said in (number, total):
        return number, note
    if said.startswith(f"{total} "):
        return total, said.removeprefix(f"{total} ")
    return number, said


def asides(lines: Lines) -> str:
    """What differs from the usual this time, for the line of how it is done."""
    return words.unbroken("; ".join(words.clean(n) for n in lines.notes if n))


def lightened(lines: Lines) -> str:
    """The number of the lighter line, what goes first and what stays, as they follow the lighter words."""
    said = f" ({words.times(lines.lighter_number)})" if lines.lighter_number else ""
    if lines.goes_first:
        said += f"; first to go: {lines.goes_first}"
    if lines.stays:
        said += f"; stays: {lines.stays}"
    gap = " " if said.startswith(" ") else ""
    return gap + words.unbroken(words.clean(said))


def tests_missing(lines: Iterable[Lines]) -> str:
    """Which tests would give the numbers that are missing in a week, each once, in the order of the plan."""
    found: dict[str, None] = {}
    for one in lines:
        if one.test:
            found.setdefault(GIVES.sub("", one.test))
    return words.unbroken("; ".join(words.clean(t) for t in found))


def theme_lines(
    session: Session, plan: PlanView, facts: Sequence[Fact], shares: Mapping[str, Shares]
) -> tuple[str, ...]:
    """What stands over a session after a day at the pit: last time, the coach's cue when it is due, today's aim.

    It stands once: over the first session afterwards that serves a theme or goes to the pit.
    """
    athlete = plan.problem.block.athlete(session.athlete)
    found = last_time(facts, athlete.name, session.day, athlete.level_for("full-jumps"), shares.get(athlete.name))
    if found is None or (session.day - found.day).days > LOOK_BACK_DAYS or not _serves(session, plan.problem):
        return ()
    if _came_before(session, plan, found.day):
        return ()
    when = "Yesterday" if (session.day - found.day).days == 1 else f"{words.day_of(found.day)} {_short(found.day)}"
    cue = f", cue '{words.clean(found.cue)}'" if found.cue and not found.cue_due else ""
    lines = [f"{when}, {words.clean(found.event)}: {found.told}{cue}."]
    if found.cue_due:
        after = f" ({found.medians})" if found.medians else ""
        lines.append(f"Coach's cue: '{words.clean(found.cue)}'{after}.")
    aims = [words.clean(t.aim).rstrip(".") for t in _themes(session.athlete, session.day, plan.problem)]
    today = [*aims, *([found.today] if found.today else [])]
    if today:
        lines.append(f"Today: {'; '.join(today)}.")
    return tuple(words.unbroken(line) for line in lines)


def _short(day: date) -> str:
    return words.short_date(day)


def _themes(athlete: str, day: date, problem: Problem) -> list[Theme]:
    own = [t for t in problem.block.themes if t.athlete == athlete]
    return [t for t in own if (t.begins or day) <= day <= (t.ends or day)]


def _serves(session: Session, problem: Problem) -> bool:
    wanted = {u for t in _themes(session.athlete, session.day, problem) for u in t.units} | set(AT_THE_PIT)
    done = {p.unit.id for p in session.placements} | {p.unit.family for p in session.placements}
    drills = {unit for p in session.placements for unit, _, _ in p.dose.preparation}
    return bool(wanted & (done | drills))


def _came_before(session: Session, plan: PlanView, since: date) -> bool:
    """Has another such session stood between that day and this one?"""
    days = [d for d in plan.problem.days if since < d <= session.day]
    for day in days:
        for other in plan.sessions(session.athlete, day):
            if (other.day, other.slot) == (session.day, session.slot):
                return False
            if _serves(other, plan.problem):
                return True
    return False
