"""The main flow, on one screen: a coach's file becomes a reviewed plan, recorded and on paper.

    block file -> intake -> Block -> season -> Problem -> solve -> Plan -> review -> sheets
                                                ^                    |
                                                +------ ledger <-----+

This is the only module where the parts meet. It owns no arithmetic, no rule and no words on paper.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from planner import __version__
from planner.domain.block import Block
from planner.domain.plan import Outcome, Plan
from planner.domain.problem import Problem
from planner.domain.revision import Revision

if TYPE_CHECKING:  # the heavy packages are imported where they are used: `check` and --help stay quick
    from planner.ledger import Ledger, StoredPlan
    from planner.sheets import PrintReport
    from planner.solve import Progress


class AlreadyHandedOut(Exception):
    """The block was given to athletes: building it anew would move sessions they rely on."""


class NothingPlanned(Exception):
    """The block has no plan yet."""


@dataclass(frozen=True)
class Settings:
    """How a plan is to be made. `at_most` is wall seconds; None leaves the budget alone in charge."""

    now: datetime
    budget: str = "normal"
    random_seed: int = 0
    at_most: float | None = None
    paper: str = ""
    sheets: Path | None = None  # where the sheets go; default: a folder 'sheets' beside the file


@dataclass(frozen=True)
class Built:
    """What a run came to."""

    block: Block
    problem: Problem
    outcome: Outcome
    revision: Revision
    remarks: tuple[str, ...] = ()
    report: PrintReport | None = None


def build(
    file: Path,
    settings: Settings,
    progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Built:
    """Plan, review, record and print one block. Raises the errors of each part; records all or nothing."""
    from planner.ledger import Ledger

    block, problem = understand(file)
    with Ledger.open(file, create=True) as ledger:
        if ledger.handed_out():
            raise AlreadyHandedOut(file.name)
        plan, remarks = make(problem, settings, progress, stop)
        outcome = judge(plan, problem)
        revision = record(ledger, block, outcome, remarks, settings)
        stored = ledger.current(problem.units)
        assert stored is not None
        return publish(file, problem, outcome, stored, ledger, settings)


def understand(file: Path) -> tuple[Block, Problem]:
    """The coach's file, resolved, and everything the rules and the solver may know."""
    from planner.intake import read_block
    from planner.season import make_problem

    block = read_block(file)
    return block, make_problem(block)
