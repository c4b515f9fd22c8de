"""Measure planning on generated squads: how large, how quick, how good, beside its rivals on the same rows.

    python tests/bench/squads.py 8x6                            one size, printed only
    python tests/bench/squads.py 4x1 8x6 --record               and written into RESULTS.md
    python tests/bench/squads.py 30x6 --budgets normal --seconds 150 --schemes planner,greedy,sweep

Sizes are athletes x weeks. Seconds of schemes are by the clock and depend on the machine (its load stands beside
them), those of the steps to the first plan are the processor's; plans and bounds depend on neither, because
budgets count the solver's own steps. Every plan is priced by the review,
which knows nothing of the rows. A long block is planned in parts by every scheme, which share its seconds.
"""

from __future__ import annotations

import argparse
import os
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from alone import alone_bound, only, steps_of
from generated import size_of, write_file
from peers import Found, by_hand, by_highs, swept

from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.known import understand
from planner.review import review
from planner.rules import book
from planner.season import parts_of, plan_in_parts
from planner.solve import Progress, assign_coaches, solve
from planner.solve.collector import put_off
from planner.solve.greedy import Greedy
from planner.solve.linear import linear_model
from planner.solve.rows import write_rows

SCHEMES = ("greedy", "sweep", "planner", "highs", "highs-start")


@dataclass(frozen=True)
class Point:
    """Where a run stood after so many seconds; `part` counts from 1."""

    seconds: float
    part: int
    should: int
    bound: int | None


@dataclass
class Run:
    """What one scheme came to. No `should`: it found no plan."""

    scheme: str
    seconds: float
    should: int | None
    prefer: int | None
    bound: int | None
    load: float  # of the machine when it began
    curve: list[Point] = field(default_factory=list)


@dataclass
class Size:
    """The rows of one part of a block: what the solver gets."""

    candidates: int
    columns: int
    rows: int
    terms: int


@dataclass
class Measured:
    """Everything known about one generated squad."""

    size: str
    random_seed: int
    parts: list[Size]
    steps: dict[str, float]  # processor seconds of each step to the first complete reviewed plan
    alone: int = 0  # points lost whoever else trains: the certified sum of each athlete alone
    alone_seconds: float = 0.0
    runs: list[Run] = field(default_factory=list)
    megabytes: int = 0

    @property
    def athlete_weeks(self) -> int:
        athletes, weeks = size_of(self.size)
        return athletes * weeks

    @property
    def bound(self) -> int:
        """The best certified bound of any run: every plan's distance is counted from it."""
        return max([self.alone, *(r.bound for r in self.runs if r.bound is not None)])


def first_plan_steps(file: Path) -> tuple[Problem, dict[str, float], list[Size]]:
    """From the file to the first complete reviewed plan, step by step, in one part or several.

    What follows on it in the planner (the second pass by hand, the linear model) is timed too, in brackets.
    """
    clock = _Clock()
    problem = understand(file)
    clock.step("file to problem")
    sizes: list[Size] = []

    def begun(part: Problem) -> Plan:
        clock.step("parts")
        with put_off():
            store = write_rows(part, book())
            clock.step("rows")
            by_hand = Greedy(store)
            state = by_hand.begin()
            clock.step("by hand")
            first = Plan.of((*part.kept, *state.placements()))
            by_hand.second_pass()
            clock.step("(second pass)")
            model = linear_model(store)
            clock.step("(linear model)")
        terms = sum(len(row.columns) for row in model.rows)
        sizes.append(Size(len(store.free), len(model.low), len(model.rows), terms))
        clock.forget()
        return first

    plan = assign_coaches(plan_in_parts(problem, begun), problem)
    clock.step("coaches")
    review(plan, problem)
    clock.step("review")
    return problem, clock.seconds, sizes


