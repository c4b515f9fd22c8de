"""Nobody runs in where others run across: two places that cross are never used for fast work in one slot.

Which places cross stands in the table of venues ('crosses'). Fast work is demand 2 or more: run-ups, jumps,
hurdles, changeovers, sprints. Places whose opening times in the slot do not overlap are apart.
"""

from collections.abc import Iterator
from datetime import date, time, timedelta
from itertools import combinations

from planner.domain.block import Opening, Place
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import CLOCK, MONDAY, PLACES, World, problem

FAST = 2  # neural demand
PlaceKey = tuple[str, str]
_HALF_PAST = time(18, 30)


def _crossing(**until_or_from: time) -> dict[str, object]:
    """The pit crosses the hurdles; a place named is open until that time, one named with '_from' from it on."""
    places = [Place("track", k, k, crosses=("hurdles",) if k == "pit" else ()) for k in PLACES]
    days = (MONDAY + timedelta(i) for i in range(2))
    begins, ends = CLOCK["evening"]
    openings = tuple(
        Opening(d, "evening", p, until_or_from.get(f"{p.name}_from", begins), until_or_from.get(p.name, ends))
        for d in days
        for p in places
    )
    return {"block": {"openings": openings}}


RULE = Rule(
    id="runway_not_crossed",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("common practice", "Common practice, no source: safety."),
    examples=(
        Example("full-long-jumps | -\n- | race-hurdles", 0, "on two days", _crossing()),
        Example("full-long-jumps | -\nrace-hurdles | -", 1, "jumps against hurdles, first edge", _crossing()),
        Example("- | full-long-jumps + race-hurdles", 1, "one athlete, last edge", _crossing()),
        Example("full-long-jumps | -\nflying-sprints | -", 0, "the straight does not cross", _crossing()),
        Example("full-long-jumps | -\nrace-hurdles | -", 0, "nothing crosses here"),
        Example("full-long-jumps | -\nrace-hurdles | -", 0, "jumps until 18:30, hurdles from then on",
                _crossing(pit=_HALF_PAST, hurdles_from=_HALF_PAST)),
        Example("full-long-jumps | -\nrace-hurdles | -", 0, "hurdles until 18:30, jumps from then on",
                _crossing(hurdles=_HALF_PAST, pit_from=_HALF_PAST)),
    ),
    needs=("place",),
)  # fmt: skip


def universe() -> Problem:
    units = ("full-long-jumps", "hurdle-rhythm", "flying-sprints")
    return problem(World(units, days=2, athletes=2, **_crossing()))  # type: ignore[arg-type]


def _crossings(problem: Problem, day: date, slot: str) -> Iterator[tuple[PlaceKey, PlaceKey]]:
    """Pairs of places that cross and are open at once in a slot, each pair once."""
    for a, b in combinations(problem.openings_in(day, slot), 2):
        same = a.place.venue == b.place.venue and a.begins < b.ends and b.begins < a.ends
        if same and (a.place.name in b.place.crosses or b.place.name in a.place.crosses):
            yield (a.place.venue, a.place.name), (b.place.venue, b.place.name)


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        pairs = tuple(_crossings(problem, slot.day, slot.name))
        fast: dict[PlaceKey, list[Placement]] = {}
        for p in problem.known_in_slot(slot.day, slot.name) if pairs else ():
            if p.dose.neural >= FAST:
                fast.setdefault((p.venue, p.place), []).append(p)
        for pair in pairs:
            both = [board.any_of(board.placed(p) for p in fast.get(place, ())) for place in pair]
            if all(place in fast for place in pair) and both != [board.always, board.always]:
                board.at_most([(1, c) for c in both], 1, Where(day=slot.day, slot=slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for slot in problem.block.slots:
        for a, b in _crossings(problem, slot.day, slot.name):
            users: dict[PlaceKey, set[str]] = {a: set(), b: set()}
            sure: set[PlaceKey] = set()
            for p in view.in_slot(slot.day, slot.name):
                here = (p.venue, p.place)
                if p.dose.neural >= FAST and here in users:
                    users[here].add(p.athlete)
                    sure |= {here} if p in problem.settled else set()
            if users[a] and users[b] and len(sure) < 2:
                facts = {"a": a[1], "b": b[1], "who": ", ".join(sorted(users[a] | users[b]))}
                tier = RULE.tier_at(problem, "", slot.day)
                found.append(Finding(RULE.id, tier, 1, "", slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.day:%a %d %b}, {finding.slot}: {f['a']} and {f['b']} cross each other and both are used "
        f"for fast work ({f['who']}). Maybe give one of them another slot."
    )
