"""The main flow, on one screen: a coach's file becomes a reviewed plan, recorded and on paper.

    file -> intake -> Block -> season -> Problem -> solve -> timetable -> Plan -> review -> numbers -> sheets
                                            ^                                |
                                            +------------ ledger <-----------+

This is the only module where the parts meet. It owns no arithmetic, no rule and no words on paper.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from planner import __version__
from planner.domain.block import Block, RuleSetting
from planner.domain.errors import Told
from planner.domain.facts import Fact, in_force, people_of
from planner.domain.plan import Outcome, Plan
from planner.domain.problem import Problem
from planner.domain.record import block_record, inputs_hash, placement_record
from planner.domain.revision import Revision
from planner.domain.timetable import Clash, Timetables
from planner.known import planned, understand

if TYPE_CHECKING:  # the heavy packages are imported where they are used: `check` and --help stay quick
    from planner.ledger import Ledger, StoredPlan
    from planner.numbers import TrainBy
    from planner.sheets import Beside, PrintReport
    from planner.solve import Progress


class AlreadyHandedOut(Told):
    """The block was given to athletes: building it anew would move sessions they rely on."""


class Interrupted(Told):
    """Somebody pressed Ctrl-C; the sentence says what is kept."""

    exit_code = 130


class MustBroken(Told):
    """The reviewed plan breaks a must: it is shown, and neither recorded nor printed."""

    exit_code = 4


@dataclass(frozen=True)
class Settings:
    """How a plan is made and printed.

    `now` gives the moment in a time zone: the clock belongs to the coach's door. `at_most` is wall seconds;
    None leaves the budget alone in charge.
    """

    now: Callable[[str], datetime]
    budget: str = "normal"
    random_seed: int = 0
    at_most: float | None = None
    paper: str = ""  # '' takes the block's own
    sheets: Path | None = None  # where sheets go; default: the folder 'sheets' beside the file
    fresh: bool = False  # draw sheets again that stand there unchanged
    progress: Callable[[Progress], None] | None = None
    stop: Callable[[], bool] | None = None


@dataclass(frozen=True)
class Result:
    """What a command came to; `unchanged` when the plan in the ledger was already this one."""

    problem: Problem
    outcome: Outcome
    revision: Revision
    unchanged: bool = False
    report: PrintReport | None = None


def build(file: Path, settings: Settings) -> Result:
    """Plan, review, record and print one block. All or nothing is recorded; each part raises its errors."""
    from planner.ledger import Ledger
    from planner.review import sentence

    problem = understand(file)
    with Ledger.open(file, create=True) as ledger:
        if ledger.handed_out():
            raise AlreadyHandedOut(
                f"{file.name}: this block was handed out; building it anew could move what athletes rely on."
                "\nMaybe use 'planner replan', which changes as little as possible, or copy the block file."
            )
        before = ledger.current(problem.units)
        outcome = make(problem, settings)
        if outcome.musts_broken:
            raise MustBroken("\n".join(sentence(f) for f in outcome.musts_broken))
        result = record(ledger, before, problem, outcome, settings)
        return publish(file, ledger, result, settings)


def make(problem: Problem, settings: Settings) -> Outcome:
    """Solve (a long block in parts, left to right), then review by the checks, which think differently.

    A disagreement between the two is our bug and stops the run.
    """
    from planner.review import review
    from planner.season import parts_of, plan_in_parts
    from planner.season.unmet import unmet
    from planner.solve import shortfalls, verify

    parts = len(parts_of(problem))
    plan, clashes = with_times(plan_in_parts(problem, lambda part: solved(part, settings, parts)), problem)
    outcome = review(plan, problem)
    verify(plan, problem, outcome)
    fixed = unmet(problem, problem.block.fixed)
    return replace(outcome, remarks=(*clashes, *fixed, *shortfalls(plan, problem, settings.stop)))


def solved(problem: Problem, settings: Settings, of_parts: int) -> Plan:
    """The solver's plan of one part of a block, every slot of which can be held as far as that is possible."""
    from planner.solve import coached, solve, solve_with_timetable

    def once(asked: Problem) -> Plan:
        return solve(
            asked,
            budget=settings.budget,
            random_seed=settings.random_seed,
            at_most=settings.at_most,
            of_parts=of_parts,
            progress=settings.progress,
            stop=settings.stop,
        )

    plan, tables, _ = solve_with_timetable(problem, once, stop=settings.stop)
    return coached(plan, tables)


