"""A longer run-up comes only after two sessions from a shorter one: the speed must be one the jump can use.

Judged for the long, triple and high jump, where the four weeks before are known day by day. A session from the
same or a longer run-up counts too, a competition as one from the full run-up. Whether the shorter ones were good
is seen at the pit, from measured attempts, not in a plan.
"""

from datetime import date, timedelta

from planner.domain.block import Competition
from planner.domain.competing import is_combined
from planner.domain.finding import Finding, Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._facts import settled_on
from planner.rules._new import days_before, known_before
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

# by event: units from the short, the medium and the full run-up; of each, those with the next one as well
LADDERS: dict[str, tuple[tuple[str, ...], ...]] = {
    "long jump": (("short-long-jumps",), ("medium-long-jumps",), ("full-long-jumps",)),
    "triple jump": (
        ("short-triple-jumps",), ("medium-triple-jumps",), ("full-triple-jumps", "hop-and-step-run-ups"),
    ),
    "high jump": (("short-high-jumps",), ("full-high-jumps",)),
}  # fmt: skip


def _tier(problem: Problem, athlete: str) -> Tier:
    return "must" if problem.block.athlete(athlete).level == "novice" else "should"


_KNOWN: dict[str, object] = {"block": {"previous": "winter.yaml"}, "history": "short-long-jumps | -"}


def _met(*events: str) -> dict[str, object]:
    """A meeting eight days before the first one."""
    day = MONDAY - timedelta(8)
    meet = Competition("open meeting", "Ada", day, day, events)
    return {**_KNOWN, "block": {"previous": "winter.yaml", "competitions": (meet,)}}


RULE = Rule(
    id="shorter_run_up_first",
    tier="should",
    tier_for=_tier,
    scope="athlete",
    reach=Reach(back=28),
    weight=8,
    source=Source("common practice", "Common practice, no source: two sessions before the run-up grows."),
    parameters={"sessions": Parameter(2, "sessions", 0, 6, "days from a shorter run-up in the four weeks before")},
    examples=(
        Example("short-long-jumps | medium-long-jumps", 0, "two days from the short one", _KNOWN),
        Example("medium-long-jumps | -", 1, "one only, at the first edge", _KNOWN),
        Example("- | full-long-jumps", 2, "none from the medium one, at the last edge", _KNOWN),
        Example("full-long-jumps | -", 0, "nothing is known of the time before"),
        Example("- | medium-long-jumps", 1, "a must for a novice", {**_KNOWN, "level": "novice"}, tier="must"),
        Example("- | medium-long-jumps", 0, "a meeting in one's own events is a day of jumps too", _met()),
        Example("- | medium-long-jumps", 1, "one in the high jump is not", _met("high jump"), tier="should"),
        Example("- | medium-long-jumps", 0, "a heptathlon is", _met("heptathlon")),
    ),
)


def universe() -> Problem:
    units = ("short-long-jumps", "medium-long-jumps", "full-long-jumps")
    kept = "- | - | medium-long-jumps"
    return problem(World(units, days=4, history=f"{units[1]} | -", block={"previous": "winter.yaml"}, kept=kept))


def _rungs(unit: str) -> tuple[str, tuple[str, ...]]:
    """The event of a unit's ladder and the units that prepare it: one rung below it, and all above that."""
    for event, ladder in LADDERS.items():
        for i, rung in enumerate(ladder):
            if unit in rung and i > 0:
                return event, tuple(u for r in ladder[i - 1 :] for u in r)
    return "", ()


def _new_to_the_plan(problem: Problem, athlete: str, day: date) -> dict[str, list[Placement]]:
    """By unit from a longer run-up: what may be chosen on the day, and does not stand already."""
    settled = {p.unit.id for p in settled_on(problem, athlete, day)}
    found: dict[str, list[Placement]] = {}
    for p in problem.on(athlete, day):
        if _rungs(p.unit.id)[1] and p.unit.id not in settled:
            found.setdefault(p.unit.id, []).append(p)
    return found


def _competes(problem: Problem, athlete: str, day: date, event: str) -> bool:
    """Is there a competition with that jump on the day? Combined events hold the long and the high jump."""
    meet = problem.competition_on(athlete, day)
    if meet is None:
        return False
    events = meet.events or problem.block.athlete(athlete).events
    combined = event != "triple jump" and any(map(is_combined, events))
    return event in events or combined


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        exposed: dict[tuple[str, date], Column] = {}
        for day in problem.days:
            if not known_before(problem, athlete, day):
                continue
            for unit, placements in sorted(_new_to_the_plan(problem, athlete, day).items()):
                event, wanted = _rungs(unit)
                for before in days_before(day):
                    if (unit, before) not in exposed:
                        known = [p for p in problem.known_on(athlete, before) if p.unit.id in wanted]
                        meets = _competes(problem, athlete, before, event)
                        exposed[unit, before] = board.always if meets else board.any_of(map(board.placed, known))
                times = RULE.number(problem, "sessions", athlete, day)
                here = board.any_of(map(board.placed, placements))
                terms = [(1, exposed[unit, d]) for d in days_before(day)]
                board.at_least([*terms, (-times, here)], 0, Where(athlete, day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            if not known_before(problem, athlete, day):
                continue
            units = {p.unit.id: p.unit for p in view.on(athlete, day)}
            for unit in sorted(units):
                event, wanted = _rungs(unit)
                if not wanted or unit in {p.unit.id for p in settled_on(problem, athlete, day)}:
                    continue
                done = 0
                for before in days_before(day):
                    jumped = any(p.unit.id in wanted for p in view.on(athlete, before))
                    done += jumped or _competes(problem, athlete, before, event)
                times = RULE.number(problem, "sessions", athlete, day)
                if done < times:
                    facts = {"unit": units[unit].name, "done": done, "times": times}
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, times - done, athlete, day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: {f['unit']} on {finding.day:%a %d %b} follow "
        f"{counted(f['done'], 'sessions')} from a shorter run-up in the four weeks before, wanted: "
        f"{f['times']}. Maybe jump from the shorter one again."
    )
