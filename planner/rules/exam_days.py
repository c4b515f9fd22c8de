"""Nothing fast in the 24 hours before an exam begins.

An entry of the away table is one exam, or several of which the first counts: give each exam its own row. An
exam given by its date alone is taken to begin at nine in the morning. Settled placements are not spoken of.
"""

from datetime import datetime, time, timedelta

from planner.domain.block import Away, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._travel import ends_at, plain

EXAM_BEGINS = time(9)  # where the file gives a date only
_AT = datetime.combine(MONDAY, time(0))


def _exam(hours: float) -> dict[str, dict[str, object]]:
    when = _AT + timedelta(hours=hours)
    return {"block": {"away": (Away("Ada", when, when + timedelta(hours=2), "exam"),)}}

_SIX_HOURS = {"block": {**_exam(72)["block"], "settings": (RuleSetting("exam_days", "hours", 6),)}}
RULE = Rule(
    id="exam_days",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: stress of school and sport adds up."),
    parameters={"hours": Parameter(24, "hours", 0, 72, "before an exam begins, without fast work")},
    examples=(
        Example("flying-sprints | -", 1, "Monday evening, exam on Tuesday at 9:00", _exam(33)),
        Example("flying-sprints | -", 1, "over at 18:30, exam on Tuesday at 18:00", _exam(42)),
        Example("flying-sprints | -", 0, "over at 18:30, exam on Tuesday at 18:30", _exam(42.5)),
        Example("- | - | flying-sprints", 1, "Wednesday evening, exam on Thursday, no clock", _exam(72)),
        Example("- | flying-sprints", 0, "the evening after the exam", _exam(33)),
        Example("short-long-jumps | -", 0, "medium", _exam(33)),
        Example("- | morning: flying-sprints", 1, "the morning before an exam at 14:00", _exam(38)),
        Example("- | - | flying-sprints", 0, "15 hours before an exam at nine, 6 are asked", _SIX_HOURS),
    ),
)


def universe() -> Problem:
    exams = tuple(
        Away("Ada", _AT + timedelta(hours=h), _AT + timedelta(hours=h + 2), "exam") for h in (33, 72)
    )
    units = ("flying-sprints", "short-long-jumps")
    slots = ("morning", "evening")
    return problem(World(units, days=3, slots=slots, kept="flying-sprints", block={"away": exams}))


def _begins(exam: Away) -> datetime:
    begins = plain(exam.begins)
    return datetime.combine(begins.date(), EXAM_BEGINS) if begins.time() == time(0) else begins


def _too_near(problem: Problem, p: Placement, exam: Away) -> bool:
    """Is it a fast unit that reaches into the hours before the exam?"""
    hours = timedelta(hours=RULE.number(problem, "hours", p.athlete, p.day))
    return p.dose.neural >= 3 and p.begins < _begins(exam) < ends_at(p) + hours


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for exam in problem.away_of(athlete, "exam"):
            for day in problem.days:
                free = (p for p in problem.on(athlete, day) if p not in problem.settled)
                near = [p for p in free if _too_near(problem, p, exam)]
                for slot in sorted({p.slot for p in near}):
                    terms = [(1, board.placed(p)) for p in near if p.slot == slot]
                    board.at_most(terms, 0, Where(athlete, day, slot, exam.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for exam in problem.away_of(athlete, "exam"):
            for p in view.of(athlete):
                if p in problem.settled or not _too_near(problem, p, exam):
                    continue
                tier = RULE.tier_at(problem, athlete, p.day)
                facts = {"unit": p.unit.name, "exam": _begins(exam)}
                found.append(Finding(RULE.id, tier, 1, athlete, p.day, p.slot, facts, exam.line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['unit']} on {finding.day:%a %d %b} falls into the day before the exam of "
        f"{f['exam']:%a %d %b %H:%M}. Maybe take its lighter version, or move it behind the exam."
    )
