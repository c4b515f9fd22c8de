"""No more athletes at a place in a slot than it holds at once.

Places of one kind at one venue count together: two pits of six hold twelve. As long as no start times are
fixed, all athletes who use a place in a slot are taken to be there at once.
"""

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

_ONE: dict[str, object] = {"capacity": 1}
RULE = Rule(
    id="place_capacity",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("derived", "arithmetic; capacities are the coach's own"),
    examples=(
        Example("build-ups | - | power-lifts\n- | build-ups | build-ups", 0, "never two at one place", _ONE),
        Example("build-ups + flying-sprints | - | -\nbuild-ups | - | -", 1, "two on the straight", _ONE),
        Example("- | - | power-lifts\n- | - | power-lifts", 1, "two in the gym, last edge", _ONE),
    ),
    needs=("place",),
)


def universe() -> Problem:
    units = ("build-ups", "flying-sprints", "power-lifts")
    return problem(World(units, days=2, athletes=2, capacity=1))


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        room: dict[tuple[str, str], int] = {}
        kinds: dict[tuple[str, str], str] = {}
        for o in problem.openings_in(slot.day, slot.name):
            kind = (o.place.venue, o.place.kind)
            room[kind] = room.get(kind, 0) + o.place.capacity
            kinds[o.place.venue, o.place.name] = o.place.kind
        there: dict[tuple[str, str], dict[str, list[Placement]]] = {}
        for p in problem.known_in_slot(slot.day, slot.name):
            if (p.venue, p.place) in kinds:
                own = there.setdefault((p.venue, kinds[p.venue, p.place]), {})
                own.setdefault(p.athlete, []).append(p)
        for kind, athletes in sorted(there.items()):
            sure = sum(any(p in problem.settled for p in ps) for ps in athletes.values())
            if len(athletes) > max(room[kind], sure):
                terms = [(1, board.any_of(board.placed(p) for p in ps)) for _, ps in sorted(athletes.items())]
                board.at_most(terms, max(room[kind], sure), Where(day=slot.day, slot=slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for slot in problem.block.slots:
        openings = problem.openings_in(slot.day, slot.name)
        placed = view.in_slot(slot.day, slot.name)
        for venue, kind in sorted({(o.place.venue, o.place.kind) for o in openings}):
            places = [o.place for o in openings if (o.place.venue, o.place.kind) == (venue, kind)]
            names = [x.name for x in places]
            here = [p for p in placed if p.venue == venue and p.place in names]
            athletes = {p.athlete for p in here}
            before = {p.athlete for p in here if p in problem.settled}
            most = max(sum(x.capacity for x in places), len(before))
            if len(athletes) > most:
                facts = {"kind": kind, "n": len(athletes), "most": most}
                tier = RULE.tier_at(problem, "", slot.day)
                found.append(Finding(RULE.id, tier, len(athletes) - most, "", slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.day:%a %d %b}, {finding.slot}: {facts['n']} athletes at the {facts['kind']}, it holds "
        f"{facts['most']} at once. Maybe move one of them to another slot."
    )
