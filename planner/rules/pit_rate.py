"""No more jumps at a pit than it can take: so many an hour, for the hours it is open.

Jumps of the whole squad in a slot, over all the pits of a venue. Units at the pit that hold no jumps count
with their landings; run-ups without a jump do not count. A pit without a rate of its own takes the usual one.
"""

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import World, problem

_SLOW: dict[str, object] = {"jumps_per_hour": 10}  # 30 jumps in the three hours of an evening
RULE = Rule(
    id="pit_rate",
    tier="must",
    scope="slot",
    reach=Reach(),
    source=Source("common practice", "40 jumps an hour measured and raked, 55-60 unmeasured; no source"),
    parameters={"usual_rate": Parameter(40, "jumps an hour", 5, 120, "of a pit without a rate of its own")},
    examples=(
        Example("short-long-jumps | - | - | full-run-ups\n- | full-long-jumps | - | -", 0, "20; 8", _SLOW),
        Example("short-long-jumps + full-run-ups | - | - | -\nshort-long-jumps + full-long-jumps | - | - | -", 18,
                "20 + 20 + 8 jumps, 30 fit", _SLOW),
        Example("- | - | - | short-long-jumps + box-take-offs", 6, "20 jumps and 16 landings", _SLOW),
        Example("- | - | - | short-long-jumps + box-take-offs", 0, "a quicker pit"),
    ),
    needs=("place",),
)  # fmt: skip


def universe() -> Problem:
    units = ("short-long-jumps", "box-take-offs", "full-run-ups")
    return problem(World(units, days=2, athletes=2, jumps_per_hour=10))


def _jumps(p: Placement) -> int:
    counters = p.dose.counters
    jumps = counters.get("short-jumps", 0) + counters.get("full-jumps", 0)
    return jumps or counters.get("landings", 0)


def constrain(board: Board, problem: Problem) -> None:
    for slot in problem.block.slots:
        usual = RULE.number(problem, "usual_rate", "", slot.day)
        pits = [o for o in problem.openings_in(slot.day, slot.name) if o.place.kind == "pit"]
        for venue in sorted({o.place.venue for o in pits}):
            mine = [o for o in pits if o.place.venue == venue]
            names = {o.place.name for o in mine}
            most = sum((o.place.jumps_per_hour or usual) * o.minutes for o in mine) // 60
            known = [
                (n, p)
                for p in problem.known_in_slot(slot.day, slot.name)
                if p.venue == venue and p.place in names and (n := _jumps(p))
            ]
            most = max(most, sum(n for n, p in known if p in problem.settled))
            board.at_most([(n, board.placed(p)) for n, p in known], most, Where(day=slot.day, slot=slot.name))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for slot in problem.block.slots:
        jumps: dict[str, int] = {}
        before: dict[str, int] = {}
        pits = [o for o in problem.openings_in(slot.day, slot.name) if o.place.kind == "pit"]
        open_pits = {(o.place.venue, o.place.name) for o in pits}
        for p in view.in_slot(slot.day, slot.name):
            if (p.venue, p.place) in open_pits:
                jumps[p.venue] = jumps.get(p.venue, 0) + _jumps(p)
                before[p.venue] = before.get(p.venue, 0) + _jumps(p) * (p in problem.settled)
        for venue, n in sorted(jumps.items()):
            usual = RULE.number(problem, "usual_rate", "", slot.day)
            rates = [(o.place.jumps_per_hour or usual, o.minutes) for o in pits if o.place.venue == venue]
            most = max(sum(rate * minutes for rate, minutes in rates) // 60, before[venue])
            if n > most:
                facts = {"jumps": n, "most": most, "venue": venue}
                tier = RULE.tier_at(problem, "", slot.day)
                found.append(Finding(RULE.id, tier, n - most, "", slot.day, slot.name, facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{finding.day:%a %d %b}, {finding.slot}, pit at {facts['venue']}: {facts['jumps']} jumps, "
        f"{facts['most']} can be done while it is open. Maybe two rake and nothing is measured, or an "
        "athlete moves to another slot."
    )
