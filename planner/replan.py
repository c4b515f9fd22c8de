"""A real week happens: what was recorded, and the least change to the plan that it asks for.

    facts -> the block as it stands -> the same Problem, with what is done and held -> the same solve and review

The same parts as in planner/flow.py meet here, in the same order, with more known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from planner import flow
from planner.domain.block import Block, RuleSetting
from planner.domain.errors import Told
from planner.domain.facts import Fact, people_of
from planner.domain.plan import Outcome, Placement, Plan
from planner.domain.problem import Problem
from planner.flow import MustBroken, Result, Settings

if TYPE_CHECKING:
    from planner.ledger import Ledger, StoredPlan
    from planner.review.changes import Change
    from planner.season.replan import Stand
    from planner.sheets import PrintReport

KEEP = "keep_handed_out"
ABOVE_ALL = 1_000_000  # points a step: no gain on any target buys a change of what was handed out


class BadFact(Told):
    """A fact that cannot be true, or contradicts what is recorded. Nothing of it was recorded."""


@dataclass(frozen=True)
class Replanned:
    """What a re-plan came to: the recorded result, what changed, and for whom nothing did."""

    result: Result
    changes: tuple[Change, ...]
    unchanged: tuple[str, ...]


def tell(file: Path, facts: Sequence[Fact], settings: Settings) -> tuple[int, ...]:
    """Record facts, all of them or none; BadFact names everything that speaks against them."""
    from planner.ledger import Ledger
    from planner.review.fact_check import complaints_about

    problem, _ = flow.planned(file)
    now = settings.now(problem.block.time_zone)
    with Ledger.open(file, create=False) as ledger:
        known = ledger.facts(include_undone=True)
        against = [str(c) for fact in facts for c in complaints_about(fact, problem, known, now)]
        if against:
            raise BadFact("\n".join(against))
        return ledger.record_facts(facts)


def differs_from(file: Path, block: Block) -> list[str]:
    """Where the coach's file and what was recorded since say different things; nothing without a ledger."""
    from planner.ledger import Ledger, LedgerMissing
    from planner.season.differences import differences

    try:
        with Ledger.open(file, create=False) as ledger:
            return differences(block, ledger.facts())
    except LedgerMissing:
        return []


def replan(file: Path, settings: Settings) -> Replanned:
    """The least change that what was recorded since the present plan asks for; a new revision if any.

    Whoever nothing happened to keeps every session, as long as a plan exists that leaves them alone.
    """
    from planner.ledger import Ledger
    from planner.numbers.recorded import moves_numbers
    from planner.review.changes import changes, reasons, unchanged
    from planner.sheets import BOARD, OF_A_SLOT

    before, stored = flow.planned(file)
    now = settings.now(before.block.time_zone)
    with Ledger.open(file, create=False) as ledger:
        facts = ledger.facts()
        problem, stand = flow.after_facts(file, stored, facts, now)
        news = tuple(f for f in facts if f.recorded_at > stored.revision.made_at)
        moved = moved_before(ledger, stored, problem)
        who = who_may_change(problem, stand, news)
        asked, outcome = least_change(problem, stand, stored, who, moved, settings)
        if outcome.musts_broken:
            from planner.review import sentence

            raise MustBroken("\n".join(sentence(f) for f in outcome.musts_broken))
        after = [p for p in outcome.plan.placements if p.key not in {q.key for q in stand.settled}]
        found = changes(stand.to_come, after)
        left = unchanged(stand.to_come, found)
        if not found and not news:
            return Replanned(Result(asked, stored.outcome, stored.revision, unchanged=True), (), left)
        reason = f"re-planned, {len(news)} new {'fact' if len(news) == 1 else 'facts'}"
        result = flow.record(ledger, stored, asked, outcome, settings, reason=reason)
        moved_numbers = (who for f in news if moves_numbers(f) for who in people_of(f))
        told = (*(c.athlete for c in found), *moved_numbers)
        names = tuple(dict.fromkeys(who for who in told if who in asked.athletes))
        result = flow.publish(file, ledger, result, settings, (BOARD, *names))
        soon = changed_days(stand.to_come, after, now.date())
        if soon:  # the coach's pages of these days are old now
            again = flow.publish(file, ledger, result, settings, (*OF_A_SLOT, *(str(day) for day in soon)))
            result = replace(result, report=both(result.report, again.report))
        if result.report is not None:
            result = with_notice(file, result, found, left, reasons(news), settings)
    return Replanned(result, found, left)