def with_times(plan: Plan, problem: Problem) -> tuple[Plan, tuple[str, ...]]:
    """The plan with each unit's start, coach and partners; a sentence for each slot that has no timetable.

    Slots in which all is settled keep the times they had.
    """
    from planner.solve import assign_coaches
    from planner.solve.timetable import coached, still_open, timetable

    todo = still_open(plan, problem)
    tables, clashes = timetable(todo, problem)
    timed = coached(assign_coaches(todo, problem), tables).placements
    settled = {p.key: p for p in problem.kept}
    as_they_are = {settled.get(p.key, p) for p in set(plan.placements) - set(todo.placements)}
    whole = tuple(sorted([*as_they_are, *timed], key=lambda p: p.key))
    return replace(plan, placements=whole), tuple(clash.sentence for clash in clashes)


def record(
    ledger: Ledger,
    before: StoredPlan | None,
    problem: Problem,
    outcome: Outcome,
    settings: Settings,
    *,
    reason: str = "built",
) -> Result:
    """The plan as the next revision; the same plan from the same inputs makes no new one."""
    block = problem.block
    seen = inputs_hash(block)
    if before and before.revision.inputs_hash == seen and _same(before.outcome.plan, outcome.plan):
        return Result(problem, outcome, before.revision, unchanged=True)
    revision = Revision(0, settings.now(block.time_zone), reason, inputs_hash=seen, program=__version__)
    made = ledger.record_revision(
        revision,
        outcome,
        block_record(block),
        exceptions_of(block),
        after=before.revision.number if before else 0,
    )
    return Result(problem, outcome, made)


def publish(
    file: Path,
    ledger: Ledger,
    result: Result,
    settings: Settings,
    names: tuple[str, ...] = (),
    *,
    slots_too: bool = False,
) -> Result:
    """The sheets of a recorded plan with its numbers to train by; a draft until it is handed out.

    With `slots_too` the whole set holds the sheets of the coming slots as well.
    Interrupted says what is kept.
    """
    try:
        return _printed(file, ledger, result, settings, names, slots_too=slots_too)
    except KeyboardInterrupt:
        kept = f"revision {result.revision.number} is recorded, its sheets are not all printed"
        raise Interrupted(f"Interrupted: {kept}.\nMaybe run 'planner print {file}'.") from None


def _printed(
    file: Path, ledger: Ledger, result: Result, settings: Settings, names: tuple[str, ...], *, slots_too: bool
) -> Result:
    from planner.sheets import print_sheets

    # Ctrl-C during the search ended the search: the plan it kept is printed. One pressed from now on ends this.
    stop = settings.stop if settings.stop is not None and not settings.stop() else None
    now = settings.now(result.problem.block.time_zone)
    by = numbers_now(file, result.problem, result.outcome.plan, ledger.facts(), now)
    report = print_sheets(
        result.outcome,
        result.problem,
        result.revision,
        settings.sheets or file.parent / "sheets",
        paper=settings.paper or result.problem.block.paper,
        names=names,
        draft=result.revision.status == "draft",
        page_revisions=page_revisions(ledger, result.problem),
        remarks=result.outcome.remarks,
        stop=stop,
        beside=beside(file, ledger, result, settings, names, slots_too=slots_too),
        by=by,
        fresh=settings.fresh,
    )
    if result.revision.inputs_hash not in ("", inputs_hash(result.problem.block)):
        stale = f"{file.name} has changed since revision {result.revision.number} was planned from it"
        report = replace(report, warnings=(*report.warnings, f"{stale}. Maybe build or re-plan it first."))
    return replace(result, report=report)


def numbers_now(
    file: Path, problem: Problem, plan: Plan, facts: tuple[Fact, ...], now: datetime
) -> TrainBy:
    """The lines to train by with the marks and start marks known now, each from its own day on.

    Who does what on which day stays as planned until the next re-plan; a result is a mark to train by at once.
    """
    from planner.intake import read_block
    from planner.numbers import train_by
    from planner.season.facts import apply_facts

    if not facts:
        return train_by(plan, problem)
    stands = apply_facts(read_block(file), facts, now)
    block = replace(problem.block, marks=stands.marks, run_ups=stands.run_ups)
    return train_by(plan, replace(problem, block=block), facts)


