"""From a problem to a plan: a greedy one first, then better ones until time is up or it is proved best."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from time import monotonic  # only for `at_most`: no plan made without it depends on the clock

from planner.domain.finding import Tier
from planner.domain.plan import Plan, TierStatus
from planner.domain.problem import Problem
from planner.rules import BookRule, book
from planner.solve.bound import Bounding
from planner.solve.collector import put_off
from planner.solve.conflict import impossible
from planner.solve.cpsat import Limits
from planner.solve.first import first_plan
from planner.solve.linear import LinearModel, linear_model
from planner.solve.neighbourhoods import by_person_and_week, kinds_of_parts, weeks_of_people
from planner.solve.one_piece import FOR_PROOF, FROM_ABOVE, Certified, solve_in_one_piece
from planner.solve.parts import Part, Parts
from planner.solve.pieces import Turns, higher
from planner.solve.repair import put_together
from planner.solve.rows import write_rows
from planner.solve.state import State
from planner.solve.stretches import Stretches
from planner.solve.workers import SIDE_BY_SIDE, Workers, usual_number

# Deterministic seconds: the solver's own steps, counted so that one is one to two seconds by the clock on a
# quiet machine with two processors (`tests/bench/RESULTS.md`).
BUDGETS: Mapping[str, float] = {"quick": 4.0, "normal": 20.0, "long": 180.0}
ONE_PIECE = 2500  # candidates up to which the whole model is solved at once
WHOLE_FIRST_SHARE = 0.75  # of the budget at most, for a proof before blocks and parts
BLOCK_SECONDS = 1.0  # for one block
BLOCKS_SHARE = 0.6  # of the budget at most, for the blocks that give the bound
STRETCHES_FROM = 60.0  # budget from which on longer stretches than people's weeks are bounded, too
STRETCHES_AFTER = 0.5  # of the budget: with a good plan to begin with they are proved, without one they are not
STRETCHES = ((2, 0.8, 0.1), (None, 12.0, 0.3))  # weeks (None: all), seconds for one, share of the budget at most
PARTS_SHARE = 0.3  # of the budget at most, for parts before the whole model
QUICK_KINDS = 2  # kinds of parts that are so quick that they are gone through again after every success
PART_SECONDS = 0.5  # for one part at first; doubled when all parts have been seen
LEAST_SECONDS = 0.05  # less than this is not worth a start
FIRST_PLAN_SECONDS = 60.0  # deterministic, for a plan that keeps the musts where the greedy one does not


@dataclass(frozen=True)
class Progress:
    """Where the search stands: share of the budget spent, the best plan's points, the certified least."""

    doing: str  # 'first plan', 'improving', 'done'
    spent: float  # 0-1
    should: int
    prefer: int
    bound: int | None  # of should

    def __str__(self) -> str:
        sure = "" if self.bound is None else f", at least {self.bound} in any plan"
        share = f"{self.spent:.0%}"
        return f"{self.doing} {share:>4}: {self.should} points of should{sure}, {self.prefer} of prefer"


class Watch:
    """Who is told how far we are, and who may stop us: the caller, or the clock when `at_most` is given."""

    def __init__(
        self,
        progress: Callable[[Progress], None] | None = None,
        stop: Callable[[], bool] | None = None,
        at_most: float | None = None,
    ) -> None:
        self._progress = progress
        self._stop = stop
        self._ends = None if at_most is None else monotonic() + at_most
        self.stopped = False

    def told_to_stop(self) -> bool:
        if not self.stopped:
            asked = self._stop is not None and self._stop()
            self.stopped = asked or (self._ends is not None and monotonic() >= self._ends)
        return self.stopped

    def first_plan(self, state: State) -> None:
        """There is a whole plan; nothing is known about better ones."""
        self.tell(Progress("first plan", 0.0, state.price.should, state.price.prefer, None))

    def tell(self, progress: Progress) -> None:
        if self._progress is not None:
            self._progress(progress)


