"""A small reviewed plan to record, the same in this process and in those a test starts and kills."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from pathlib import Path

from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Line
from planner.domain.plan import Outcome, Plan, TierStatus
from planner.domain.problem import Problem
from planner.domain.record import block_record, inputs_hash
from planner.domain.revision import Revision
from planner.ledger import Ledger
from planner.rules._tiny import World, draw, problem

NOW = datetime(2027, 3, 1, 18, 30, tzinfo=timezone(timedelta(hours=1)))
EXCEPTION = RuleSetting(
    "no_two_fast_days_running", "off", 1, "Ada", date(2027, 3, 2), date(2027, 3, 3), "rehearsal of both days"
)


def world() -> Problem:
    units = ("flying-sprints", "heavy-strength", "full-long-jumps", "extensive-tempo")
    return problem(
        World(units, days=7, athletes=2, amounts=("full", "lighter"), block={"settings": (EXCEPTION,)})
    )


def outcome(
    made: Problem, weeks_plan: str = "flying-sprints | - | heavy-strength lighter + extensive-tempo"
) -> Outcome:
    plan = Plan.of(draw(made, weeks_plan + "\n- | full-long-jumps | -"))
    found = Finding(
        "no_two_fast_days_running", "must", 1, "Ada", date(2027, 3, 2), "evening",
        {"before": date(2027, 3, 1), "hours": (24, 48), "at": datetime(2027, 3, 1, 17), "who": ["Ada", None]},
        Line("squad.yaml", 12, 3, "", "fixed[0].unit"),
    )  # fmt: skip
    status = {"must": TierStatus(1, 1), "should": TierStatus(40, 32), "prefer": TierStatus(7, None)}
    return Outcome(
        Plan(plan.placements, status, 3, "quick", True),  # type: ignore[arg-type]
        (found,),
        {"must": {"no_two_fast_days_running": 1}, "should": {}, "prefer": {"spread": 7}},
        ("coach's eyes: not judged, no coach given",),
    )


def revision(made: Problem, reason: str = "first plan") -> Revision:
    return Revision(0, NOW, reason, inputs_hash=inputs_hash(made.block), program="0.1.0 / solver 9.11")


def inputs(made: Problem) -> dict[str, object]:
    return block_record(made.block)


def record(
    block: Path, reason: str = "first plan", *, wait_seconds: float = 5, after: int | None = None
) -> int:
    """Record the plan of this module as the next revision, as a command would; its number."""
    made = world()
    with Ledger.open(block, create=True, wait_seconds=wait_seconds) as ledger:
        recorded = ledger.record_revision(
            revision(made, reason), outcome(made), inputs(made), (EXCEPTION,), after=after
        )
    return recorded.number