def beside(
    file: Path, ledger: Ledger, result: Result, settings: Settings, names: tuple[str, ...], *, slots_too: bool
) -> Beside:
    """What single sheets need beside the plan: today, what was recorded, the timetables of the slots asked for."""
    from planner.intake import read_block
    from planner.season.facts import apply_facts
    from planner.sheets import CARDS, KINDS, PARENTS, Beside, recorded_from, select

    problem, plan = result.problem, result.outcome.plan
    now = settings.now(problem.block.time_zone)
    facts = in_force(ledger.facts())
    block = apply_facts(read_block(file), facts, now) if facts else problem.block
    whole_set = (*KINDS, PARENTS) if slots_too else CARDS
    slots = select(names, problem, whole_set, now.date()).slots_of(plan)
    tables, clashes = timetables_of(file, slots, plan, problem)
    return Beside(
        now.date(), block, tables, {(c.day, c.slot): c for c in clashes}, recorded_from(block, facts), whole_set
    )


def timetables_of(
    file: Path, slots: Collection[tuple[date, str]], plan: Plan, problem: Problem
) -> tuple[Timetables, tuple[Clash, ...]]:
    """The timetables of these slots, and why a slot has none; the solver is loaded only if there is one."""
    if not slots:
        return {}, ()
    from planner.solve.timetable import timetable

    if not problem.candidates:  # a slot that has none is told what could stand there instead
        problem, _ = planned(file)
    some = replace(plan, placements=tuple(p for p in plan.placements if (p.day, p.slot) in slots))
    return timetable(some, problem)


def hand_out(file: Path, settings: Settings, until: date | None = None) -> Result:
    """Record that the plan was given to athletes, and print it clean."""
    from planner.ledger import Ledger

    problem, stored = planned(file, offers=False)
    with Ledger.open(file, create=False) as ledger:
        ledger.hand_out(stored.revision.number, settings.now(problem.block.time_zone), until)
        given = ledger.revision(stored.revision.number, problem.units)
        return publish(file, ledger, Result(problem, given.outcome, given.revision), settings, slots_too=True)


def print_again(file: Path, settings: Settings, names: tuple[str, ...] = ()) -> Result:
    """The sheets of the present plan again: the whole set or named ones."""
    from planner.ledger import Ledger

    problem, stored = planned(file, offers=False)
    with Ledger.open(file, create=False) as ledger:
        result = Result(problem, stored.outcome, stored.revision)
        return publish(file, ledger, result, settings, names, slots_too=True)


def review_table(file: Path, table: Path | None) -> tuple[Problem, Outcome]:
    """Judge the present plan, or any plan table a person wrote, by the rule book. No solver is needed."""
    from planner.review import review
    from planner.review.table import read_plan_table

    if table is None:
        problem, stored = planned(file)
        return problem, review(stored.outcome.plan, problem)
    problem = understand(file)
    plan, given = read_plan_table(table, problem)
    return problem, review(plan, problem, given)


def page_revisions(ledger: Ledger, problem: Problem) -> dict[str, Revision]:
    """For each athlete the revision in which their own page last changed: a session of theirs, or a number.

    What was recorded after the last revision and moves a number stands under its number, with the later moment.
    """
    from planner.numbers.recorded import moves_numbers

    made = [row.revision for row in ledger.history()]
    last = ledger.last_changes()
    found = {a: r for a in problem.athletes for r in made if r.number == last.get(a, made[0].number)}
    for fact in filter(moves_numbers, ledger.facts()):
        after = next((r for r in made if r.made_at >= fact.recorded_at), None)
        for athlete in people_of(fact):
            if athlete in found and found[athlete].made_at < fact.recorded_at:
                found[athlete] = after or replace(made[-1], made_at=fact.recorded_at)
    return found


def exceptions_of(block: Block) -> tuple[RuleSetting, ...]:
    """The coach's dated exceptions, each with its reason."""
    return tuple(s for s in block.settings if s.is_exception)


def _same(one: Plan, other: Plan) -> bool:
    return [placement_record(p) for p in one.placements] == [placement_record(p) for p in other.placements]
