"""A real week happens: what was recorded, and the least change to the plan that it asks for.

    facts -> the block as it stands -> the same Problem, with what is done and held -> the same solve and review

The same parts as in planner/flow.py meet here, in the same order, with more known.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

from planner import flow, known
from planner.asking import LEAST, Ask, TooEarly, base_of, cannot_stay, lost, numbered, reason_of
from planner.domain.block import Block, RuleSetting, Wish
from planner.domain.errors import Told
from planner.domain.facts import (
    CompetitionAdded,
    CompetitionMoved,
    CompetitionWithdrawn,
    Fact,
    in_force,
)
from planner.domain.finding import Finding, Line
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.problem import Problem
from planner.domain.record import block_from
from planner.flow import MustBroken, Result, Settings
from planner.options import KEEP, MOST, Case, Way, all_ways, changed, has_choice
from planner.reissue import published

if TYPE_CHECKING:
    from planner.ledger import Ledger, StoredPlan
    from planner.review.changes import Change
    from planner.season.reopened import Opened

ABOVE_ALL = 1_000_000  # points a step: no gain on any target buys a change of what was handed out
OF_MEETS = (CompetitionAdded, CompetitionMoved, CompetitionWithdrawn)
DEARER = 1000 * ABOVE_ALL  # what a person asked for by name


class BadFact(Told):
    """A fact that cannot be true, or contradicts what is recorded. Nothing of it was recorded."""


@dataclass(frozen=True)
class Replanned:
    """What a re-plan came to: the recorded result, what changed, for whom nothing did; what is left to decide."""

    result: Result
    changes: tuple[Change, ...]
    unchanged: tuple[str, ...]
    choice: bool = False  # there may be other ways: `options` shows them
    not_ready: tuple[str, ...] = ()  # sentences for the coach, as the two below
    in_doubt: tuple[str, ...] = ()  # an illness without an end; competitions that what happened stands against
    unmet: tuple[str, ...] = ()  # what the coach fixed since, and nobody can give


def tell(
    file: Path,
    facts: Sequence[Fact],
    settings: Settings,
    *,
    at: Sequence[Line] = (),
    wrong: Sequence[str] = (),
    seen: Problem | None = None,
) -> tuple[int, ...]:
    """Record facts, all of them or none; BadFact names everything that speaks against them.

    `at` says where in a table each fact stands, `wrong` what its reader found wrong already. `seen` is the block
    at a glance (`known.at_a_glance`), where the caller has read it already.
    """
    from planner.ledger import Ledger
    from planner.review.fact_check import complaints_about

    # Competitions may stand in an earlier block's file alone: only a fact about one needs the whole look.
    if any(isinstance(f, OF_MEETS) for f in facts):
        problem, _ = known.planned(file)
    else:
        problem = seen or known.at_a_glance(file)[0]
    now = settings.now(problem.block.time_zone)
    with Ledger.open(file, create=False) as ledger:
        told_before = ledger.facts(include_undone=True)
        against = list(wrong)
        for fact, line in zip_longest(facts, at):
            for found in complaints_about(fact, problem, told_before, now):
                where = replace(line, key=found.where.key) if line else found.where
                against.append(str(replace(found, where=where)))
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


def replan(file: Path, settings: Settings, ask: Ask = LEAST) -> Replanned:
    """The least change that what was recorded since the present plan asks for; a new revision if any.

    Whoever nothing happened to keeps every session, as long as a plan exists that leaves them alone. With an
    option the way of that number is taken instead, from the plan that stood before the last fact.
    """
    from planner.ledger import Ledger
    from planner.review.changes import unchanged
    from planner.season.fact_limits import still_ill
    from planner.season.in_doubt import in_doubt
    from planner.season.legs import trials_left_out
    from planner.season.readiness import not_ready
    from planner.season.reopened import fixed_since
    from planner.season.unmet import unmet

    with Ledger.open(file, create=False) as ledger:
        case = case_of(file, ledger, settings, ask)
        way = least_change(case, settings, ask)
        choice = has_choice(case, way)
        not_cut_short(file, case, settings)
        if ask.option > 1:
            way = numbered(ask.option, ways_from(case, way, settings, ask, min(ask.option, MOST)))
            not_cut_short(file, case, settings)
        left = unchanged(case.stand.to_come, way.changes)
        today = case.clock.date()
        said = (
            (
                *not_ready(case.problem, way.outcome.plan, promised(ledger, case), today),
                *trials_left_out(case.problem, way.outcome.plan, case.clock),
            ),
            (*still_ill(in_force(case.facts), today), *in_doubt(case.problem, case.facts, today)),
            unmet(case.problem, fixed_since(case.planned_from, case.problem.block)),
        )
        if not way.changes and not case.news and case.present is case.base:
            same = Result(way.asked, case.base.outcome, case.base.revision, unchanged=True)
            return Replanned(same, (), left, choice, *said)
        reason = reason_of(len(case.news), ask)
        result = flow.record(ledger, case.present, way.asked, way.outcome, settings, reason=reason)
        result = published(file, ledger, case, way, result, settings)
    return Replanned(result, way.changes, left, choice, *said)


def options(file: Path, settings: Settings, ask: Ask = LEAST) -> tuple[Way, ...]:
    """Up to three ways out of what happened, the least change first; nothing is recorded."""
    from planner.ledger import Ledger

    with Ledger.open(file, create=False) as ledger:
        case = case_of(file, ledger, settings, replace(ask, option=max(1, ask.option)))
        found = ways_from(case, least_change(case, settings, ask), settings, ask)
        not_cut_short(file, case, settings)
        return found


def not_cut_short(file: Path, case: Case, settings: Settings) -> None:
    """Interrupted after Ctrl-C: a search that was cut short could move more than it must."""
    if settings.stop is not None and settings.stop():
        kept = f"nothing new is recorded, revision {case.present.revision.number} stands"
        raise flow.Interrupted(f"Interrupted: {kept}.\nMaybe run 'planner replan {file}' again.")


def case_of(file: Path, ledger: Ledger, settings: Settings, ask: Ask) -> Case:
    """What a re-plan starts from: the plan athletes hold, and everything recorded since it was made."""
    from planner.season import make_problem
    from planner.season.reopened import exams_moved, larger_weeks, not_before, opened_weeks

    before, present = known.planned(file)
    base, facts = present, ledger.facts()
    if ask.option and (number := base_of(ledger, base.revision, facts)) != base.revision.number:
        before, base = known.planned(file, number)
    now = settings.now(before.block.time_zone)
    problem, stand = known.after_facts(file, base, facts, now)
    news = tuple(f for f in facts if f.recorded_at > base.revision.made_at)
    clock = now.replace(tzinfo=None)
    if ask.since is not None and (against := cannot_stay(problem, stand, ask.since)):
        listed = "\n".join(against)
        raise TooEarly(f"{listed}\nMaybe let it change from an earlier day on, or leave --from out.")
    moved = moved_before(ledger, base, problem)
    made_from = block_from(ledger.inputs(base.revision.number))
    since = max(clock.date(), ask.since or clock.date())
    opened = opened_weeks(before, problem, news, since)
    if made_from is not None and (whose := exams_moved(made_from, problem.block)):
        then = make_problem(made_from, edge=known.edge_before(file, made_from))
        opened |= larger_weeks(whose & set(problem.athletes), then, problem, since)
    stand = not_before(stand, ask.since)
    return Case(base, present, before, problem, stand, news, moved, opened, clock, facts, made_from)


def ways_from(case: Case, first: Way, settings: Settings, ask: Ask, most: int = MOST) -> tuple[Way, ...]:
    """The ways out of what happened, the least change first; not more than `most` of them are looked for."""

    def answer(asked: Problem, wishes: tuple[Wish, ...]) -> Outcome | None:
        from planner.solve import Impossible, NotDecided

        try:
            return without_our_weights(answered(asked, settings, case.planned_from, wishes))
        except (Impossible, NotDecided):
            return None

    return all_ways(case, first, answer, lambda opened: asked_for(case, first.touched, ask, opened), most)


def promised(ledger: Ledger, case: Case) -> tuple[Placement, ...]:
    """The plan as it was first handed out; the present one when nothing was."""
    given = ledger.handed_out()
    return ledger.revision(given[0].revision, case.problem.units).placements if given else case.base.placements


def who_may_change(case: Case) -> Iterator[frozenset[str]]:
    """Whose sessions may change: first those whom something touches, and only if that is not enough, all."""
    from planner.review import review
    from planner.season.replan import named_by, rain_since

    problem, stand = case.problem, case.stand
    gone = {p.athlete for p in lost(problem, stand)}
    dear = (*problem.block.settings, *rain_since(case.planned_from, problem))
    held_to = replace(problem.block, settings=dear)
    as_held = replace(problem, block=held_to, kept=stand.settled, handed_out=())
    broken: set[str] = set()
    for finding in review(Plan.of(stand.to_come), as_held).musts_broken:
        if finding.athlete:
            broken.add(finding.athlete)
        else:
            there = [p for p in stand.to_come if p.day == finding.day and finding.slot in ("", p.slot)]
            broken |= {p.athlete for p in there}
    touched = frozenset({*named_by(case.news), *gone, *broken} & set(problem.athletes))
    yield touched
    everybody = frozenset(problem.athletes)
    if touched != everybody:
        yield everybody


def least_change(case: Case, settings: Settings, ask: Ask = LEAST) -> Way:
    """The way that changes least of what was handed out; for --improve the gain beyond it, where there is one."""
    from planner.solve import Impossible

    failed: Impossible | None = None
    touched: frozenset[str] | None = None
    for free in who_may_change(case):
        touched = free if touched is None else touched
        asked = asked_for(case, touched, ask, case.opened, free)
        try:
            outcome = answered(asked, settings, case.planned_from)
        except Impossible as error:
            failed = error
            continue
        if ask.improve:
            asked, outcome = improved(case, asked, outcome, settings)
        outcome = without_our_weights(outcome)
        if outcome.musts_broken:
            from planner.review import sentence

            raise MustBroken("\n".join(sentence(f) for f in outcome.musts_broken))
        return Way(asked, free, outcome, changed(case, outcome))
    assert failed is not None
    raise failed


def asked_for(
    case: Case, touched: frozenset[str], ask: Ask, opened: Opened, free: frozenset[str] = frozenset()
) -> Problem:
    """The problem of this re-plan: who may change, from when, what the coach fixed, which weeks are planned anew.

    `free` are athletes whose sessions may change though nothing happened to them.
    """
    from planner.season.reopened import fixed_since, with_fixed, with_opened
    from planner.season.replan import Asked, lighter_after_more, problem_for_replan

    clock = case.clock if ask.since is None else max(case.clock, datetime.combine(ask.since, time(0)))
    who = touched | {athlete for athlete, _ in opened}
    held = case.base.placements
    lighter = lighter_after_more(case.facts, case.stand, held, case.problem)
    need = Asked(who, who | free, clock, case.moved, lighter)
    asked = problem_for_replan(case.problem, case.stand, held, need, case.before)
    asked = with_fixed(asked, case.problem, fixed_since(case.planned_from, case.problem.block), clock)
    return with_opened(asked, case.problem, case.stand, opened, clock)


def answered(
    asked: Problem, settings: Settings, planned_from: Block | None, wishes: tuple[Wish, ...] = ()
) -> Outcome:
    """Solve with every change of what was handed out dearer than any target; then review as usual.

    `planned_from` are the inputs of the plan athletes hold: what came into the calendar since then must be
    heeded. `wishes` (of another way) are dearer still. Raises Impossible when the musts collide.
    """
    from planner.season.legs import only_trials, trial_days
    from planner.season.replan import newly_away, rain_since

    dear = [RuleSetting(KEEP, "weight", ABOVE_ALL), *rain_since(planned_from, asked)]
    dear += newly_away(planned_from, asked) if planned_from is not None else ()
    block = only_trials(asked.block)
    for name, day in trial_days(asked.block):  # a person asked for it by name
        dear += [
            RuleSetting("wishes", "tier", "should", name, day, day),
            RuleSetting("wishes", "weight", DEARER, name, day, day),
        ]
    if wishes:
        dear += [RuleSetting("wishes", "tier", "should"), RuleSetting("wishes", "weight", DEARER)]
        days = trial_days(block)
        block = replace(block, wishes=(*(w for w in block.wishes if (w.athlete, w.day) in days), *wishes))
    weighed = replace(asked, block=replace(block, settings=(*block.settings, *dear)))
    return judged(flow.solved(weighed, settings, 1), weighed, asked)


def judged(plan: Plan, solved: Problem, asked: Problem) -> Outcome:
    """A solved plan held against its own problem, with its times, and reviewed as what was asked."""
    from planner.review import review
    from planner.season.replan import as_handed_out
    from planner.solve import verify

    verify(plan, solved)
    timed, clashes = flow.with_times(plan, asked)
    return replace(review(as_handed_out(timed, asked), asked), remarks=clashes)


def without_our_weights(outcome: Outcome) -> Outcome:
    """The outcome as a coach may read it: what keeping the held plan weighs is in no value, bound or score.

    What changes of it is counted in units (the finding's amount). How much could still be won of should is known
    where the plan is proved best, or where the bound leaves no room for one change fewer.
    """
    score = {tier: {r: n for r, n in own.items() if r != KEEP} for tier, own in outcome.score.items()}
    status = dict(outcome.plan.status)
    if (found := status.get("should")) is not None:
        value = sum(score.get("should", {}).values())
        gap = 0 if found.proved else found.gap
        bound = max(0, value - gap) if gap is not None and gap < ABOVE_ALL else None
        status["should"] = TierStatus(value, bound)
    findings = tuple(_in_units(f) if f.rule == KEEP else f for f in outcome.findings)
    return replace(outcome, plan=replace(outcome.plan, status=status), findings=findings, score=score)


def _in_units(finding: Finding) -> Finding:
    became = finding.facts.get("became", ())
    return replace(finding, amount=len(became) if isinstance(became, tuple) else 0)


def improved(case: Case, asked: Problem, least: Outcome, settings: Settings) -> tuple[Problem, Outcome]:
    """What was handed out may move for a gain on targets; the least change stays where there is none."""
    from planner.review import review
    from planner.season.reopened import to_improve

    wider = to_improve(asked, case.problem, case.stand, least.plan.placements)
    found = judged(flow.solved(wider, settings, 1), wider, wider)
    stays = review(least.plan, wider)  # judged in the same problem: what is settled has no price
    return (wider, found) if _points(found) < _points(stays) else (asked, least)


def _points(outcome: Outcome) -> tuple[int, int]:
    """What is given way, change of the plan included: should before prefer."""
    return (sum(outcome.score.get("should", {}).values()), sum(outcome.score.get("prefer", {}).values()))


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
