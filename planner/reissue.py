"""What a re-plan prints again: only the sheets that are no longer true, and a notice of what changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from planner import flow
from planner.domain.block import NOWHERE
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
    told = {*(c.athlete for c in (*way.changes, *other)), *moved_numbers}
    names = tuple(a for a in way.asked.athletes if a in told)
    result = flow.publish(file, ledger, result, settings, (BOARD, *names))
    cards = {who for f in case.news if moves_card(f, way.asked.block) for who in people_of(f)}
    if cards:
        again = flow.publish(file, ledger, result, settings, (RUN_UP, *sorted(cards)))
        result = replace(result, report=both(result.report, again.report))
    if cared := cared_otherwise(case.before, way.asked, case.clock.date()):
        again = flow.publish(file, ledger, result, settings, (COMPETITION, *cared))
        result = replace(result, report=both(result.report, again.report))
    children = [a.name for a in way.asked.block.athletes if a.name in names and is_child(a, way.asked)]
    if children:
        again = flow.publish(file, ledger, result, settings, (PARENTS, *children))
        result = replace(result, report=both(result.report, again.report))
    settled = {p.key for p in case.stand.settled}
    held = [*case.stand.to_come, *(p for p in case.present.placements if p.begins >= case.clock)]
    after = [p for p in now if p.key not in settled]
    soon = changed_days(case.stand.to_come, after, case.clock.date())
    if case.present is not case.base:  # pages of the way that was taken first are old now too
        soon = sorted({*soon, *changed_days(held, after, case.clock.date())})
    if soon:  # the coach's pages of these days are old now
        again = flow.publish(file, ledger, result, settings, (*OF_A_SLOT, *(str(day) for day in soon)))
        result = replace(result, report=both(result.report, again.report))
    if result.report is None:
        return result
    left = unchanged(case.stand.to_come, way.changes)
    return with_notice(file, result, way.changes, left, reasons(case.news), settings)


def cared_otherwise(before: Problem, now: Problem, today: date) -> tuple[str, ...]:
    """Athletes whose competitions to come, or limits on their days, are other than when the plan was made."""

    def said(problem: Problem, athlete: str) -> list[object]:
        ahead = [c for c in problem.competitions_of(athlete) if c.last_day >= today]
        return [(c, [replace(x, line=NOWHERE) for x in problem.limits_on(athlete, c.first_day)]) for c in ahead]

    return tuple(a for a in now.athletes if said(before, a) != said(now, a))


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
    from planner.sheets import AHEAD_DAYS

    timed = [{(p.key, p.starts, p.place) for p in placements} for placements in (was, now)]
    days = {key[1] for key, _, _ in timed[0] ^ timed[1]}
    return sorted(d for d in days if today <= d < today + timedelta(days=AHEAD_DAYS))
