"""No testing in the week before a competition that matters: tests are maximal efforts, and the meeting is one."""

from datetime import timedelta

from planner.domain.block import Competition
from planner.domain.finding import Finding, Where
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

MATTER = ("main", "supporting")


def _meeting(day: int, importance: str = "main") -> Competition:
    on = MONDAY + timedelta(day)
    return Competition("Meeting", "Ada", on, on, ("long jump",), importance)


def _in(days: int, importance: str = "main") -> dict[str, object]:
    return {"block": {"competitions": (_meeting(days, importance),)}}


RULE = Rule(
    id="no_tests_before_competition",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Tests are maximal efforts: common practice, no source."),
    parameters={"days": Parameter(7, "days", 0, 21, "before a main or supporting competition without tests")},
    examples=(
        Example("testing | - | -", 0, "eight days before", _in(8)),
        Example("testing | - | -", 1, "seven days before, at the first edge", _in(7)),
        Example("- | - | testing", 1, "the day before, at the last edge", _in(3)),
        Example("- | testing | -", 0, "a competition that is trained through", _in(4, "train-through")),
    ),
)


def universe() -> Problem:
    meetings = (_meeting(1), _meeting(2, "train-through"), _meeting(10))
    return problem(World(("testing", "mobility"), days=4, block={"competitions": meetings}))


def constrain(board: Board, problem: Problem) -> None:
    for p in problem.candidates:
        if p.unit.family == "test":
            days = timedelta(RULE.number(problem, "days", p.athlete, p.day))
            meetings = problem.competitions_of(p.athlete)
            if any(m.importance in MATTER and p.day < m.first_day <= p.day + days for m in meetings):
                board.at_most([(1, board.placed(p))], 0, Where(p.athlete, p.day, p.slot))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    settled = {*problem.kept, *problem.history}
    for meeting in problem.block.competitions:
        if meeting.importance not in MATTER:
            continue
        for p in view.of(meeting.athlete):
            ahead = (meeting.first_day - p.day).days
            if p.unit.family != "test" or p in settled:
                continue
            if 0 < ahead <= RULE.number(problem, "days", p.athlete, p.day):
                tier = RULE.tier_at(problem, p.athlete, p.day)
                facts = {"what": p.unit.name, "ahead": ahead, "meeting": meeting.name}
                found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts))
    return list({f.place: f for f in found}.values())


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {str(f['what']).lower()} {counted(f['ahead'], 'days')} "
        f"before {f['meeting']}. Maybe test in an easier week, or let the competition be the test."
    )
