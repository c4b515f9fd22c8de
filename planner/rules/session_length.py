"""A session is not longer than the level can use: novices 90 minutes, developing 120, advanced 150.

Combined-events athletes 180. Minutes are 25 for the warm-up, the minutes of the units after it, and what the
preparation takes beyond 15; recovery alone has no warm-up. Every started quarter of an hour above counts.
"""

from datetime import date

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import settled_on
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

STEP = 15  # minutes
WARM_UP = 25  # minutes; common practice, no source
INSIDE_WARM_UP = 15  # minutes of preparation that the warm-up already holds
COMBINED = ("heptathlon", "decathlon", "combined events")
_HEP = {"events": ("heptathlon",)}
_LONG = "flying-sprints + short-long-jumps + heavy-strength"

RULE = Rule(
    id="session_length",
    tier="prefer",
    weight=5,
    scope="athlete",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: quality falls in long sessions."),
    parameters={
        "novice": Parameter(90, "minutes", 30, 240),
        "developing": Parameter(120, "minutes", 30, 240),
        "advanced": Parameter(150, "minutes", 30, 300),
        "combined_events": Parameter(180, "minutes", 30, 360),
    },
    examples=(
        Example("flying-sprints + heavy-strength | -", 0, "25 + 65 + 50 = 140 of 150"),
        Example(f"{_LONG} | -", 3, "25 + 65 + 45 + 50 = 185 of 150: 35 above, three quarters started"),
        Example(f"- | {_LONG}", 1, "185 of 180 for combined events", _HEP),
        Example("- | mobility + active-recovery", 0, "recovery alone: 30 + 40"),
        Example("morning: flying-sprints + evening: heavy-strength", 0, "two sessions"),
        Example(
            "full-long-jumps + heavy-strength + short-long-jumps",
            5,
            "25 + 65 + 50 + 45 and 45 of drills, 30 beyond: 215 of 150",
            {"preparation": True},
        ),
        Example(
            "evening: mobility",
            2,
            "these 215 stand, and 30 come to them",
            {
                "preparation": True,
                "slots": ("morning", "evening"),
                "kept": "evening: full-long-jumps + heavy-strength + short-long-jumps",
            },
        ),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "short-long-jumps", "heavy-strength", "mobility")
    return problem(
        World(units, days=2, amounts=("full", "lighter"), preparation=True, kept="- | full-run-ups")
    )


def _most(problem: Problem, athlete: str, day: date, slot: str) -> int:
    """The level's minutes, or what is settled in the slot if that is more."""
    person = problem.block.athlete(athlete)
    name = "combined_events" if any(e in COMBINED for e in person.events) else person.level
    settled = [p for p in settled_on(problem, athlete, day) if p.slot == slot]
    drills = sum(p.dose.preparation_minutes for p in settled)
    stands = sum(p.dose.minutes for p in settled) + max(drills, INSIDE_WARM_UP) - INSIDE_WARM_UP
    if any(not p.unit.recovery_only for p in settled):
        stands += WARM_UP
    return max(RULE.number(problem, name, athlete, day), stands)


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            slots: dict[str, list[Placement]] = {}
            for p in problem.known_on(athlete, day):
                slots.setdefault(p.slot, []).append(p)
            for slot, known in slots.items():
                columns = [(p, board.placed(p)) for p in known]
                terms = [(p.dose.minutes, c) for p, c in columns]
                drills = [(p.dose.preparation_minutes, c) for p, c in columns]
                terms.append((1, board.over(drills, INSIDE_WARM_UP)))
                warm = board.any_of(c for p, c in columns if not p.unit.recovery_only)
                terms.append((WARM_UP, warm))
                limit = _most(problem, athlete, day, slot)
                board.at_most(terms, limit, Where(athlete, day, slot), step=STEP)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for session in view.sessions(athlete, day):
                limit = _most(problem, athlete, day, session.slot)
                amount = max(0, -((limit - session.minutes) // STEP))
                if amount:
                    facts = {"minutes": session.minutes, "limit": limit}
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, amount, athlete, day, session.slot, facts=facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}: the session of {finding.day:%a %d %b} ({finding.slot}) takes {f['minutes']} "
        f"minutes, at most {f['limit']} are useful. Maybe leave out what matters least."
    )
