"""Nothing fast, nor hard on the same region and side, starts before the least hours to recover are up.

The floor is 24 hours less than the preferred hours where these are 72 or more, else equal. Hours count start
to start between different dates only; up to six hours short is kept, and two dates later always is 48 hours.
Two loads of 2 in one day are not read as a 3 here: good usual weeks would break that.
"""

from datetime import timedelta

from planner.domain.block import Athlete, Competition, Limit, RuleSetting
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

_JUMP = {"competitions": (Competition("Meeting", "Ada", MONDAY, MONDAY, ("long jump",)),)}
_NO_EVENT: dict[str, object] = {
    "persons": (Athlete("Ada"),),
    "block": {
        "competitions": (Competition("Meeting", "Ada", MONDAY, MONDAY),),
        "settings": (RuleSetting("hours_to_recover_floor", "short", 0),),
    },
}

RULE = Rule(
    id="hours_to_recover_floor",
    tier="must",
    scope="athlete",
    reach=Reach(back=7),
    source=Source(
        "study",
        "Haugen, Seiler, Sandbakk, Tønnessen 2019, Sports Medicine - Open 5:44 for hours between sprint "
        "sessions; common practice for jumps, bounds, strength and competitions.",
    ),
    parameters={"short": Parameter(6, "hours", 0, 12, "how many hours short still counts as kept")},
    examples=(
        Example("flying-sprints | - | flying-sprints | -", 0, "48 hours after 48"),
        Example(
            "evening: heavy-strength | evening: flying-sprints | morning: mobility",
            1,
            "24 of 48 hours, in the evening",
        ),
        Example("heavy-strength | flying-sprints | - | -", 1, "24 of 48 hours, at the first edge"),
        Example("- | - | heavy-strength | power-lifts", 1, "the same family, at the last edge"),
        Example("evening: flying-sprints | - | morning: flying-sprints", 0, "two dates later is 48 hours"),
        Example("short-triple-jumps | triple-jump-phases | -", 1, "knee, foot, calf: one session too soon"),
        Example("full-triple-jumps | - | - | full-triple-jumps", 0, "72 hours where 96 are preferred"),
        Example("full-triple-jumps | - | full-triple-jumps | -", 1, "48 of 72 hours on both knees"),
        Example(
            "flying-sprints | -", 1, "strength the evening before the block", {"history": "heavy-strength"}
        ),
        Example(
            "- | - | - | heavy-strength | -", 1, "strength the evening before a competition", {"block": _MEET}
        ),
        Example("- | - | - | short-long-jumps", 1, "medium three days after a heptathlon", {"block": _HEP}),
        Example("flying-sprints | - | flying-sprints", 1, "a limit at stage 5: 72 hours", {"block": _STAGE}),
        Example(
            "evening: full-triple-jumps | - | - | morning: full-triple-jumps", 1, "65 of 72 hours on both knees"
        ),
        Example("- | - | flying-sprints", 0, "after a long jump 48 hours, 72 are preferred", {"block": _JUMP}),
        Example("- | - | morning: flying-sprints", 0, "no event is known: 48 hours, two dates later", _NO_EVENT),
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
    _hours.rows(RULE, board, problem, floor=True)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    return _hours.found(RULE, view, problem, floor=True)


def explain(finding: Finding) -> str:
    return _hours.sentence(finding)
