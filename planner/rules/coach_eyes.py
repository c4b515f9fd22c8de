"""What needs a coach's full attention finds a coach who teaches it, with the minutes for it.

A coach watches one group at a time: six athletes at one unit (eight novices). The groups of a slot, each as
long as its unit in started five minutes, fit into the minutes of the coaches who teach them; units that only
some of the coaches teach fit into the minutes of those. A minor needs a coach who takes minors. Where no
coach is there, nothing that needs a coach nearby takes place, and minors and novices do recovery only.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, time, timedelta
from itertools import combinations

from planner.domain.block import Athlete, Coach, Presence, RuleSetting, Slot
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import WARM_UP_MINUTES, PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

ADULT = 18  # years
FULL_ATTENTION = 2  # coach's eyes 0-2
GRID = 5  # minutes


def _coached(*evenings: Mapping[Coach, int]) -> dict[str, object]:
    """Which coach is there on which evening, and for how many minutes."""
    there = (
        Presence(MONDAY + timedelta(i), "evening", coach.name, minutes, coach)
        for i, coaches in enumerate(evenings)
        for coach, minutes in coaches.items()
    )
    return {"presences": tuple(there)}


_ALL, _JUMPS = Coach("Kit", (), True), Coach("Lou", ("technical-jumps",), False)
_WEEK = {"block": _coached({_ALL: 60}, {_JUMPS: 120}, {_ALL: 65, _JUMPS: 45}, {})}
_YOUNG = (
    Athlete("Ada", date(2012, 5, 1), "f", ("long jump",), "advanced"),
    Athlete("Bo", date(2000, 5, 1), "m", ("long jump",), "novice"),
)
_OF_AGE = {**_WEEK, "persons": (Athlete("Ada", date(2009, 3, 2), "f", ("long jump",), "advanced"),)}
_BRIEF = (Slot(MONDAY, "evening", time(17), time(17, 20)),)
RULE = Rule(
    id="coach_eyes",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("common practice", "common practice, no source"),
    parameters={
        "group": Parameter(6, "athletes", 1, 20, "whom a coach can watch at one unit"),
        "novice_group": Parameter(8, "athletes", 1, 20, "novices whom a coach can watch at one unit"),
    },
    examples=(
        Example("short-long-jumps | - | flying-sprints + short-long-jumps | -", 0, "45; 65 + 45", _WEEK),
        Example("flying-sprints | - | - | -", 5, "65 minutes, 60 are there", _WEEK),
        Example("- | flying-sprints | - | -", 65, "nobody teaches it", _WEEK),
        Example("- | - | - | build-ups", 0, "a senior alone, eyes are not needed", _WEEK),
        Example("- | - | - | long-accelerations", 1, "nobody nearby, last edge", _WEEK),
        Example(
            "- | - | - | mobility + build-ups + flying-sprints",
            66,
            "a novice alone: recovery is fine, build-ups are not, for sprints 65 minutes are missing",
            {**_WEEK, "persons": (replace(_YOUNG[1], name="Ada"),)},
        ),
        Example("- | short-long-jumps", 0, "Lou takes no minors; Ada is eighteen that day", _OF_AGE),
        Example(
            "flying-sprints + short-long-jumps + stick-runs + full-run-ups",
            35,
            "190 minutes; of the slot's 180 the warm-up takes 25",
        ),
        Example("short-long-jumps", 45, "a slot of twenty minutes is warm-up only", {"block": {"slots": _BRIEF}}),
    ),
)  # fmt: skip


def universe() -> Problem:
    """Three athletes who do not fit into one group; a coach who takes no minors; nobody on the third day.

    On the first day one of them may sprint full or lighter, and the third takes part.
    """
    smaller = (RuleSetting(RULE.id, "group", 1), RuleSetting(RULE.id, "novice_group", 2))
    block = {**_coached({_ALL: 66, _JUMPS: 24}, {_JUMPS: 50}, {}), "settings": smaller}
    units, both = ("flying-sprints", "short-long-jumps"), ("full", "lighter")
    made = problem(World(units, 3, persons=(*_YOUNG, replace(_YOUNG[1], name="Cy")), amounts=both, block=block))
    first, second, last = made.days
    sprints = {first: ("Ada", "Bo", "Cy"), second: ("Ada",), last: ("Ada", "Bo")}
    jumps = {first: ("Ada", "Bo"), second: ("Ada", "Bo"), last: ()}
    offered = [
        p
        for p in made.candidates
        if p.athlete in (sprints if p.unit.family == "top-speed" else jumps)[p.day]
        and (p.dose.word == "full" or (p.athlete, p.day, p.unit.family) == ("Bo", first, "top-speed"))
    ]
    near = [
        replace(p, unit=replace(p.unit, eyes=1)) if (p.athlete, p.day) == ("Bo", last) else p for p in offered
    ]
    return replace(made, candidates=tuple(near))


def _attended(p: Placement) -> bool:
    return p.unit.eyes >= FULL_ATTENTION


def _watched(p: Placement) -> int:
    """Minutes of a unit in started five minutes, the grid of a coach's page."""
    return -(-p.dose.minutes // GRID) * GRID


def _minor(problem: Problem, p: Placement) -> bool:
    age = problem.block.athlete(p.athlete).age_on(p.day)
    return age is not None and age < ADULT


def _novice(problem: Problem, p: Placement) -> bool:
    return problem.block.athlete(p.athlete).level_for(p.unit.family) == "novice"


def _coaches(problem: Problem, slot: Slot) -> dict[Coach, int]:
    """Who teaches in a slot, and for how many minutes: before the first warm-up is over nobody needs eyes."""
    after = max(0, slot.minutes - WARM_UP_MINUTES)
    found: dict[Coach, int] = {}
    for p in problem.presences_in(slot.day, slot.name):
        if p.coach is not None:
            found[p.coach] = found.get(p.coach, 0) + min(p.minutes, after)
    return found


def _alone(problem: Problem, p: Placement) -> bool:
    """May this not take place where no coach is there at all? (Full attention is judged by minutes.)"""
    if p.unit.eyes >= FULL_ATTENTION or p.unit.recovery_only:
        return False
    return p.unit.eyes == 1 or _minor(problem, p) or _novice(problem, p)


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        known = problem.known_in_slot(slot.day, slot.name)
        where = Where(day=slot.day, slot=slot.name)
        coaches = _coaches(problem, slot)
        taught: dict[frozenset[str], list[Placement]] = {}
        for p in known:
            if _attended(p):
                minor = _minor(problem, p)
                able = [c.name for c in coaches if c.teaches(p.unit.family) and (c.minors or not minor)]
                taught.setdefault(frozenset(able), []).append(p)
        unions = {frozenset[str]()}
        for names in taught:
            unions |= {names | other for other in unions}
        for names in sorted(unions, key=sorted):
            only = [p for able, ps in taught.items() if able <= names for p in ps]
            minutes = sum(m for c, m in coaches.items() if c.name in names)
            sure = _watched_minutes(problem, [p for p in only if p in problem.settled])
            if _watched_minutes(problem, only) > max(minutes, sure):  # else all of it would fit
                board.at_most(_group_minutes(board, problem, only), max(minutes, sure), where)
        if not coaches:
            alone = [p for p in known if _alone(problem, p)]
            sure = sum(p in problem.settled for p in alone)
            board.at_most([(1, board.placed(p)) for p in alone], sure, where)


def _places(problem: Problem, p: Placement) -> tuple[int, int]:
    """How much of a group an athlete takes up, and how much a whole group holds."""
    group = RULE.number(problem, "group", "", p.day)
    novices = RULE.number(problem, "novice_group", "", p.day)
    return (group if _novice(problem, p) else novices), group * novices


def _group_minutes(board: Board, problem: Problem, placements: Sequence[Placement]) -> list[Term]:
    """Minutes of a coach's eyes: for each unit, groups of athletes who take about as long as each other."""
    terms: list[Term] = []
    for unit in sorted({p.unit.id for p in placements}):
        mine = [p for p in placements if p.unit.id == unit]
        whole = _places(problem, mine[0])[1]
        shorter = 0
        for minutes in sorted({_watched(p) for p in mine}):
            still: dict[str, list[Placement]] = {}
            for p in mine:
                if _watched(p) >= minutes:
                    still.setdefault(p.athlete, []).append(p)
            heads = [
                (_places(problem, ps[0])[0], board.any_of(board.placed(p) for p in ps))
                for _, ps in sorted(still.items())
            ]
            terms.append((minutes - shorter, board.rounds_of(heads, whole)))
            shorter = minutes
    return terms


def _watched_minutes(problem: Problem, placements: Iterable[Placement]) -> int:
    """The same minutes for placements that stand, counted step by step of the grid."""
    longest: dict[str, dict[str, Placement]] = {}
    for p in placements:
        own = longest.setdefault(p.unit.id, {})
        if p.athlete not in own or own[p.athlete].dose.minutes < p.dose.minutes:
            own[p.athlete] = p
    total = 0
    for own in longest.values():
        parts = [(_watched(p), _places(problem, p)) for p in own.values()]
        for minute in range(0, max(until for until, _ in parts), GRID):
            there = [place for until, place in parts if until > minute]
            total += GRID * -(-sum(part for part, _ in there) // there[0][1])
    return total


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for slot in problem.block.slots:
        placed = view.in_slot(slot.day, slot.name)
        coaches = _coaches(problem, slot)
        tier = RULE.tier_at(problem, "", slot.day)
        could = {
            _able(problem, coaches, p) for p in problem.known_in_slot(slot.day, slot.name) if _attended(p)
        }
        could |= {_able(problem, coaches, p) for p in placed if _attended(p)}
        names = sorted(c.name for c in coaches)
        for size in range(len(names) + 1):
            for some in map(frozenset, combinations(names, size)):
                if some != frozenset().union(*(c for c in could if c <= some)):
                    continue  # a smaller set of coaches says it already
                only = [p for p in placed if _attended(p) and _able(problem, coaches, p) <= some]
                needed = _watched_minutes(problem, only)
                there = sum(m for c, m in coaches.items() if c.name in some)
                sure = _watched_minutes(problem, [p for p in only if p in problem.settled])
                if needed > max(there, sure):
                    units = ", ".join(sorted({p.unit.name for p in only}))
                    facts = {"units": units, "needed": needed, "there": there, "who": ", ".join(sorted(some))}
                    over = needed - max(there, sure)
                    found.append(Finding(RULE.id, tier, over, "", slot.day, slot.name, facts))
        alone = [p for p in placed if _alone(problem, p) and p not in problem.settled]
        if alone and not coaches:
            facts = {"units": ", ".join(sorted({p.unit.name for p in alone})), "nobody": True}
            found.append(Finding(RULE.id, tier, len(alone), "", slot.day, slot.name, facts))
    return found


def _able(problem: Problem, coaches: Iterable[Coach], p: Placement) -> frozenset[str]:
    """The coaches who can give this placement their full attention."""
    good = {c.name for c in coaches if c.teaches(p.unit.family)}
    if _minor(problem, p):
        good -= {c.name for c in coaches if not c.minors}
    return frozenset(good)


def explain(finding: Finding) -> str:
    head, facts = f"{finding.day:%a %d %b}, {finding.slot}:", finding.facts
    if "nobody" in facts:
        return f"{head} no coach is there for {facts['units']}. Maybe move it to a slot with a coach."
    if not facts["who"]:
        return (
            f"{head} no coach who is there can teach {facts['units']}. Maybe move it, or ask another coach."
        )
    return (
        f"{head} {facts['units']} need {facts['needed']} minutes of full attention, {facts['who']} "
        f"has {facts['there']}. Maybe rotate two groups over two slots, or do drills there instead."
    )
