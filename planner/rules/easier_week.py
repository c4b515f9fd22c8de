"""An easier week has less volume, one fast day less, and keeps one short fast touch.

Volume is effort x minutes of the units without warm-ups, compared with the average of the loading weeks among
the four weeks before (where the block has none yet: with the highest week known from before it). A touch
is anything that counts fast metres; a competition is one too. Where nothing fast can be placed all week,
none is asked for. Exam weeks have a rule of their own.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from math import ceil, gcd

from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

LOOK_BACK = 4  # weeks
STEP = 100  # effort x minutes that make one step of the price: a short easy unit
LOADING = ("loading", "camp")
_EASIER: dict[str, object] = {
    "week": {
        "kind": "easier",
        "fast_days": Count(0, 1, 3),
        "reference": {"load": 1000},
        "reference_known": True,
    }
}
_UNKNOWN: dict[str, object] = {"week": {"kind": "easier"}}
_METRES: dict[str, object] = {
    "week": {"kind": "easier", "reference": {"fast-metres": 300}, "reference_known": True}
}
RULE = Rule(
    id="easier_week",
    tier="should",
    scope="athlete",
    reach=Reach(back=34, whole_weeks=True),
    weight=14,
    source=Source("common practice", "common practice, no source: half to two thirds of the volume"),
    parameters={"percent": Parameter(65, "percent of the loading weeks", 30, 100, "volume that may stay")},
    examples=(
        Example("flying-sprints | - | - | -", 0, "load 455, one fast day, one touch", _EASIER),
        Example("flying-sprints | - | extensive-tempo | -", 1, "load 705 of 650: one started step", _EASIER),
        Example(
            "flying-sprints | - | - | flying-sprints", 4, "load 910 (3 steps), two fast days (1)", _EASIER
        ),
        Example("- | mobility | - | flying-sprints lighter", 1, "no fast touch", _EASIER),
        Example("flying-sprints | - | - | -", 0, "no loading week is known", _UNKNOWN),
        Example("flying-sprints | - | - | -", 0, "of the loading weeks no load is known", _METRES),
    ),
)


def universe() -> Problem:
    """Seven weeks of a training day or two; a competition in the fifth, an exam in the seventh."""
    units = ("flying-sprints", "extensive-tempo")
    on = MONDAY + timedelta(33)
    meet = Competition("open meeting", "Ada", on, on)
    block = {"competitions": (meet,), "settings": (RuleSetting(RULE.id, "percent", 100),)}
    made = problem(World(units, 43, week={"fast_days": Count(0, 0, 3)}, block=block))
    kinds = ("camp", "loading", "easier", "loading", "easier", "easier", "easier")
    weeks = [replace(w, kind=kind) for w, kind in zip(made.weeks["Ada"], kinds, strict=True)]
    weeks[-1] = replace(weeks[-1], exam_week=True)
    fast = {MONDAY + timedelta(i) for i in (0, 7, 21, 28, 35, 37, 42)}
    tempo = {MONDAY + timedelta(i) for i in (0, 14, 28, 35)}
    offered = (p for p in made.candidates if p.day in (tempo if p.unit.family == "tempo" else fast))
    return replace(made, weeks={"Ada": tuple(weeks)}, candidates=tuple(map(_short, offered)))


def _short(p: Placement) -> Placement:
    """Amounts of a real block take odd minutes: tempo of a load of 4 x 57 = 228, one more than half of 455."""
    return replace(p, dose=replace(p.dose, minutes=57, effort=4)) if p.unit.family == "tempo" else p


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if week.kind != "easier" or week.exam_week:
                continue
            where = Where(athlete, week.days[0])
            known = {d: problem.known_on(athlete, d) for d in week.days}
            _volume(board, problem, week, [p for ps in known.values() for p in ps])
            meets = [d for d in week.days if problem.competition_on(athlete, d)]
            fast = [
                board.any_of(board.placed(p) for p in ps if p.dose.neural >= 3)
                for d, ps in known.items()
                if d not in meets
            ]
            least = 0 if meets else 1
            board.at_most([(1, c) for c in fast], max(least, week.fast_days.target), where)
            touches = [p for ps in known.values() for p in ps if p.dose.counters.get("fast-metres", 0)]
            if touches and not meets:
                board.at_least([(1, board.any_of(board.placed(p) for p in touches))], 1, where)


def _volume(board: Board, problem: Problem, week: AthleteWeek, known: Sequence[Placement]) -> None:
    weeks = problem.weeks[week.athlete]
    before = [w for w in weeks if 0 < week.index - w.index <= LOOK_BACK and w.kind in LOADING]
    percent = RULE.number(problem, "percent", week.athlete, week.days[0])
    where = Where(week.athlete, week.days[0])
    if not before:
        if week.reference_known and week.reference.get("load", 0):
            own = [(100 * p.dose.load, board.placed(p)) for p in known]
            board.at_most(own, percent * week.reference["load"], where, step=100 * STEP)
        return
    times = 100 * len(before)
    part = gcd(times, percent)
    terms: list[Term] = [(times // part * p.dose.load, board.placed(p)) for p in known]
    for earlier in before:
        for day in earlier.days:
            for p in problem.known_on(week.athlete, day):
                terms.append((-percent // part * p.dose.load, board.placed(p)))
    board.at_most(terms, 0, where, step=times // part * STEP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if week.kind != "easier" or week.exam_week:
                continue
            day = week.days[0]
            tier = RULE.tier_at(problem, athlete, day)
            own, allowed = sum(p.dose.load for p in view.in_week(week)), _allowed(view, problem, week)
            if allowed is not None and own > allowed:
                over = ceil(own - allowed)
                facts = {"what": "volume", "n": over, "most": int(allowed)}
                found.append(Finding(RULE.id, tier, -(-over // STEP), athlete, day, facts=facts))
            meets = {d for d in week.days if problem.competition_on(athlete, d)}
            fast = set(view.fast_days(week)) - meets
            most = max(0 if meets else 1, week.fast_days.target)
            if len(fast) > most:
                facts = {"what": "fast days", "n": len(fast), "most": most}
                found.append(Finding(RULE.id, tier, len(fast) - most, athlete, day, facts=facts))
            if not meets and not view.week_amount(week, "fast-metres") and _possible(problem, week):
                found.append(Finding(RULE.id, tier, 1, athlete, day, facts={"what": "touch"}))
    return found


def _allowed(view: PlanView, problem: Problem, week: AthleteWeek) -> Fraction | None:
    """The volume that may stay, or None when there is nothing to compare with."""
    percent = RULE.number(problem, "percent", week.athlete, week.days[0])
    loads = []
    for earlier in problem.weeks[week.athlete]:
        if week.index - LOOK_BACK <= earlier.index < week.index and earlier.kind in LOADING:
            loads.append(sum(p.dose.load for p in view.in_week(earlier)))
    if loads:
        return Fraction(percent * sum(loads), 100 * len(loads))
    known = week.reference.get("load", 0) if week.reference_known else 0
    return Fraction(percent * known, 100) if known else None


def _possible(problem: Problem, week: AthleteWeek) -> bool:
    return any(
        p.dose.counters.get("fast-metres", 0) for d in week.days for p in problem.known_on(week.athlete, d)
    )


def explain(finding: Finding) -> str:
    who, facts = f"{finding.athlete}, easier week of {finding.day:%a %d %b}", finding.facts
    if facts["what"] == "touch":
        return f"{who}: no short fast touch is kept. Maybe add a few short accelerations at full speed."
    if facts["what"] == "fast days":
        return (
            f"{who}: {counted(facts['n'], 'fast days')}, at most {facts['most']}. "
            "Maybe take one in its lighter version."
        )
    return (
        f"{who}: {facts['n']} more volume (effort x minutes without warm-ups) than the {facts['most']} that "
        "may stay. Maybe leave out a general or tempo unit."
    )
