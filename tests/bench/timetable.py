"""How long the timetables of slots take: `python -m tests.bench.timetable`. Seconds of this machine, now.

Slots of eight and of twelve athletes with three units each, drawn by number, and every slot of the shipped
examples after the quick budget; then what it takes to make their clashing slots possible.
"""

from __future__ import annotations

from pathlib import Path
from random import Random
from statistics import median
from time import perf_counter

from planner.domain.block import Athlete, Coach, Opening, Place, Presence, Slot
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import Clash
from planner.intake import read_block
from planner.rules._tiny import CLOCK, MONDAY, PLACES, World, problem
from planner.season import make_problem
from planner.solve import solve, solve_with_timetable
from planner.solve.timetable import timetable, timetable_slot

EXAMPLES = Path(__file__).parents[2] / "examples"
UNITS = ("short-long-jumps", "full-run-ups", "flying-sprints", "hurdle-rhythm", "heavy-strength",
         "long-accelerations", "extensive-bounds", "extensive-tempo", "mobility")  # fmt: skip
SLOTS = 20


def drawn(number: int, athletes: int) -> tuple[Problem, list[Placement]]:
    """Three units for each athlete in a slot of three hours, two coaches, one raker."""
    r = Random(number)
    people = tuple(Athlete(f"A{i:02}", None, "", ("long jump",), "advanced") for i in range(athletes))
    slot = Slot(MONDAY, "evening", *CLOCK["evening"])
    places = [Place("track", k, k, {"pit": 8, "gym": 6}.get(k, 20), 40, k != "gym") for k in PLACES]
    there = (
        Presence(MONDAY, "evening", "Kit", 180, Coach("Kit")),
        Presence(MONDAY, "evening", "Lou", 180, Coach("Lou")),
        Presence(MONDAY, "evening", "Ulla", 180, None, ("rake", "measure")),
    )
    block = {
        "presences": there,
        "openings": tuple(Opening(MONDAY, "evening", x, slot.begins, slot.ends) for x in places),
    }
    made = problem(World(UNITS, days=1, persons=people, block=block, amounts=("lighter",)))
    return made, [
        next(p for p in made.on(a.name, MONDAY) if p.unit.id == u) for a in people for u in r.sample(UNITS, 3)
    ]


def main() -> None:
    print("slot            median s   longest s   without a timetable")
    for athletes in (8, 12):
        seconds, clashes = [], 0
        for number in range(SLOTS):
            made, placements = drawn(number, athletes)
            begins = perf_counter()
            clashes += isinstance(timetable_slot(placements, made, MONDAY, "evening"), Clash)
            seconds.append(perf_counter() - begins)
        print(f"{athletes:2} x 3         {median(seconds):8.3f}   {max(seconds):9.3f}   {clashes} of {SLOTS}")
    print("example               slots  clashes  timetables s  with clashes solved s  should before, after")
    for folder in sorted(EXAMPLES.iterdir()):
        if not (folder / "block.yaml").exists():
            continue
        made = make_problem(read_block(folder / "block.yaml"))
        plan = solve(made, budget="quick")
        begins = perf_counter()
        tables, found = timetable(plan, made)
        middle = perf_counter()
        after, _, left = solve_with_timetable(made, lambda _, plan=plan: plan)  # type: ignore[misc]
        ends = perf_counter()
        print(
            f"{folder.name:20} {len(tables) + len(found):6}  {len(found):7}  {middle - begins:12.2f}  "
            f"{ends - middle:21.1f}  {plan.status['should'].value}, {after.status['should'].value}"
            + (f"  {len(left)} left" if left else "")
        )


if __name__ == "__main__":
    main()