def with_notice(  # what the notice says
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
    )


def changed_days(was: Sequence[Placement], now: Sequence[Placement], today: date) -> list[date]:
    """Days of the coming week on which anything is placed or timed otherwise than before."""
    from planner.sheets import AHEAD_DAYS

    timed = [{(p.key, p.starts, p.place) for p in placements} for placements in (was, now)]
    days = {key[1] for key, _, _ in timed[0] ^ timed[1]}
    return sorted(d for d in days if today <= d < today + timedelta(days=AHEAD_DAYS))


def who_may_change(problem: Problem, stand: Stand, news: Sequence[Fact]) -> Iterator[frozenset[str]]:
    """Whose sessions may change: first those whom something touches, and only if that is not enough, all."""
    from planner.review import review
    from planner.season.replan import named_by

    offered = {_where(p, problem) for p in problem.candidates}
    lost = {p.athlete for p in stand.to_come if _where(p, problem) not in offered}
    as_held = replace(problem, kept=stand.settled, handed_out=())
    broken: set[str] = set()
    for finding in review(Plan.of(stand.to_come), as_held).musts_broken:
        if finding.athlete:
            broken.add(finding.athlete)
        else:
            there = [p for p in stand.to_come if p.day == finding.day and finding.slot in ("", p.slot)]
            broken |= {p.athlete for p in there}
    touched = frozenset({*named_by(news), *lost, *broken} & set(problem.athletes))
    yield touched
    everybody = frozenset(problem.athletes)
    if touched != everybody:
        yield everybody


def _where(p: Placement, problem: Problem) -> tuple[object, ...]:
    """What an athlete holds of a unit: day, slot, when and where; the amount may be either.

    Places of a kind are alike: the timetable may have sent somebody to the second pit.
    """
    return (p.athlete, p.day, p.slot, p.unit.id, p.begins, p.venue, problem.kind_of_place(p))


def least_change(  # what is known of a week
    problem: Problem,
    stand: Stand,
    stored: StoredPlan,
    who: Iterator[frozenset[str]],
    moved: frozenset[tuple[str, str, date]],
    settings: Settings,
) -> tuple[Problem, Outcome]:
    """Solve with every change of what was handed out dearer than any target; then review as usual."""
    from planner.review import review
    from planner.season.replan import as_handed_out, problem_for_replan
    from planner.solve import Impossible, verify

    clock = settings.now(problem.block.time_zone).replace(tzinfo=None)
    failed: Impossible | None = None
    for touched in who:
        asked = problem_for_replan(
            problem, stand, stored.placements, touched, clock, moved_before=moved
        )
        dear = RuleSetting(KEEP, "weight", ABOVE_ALL)
        weighed = replace(asked, block=replace(asked.block, settings=(*asked.block.settings, dear)))
        try:
            plan = flow.solved(weighed, settings, 1)
        except Impossible as error:
            failed = error
            continue
        verify(plan, weighed)
        timed, clashes = flow.with_times(plan, asked)
        outcome = review(as_handed_out(timed, asked), asked)
        return asked, replace(outcome, remarks=clashes)
    assert failed is not None
    raise failed


def moved_before(ledger: Ledger, stored: StoredPlan, problem: Problem) -> frozenset[tuple[str, str, date]]:
    """Key units that stand on another day than in the plan first handed out: they do not move again."""
    given = ledger.handed_out()
    if not given:
        return frozenset()
    first = {p.key for p in ledger.revision(given[0].revision, problem.units).placements}
    return frozenset(
        (p.athlete, p.unit.id, p.day)
        for p in stored.placements
        if p.importance == "key" and p.key not in first and not _same_day(p, first)
    )


def _same_day(p: Placement, first: set[tuple[str, date, str, str, str]]) -> bool:
    return any(key[:4] == p.key[:4] for key in first)
