"""Two revisions of a plan side by side: only what differs, in the words of the change notice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planner import known
from planner.domain.problem import Problem
from planner.domain.revision import Revision

if TYPE_CHECKING:
    from planner.domain.facts import Fact
    from planner.ledger import StoredPlan
    from planner.review.changes import Change
    from planner.season.replan import Stand


@dataclass(frozen=True)
class Compared:
    """What is otherwise in a revision than in another one, for whom nothing is, and what was recorded between.

    `why` is in words that may be shared; empty when the later plan comes first.
    """

    against: Revision
    revision: Revision
    changes: tuple[Change, ...]
    unchanged: tuple[str, ...]
    why: tuple[str, ...]


def compared(file: Path, against: int, number: int = 0) -> tuple[Problem, Compared]:
    """A revision (0: the present plan) beside the one of the number `against`.

    NothingPlanned without a plan, LedgerUnknown when there is no revision of such a number.
    """
    from planner.review.changes import changes, not_settled, reasons, unchanged

    problem, now = known.at_a_glance(file, number)
    before, facts = known.recorded(file, problem.units, against)
    assert before is not None, "the file has a plan"
    first, last = before.revision.made_at, now.revision.made_at
    news = tuple(f for f in facts if first < f.recorded_at <= last)
    earlier, later = sorted((before, now), key=lambda s: s.revision.number)
    stand = _standing(file, problem, earlier, later, facts)
    held, came = list(stand.to_come), not_settled(later.placements, stand.settled)
    found = changes(held, came) if earlier is before else changes(came, held)
    left = unchanged(held, found)
    return problem, Compared(before.revision, now.revision, found, left, reasons(news))


def _standing(
    file: Path, problem: Problem, earlier: StoredPlan, later: StoredPlan, facts: Sequence[Fact]
) -> Stand:
    """Where the earlier plan stood when it was first changed, with all that is recorded until the later one.

    As a re-plan takes it: what was over by then, or done or missed since, is no change of the plan.
    """
    from planner.intake import read_block

    moment = earlier.revision.made_at
    if later.revision.number > earlier.revision.number:
        following, _ = known.recorded(file, problem.units, earlier.revision.number + 1)
        assert following is not None, "revisions are numbered one by one"
        moment = following.revision.made_at
    told = tuple(f for f in facts if f.recorded_at <= later.revision.made_at)
    return known.done_by(file, read_block(file), earlier, told, moment)[1]
