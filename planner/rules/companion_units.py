"""Some units want others before them: full jumps after run-ups, flying sprints after build-ups.

Exposures count by day, on the days before: units placed, drills attached to them, history, and the last dates
in the coach's file. Where nothing at all is known of an athlete's time before the block, a unit is not judged
until the days looked back lie inside the block. Units that are settled are not spoken of.
"""

from collections.abc import Callable
from datetime import date, timedelta

from planner.catalogue import any_in_words
from planner.domain.block import Athlete, LastDone, Limit
from planner.domain.finding import Finding, Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_YESTERDAY = MONDAY - timedelta(1)
_ADA, _BO = Athlete("Ada", level="novice"), Athlete("Bo", level="advanced")
_TWO: dict[str, object] = {
    "persons": (_ADA, _BO),
    "block": {"last_done": (LastDone("Ada", "full-run-ups", _YESTERDAY), LastDone("Bo", "mobility", _YESTERDAY))},
}
_NOVICE: dict[str, object] = {"persons": (_ADA,)}
_SKIPS = {"block": {"last_done": (LastDone("Ada", "mobility", _YESTERDAY),)}}


def _run_ups(days_ago: int) -> dict[str, object]:
    return {"block": {"last_done": (LastDone("Ada", "full-run-ups", MONDAY - timedelta(days_ago)),)}}


def _limited(*stages: int) -> dict[str, object]:
    """Bo comes back to full training by stages, Ada is well; nothing but mobility is known of either."""
    people = (Athlete("Ada", level="advanced"), _BO)
    limits = tuple(Limit("Bo", "knee", stage=stage) for stage in stages)
    done = tuple(LastDone(a.name, "mobility", _YESTERDAY) for a in people)
    return {"persons": people, "block": {"limits": limits, "last_done": done}}


def _tier(problem: Problem, athlete: str) -> Tier:
    returning = any(x.athlete == athlete and 3 <= x.stage <= 5 for x in problem.block.limits)
    return "must" if returning or problem.block.athlete(athlete).level == "novice" else "should"


RULE = Rule(
    id="companion_units",
    tier="should",
    tier_for=_tier,
    weight=12,
    scope="athlete",
    reach=Reach(back=21),
    source=Source("common practice", "Common practice, no source: a body meets full effort in steps."),
    examples=(
        Example("full-long-jumps | -", 0, "full run-ups eight days ago", _run_ups(8)),
        Example("full-long-jumps | -", 1, "nine days ago is too long, at the first edge", _run_ups(9)),
        Example("full-long-jumps\nfull-long-jumps", 1, "Ada ran up yesterday, Bo did not", _TWO, "should"),
        Example("short-long-jumps | full-long-jumps", 0, "starts as drills", {**_SKIPS, "preparation": True}),
        Example("- | flying-sprints", 2, "two build-ups are missing, at the last edge", _SKIPS),
        Example("build-ups | flying-sprints", 1, "one is missing", _SKIPS),
        Example("- | flying-sprints", 2, "the same for a novice", {**_SKIPS, **_NOVICE}, "must"),
        Example("-\nfull-long-jumps", 1, "Bo comes back at stage 3", _limited(3), "must"),
        Example("-\nfull-long-jumps", 1, "at stage 5", _limited(5), "must"),
        Example("-\nfull-long-jumps", 1, "at stage 6, which is full training", _limited(6), "should"),
        Example("full-long-jumps\n-", 1, "Ada is well, Bo comes back", _limited(4), "should"),
        Example("flying-sprints | - | -", 0, "nothing is known of the time before"),
        Example("- | - | - | - | - | - | - | - | full-long-jumps", 1, "eight days are known by now"),
    ),
)


def universe() -> Problem:
    return problem(
        World(
            ("flying-sprints", "build-ups", "full-long-jumps"),
            days=2,
            persons=(_ADA, _BO),
            preparation=True,
            history="build-ups | build-ups lighter + mobility",
            kept="- | full-run-ups",
            block={"last_done": (LastDone("Bo", "full-run-ups", _YESTERDAY),)},
        )
    )


def _is(wanted: str, units: tuple[Unit, ...]) -> bool:
    names = wanted.split("|")
    return any(u.id in names or u.family in names for u in units)


def _exposes(problem: Problem, wanted: str, p: Placement) -> bool:
    """Is the unit, or a drill attached to it, one of those wanted?"""
    return _is(wanted, (p.unit, *[problem.units[name] for name, _, _ in p.dose.preparation]))


def _written(problem: Problem, athlete: str, wanted: str, day: date) -> bool:
    """Do the last dates in the coach's file name such a unit on that day?"""
    dates = (x for x in problem.block.last_done if x.athlete == athlete and x.day == day)
    return any(_is(wanted, (problem.units[x.unit],)) for x in dates if x.unit in problem.units)


def _judged(problem: Problem, athlete: str, first: date) -> bool:
    """Is enough known, from the first day looked back on?"""
    block = problem.block
    told = [x.athlete for x in problem.history]
    told += [x.athlete for x in block.before] + [x.athlete for x in block.last_done]
    return first >= block.begins or athlete in told


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        exposed = _exposed(board, problem, athlete)
        for day in problem.days:
            settled = {p.unit.id for p in settled_on(problem, athlete, day)}
            columns: dict[str, list[Column]] = {}
            for p in problem.known_on(athlete, day):
                if p.unit.companions and p.unit.id not in settled:
                    columns.setdefault(p.unit.id, []).append(board.placed(p))
            for unit, placed in sorted(columns.items()):
                for wanted, times, back in problem.units[unit].companions:
                    if not _judged(problem, athlete, day - timedelta(back)):
                        continue
                    terms = [(1, exposed(wanted, day - timedelta(i))) for i in range(1, back + 1)]
                    board.at_least([*terms, (-times, board.any_of(placed))], 0, Where(athlete, day))


def _exposed(board: Board, problem: Problem, athlete: str) -> Callable[[str, date], Column]:
    seen: dict[tuple[str, date], Column] = {}

    def column(wanted: str, day: date) -> Column:
        if (wanted, day) not in seen:
            known = [p for p in problem.known_on(athlete, day) if _exposes(problem, wanted, p)]
            written = _written(problem, athlete, wanted, day)
            seen[wanted, day] = board.always if written else board.any_of(map(board.placed, known))
        return seen[wanted, day]

    return column


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            settled = {p.unit.id for p in settled_on(problem, athlete, day)}
            here = {p.unit.id: p.unit for p in view.on(athlete, day) if p.unit.id not in settled}
            for unit in here.values():
                for wanted, times, back in unit.companions:
                    if not _judged(problem, athlete, day - timedelta(back)):
                        continue
                    done = 0
                    for i in range(1, back + 1):
                        before = day - timedelta(i)
                        placed = any(_exposes(problem, wanted, p) for p in view.on(athlete, before))
                        done += placed or _written(problem, athlete, wanted, before)
                    if done < times:
                        facts = {
                            "unit": unit.name,
                            "wanted": wanted,
                            "done": done,
                            "times": times,
                            "back": back,
                        }
                        tier = RULE.tier_at(problem, athlete, day)
                        found.append(Finding(RULE.id, tier, times - done, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    wanted = " or ".join(any_in_words(w) for w in str(f["wanted"]).split("|"))
    return (
        f"{finding.athlete}: {f['unit']} on {finding.day:%a %d %b} want {wanted} on {f['times']} of the "
        f"{f['back']} days before, found on {f['done']}. Maybe put {wanted} first."
    )
