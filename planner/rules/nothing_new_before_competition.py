"""Close to a main competition no technique comes in new: what is used by then is what is trusted there.

Judged for technical jumps, hurdles and throws of the last three weeks, beside the four weeks before those, where
all seven are known. The jump from the full run-up and the run-up itself are the competition's own form and may
come late. A run-up whose number of steps or take-off leg changes so late is not seen: a plan does not hold it.
"""

from datetime import date, timedelta

from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._new import days_before, known_before, known_in
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

FAMILIES = ("technical-jumps", "hurdles", "throws")


def _meet(day: int, importance: str = "main") -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("open meeting", "Ada", on, on, ("long jump",), importance)


def _before(*meets: Competition, settings: tuple[RuleSetting, ...] = ()) -> dict[str, object]:
    block = {"previous": "winter.yaml", "competitions": meets, "settings": settings}
    return {"block": block, "history": "short-long-jumps"}


_THREE = _before(_meet(3), settings=(RuleSetting("nothing_new_before_competition", "days", 3),))
RULE = Rule(
    id="nothing_new_before_competition",
    tier="should",
    scope="athlete",
    reach=Reach(back=49, forward=21),
    weight=8,
    source=Source("common practice", "Common practice, no source: what is stable holds under pressure."),
    parameters={"days": Parameter(21, "days", 0, 28, "days before a main competition without a new technique")},
    examples=(
        Example("short-long-jumps | - | - | -", 0, "done before", _before(_meet(21))),
        Example("box-take-offs | - | - | -", 1, "new, at the first edge", _before(_meet(21))),
        Example("- | box-take-offs | - | box-take-offs", 1, "once, at the last edge", _before(_meet(21))),
        Example("box-take-offs | - | - | -", 0, "a supporting one", _before(_meet(21, "supporting"))),
        Example("full-long-jumps | - | - | -", 0, "the competition's own form", _before(_meet(21))),
        Example("box-take-offs | - | - | -", 0, "22 days before is not yet close", _before(_meet(22))),
        Example("- | - | - | box-take-offs", 0, "what comes on the day itself, by a rule of three days", _THREE),
    ),
)


def universe() -> Problem:
    units = ("box-take-offs", "triple-jump-phases", "full-long-jumps")
    kept = "- | - | - | full-long-jumps"
    block = {"previous": "winter.yaml", "competitions": (_meet(22), _meet(24))}
    return problem(World(units, days=4, block=block, history="triple-jump-phases", kept=kept))


def _close(problem: Problem, meet: Competition) -> tuple[date, ...]:
    """The days before a main competition in which nothing new comes, those inside the block."""
    if meet.importance != "main":
        return ()
    first = _first(problem, meet)
    if not known_before(problem, meet.athlete, first):
        return ()
    return tuple(d for d in problem.days if first <= d < meet.first_day)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            days = _close(problem, meet)
            if not days:
                continue
            before = known_in(problem, athlete, days_before(_first(problem, meet)))
            late: dict[str, list[Placement]] = {}
            for p in known_in(problem, athlete, days):
                if p.unit.family in FAMILIES:
                    late.setdefault(p.unit.id, []).append(p)
            for unit, placements in sorted(late.items()):
                here = board.any_of(map(board.placed, placements))
                if here != board.always:  # what stands already is nobody's choice
                    done = [board.placed(p) for p in before if p.unit.id == unit]
                    board.implies(here, done, Where(athlete, days[0], line=meet.line))


def _first(problem: Problem, meet: Competition) -> date:
    return meet.first_day - timedelta(RULE.number(problem, "days", meet.athlete, meet.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for meet in problem.competitions_of(athlete):
            days = _close(problem, meet)
            if not days:
                continue
            past = {p.unit.id for d in days_before(_first(problem, meet)) for p in view.on(athlete, d)}
            seen: set[str] = set()
            settled = {p.unit.id for d in days for p in view.on(athlete, d) if p in problem.settled}
            for p in (p for d in days for p in view.on(athlete, d)):
                new = p.unit.family in FAMILIES and p.unit.id not in past | settled | seen
                if new:
                    seen.add(p.unit.id)
                    tier = RULE.tier_at(problem, athlete, days[0])
                    facts = {"unit": p.unit.name, "on": p.day, "meet": meet.name, "date": meet.first_day}
                    found.append(Finding(RULE.id, tier, 1, athlete, days[0], facts=facts, line=meet.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['unit']} on {f['on']:%a %d %b} come in new before {f['meet']} "
        f"({f['date']:%a %d %b}). Maybe keep to what was done in the weeks before, and leave it for later."
    )
