"""In a taper volume falls with the week's share, and at least one fast touch a week stays.

No counter of the week goes beyond its share of the peak week: the largest amount that a loading week of the
block asks for at full share, or the highest week known from before it. One session at its full amount is
never too much: the amounts of a taper are already small. A fast touch is a near-maximal unit with fast
or quick metres; where none can be placed all week, or a competition stands there, none is asked for.
"""

from dataclasses import replace
from datetime import timedelta

from planner.catalogue import family_in_words
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

# counter -> how many of it make one step of the price: about one repetition, jump, run-up or set
STEPS = {
    "fast-metres": 30,
    "tempo-metres": 200,
    "short-jumps": 1,
    "full-jumps": 1,
    "run-ups": 1,
    "low-contacts": 20,
    "high-contacts": 10,
    "heavy-sets": 1,
}
LOADING = ("loading", "camp")
_HALF: dict[str, object] = {
    "week": {
        "kind": "taper",
        "share": 50,
        "reference": {"run-ups": 24, "tempo-metres": 4000},
        "reference_known": True,
    }
}
RULE = Rule(
    id="taper_volume",
    tier="should",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    weight=16,
    source=Source(
        "study",
        "Bosquet, Montpetit, Arvisais, Mujika 2007, Medicine and Science in Sports and Exercise 39(8):"
        "1358-1365: 41-60 % less volume, intensity and frequency kept; mostly endurance sports.",
    ),
    parameters={"touches": Parameter(1, "fast touches a week", 0, 3, "near-maximal runs or run-ups kept")},
    examples=(
        Example("full-run-ups | - | extensive-tempo | -", 0, "10 run-ups of 12, 2400 m of 2400", _HALF),
        Example("full-run-ups | - | - | full-run-ups", 8, "20 run-ups, 12 are half of 24", _HALF),
        Example("extensive-tempo | heavy-strength | full-run-ups lighter | -", 1,
                "no fast touch in the week", _HALF),
        Example("extensive-tempo | - | extensive-tempo lighter | -", 6,
                "3600 of 2400 m; no touch can be had", _HALF),
        Example("full-run-ups | full-run-ups | - | -", 0, "no peak week is known", {
            "week": {"kind": "taper", "share": 50}}),
    ),
)  # fmt: skip


def universe() -> Problem:
    """Monday to Thursday of a taper at 60 %, between the Sunday of a week at 60 % and a Monday without work."""
    world = World(
        ("full-run-ups", "extensive-tempo"),
        days=9,
        first=MONDAY - timedelta(1),
        week={"counts": {"run-ups": Count(0, 4, 9), "tempo": Count(0, 3, 9)}, "share": 60},
        weeks={1: {"kind": "taper"}, 2: {"share": 0}},
    )
    made = problem(world)
    free = (p for p in made.candidates if MONDAY <= p.day <= MONDAY + timedelta(3))
    return replace(made, candidates=tuple(free))


def _is_touch(p: Placement) -> bool:
    return p.dose.neural >= 2 and any(p.dose.counters.get(c) for c in ("fast-metres", "quick-metres"))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if week.kind != "taper":
                continue
            where = Where(athlete, week.first_day)
            known = [p for d in week.days for p in problem.known_on(athlete, d)]
            for counter, step in STEPS.items():
                limit = _limit(problem, week, counter)
                if limit is not None:
                    terms = [(n, board.placed(p)) for p in known if (n := p.dose.counters.get(counter, 0))]
                    board.at_most(terms, limit, where, step=step)
            if not any(problem.competition_on(athlete, d) for d in week.days):
                touches = [(1, board.placed(p)) for p in known if _is_touch(p)]
                if touches:
                    board.at_least(touches, RULE.number(problem, "touches", athlete, week.first_day), where)


def _limit(problem: Problem, week: AthleteWeek, counter: str) -> int | None:
    """The week's share of the peak week, or one session's full amount; None when no peak is known."""
    peaks = [
        problem.planned(w, counter) * 100 // w.share
        for w in problem.weeks[week.athlete]
        if w.kind in LOADING and w.share
    ]
    if week.reference_known:
        peaks.append(week.reference.get(counter, 0))
    if not peaks:
        return None
    once = [full.counters[counter] for full, _ in week.doses.values() if counter in full.counters]
    return max([max(peaks) * week.share // 100, *once])


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if week.kind != "taper":
                continue
            day = week.first_day
            tier = RULE.tier_at(problem, athlete, day)
            for counter, step in STEPS.items():
                peaks = [week.reference.get(counter, 0)] if week.reference_known else []
                for w in problem.weeks[athlete]:
                    if w.kind in LOADING and w.share:
                        peaks.append(problem.planned(w, counter) * 100 // w.share)
                if not peaks:
                    continue
                sessions = [full.counters for full, _ in week.doses.values()]
                most = max([max(peaks) * week.share // 100, *(own[counter] for own in sessions if counter in own)])
                n = view.week_amount(week, counter)
                if n > most:
                    facts = {"what": counter.replace("-", " "), "n": n, "most": most, "share": week.share}
                    found.append(Finding(RULE.id, tier, -(-(n - most) // step), athlete, day, facts=facts))
            found += _touches(view, problem, week)
    return found


def _touches(view: PlanView, problem: Problem, week: AthleteWeek) -> list[Finding]:
    athlete, day = week.athlete, week.first_day
    if any(problem.competition_on(athlete, d) for d in week.days):
        return []
    if not any(_is_touch(p) for d in week.days for p in problem.known_on(athlete, d)):
        return []
    least = RULE.number(problem, "touches", athlete, day)
    n = len([p for p in view.in_week(week) if _is_touch(p)])
    if n >= least:
        return []
    facts = {"what": "touches", "n": n, "most": least}
    return [Finding(RULE.id, RULE.tier_at(problem, athlete, day), least - n, athlete, day, facts=facts)]


def explain(finding: Finding) -> str:
    who, facts = f"{finding.athlete}, taper week of {finding.day:%a %d %b}", finding.facts
    done = counted(facts["n"], family_in_words(str(facts["what"])))
    if facts["what"] == "touches":
        return (
            f"{who}: {facts['n']} fast touches, {facts['most']} should stay. "
            "Maybe a few full run-ups or short accelerations."
        )
    return (
        f"{who}: {done}, {facts['share']} % of the peak week are {facts['most']}. "
        "Maybe take one session in its lighter version."
    )
