"""Only one thing rises at a time: in the week a fast unit is new there is no more of its kind than before.

Kinds are jumps from a run-up, contacts of multi-jumps, and metres at 95 % and faster; new is what the four weeks
before do not hold, where these are known day by day; a competition stands for the fast units of which it consists.
The week is compared with the highest of those four: a week that is over counts with what was done, one still to
come with what its targets amount to. That speed and load do not rise together with the amount is held by the
ladders, where each step raises one of them.
"""

from datetime import date, timedelta

from planner.domain.block import Competition, RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._new import WEEKS, days_before, is_open, known_before, known_in
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

KINDS: dict[str, tuple[str, ...]] = {
    "jumps from a run-up": ("short-jumps", "full-jumps"),
    "contacts": ("low-contacts", "high-contacts"),
    "fast metres": ("fast-metres",),
}
IN_COMPETITION = ("acceleration", "top-speed", "speed-endurance", "full-jumps")
_KNOWN: dict[str, object] = {
    "block": {"previous": "winter.yaml"},
    "history": "mobility | -",
    "week": {"reference": {"low-contacts": 100, "high-contacts": 30}, "reference_known": True},
}
_RACE = Competition("open meeting", "Ada", MONDAY - timedelta(8), MONDAY - timedelta(8))
_RACED: dict[str, object] = {**_KNOWN, "block": {"previous": "winter.yaml", "competitions": (_RACE,)}}
_SATURDAY = MONDAY + timedelta(5)
_FIFTH: dict[str, object] = {  # a weekend that is over, and the fifth week of the block
    "block": {"previous": "winter.yaml"},
    "history": "mobility | -",
    "first": _SATURDAY,
    "over": 2,
    "week": {"reference": {"low-contacts": 400}, "reference_known": True},
    "weeks": {1: {"index": 4, "counts": {"low-multi-jumps": Count(0, 3, 3)}}},
}


def _tenth(before: int) -> dict[str, object]:
    """So many low contacts in a week before the block, and a rise of a tenth that is none yet."""
    settings = (RuleSetting("one_thing_rises", "rise", 10),)
    week = {"reference": {"low-contacts": before}, "reference_known": True}
    return {**_KNOWN, "block": {"previous": "winter.yaml", "settings": settings}, "week": week}


RULE = Rule(
    id="one_thing_rises",
    tier="should",
    scope="athlete",
    reach=Reach(back=28, whole_weeks=True),
    weight=6,
    source=Source("common practice", "Common practice, no source: one change at a time shows what it did."),
    parameters={"rise": Parameter(0, "percent", 0, 50, "rise that is none yet")},
    examples=(
        Example("depth-jumps | - | - | -", 0, "50 contacts of 130", _KNOWN),
        Example("depth-jumps | - | low-multi-jumps | -", 1, "50 and 160 contacts, at the first edge", _KNOWN),
        Example("- | low-multi-jumps | - | depth-jumps", 1, "at the last edge", _KNOWN),
        Example("low-multi-jumps | - | - | low-multi-jumps", 0, "more of the same, nothing new", _KNOWN),
        Example("depth-jumps | - | - | low-multi-jumps", 0, "it was done last week",
                {**_KNOWN, "history": "depth-jumps | -"}),
        Example("depth-jumps | - | - | low-multi-jumps", 0, "nothing is known of the time before"),
        Example("depth-jumps | mobility | low-multi-jumps | -", 0,
                "210 contacts after 191, and a tenth more may be",
                _tenth(191)),
        Example("depth-jumps | - | - | low-multi-jumps", 1, "210 contacts after 190, where a tenth more is 209",
                _tenth(190)),
        Example("- | - | depth-jumps | low-multi-jumps", 0, "Saturday to Tuesday; 320 are planned before",
                {**_KNOWN, "first": _SATURDAY, "weeks": {0: {"counts": {"low-multi-jumps": Count(0, 2, 3)}}}}),
        Example("- | - | depth-jumps | low-multi-jumps", 0, "320 contacts were done four weeks before",
                {**_FIFTH, "kept": "low-multi-jumps | low-multi-jumps"}),
        Example("- | - | depth-jumps | low-multi-jumps", 1,
                "160 were; neither before the block nor planned now counts",
                {**_FIFTH, "kept": "low-multi-jumps | -"}),
        Example("flying-sprints | - | - | flying-sprints", 0,
                "300 m; a competition stood for the sprints", _RACED),
        Example("depth-jumps | - | low-multi-jumps | -", 1, "a competition stands for no depth jumps", _RACED),
    ),
)  # fmt: skip


