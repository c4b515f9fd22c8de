"""Fast work in the open is over before it gets dark where there is no light.

The hour of dusk is the one in the file (of the place, else of the block); where the file says none, nothing
is judged. What has to fit before dusk is the warm-up and the session's fast units (demand 3) at unlit places.
"""

from dataclasses import replace
from datetime import datetime, time, timedelta

from planner.domain.block import Opening, Place
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import CLOCK, MONDAY, PLACES, World, problem
from planner.rules._weather import place_of

WARM_UP = 25  # minutes; common practice, no source
STEP = 15  # minutes that make one step of the price


def _dark(dusk: time, *own: time | None) -> dict[str, object]:
    """Evenings from 17:00; the straight has no light, the pit has. Dusk of the block, and by day of the places."""
    openings = tuple(
        Opening(MONDAY + timedelta(i), "evening", place, *CLOCK["evening"])
        for i, by_day in enumerate((*own, None, None))
        for place in (Place("track", kind, kind, lit=kind != "straight", dusk=by_day) for kind in PLACES)
    )
    return {"block": {"openings": openings, "dusk": dusk}}


RULE = Rule(
    id="daylight",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: safety at speed, and on the board."),
    examples=(
        Example("flying-sprints | -", 0, "17:00 + 25 + 65 minutes is 18:30", _dark(time(18, 30))),
        Example("flying-sprints | -", 1, "a minute later than dusk, first edge", _dark(time(18, 29))),
        Example("- | flying-sprints + block-starts", 3, "45 minutes beyond", _dark(time(18, 30))),
        Example("build-ups | full-long-jumps", 0, "medium; the pit has light", _dark(time(17, 30))),
        Example("flying-sprints | -", 0, "the file says no dusk"),
    ),
)


def universe() -> Problem:
    """Dusk in good time, then before the warm-up is over; on the last day something fast is done already."""
    units = ("flying-sprints", "block-starts", "full-long-jumps")
    dusks = _dark(time(18, 20), None, time(17, 20), time(17, 20))
    made = problem(World(units, days=3, kept="block-starts | - | short-rest-runs", **dusks))  # type: ignore[arg-type]
    return replace(made, candidates=tuple(map(_odd, made.candidates)))


def _odd(p: Placement) -> Placement:
    """Amounts of a real block take odd minutes: 46 here, one more than three steps."""
    return replace(p, dose=replace(p.dose, minutes=46)) if p.unit.id == "block-starts" else p


def _left(problem: Problem, p: Placement) -> int | None:
    """Minutes of fast work that fit between warm-up and dusk; None where dusk does not matter."""
    place = place_of(problem, p)
    if p.dose.neural < 3 or place is None or place.lit or not place.outdoor:
        return None
    dusk = place.dusk or problem.block.dusk
    if dusk is None:
        return None
    return (datetime.combine(p.day, dusk) - p.begins) // timedelta(minutes=1) - WARM_UP


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            groups: dict[tuple[str, int], list[Placement]] = {}
            for p in problem.known_on(athlete, day):
                left = _left(problem, p)
                if left is not None:
                    groups.setdefault((p.slot, left), []).append(p)
            for (slot, left), fast in sorted(groups.items()):
                settled = sum(p.dose.minutes for p in fast if p in problem.settled)
                if any(p not in problem.settled for p in fast):
                    terms = [(p.dose.minutes, board.placed(p)) for p in fast]
                    most = max(0, left, settled)
                    board.at_most(terms, most, Where(athlete, day, slot), step=STEP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for session in view.sessions(athlete, day):
                minutes: dict[int, int] = {}
                before: dict[int, int] = {}
                for p in session.placements:
                    left = _left(problem, p)
                    if left is not None:
                        minutes[left] = minutes.get(left, 0) + p.dose.minutes
                        if p in problem.settled:
                            before[left] = before.get(left, 0) + p.dose.minutes
                for left, n in sorted(minutes.items()):
                    over = n - max(0, left, before.get(left, 0))
                    if over > 0:
                        tier = RULE.tier_at(problem, athlete, day)
                        facts = {"over": over}
                        steps = -(-over // STEP)
                        found.append(Finding(RULE.id, tier, steps, athlete, day, session.slot, facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: the fast work ends "
        f"{finding.facts['over']} minutes after dusk, and there is no light. Maybe begin earlier, or take "
        "the lighter version."
    )
