"""The look back: what stands in the ledger about a stretch of days, on screen or on paper."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from planner import known
from planner.domain.errors import Told
from planner.domain.facts import Done, in_force
from planner.domain.problem import Problem
from planner.flow import Settings

if TYPE_CHECKING:
    from planner.numbers.look_back import LookBack
    from planner.sheets import PrintReport


class NothingYet(Told):
    """There is no day to look back on."""


@dataclass(frozen=True)
class Days:
    """The days to look back on; None: the block's first, and yesterday or the block's last."""

    first: date | None = None
    last: date | None = None


ALL = Days()


def look_back(file: Path, settings: Settings, days: Days = ALL) -> tuple[Problem, LookBack]:
    """What was planned and what was done; NothingYet before the first day, NothingPlanned without a plan."""
    from planner.intake import read_block
    from planner.ledger import Ledger
    from planner.numbers.look_back import look_back as look
    from planner.season import all_units

    block = read_block(file)
    stored, _ = known.known_with(file, block, without=Done.kind)
    now = settings.now(block.time_zone)
    yesterday = now.date() - timedelta(days=1)
    first, last = max(days.first or block.begins, block.begins), min(days.last or yesterday, block.ends)
    if last < first or first > now.date():
        raise NothingYet(
            f"{file.name}: nothing to look back on from {first} to {last}; it is {now.date()}.\n"
            "Maybe wait until something is done, or name other days."
        )
    with Ledger.open(file, create=False) as ledger:
        facts, given = in_force(ledger.facts()), ledger.handed_out()
        promised = ledger.revision(given[0].revision, all_units(block)) if given else stored
    stands, stand = known.done_by(file, block, stored, facts, now)
    return stands, look(stands.block, promised.placements, stand.settled, facts, first, last)


def print_back(file: Path, settings: Settings, names: tuple[str, ...] = (), days: Days = ALL) -> PrintReport:
    """The look back on paper: a page for each athlete (or those named), and the squad's without private fields."""
    from planner.sheets import print_look_back

    problem, found = look_back(file, settings, days)
    folder = settings.sheets or file.parent / "sheets"
    day = settings.now(problem.block.time_zone).date()
    return print_look_back(found, problem, day, folder, paper=settings.paper or problem.block.paper, names=names)
