"""A week rises modestly over the highest week of the last four.

What is compared: metres at 95 % and faster, tempo metres, contacts, full jumps and run-ups of the week, with
the highest of the four weeks before it. A week before the block, or one that is wholly over, counts with what
was done; a week still to come with what its targets amount to, so that a light week in the plan does not
forbid the next one. Where nothing is known from before, the first week is compared with nothing. One session
at its full amount is never a rise: from a very low base the weekly caps decide, not percentages.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from planner.catalogue import family_in_words
from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

LOOK_BACK = 4  # weeks
# counter -> (parameter, percent or number, how many of the counter are one step of the price)
RISES = {
    "fast-metres": ("fast_metres", "percent", 30),
    "tempo-metres": ("tempo", "percent", 200),
    "low-contacts": ("contacts", "percent", 20),
    "high-contacts": ("contacts", "percent", 10),
    "full-jumps": ("full_jumps", "number", 1),
    "run-ups": ("run_ups", "number", 1),
}
_KNOWN: dict[str, object] = {
    "week": {
        "counts": {"acceleration": Count(0, 0, 9), "run-ups": Count(0, 0, 9)},
        "reference": {"fast-metres": 500, "run-ups": 10},
        "reference_known": True,
    }
}
_NINETEEN: dict[str, object] = {
    "week": {"reference": {"fast-metres": 500}, "reference_known": True},
    "block": {"settings": (RuleSetting("ramp", "run_ups", 19),)},
}
RULE = Rule(
    id="ramp",
    tier="should",
    scope="athlete",
    reach=Reach(back=34, whole_weeks=True),
    weight=10,
    source=Source(
        "common practice",
        "A convention used as a tripwire. Impellizzeri, Tenan, Kempton, Novak, Coutts 2020, International "
        "Journal of Sports Physiology and Performance 15(6):907-913: no percentage is shown to be safe.",
    ),
    parameters={
        "fast_metres": Parameter(15, "percent", 0, 100, "rise in metres at 95 % and faster"),
        "tempo": Parameter(20, "percent", 0, 100, "rise in tempo metres"),
        "contacts": Parameter(20, "percent", 0, 100, "rise in low contacts, and in high contacts"),
        "full_jumps": Parameter(2, "jumps", 0, 20, "rise in jumps from the full run-up"),
        "run_ups": Parameter(2, "run-ups", 0, 20, "rise in full run-ups without a jump"),
        "camp": Parameter(30, "percent", 0, 100, "rise in a camp week, where it is more than the others"),
    },
    examples=(
        Example("long-accelerations | - | full-run-ups | -", 0, "300 m of 575, 10 run-ups of 12", _KNOWN),
        Example("long-accelerations | - | - | long-accelerations", 1, "600 m, 25 over 575", _KNOWN),
        Example("full-run-ups | - | - | full-run-ups", 8, "20 run-ups, 8 over 12", _KNOWN),
        Example("full-run-ups | full-run-ups | full-run-ups | -", 0, "nothing known from before"),
        Example("full-run-ups | - | - | full-run-ups", 1, "20 run-ups after none, 19 more are hers", _NINETEEN),
    ),
)


def universe() -> Problem:
    """Friday to Sunday, already over; a whole week; and Monday to Wednesday of the fifth, in a camp."""
    week = {
        "counts": {"acceleration": Count(0, 1, 9), "run-ups": Count(0, 1, 9)},
        "reference": {"fast-metres": 650, "run-ups": 19},
        "reference_known": True,
    }
    world = World(
        ("long-accelerations", "full-run-ups"),
        days=13,
        first=MONDAY - timedelta(3),
        over=3,
        week=week,
        weeks={2: {"index": 4, "kind": "camp"}},
        block={"settings": (RuleSetting(RULE.id, "run_ups", 1),)},
        kept="long-accelerations | long-accelerations + full-run-ups | full-run-ups",
    )
    made = problem(world)
    on = {"acceleration": (0, 3, 6, 7, 8, 9), "run-ups": (6, 7, 8, 9)}
    free = (p for p in made.candidates if (p.day - MONDAY).days in on[p.unit.family])
    return replace(made, candidates=tuple(free))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        weeks = problem.weeks[athlete]
        for week in weeks:
            known = [p for d in week.days for p in problem.known_on(athlete, d)]
            for counter, (_, _, step) in RISES.items():
                limit = _limit(problem, weeks, week, counter)
                if limit is not None:
                    terms = [(n, board.placed(p)) for p in known if (n := p.dose.counters.get(counter, 0))]
                    board.at_most(terms, limit, Where(athlete, week.first_day), step=step)


def _limit(problem: Problem, weeks: Sequence[AthleteWeek], week: AthleteWeek, counter: str) -> int | None:
    """The most of a counter that is no steep rise; None when there is nothing to compare with."""
    past = [_amount(problem, w, counter) for w in weeks if week.index - LOOK_BACK <= w.index < week.index]
    if week.reference_known and week.index < LOOK_BACK:
        past.append(week.reference.get(counter, 0))
    if not past:
        return None
    name, kind, _ = RISES[counter]
    rise = RULE.number(problem, name, week.athlete, week.first_day)
    if kind == "percent" and week.kind == "camp":
        rise = max(rise, RULE.number(problem, "camp", week.athlete, week.first_day))
    once = [full.counters[counter] for full, _ in week.doses.values() if counter in full.counters]
    return max([max(past) + (max(past) * rise // 100 if kind == "percent" else rise), *once])


def _amount(problem: Problem, week: AthleteWeek, counter: str) -> int:
    if any(p not in problem.settled for d in week.days for p in problem.on(week.athlete, d)):
        return problem.planned(week, counter)
    done = [p for d in week.days for p in problem.known_on(week.athlete, d)]
    return sum(p.dose.counters.get(counter, 0) for p in done)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        compared: list[tuple[int, dict[str, int]]] = []  # week number, what it counts with
        for week in problem.weeks[athlete]:
            day = week.first_day
            if not compared and week.reference_known:
                compared = [(i - LOOK_BACK, dict(week.reference)) for i in range(LOOK_BACK)]
            recent = [amounts for i, amounts in compared if i >= week.index - LOOK_BACK]
            for counter, (name, kind, step) in RISES.items() if recent else ():
                n, highest = view.week_amount(week, counter), max(a.get(counter, 0) for a in recent)
                rise = RULE.number(problem, name, athlete, day)
                if kind == "percent":
                    names = (name, "camp") if week.kind == "camp" else (name,)
                    rise = highest * max(RULE.number(problem, x, athlete, day) for x in names) // 100
                doses = [full.counters for full, _ in week.doses.values()]
                most = max([highest + rise, *(own[counter] for own in doses if counter in own)])
                if n > most:
                    facts = {"what": counter.replace("-", " "), "n": n, "most": most, "highest": highest}
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, -(-(n - most) // step), athlete, day, facts=facts))
            ahead = any(p not in problem.settled for d in week.days for p in problem.on(athlete, d))
            count = week.planned if ahead else None
            compared.append(
                (
                    week.index,
                    {c: count(c, problem.units) if count else view.week_amount(week, c) for c in RISES},
                )
            )
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    done = counted(facts["n"], family_in_words(str(facts["what"])))
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {done} after "
        f"{facts['highest']} in the highest of the last four weeks; {facts['most']} would be a modest rise. "
        "Maybe take the lighter version of one session; the figure is a tripwire, not a law."
    )
