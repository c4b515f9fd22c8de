"""A travel day is easy by the hours on the road, arrival day is easy, and far time zones wait for fast work.

Under three hours: medium at most. Three to six: easy at most. Longer or overnight: recovery only, and the
next day medium at most. Arrival at a camp: easy at most. More than three zones: nothing fast before the
fourth day after arrival. An arrival touches its last date, a departure its first.
Settled placements are not spoken of.
"""

from datetime import date, datetime, timedelta

from planner.domain.block import Away
from planner.domain.finding import Finding, Line, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem
from planner.rules._travel import trips

RECOVERY_ONLY = -1
_AT = datetime.combine(MONDAY, datetime.min.time())


_NIGHT = Away("Ada", _AT + timedelta(hours=23), _AT + timedelta(hours=25), "travel", 2)


def _away(kind: str, day: int, hour: int, hours: int, **more: object) -> Away:
    when = _AT + timedelta(days=day, hours=hour)
    return Away("Ada", when, when + timedelta(hours=1), kind, hours, **more)  # type: ignore[arg-type]


def _go(*trip: Away) -> dict[str, object]:
    return {"block": {"away": trip}}


RULE = Rule(
    id="travel_and_arrival",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source(
        "consensus",
        "Janse van Rensburg and others 2021, Sports Medicine: travel fatigue clears after a night's sleep, "
        "jet lag concerns more than three zones, exact schedules have weak evidence; hours common practice.",
    ),
    parameters={
        "zones": Parameter(3, "time zones", 1, 12, "more than these wait for fast work"),
        "zone_days": Parameter(3, "days", 0, 10, "days after arrival without fast work"),
    },
    examples=(
        Example("short-long-jumps | flying-sprints", 0, "two hours, medium", _go(_away("travel", 0, 8, 2))),
        Example("flying-sprints | -", 1, "two hours, fast", _go(_away("travel", 0, 8, 2))),
        Example("flying-sprints | flying-sprints", 2, "two hours in the night touch both dates", _go(_NIGHT)),
        Example("- | short-long-jumps", 1, "three hours, medium", _go(_away("travel", 1, 8, 3))),
        Example("- | flying-sprints", 0, "three zones, the day after", _go(_away("travel", 0, 8, 2, zones=3))),
        Example("extensive-tempo | flying-sprints", 2, "eight hours", _go(_away("travel", 0, 6, 8))),
        Example("mobility | short-long-jumps", 0, "eight hours, recovery", _go(_away("travel", 0, 6, 8))),
        Example("short-long-jumps | flying-sprints", 1, "arrival", _go(_away("camp arrival", 0, 11, 2))),
        Example(
            "- | - | - | flying-sprints | flying-sprints",
            1,
            "five zones, third and fourth day",
            _go(_away("travel", 0, 8, 2, zones=5)),
        ),
    ),
)


def universe() -> Problem:
    away = (
        _away("camp arrival", 0, 11, 2, zones=4),
        _away("camp departure", 3, 15, 7),
        Away("Bo", _AT, _AT + timedelta(days=2), "travel", 9, overnight=True),
        Away("Bo", _AT + timedelta(days=3), _AT + timedelta(days=3, hours=1), "travel", 4),
    )
    settings: dict[str, object] = {"away": away}
    world = World(("flying-sprints", "mobility"), days=4, athletes=2, amounts=("full",), block=settings)
    made = problem(world)
    fewer = tuple(p for p in made.candidates if p.athlete == "Bo" or p.unit.id == "flying-sprints")
    return Problem(
        made.block,
        made.units,
        made.weeks,
        fewer,
        kept=tuple(problem(World(("short-long-jumps",), days=1, block=settings)).candidates),
    )


def _caps(problem: Problem, athlete: str) -> dict[date, tuple[int, Line]]:
    """Day -> highest demand that travel leaves (RECOVERY_ONLY: nothing but recovery), and its line."""
    caps: dict[date, tuple[int, Line]] = {}
    for trip in trips(problem, athlete):
        hours, line = trip.away.travel_hours, trip.away.line
        rode = RECOVERY_ONLY if trip.long else 1 if hours >= 3 else 2
        wanted = [(d, rode) for d in trip.days]
        if trip.away.kind == "camp arrival":
            wanted.append((trip.arrives, 1))
        if trip.long:
            wanted.append((trip.arrives + timedelta(1), 2))
        if trip.away.zones > RULE.number(problem, "zones", athlete, trip.arrives):
            days = RULE.number(problem, "zone_days", athlete, trip.arrives)
            wanted.extend((trip.arrives + timedelta(i), 2) for i in range(days + 1))
        for day, cap in wanted:
            if day not in caps or cap < caps[day][0]:
                caps[day] = (cap, line)
    return caps


def _fits(p: Placement, cap: int) -> bool:
    if cap == RECOVERY_ONLY:
        return p.unit.family == "recovery" and p.dose.neural == 0
    return p.dose.neural <= cap


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day, (cap, line) in sorted(_caps(problem, athlete).items()):
            slots: dict[str, list[Column]] = {}
            for p in problem.on(athlete, day):
                if p not in problem.settled and not _fits(p, cap):
                    slots.setdefault(p.slot, []).append(board.placed(p))
            for slot, columns in slots.items():
                board.at_most([(1, c) for c in columns], 0, Where(athlete, day, slot, line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        caps = _caps(problem, athlete)
        for p in view.of(athlete):
            if p.day not in caps or p in problem.settled or _fits(p, caps[p.day][0]):
                continue
            cap, line = caps[p.day]
            tier = RULE.tier_at(problem, athlete, p.day)
            facts = {"unit": p.unit.name, "cap": cap}
            found.append(Finding(RULE.id, tier, 1, athlete, p.day, p.slot, facts, line))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    words = {RECOVERY_ONLY: "leaves room for recovery only", 1: "leaves room for easy work at most"}
    left = words.get(int(str(f["cap"])), "leaves room for medium work at most")
    return (
        f"{finding.athlete}: travel {left} on {finding.day:%a %d %b}, and {f['unit']} is more. "
        "Maybe take something easier that day, or move it two days later."
    )
