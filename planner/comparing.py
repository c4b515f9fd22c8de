"""Two revisions of a plan side by side: only what differs, in the words of the change notice."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planner import known
from planner.domain.problem import Problem
from planner.domain.revision import Revision

if TYPE_CHECKING:
    from planner.review.changes import Change


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
    from planner.review.changes import changes, reasons, unchanged

    problem, now = known.at_a_glance(file, number)
    before, facts = known.recorded(file, problem.units, against)
    assert before is not None, "the file has a plan"
    found = changes(before.placements, now.placements)
    first, last = before.revision.made_at, now.revision.made_at
    news = tuple(f for f in facts if first < f.recorded_at <= last)
    left = unchanged((*before.placements, *now.placements), found)
    return problem, Compared(before.revision, now.revision, found, left, reasons(news))