def solve(  # noqa: PLR0913  # the one door to the solver
    problem: Problem,
    rules: Mapping[str, BookRule] | None = None,
    *,
    budget: str = "normal",
    random_seed: int = 0,
    at_most: float | None = None,
    of_parts: int = 1,
    processes: int | None = None,
    progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Plan:
    """The best plan found within the budget, with its value and certified bound per tier.

    A long block is solved in `of_parts` parts, which share the budget and `at_most` evenly. With more than
    one of `processes` (None: as many as there are processors, two at most) blocks are solved side by side;
    the plan is the same with any number.
    Deterministic: the same problem, rules, budget and random seed give the same plan, unless `at_most`
    (seconds by the clock) or `stop` (asked several times a second) ends it early; then the best plan so
    far is given back with `stopped_early`. Raises Impossible when the musts collide. Coaches are assigned
    by `assign_coaches` and the plan is held against the checks by `verify`.
    """
    watch = Watch(progress, stop, None if at_most is None else at_most / of_parts)
    told = book() if rules is None else rules
    with put_off():
        store = write_rows(problem, told)
    number = usual_number() if processes is None else processes
    with Workers(number if len(store.free) > ONE_PIECE else 1) as workers:
        limits = Limits(FIRST_PLAN_SECONDS, random_seed, watch.told_to_stop)
        state = first_plan(store, limits, watch.first_plan, better=len(store.free) > ONE_PIECE)
        if state is None:
            raise impossible(store, told, random_seed, watch.told_to_stop)
        with put_off():
            model = linear_model(store)
        workers.load(model.numbers)
        search = _Search(model, state, watch, workers, BUDGETS[budget] / of_parts, random_seed)
        try:
            search.run(bounded=of_parts == 1)
        except MemoryError:  # the plan in hand is whole; a better one needs more memory than there is
            watch.stopped = True
    placements = sorted({*problem.kept, *state.placements()}, key=lambda p: p.key)
    return Plan(tuple(placements), search.status(), random_seed, budget, watch.stopped)


class _Search:
    """Improves a state until the budget ends, everything is proved, or somebody stops it."""

    def __init__(
        self,
        model: LinearModel,
        state: State,
        watch: Watch,
        workers: Workers,
        budget: float,
        seed: int,
    ) -> None:
        self.model = model
        self.state = state
        self.watch = watch
        self.workers = workers
        self.budget = budget
        self.until = budget  # where the present stage ends
        self.seed = seed
        self.spent = 0.0
        self.certified = Certified()
        self.bounding: Bounding | None = None  # what each person's week costs by itself, once that is known

    def run(self, *, bounded: bool) -> None:
        """The short way for small squads: the whole model at once, which proves most of them best.

        A bound of one part says nothing of a longer block: then none is certified.
        """
        self.tell("improving")
        small = len(self.model.store.free) <= ONE_PIECE
        if small:
            self.whole(self.budget * WHOLE_FIRST_SHARE, FOR_PROOF)
        if not self.ended():
            self.in_blocks(certified=bounded)
            if bounded and not small:
                self.in_parts_and_stretches()
            else:
                self.in_parts(self.spent + self.budget * PARTS_SHARE if small else self.budget)
            if self.bounding is not None:
                put_together(self.state, self.bounding.answers)  # of use where the budget ended early
        if small and not self.ended():
            self.whole(self.budget - self.spent, FROM_ABOVE)
        self.tell("done")

    def limits(self, seconds: float) -> Limits:
        return Limits(seconds, self.seed, self.watch.told_to_stop)

    def in_blocks(self, *, certified: bool) -> None:
        """A person's week each, whoever else trains: a bound and a plan from the same solves."""
        if self.watch.told_to_stop():
            return
        self.bounding = bounding = Bounding(self.model, "should", by_person_and_week(self.model.store))
        start, limits = self.state.start(self.model), self.limits(BLOCK_SECONDS)
        bounding.solve(self.workers, start, limits, self.budget * BLOCKS_SHARE)
        self.spent += bounding.spent
        self.watch.stopped |= bounding.stopped
        if certified:
            least = max(self.model.least("should"), bounding.bound)
            self.certified.should = higher(least, self.certified.should)
        self.model.rows.extend(bounding.cuts())
        self.workers.load(self.model.numbers)
        self.tell("improving")

    def in_parts_and_stretches(self) -> None:
        """Parts to the end of the budget; in the middle of a long one, what longer stretches cost is bounded.

        Only where the share of the budget is enough for everybody: in a large squad the plan comes first.
        """
        if self.bounding is not None and self.budget >= STRETCHES_FROM:
            self.in_parts(self.budget * STRETCHES_AFTER)
            stretches = Stretches(self.model, self.bounding, weeks_of_people(self.model.store))
            for length, seconds, share in STRETCHES:
                if stretches.count(length) * seconds <= self.budget * share * SIDE_BY_SIDE:
                    self.in_stretches(stretches, length, seconds, self.budget * share)
        self.in_parts(self.budget)

    def in_stretches(self, stretches: Stretches, length: int | None, seconds: float, budget: float) -> None:
        """Bound stretches of so many weeks of each person (None: the whole block) by themselves."""
        if self.watch.told_to_stop() or self.nothing_left():
            return
        before = stretches.spent
        start, limits = self.state.start(self.model), self.limits(seconds)
        stretches.solve(length, self.workers, start, limits, min(budget, self.budget - self.spent))
        self.spent += stretches.spent - before
        self.watch.stopped |= stretches.stopped
        self.certified.should = higher(stretches.bound, self.certified.should)
        self.tell("improving")

    def whole(self, budget: float, turns: Turns) -> None:
        """The model in one piece."""

        def told(value: int, bound: int) -> None:
            self.tell("improving", value, bound)

        limits = Limits(budget, self.seed, self.watch.told_to_stop, told)
        self.certified = solve_in_one_piece(self.model, self.state, limits, self.certified.should, turns)
        self.spent += self.certified.spent
        self.watch.stopped |= self.certified.stopped

    def in_parts(self, until: float) -> None:
        """Kinds of parts in their order; after a kind that helped the quickest kinds come again.

        Ends when no part can be improved, when `until` is spent, or when somebody says stop.
        """
        self.until = until
        parts = Parts(self.model)
        kinds = kinds_of_parts(self.model.store)
        seconds = PART_SECONDS
        while not self.ended():
            done, n = 0, 0
            while n < len(kinds):
                tried, helped = self.one_kind(parts, kinds[n], seconds)
                if self.ended():
                    return
                done += tried
                n = 0 if helped and n >= QUICK_KINDS else n + 1
            if not done:
                return
            seconds *= 2

    def one_kind(self, parts: Parts, kind: list[Part], seconds: float) -> tuple[int, int]:
        """All parts of a kind that are not settled, each once: how many were tried, how many helped."""
        tried = helped = 0
        for together in parts.apart(self.in_order(parts, kind)):
            if self.ended():
                break
            open_parts = [part for part in together if not parts.settled(part)]
            if not open_parts:
                continue
            budget = min(seconds, self.until - self.spent)
            result = parts.resolve(self.state, open_parts, self.limits(budget), self.workers)
            tried, helped = tried + len(open_parts), helped + result.improved
            self.spent += result.spent
            self.watch.stopped |= result.stopped
            self.tell("improving")
        return tried, helped

    def in_order(self, parts: Parts, kind: list[Part]) -> list[Part]:
        """Those first in which most can be won, as far as the bounds of people's weeks say."""
        if self.bounding is None:
            return kind
        room = self.bounding.room([(part, parts.reach(part)[0]) for part in kind], self.state.start(self.model))
        return sorted(kind, key=lambda part: -room[part])

    def ended(self) -> bool:
        """Budget spent, told to stop, or nothing left to win."""
        return self.until - self.spent <= LEAST_SECONDS or self.watch.told_to_stop() or self.nothing_left()

    def nothing_left(self) -> bool:
        """Is the plan proved best in should, and free of cost in prefer?"""
        return self.state.price.should == self.certified.should and self.state.price.prefer == 0

    def tell(self, doing: str, should: int | None = None, bound: int | None = None) -> None:
        price = self.state.price
        self.watch.tell(
            Progress(
                doing,
                min(1.0, self.spent / self.budget),
                price.should if should is None else should,
                price.prefer,
                self.certified.should if bound is None else bound,
            )
        )

    def status(self) -> dict[Tier, TierStatus]:
        """Value and certified bound per tier; prefer has a bound only below a proved should tier."""
        price, bound = self.state.price, self.certified
        should = TierStatus(price.should, bound.should)
        least = self.model.least("prefer")
        prefer = bound.prefer if bound.prefer is not None else least if price.prefer == least else None
        return {"should": should, "prefer": TierStatus(price.prefer, prefer if should.proved else None)}