def universe() -> Problem:
    """Saturday to Wednesday: what the weekend brings is not new in the week after it."""
    return problem(
        World(
            ("depth-jumps", "low-multi-jumps"),
            days=5,
            first=MONDAY + timedelta(5),
            history="mobility | -",
            block={"previous": "winter.yaml"},
            week={"reference": {"low-contacts": 160, "high-contacts": 50}, "reference_known": True},
            kept="- | low-multi-jumps",
        )
    )


def _kind(unit: Unit) -> str:
    """The kind that a fast unit belongs to; '' for any other."""
    if unit.demand.neural < 3:
        return ""
    return next((k for k, counted in KINDS.items() if any(unit.counters.get(c, 0) for c in counted)), "")


def _count(placement: Placement, counters: tuple[str, ...]) -> int:
    return sum(placement.dose.counters.get(c, 0) for c in counters)


def _most(problem: Problem, week: AthleteWeek, kind: str) -> int:
    """The most of a kind that is no rise: the highest of the four weeks before."""
    past = [0]
    for earlier in (w for w in problem.weeks[week.athlete] if week.index - WEEKS <= w.index < week.index):
        if is_open(problem, earlier):
            past.append(sum(problem.planned(earlier, c) for c in KINDS[kind]))
        else:
            past.append(sum(_count(p, KINDS[kind]) for p in known_in(problem, week.athlete, earlier.days)))
    if week.reference_known and week.index < WEEKS:
        past.append(sum(week.reference.get(c, 0) for c in KINDS[kind]))
    return max(past) + max(past) * RULE.number(problem, "rise", week.athlete, week.first_day) // 100


def _by_competition(problem: Problem, athlete: str, unit: Unit, days: tuple[date, ...]) -> bool:
    return unit.family in IN_COMPETITION and any(problem.competition_on(athlete, d) for d in days)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if not known_before(problem, athlete, week.begins) or not is_open(problem, week):
                continue
            before = days_before(week.begins)
            known = known_in(problem, athlete, week.days)
            earlier = known_in(problem, athlete, before)
            fast: dict[tuple[str, str], list[Placement]] = {}
            for p in known:
                if (kind := _kind(p.unit)) and not _by_competition(problem, athlete, p.unit, before):
                    fast.setdefault((p.unit.id, kind), []).append(p)
            for (unit, kind), placements in sorted(fast.items()):
                terms = [(n, board.placed(p)) for p in known if (n := _count(p, KINDS[kind]))]
                rises = board.reaches(terms, _most(problem, week, kind) + 1)
                here = board.any_of(map(board.placed, placements))
                if {rises, here} != {board.always}:
                    done = board.any_of(board.placed(p) for p in earlier if p.unit.id == unit)
                    board.at_most([(1, rises), (1, here), (-1, done)], 1, Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if not known_before(problem, athlete, week.begins) or not is_open(problem, week):
                continue
            before = days_before(week.begins)
            done = {p.unit.id for d in before for p in view.on(athlete, d)}
            here = {p.unit.id: p for p in view.in_week(week)}
            for name, p in sorted(here.items()):
                kind = _kind(p.unit)
                if not kind or name in done or _by_competition(problem, athlete, p.unit, before):
                    continue
                n = sum(view.week_amount(week, c) for c in KINDS[kind])
                most = _most(problem, week, kind)
                if n <= most or _stands(problem, week, name, kind, most):
                    continue
                tier = RULE.tier_at(problem, athlete, week.first_day)
                facts = {"unit": p.unit.name, "kind": kind, "n": n, "most": most}
                found.append(Finding(RULE.id, tier, 1, athlete, week.first_day, facts=facts))
    return found


def _stands(problem: Problem, week: AthleteWeek, unit: str, kind: str, most: int) -> bool:
    """Is the unit done or settled this week, and more than before as well, whatever is chosen?"""
    settled = [p for p in known_in(problem, week.athlete, week.days) if p in problem.settled]
    return any(p.unit.id == unit for p in settled) and sum(_count(p, KINDS[kind]) for p in settled) > most


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {f['unit']} are new and {f['kind']} rise to "
        f"{f['n']}, after {f['most']} at most in the four weeks before. Maybe less of the rest in that week."
    )
