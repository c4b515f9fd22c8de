"""What a re-plan prints again: only the sheets that are no longer true, and a notice of what changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from planner import flow
from planner.domain.block import NOWHERE, Limit
from planner.domain.facts import people_of
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.flow import Result, Settings
from planner.options import Case, Way

if TYPE_CHECKING:
    from planner.ledger import Ledger
    from planner.review.changes import Change
    from planner.sheets import PrintReport


def published(
    file: Path, ledger: Ledger, case: Case, way: Way, result: Result, settings: Settings
) -> Result:
    """Only the sheets that differ from what was handed out, or from what was printed since; and the notice."""
    from planner.numbers.recorded import moves_card, moves_numbers
    from planner.review.changes import changes, reasons, unchanged
    from planner.sheets import BOARD, COMPETITION, OF_A_SLOT, PARENTS, RUN_UP, is_child

    now = way.outcome.plan.placements
    other = () if case.present is case.base else changes(case.present.placements, now)
    moved_numbers = (who for f in case.news if moves_numbers(f) for who in people_of(f))
    limited = limited_otherwise(case.before, way.asked, case.clock.date())
    told = {*(c.athlete for c in (*way.changes, *other)), *moved_numbers, *(who for who, _ in limited)}
    names = tuple(a for a in way.asked.athletes if a in told)
    cards = {who for f in case.news if moves_card(f, way.asked.block) for who in people_of(f)}
    cared = cared_otherwise(case.before, way.asked, case.clock.date())
    children = [a.name for a in way.asked.block.athletes if a.name in names and is_child(a, way.asked)]
    days = [str(day) for day in days_told_otherwise(case, now, limited)]
    result = flow.publish(file, ledger, result, settings, (BOARD, *names))
    for kinds, whose in (
        ((RUN_UP,), sorted(cards)), ((COMPETITION,), cared), ((PARENTS,), children), (OF_A_SLOT, days),
    ):  # fmt: skip
        if whose:
            again = flow.publish(file, ledger, result, settings, (*kinds, *whose))
            result = replace(result, report=both(result.report, again.report))
    if result.report is None:
        return result
    left = unchanged(case.stand.to_come, way.changes)
    return with_notice(file, result, way.changes, left, reasons(case.news), settings)


def days_told_otherwise(case: Case, now: Sequence[Placement], limited: set[tuple[str, date]]) -> list[date]:
    """Days of the coming week of which the coach's pages are old: another plan, or a limit of who trains there."""
    today = case.clock.date()
    settled = {p.key for p in case.stand.settled}
    after = [p for p in now if p.key not in settled]
    found = {*changed_days(case.stand.to_come, after, today)}
    if case.present is not case.base:  # pages of the way that was taken first are old now too
        held = [*case.stand.to_come, *(p for p in case.present.placements if p.begins >= case.clock)]
        found |= {*changed_days(held, after, today)}
    found |= {p.day for p in after if (p.athlete, p.day) in limited and p.day in coming(today)}
    return sorted(found)


def cared_otherwise(before: Problem, now: Problem, today: date) -> tuple[str, ...]:
    """Athletes whose competitions to come, or limits on their days, are other than when the plan was made."""

    def said(problem: Problem, athlete: str) -> list[object]:
        ahead = [c for c in problem.competitions_of(athlete) if c.last_day >= today]
        return [(c, _limits(problem, athlete, c.first_day)) for c in ahead]

    return tuple(a for a in now.athletes if said(before, a) != said(now, a))


def limited_otherwise(before: Problem, now: Problem, today: date) -> set[tuple[str, date]]:
    """(athlete, day) from today on where the limits, which pages name, are other than when the plan was made."""
    days = [d for d in now.days if d >= today]
    return {(a, d) for a in now.athletes for d in days if _limits(before, a, d) != _limits(now, a, d)}


def _limits(problem: Problem, athlete: str, day: date) -> list[Limit]:
    return [replace(x, line=NOWHERE) for x in problem.limits_on(athlete, day)]


def coming(today: date) -> list[date]:
    """The days whose slots have sheets of their own already."""
    from planner.sheets import AHEAD_DAYS

    return [today + timedelta(days=n) for n in range(AHEAD_DAYS)]


def with_notice(
    file: Path,
    result: Result,
    found: tuple[Change, ...],
    left: tuple[str, ...],
    why: tuple[str, ...],
    settings: Settings,
) -> Result:
    """The change notice beside the new sheets."""
    from planner.sheets import print_notice

    folder = settings.sheets or file.parent / "sheets"
    paper = settings.paper or result.problem.block.paper
    more = print_notice(found, left, why, result.problem, result.revision, folder, paper=paper)
    return replace(result, report=both(result.report, more))


def both(had: PrintReport | None, more: PrintReport | None) -> PrintReport | None:
    """Two reports of printing as one; what both warn of is said once."""
    from planner.sheets import PrintReport

    if had is None or more is None:
        return had or more
    return PrintReport(
        (*had.written, *more.written),
        (*had.not_written, *more.not_written),
        (*had.overflow, *more.overflow),
        tuple(dict.fromkeys((*had.warnings, *more.warnings))),
        (*had.unchanged, *more.unchanged),
    )


def changed_days(was: Sequence[Placement], now: Sequence[Placement], today: date) -> list[date]:
    """Days of the coming week on which anything is placed or timed otherwise than before."""
    timed = [{(p.key, p.starts, p.place) for p in placements} for placements in (was, now)]
    days = {key[1] for key, _, _ in timed[0] ^ timed[1]}
    return sorted(days & set(coming(today)))
