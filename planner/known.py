"""What is known of a block: the coach's file, the plan that stands, and what was recorded since.

Everything here only reads. The main flow and the re-plan begin with it, and so does whoever only looks.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from planner.domain.block import Block
from planner.domain.edge import Edge
from planner.domain.errors import Told
from planner.domain.facts import Done, Fact, in_force
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.domain.units import Unit

if TYPE_CHECKING:  # the heavy packages are imported where they are used: `check` and --help stay quick
    from planner.ledger import StoredPlan
    from planner.season.replan import Stand

FOLLOWED_BACK = timedelta(weeks=26)
# How far back earlier blocks are looked up: no rule looks back over 49 days, and a unit last done longer ago than
# this is as good as new. Common practice, no source.


class NothingPlanned(Told):
    """The block has no plan yet."""


def understand(file: Path) -> Problem:
    """The coach's file, resolved, and everything the rules and the solver may know."""
    from planner.intake import read_block

    return problem_of(file, read_block(file))


def problem_of(file: Path, block: Block, *, offers: bool = True) -> Problem:
    """The problem of a block that was read from a file; without `offers` nothing that may be placed is in it."""
    from planner.season import make_problem

    return make_problem(block, edge=edge_before(file, block), only=None if offers else ())


def planned(file: Path, number: int = 0, *, offers: bool = True) -> tuple[Problem, StoredPlan]:
    """The block as a plan's facts have left it, and that plan: the present one, or a revision by its number.

    What is only printed needs no `offers`, nothing that may be placed instead. NothingPlanned when there is none.
    """
    from planner.intake import read_block

    block = read_block(file)
    stored, facts = known_with(file, block, number)
    if not facts:
        return problem_of(file, block, offers=offers), stored
    problem, stand = _after(block, edge_before(file, block), stored, facts, stored.revision.made_at)
    return replace(problem, kept=stand.settled), stored


def at_a_glance(file: Path, number: int = 0) -> tuple[Problem, StoredPlan]:
    """The same block and plan, for whoever only looks or records: quick, because nothing is on offer.

    The present plan, or a revision by its number. The problem holds no weeks and no candidates, and nothing of
    earlier blocks. NothingPlanned as above.
    """
    from planner.intake import read_block
    from planner.season import all_units
    from planner.season.facts import apply_facts

    block = read_block(file)
    stored, facts = known_with(file, block, number, without=Done.kind)  # what was done leaves the block as it was
    stands = apply_facts(block, facts, stored.revision.made_at)
    return Problem(stands, all_units(block), {}, ()), stored


def known_with(
    file: Path, block: Block, number: int = 0, *, without: str = ""
) -> tuple[StoredPlan, tuple[Fact, ...]]:
    """A plan (the present one, or a revision by its number) and the facts it was made with.

    `without` is a kind of facts that is not asked for.
    """
    from planner.season import all_units

    stored, facts = recorded(file, all_units(block), number, without=without)
    if stored is None:
        raise NothingPlanned(f"{file.name}: nothing is planned yet.\nMaybe run 'planner build {file}' first.")
    return stored, tuple(f for f in facts if f.recorded_at <= stored.revision.made_at)


def recorded(
    file: Path, units: Mapping[str, Unit], number: int = 0, *, without: str = ""
) -> tuple[StoredPlan | None, tuple[Fact, ...]]:
    """The plan in the ledger beside a file, and every fact that counts; nothing without a ledger."""
    from planner.ledger import Ledger, LedgerMissing

    try:
        with Ledger.open(file, create=False) as ledger:
            stored = ledger.revision(number, units) if number else ledger.current(units)
            return stored, ledger.facts(without=without)
    except LedgerMissing:
        return None, ()


def facts_of(file: Path) -> tuple[Fact, ...]:
    """What was recorded and counts, oldest first; nothing without a ledger."""
    from planner.ledger import Ledger, LedgerMissing

    try:
        with Ledger.open(file, create=False) as ledger:
            return ledger.facts()
    except LedgerMissing:
        return ()


def as_known(file: Path, now: Callable[[str], datetime]) -> Block:
    """The coach's file with what was recorded since: marks, limits, and start marks as they stand."""
    from planner.intake import read_block
    from planner.numbers.recorded import run_ups_in_force
    from planner.season.facts import apply_facts

    block, facts = read_block(file), facts_of(file)
    if not facts:
        return block
    stands = apply_facts(block, facts, now(block.time_zone))
    return replace(stands, run_ups=run_ups_in_force(stands, in_force(facts)))


def after_facts(
    file: Path, stored: StoredPlan, facts: Sequence[Fact], now: datetime
) -> tuple[Problem, Stand]:
    """The block as the facts have left it, everything open, and where the plan stands in it at `now`."""
    from planner.intake import read_block

    block = read_block(file)
    return _after(block, edge_before(file, block), stored, facts, now)


def done_by(
    file: Path, block: Block, stored: StoredPlan, facts: Sequence[Fact], now: datetime
) -> tuple[Problem, Stand]:
    """The same of a block that was read from a file, for whoever only asks what was done.

    Quick, because nothing is on offer: the problem holds no weeks, and nothing of earlier blocks, unless something
    was done that the plan does not answer.
    """
    from planner.season import all_units
    from planner.season.done import unanswered
    from planner.season.facts import apply_facts
    from planner.season.replan import standing

    if only := unanswered(facts, stored.placements):
        return _after(block, edge_before(file, block), stored, facts, now, only)
    problem = Problem(apply_facts(block, facts, now), all_units(block), {}, ())
    return problem, standing(problem, stored.placements, facts, now.replace(tzinfo=None))


def _after(
    block: Block, edge: Edge | None, stored: StoredPlan, facts: Sequence[Fact], now: datetime,
    only: Collection[tuple[str, date]] | None = None,
) -> tuple[Problem, Stand]:  # fmt: skip
    """With `only` what may be placed is known on these days of athletes alone."""
    from planner.season import make_problem
    from planner.season.facts import apply_facts
    from planner.season.replan import standing

    problem = make_problem(apply_facts(block, facts, now), edge=edge, only=only)
    return problem, standing(problem, stored.placements, facts, now.replace(tzinfo=None))


def edge_before(file: Path, block: Block, since: date | None = None) -> Edge | None:
    """What crosses from the earlier block the file names, as it was done; None when nothing is planned there.

    An earlier block must end before this one begins, which also keeps files from naming each other in turn. The
    chain of earlier blocks is followed for half a year back from the first asker, `since`.
    """
    from planner.intake import read_block
    from planner.season import all_units, edge_after, make_problem
    from planner.season.done import unanswered

    earlier, since = file.parent / block.previous, since or block.begins - FOLLOWED_BACK
    if not block.previous or not earlier.is_file():
        return None
    before = read_block(earlier)
    if not since <= before.ends < block.begins:
        return None
    stored, facts = recorded(earlier, all_units(before))
    if stored is None:
        return None
    edge = edge_before(earlier, before, since)
    if not facts:
        return edge_after(stored.outcome.plan, make_problem(before, edge=edge, only=()))
    over = datetime.combine(before.ends, time.max, ZoneInfo(before.time_zone))
    problem, stand = _after(before, edge, stored, facts, over, unanswered(facts, stored.placements))
    return edge_after(Plan.of(stand.settled), problem)
