"""Two sessions a day only if both are needed: never for novices; else four hours apart, three days a week.

Sessions that are settled (done, handed out) stand; none is added beside them against the rule.
"""

from dataclasses import replace
from datetime import date, time, timedelta
from itertools import combinations

from planner.domain.block import Athlete, RuleSetting, Slot
from planner.domain.finding import Finding, Tier, Where
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import calendar_days, hours_apart, settled_on, slots_of
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_TWO = "morning: mobility + evening: mobility"
_NOVICE = {"level": "novice"}


def is_novice(problem: Problem, athlete: str) -> bool:
    return problem.block.athlete(athlete).level == "novice"


def _tier(problem: Problem, athlete: str) -> Tier:
    return "must" if is_novice(problem, athlete) else "should"


_LATER: dict[str, object] = {"block": {"slots": (
    Slot(MONDAY, "morning", time(10, 30), time(12)), Slot(MONDAY, "evening", time(14), time(16)))}}  # fmt: skip

RULE = Rule(
    id="two_sessions_a_day",
    tier="should",
    tier_for=_tier,
    weight=8,
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("common practice", "Common practice, no source: load, and the life beside it."),
    parameters={
        "hours": Parameter(4, "hours", 0, 10, "least hours between the two starts"),
        "double_days": Parameter(3, "days a week", 0, 7, "most days with two sessions"),
    },
    examples=(
        Example(f"{_TWO} | - | {_TWO}", 0, "seven hours apart, twice a week"),
        Example(f"{_TWO} | - | -", 1, "a novice, at the first edge", _NOVICE),
        Example(f"- | - | {_TWO}", 1, "a novice, at the last edge", _NOVICE),
        Example("evening: mobility | morning: mobility | -", 0, "a novice once a day", _NOVICE),
        Example(f"{_TWO} | {_TWO} | {_TWO} | - | {_TWO} | {_TWO}", 2, "five double days of three"),
        Example(
            "midday: mobility + morning: mobility", 1, "two hours apart", {"slots": ("morning", "midday")}
        ),
        Example("morning: mobility + evening: mobility", 1, "from 10:30 to 14:00", _LATER),
        Example("- | -", 0, "the same, but both stand already", {
            "units": ("mobility",), "slots": ("morning", "midday"),
            "kept": "morning: mobility + midday: mobility"}),
        Example("- | - | - | - | -", 0, "four double days, which stand already", {
            "units": ("mobility",), "slots": ("morning", "evening"), "kept": " | ".join([_TWO] * 4)}),
    ),
)  # fmt: skip


def universe() -> Problem:
    people = (Athlete("Ada", level="novice"), Athlete("Bo", level="advanced"))
    settings = (
        RuleSetting(RULE.id, "double_days", 1),
        RuleSetting(RULE.id, "hours", 8, athlete="Bo", begins=MONDAY, ends=MONDAY),
        RuleSetting(RULE.id, "hours", 7, athlete="Bo", begins=MONDAY + timedelta(2)),
    )
    made = problem(
        World(
            ("mobility",),
            days=3,
            slots=("morning", "midday", "evening"),
            persons=people,
            block={"settings": settings},
            history="morning: mobility + evening: mobility",
            kept="- | evening: low-multi-jumps",
        )
    )
    return replace(made, candidates=tuple(p for p in made.candidates if p.slot != "midday"))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            sessions = _sessions(board, problem, athlete, day)
            if is_novice(problem, athlete):
                stands = len({p.slot for p in settled_on(problem, athlete, day)})
                board.at_most([(1, c) for c in sessions.values()], max(1, stands), Where(athlete, day))
                continue
            hours = RULE.number(problem, "hours", athlete, day)
            for (a, first), (b, second) in combinations(slots_of(problem, athlete, day), 2):
                if a not in sessions or b not in sessions:
                    continue  # nothing may stand in one of them
                both = [sessions[a], sessions[b]]
                if hours_apart(first, second) < hours and both != [board.always, board.always]:
                    board.at_most([(1, c) for c in both], 1, Where(athlete, day, b))
        if is_novice(problem, athlete):
            continue
        for week in problem.weeks[athlete]:
            double = []
            for day in calendar_days(week):
                terms = [(1, c) for c in _sessions(board, problem, athlete, day).values()]
                double.append((1, board.reaches(terms, 2)))
            board.at_most(double, _most_double(problem, week), Where(athlete, week.first_day))


def _sessions(board: Board, problem: Problem, athlete: str, day: date) -> dict[str, Column]:
    slots: dict[str, list[Column]] = {}
    for p in problem.known_on(athlete, day):
        slots.setdefault(p.slot, []).append(board.placed(p))
    return {slot: board.any_of(columns) for slot, columns in slots.items()}


def _most_double(problem: Problem, week: AthleteWeek) -> int:
    slots = [{p.slot for p in settled_on(problem, week.athlete, d)} for d in calendar_days(week)]
    stands = sum(len(s) >= 2 for s in slots)
    return max(RULE.number(problem, "double_days", week.athlete, week.first_day), stands)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found: list[Finding] = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for day in week.days:
                if is_novice(problem, athlete):
                    found.extend(_novice(view, problem, week, day))
                else:
                    found.extend(_too_close(view, problem, week, day))
            double = [d for d in calendar_days(week) if len(view.sessions(athlete, d)) >= 2]
            above = len(double) - _most_double(problem, week)
            if above > 0 and not is_novice(problem, athlete):
                facts = {"what": f"the week has {len(double)} days with two sessions"}
                first = week.first_day
                tier = RULE.tier_at(problem, athlete, first)
                found.append(Finding(RULE.id, tier, above, athlete, first, facts=facts))
    return found


def _novice(view: PlanView, problem: Problem, week: AthleteWeek, day: date) -> list[Finding]:
    sessions = view.sessions(week.athlete, day)
    above = len(sessions) - max(1, len({p.slot for p in settled_on(problem, week.athlete, day)}))
    if above <= 0:
        return []
    facts = {"what": f"{len(sessions)} sessions for a novice"}
    tier = RULE.tier_at(problem, week.athlete, day)
    return [Finding(RULE.id, tier, above, week.athlete, day, facts=facts)]


def _too_close(view: PlanView, problem: Problem, week: AthleteWeek, day: date) -> list[Finding]:
    athlete, found = week.athlete, []
    start = dict(slots_of(problem, athlete, day))
    settled = {p.slot for p in settled_on(problem, athlete, day)}
    used = sorted(
        (s.slot for s in view.sessions(athlete, day) if s.slot in start), key=lambda s: (start[s], s)
    )
    for i, second in enumerate(used):
        for first in used[:i]:
            apart = hours_apart(start[first], start[second])
            if apart >= RULE.number(problem, "hours", athlete, day) or {first, second} <= settled:
                continue
            facts = {"what": f"{first} and {second} start {apart:g} h apart"}
            tier = RULE.tier_at(problem, athlete, day)
            found.append(Finding(RULE.id, tier, 1, athlete, day, second, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}: {finding.facts['what']}, more than the rule for two "
        "sessions a day allows. Maybe put both into one slot, or move one to another day."
    )
