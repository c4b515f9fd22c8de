"""Fast units, and hard loads on the same region and side, are given their preferred hours to recover.

Hours count start to start between different dates only; up to six hours short is kept, and two dates later
always is 48 hours. A session that begins too soon counts once, however many needs it breaks.
"""

from datetime import timedelta

from planner.domain.block import Competition, Limit, RuleSetting
from planner.domain.finding import Finding
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules import _hours
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_FRIDAY = MONDAY + timedelta(4)
_MEET = {"competitions": (Competition("Meeting", "Ada", _FRIDAY, _FRIDAY, ("long jump",)),)}
_HEP = {"competitions": (Competition("Two days", "Ada", MONDAY, MONDAY, ("heptathlon",)),)}
_STAGE = {"limits": (Limit("Ada", "hamstring", "left", 5),)}

_OTHER = {"limits": (Limit("Ada", "knee", "right", 5), Limit("Ada", "groin", "both", 5))}
_LAST = MONDAY - timedelta(7)
_STRICT = {"settings": (RuleSetting("hours_to_recover", "short", 0),)}
_TEN = {"competitions": (Competition("Ten events", "Ada", _LAST, _LAST, ("decathlon",)),), **_STRICT}

RULE = Rule(
    id="hours_to_recover",
    tier="should",
    weight=12,
    scope="athlete",
    reach=Reach(back=7),
    source=Source(
        "study",
        "Haugen, Seiler, Sandbakk, Tønnessen 2019, Sports Medicine - Open 5:44 for hours between sprint "
        "sessions; common practice for jumps, bounds, strength and competitions.",
    ),
    parameters={"short": Parameter(6, "hours", 0, 12, "how many hours short still counts as kept")},
    examples=(
        Example("flying-sprints | - | - | flying-sprints", 0, "72 hours of 72, none missing", {"block": _STRICT}),
        Example("flying-sprints | - | flying-sprints | -", 1, "48 of 72 hours on both hamstrings"),
        Example("- | - | heavy-strength | flying-sprints", 1, "at the last edge"),
        Example("full-triple-jumps | - | - | full-triple-jumps", 1, "72 of 96 hours, three regions, once"),
        Example("flying-sprints | -", 1, "bounds two days before", {"history": "intensive-bounds | -"}),
        Example(
            "- | - | - | flying-sprints", 0, "72 hours after Monday", {"history": "intensive-bounds | -"}
        ),
        Example("- | - | - | heavy-strength | -", 1, "the evening before a competition", {"block": _MEET}),
        Example("- | - | - | short-long-jumps", 1, "medium three days after a heptathlon", {"block": _HEP}),
        Example("long-accelerations | - | - | flying-sprints", 0, "72 of 72", {"block": _STAGE}),
        Example("flying-sprints | - | - | flying-sprints", 1, "stage 5: 72 of 96", {"block": _STAGE}),
        Example("full-long-jumps | - | - | full-long-jumps", 0, "limits elsewhere: 72 of 72", {"block": _OTHER}),
        Example("- | - | - | - | - | - | - | - | flying-sprints | flying-sprints", 1, "in the second week too"),
        Example("morning: flying-sprints", 1, "166 of 168 hours after ten events", {"block": _TEN}),
    ),
)


def universe() -> Problem:
    world = World(
        ("flying-sprints",),
        days=4,
        slots=("morning", "evening"),
        amounts=("full", "lighter"),
        history="intensive-bounds",
        kept="- | - | heavy-strength",
        block={**_MEET, **_STAGE},
    )
    return problem(world)


def constrain(board: Board, problem: Problem) -> None:
    _hours.rows(RULE, board, problem, floor=False)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    return _hours.found(RULE, view, problem, floor=False)


def explain(finding: Finding) -> str:
    return _hours.sentence(finding)