class _Clock:
    """Processor seconds of this process: the steps run in one thread, and the machine's other work is left out."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}
        self._at = time.process_time()

    def step(self, name: str) -> None:
        now = time.process_time()
        self.seconds[name] = self.seconds.get(name, 0.0) + now - self._at
        self._at = now

    def forget(self) -> None:
        """What was done since the last step does not count."""
        self._at = time.process_time()


class Bench:
    """One squad and what each scheme makes of it."""

    def __init__(self, measured: Measured, problem: Problem) -> None:
        self.measured = measured
        self.problem = problem
        self.best: Plan | None = None
        self._least: int | None = None  # points of should of the best plan

    def run(self, scheme: str, made: Callable[[], tuple[Plan | None, int | None, list[Point]]]) -> None:
        load, began = os.getloadavg()[0], time.perf_counter()
        plan, bound, curve = made()
        seconds = time.perf_counter() - began
        should = prefer = None
        if plan is not None:
            outcome = review(assign_coaches(plan, self.problem), self.problem)
            assert not outcome.musts_broken, f"{scheme} breaks a must"
            should, prefer = (sum(outcome.score.get(t, {}).values()) for t in ("should", "prefer"))
            self.hold_alone_to(plan, should)
            if self._least is None or should < self._least:
                self.best, self._least = plan, should
        found = Run(scheme, seconds, should, prefer, bound, load, curve)
        self.measured.runs.append(found)
        print(line_of(found, self.measured), flush=True)

    def hold_alone_to(self, plan: Plan, should: int) -> None:
        """A plan of the squad must not be dearer for athletes alone: else their sum would be no bound."""
        total = 0
        for name in self.problem.athletes:
            own = Plan.of(p for p in plan.placements if p.athlete == name)
            outcome = review(own, only(self.problem, name))
            assert not outcome.musts_broken, f"{name} alone breaks a must that the squad keeps"
            total += sum(outcome.score.get("should", {}).values())
        assert total <= should, f"alone {total} points, together {should}"

    def peer(self, scheme: str, solver: Callable[[Problem, int], Found]) -> None:
        def made() -> tuple[Plan | None, int | None, list[Point]]:
            of_parts = len(parts_of(self.problem))
            bounds: list[int | None] = []
            try:
                plan = plan_in_parts(self.problem, lambda part: _taken(solver(part, of_parts), bounds))
            except _NoPlan:
                return None, bounds[0] if of_parts == 1 else None, []
            return plan, bounds[0] if of_parts == 1 else None, []

        self.run(scheme, made)

    def planner(self, budget: str, at_most: float | None, options: dict[str, int]) -> None:
        def made() -> tuple[Plan | None, int | None, list[Point]]:
            began, curve, parts = time.perf_counter(), list[Point](), [0]
            of_parts = len(parts_of(self.problem))

            def told(now: Progress) -> None:
                curve.append(Point(time.perf_counter() - began, parts[0], now.should, now.bound))

            def one(part: Problem) -> Plan:
                parts[0] += 1
                return solve(
                    part, budget=budget, of_parts=of_parts, at_most=at_most, progress=told, **options
                )

            plan = plan_in_parts(self.problem, one)
            return plan, plan.status["should"].bound if plan.status else None, thinned(curve)

        limit = f", at most {at_most:.0f} s" if at_most else ""
        self.run(f"planner, {budget}{limit}", made)


class _NoPlan(Exception):
    pass


def _taken(found: Found, bounds: list[int | None]) -> Plan:
    bounds.append(found.bound)
    if found.placements is None:
        raise _NoPlan
    return Plan.of(found.placements)


def thinned(curve: list[Point]) -> list[Point]:
    """The points at which something changed, at most one a half second, and the last one."""
    kept: list[Point] = []
    for point in curve:
        same = kept and kept[-1].part == point.part
        if same and (kept[-1].should, kept[-1].bound) == (point.should, point.bound):
            continue
        if not same or point.seconds - kept[-1].seconds >= 0.5 or kept[-1].bound != point.bound:
            kept.append(point)
    if curve and kept[-1] != curve[-1]:
        kept.append(curve[-1])
    return kept


def line_of(run: Run, measured: Measured) -> str:
    """One line for the terminal: the distance is from the best bound known so far."""
    text = f"  {run.scheme:<30}{run.seconds:7.1f} s"
    own = "" if run.bound is None else f"  own bound {run.bound}"
    if run.should is None:
        return f"{text}  no plan{own}  (load {run.load:.1f})"
    gap = run.should - measured.bound
    share = 100 * gap / run.should if run.should else 0.0
    each = gap / measured.athlete_weeks
    return (
        f"{text}  should {run.should:6}  prefer {run.prefer:5}  at most {gap} ({share:.1f} %, "
        f"{each:.2f} a week each) from best{own}  (load {run.load:.1f})"
    )


def measure(words: str, given: argparse.Namespace) -> Measured:
    """Everything asked for, of one size."""
    with tempfile.TemporaryDirectory() as folder:
        file = write_file(Path(folder), *size_of(words), given.random_seed)
        problem, steps, sizes = first_plan_steps(file)
    found = Measured(words, given.random_seed, sizes, steps)
    _print_head(found)
    began = time.perf_counter()
    if given.alone:
        found.alone = alone_bound(problem, steps_of(given.alone))
    found.alone_seconds = time.perf_counter() - began
    print(f"  lost for each athlete alone, at least: {found.alone} ({found.alone_seconds:.1f} s)", flush=True)
    bench, wanted = Bench(found, problem), given.schemes.split(",")
    if "greedy" in wanted:
        bench.peer("greedy", lambda part, of: by_hand(part))
    if "planner" in wanted:
        for budget in given.budgets.split(","):
            bench.planner(budget, given.at_most, {"random_seed": given.random_seed, "processes": given.processes})
            for at in found.runs[-1].curve if given.curve else ():
                print(f"      {at.seconds:6.1f} s  part {at.part}  should {at.should}  bound {at.bound}")
    if "sweep" in wanted:
        bench.peer("greedy and one sweep", lambda part, of: swept(part))
    for seconds in (float(s) for s in given.seconds.split(",")):
        for name, start in (("highs", False), ("highs-start", True)):
            if name in wanted:
                text = f"HiGHS {seconds:.0f} s{', greedy start' if start else ''}"
                bench.peer(text, lambda part, of, s=seconds, b=start: by_highs(part, s / of, with_start=b))
    if given.alone_at_end and bench.best:
        began = time.perf_counter()
        steps = steps_of(given.alone_at_end)
        found.alone = max(found.alone, alone_bound(problem, steps, bench.best.placements))
        found.alone_seconds += time.perf_counter() - began
        print(f"  lost for each athlete alone, from the best plan: {found.alone}", flush=True)
        for run in found.runs:
            print(line_of(run, found))
    found.megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"  most memory: {found.megabytes} MB")
    return found


def to_first_plan(steps: dict[str, float]) -> float:
    """Without the steps in brackets, which come after it."""
    return sum(seconds for name, seconds in steps.items() if not name.startswith("("))


def _print_head(found: Measured) -> None:
    load = os.getloadavg()[0]
    print(f"\n{found.size}, random seed {found.random_seed}, {len(found.parts)} part(s), load {load:.1f}")
    for n, part in enumerate(found.parts, 1):
        size = f"{part.candidates} candidates, {part.columns} columns, {part.rows} rows, {part.terms} terms"
        print(f"  part {n}: {size}")
    steps = ", ".join(f"{name} {seconds:.2f}" for name, seconds in found.steps.items())
    print(f"  first reviewed plan: {to_first_plan(found.steps):.2f} s ({steps})", flush=True)


def main() -> int:
    """Measure the sizes asked for, one after the other."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("sizes", nargs="+", help="athletes x weeks: 4x1 8x6 12x12 30x6 12x40")
    asked.add_argument("--budgets", default="quick,normal", help="of the planner, parted by commas")
    asked.add_argument("--at-most", type=float, help="seconds by the clock for the planner")
    asked.add_argument("--seconds", default="15", help="by the clock for HiGHS, several parted by commas")
    asked.add_argument("--schemes", default=",".join(SCHEMES))
    asked.add_argument(
        "--alone",
        default="1:0.5,2:4",
        help="the bound: stretches of so many of an athlete's weeks, deterministic seconds for each; '': no bound",
    )
    asked.add_argument(
        "--alone-at-end",
        default="",
        help="the same, begun from the best plan of all schemes: without one, long stretches are not proved",
    )
    asked.add_argument("--random-seed", type=int, default=1)
    asked.add_argument("--processes", type=int, default=2, help="of the planner")
    asked.add_argument("--curve", action="store_true", help="print value and bound over time")
    asked.add_argument("--record", action="store_true", help="keep the figures and write RESULTS.md")
    given = asked.parse_args()
    for words in given.sizes:
        found = measure(words, given)
        if given.record:
            from results import record

            record(found)
    return 0


if __name__ == "__main__":
    sys.exit(main())
