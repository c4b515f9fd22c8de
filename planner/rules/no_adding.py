"""Nothing is added to make up for what was missed: a handed-out week holds no more than it was given.

By week and athlete: every counter (fast metres, take-offs, contacts ...), the load and the number of units stay
within what was handed out. What was really done stands, even where it was more. A week that a moved competition
opens is planned anew at its own level.
"""

from collections.abc import Callable, Iterator

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import COUNTERS
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import calendar_days, settled_on
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

GIVEN = "flying-sprints | - | extensive-tempo | -"
RULE = Rule(
    id="no_adding",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("common practice", "Cramming is a main cause of comeback injuries: common practice, no source."),
    examples=(
        Example("flying-sprints | - | extensive-tempo | -", 0, "as handed out", {"handed_out": GIVEN}),
        Example("- | flying-sprints | - | extensive-tempo", 0, "moved, not more", {"handed_out": GIVEN}),
        Example("extensive-tempo | - | extensive-tempo | -", 2400, "2400 m of tempo twice, given once", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo")}),
        Example("- | - | - | extensive-tempo + flying-sprints", 0, "no more of anything", {"handed_out": GIVEN}),
        Example("extensive-tempo | - | extensive-tempo | -", 0, "a week that a moved competition opens", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo"), "opened": True}),
        Example("- | - | flying-sprints | flying-sprints", 355, "150 m and a load of 205 too much", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo")}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "extensive-tempo")
    return problem(World(units, days=4, handed_out=GIVEN))


def measures() -> dict[str, Callable[[Placement], int]]:
    """Everything that is counted: name -> how much of it a placement is."""

    def counter(name: str) -> Callable[[Placement], int]:
        return lambda p: p.dose.counters.get(name, 0)

    return {
        **{name: counter(name) for name in COUNTERS},
        "load": lambda p: p.dose.load,
        "units": lambda p: 1,
    }


def _limits(problem: Problem, week: AthleteWeek) -> Iterator[tuple[str, Callable[[Placement], int], int]]:
    """What is counted in a handed-out week, and the most of it: what was given, or what stands already."""
    days = calendar_days(week)
    given = [p for p in problem.handed_out if p.athlete == week.athlete and p.day in days]
    for name, much in measures().items():
        settled = sum(much(p) for d in days for p in settled_on(problem, week.athlete, d))
        yield name, much, max(sum(much(p) for p in given), settled)


def constrain(board: Board, problem: Problem) -> None:
    if not problem.handed_out:
        return
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if (athlete, week.begins) in problem.opened:
                continue
            known = [p for d in calendar_days(week) for p in problem.known_on(athlete, d)]
            for _, much, most in _limits(problem, week):
                terms = [(much(p), board.placed(p)) for p in known if much(p)]
                board.at_most(terms, most, Where(athlete, week.days[0]))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    if not problem.handed_out:
        return []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if problem.opened_on(athlete, week.days[0]):
                continue
            for name, much, most in _limits(problem, week):
                done = 0
                for day in calendar_days(week):
                    for p in view.on(athlete, day):
                        done += much(p)
                if done > most:
                    facts = {"what": name.replace("-", " "), "done": done, "most": most}
                    day = week.days[0]
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, done - most, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {f['done']} {f['what']}, {f['most']} were handed "
        "out. Maybe leave it out: what was missed is not made up for."
    )
