"""A plan whose every slot has a timetable: clashes go back to the squad's plan as rows, slot by slot.

    plan -> timetable of each slot -> clash -> row -> the slot's day solved again -> ...
                                                      then people's weeks, to win back what that cost

Each step re-solves a small part of the plan while the rest stands. What still has no timetable at the end
is told to the coach.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from planner.domain.finding import Tier
from planner.domain.plan import Placement, Plan, TierStatus
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, SlotTimetable, Timetables
from planner.rules import BookRule, book
from planner.solve.cpsat import Limits, Written
from planner.solve.linear import linear_model
from planner.solve.parts import Part, Parts, both_tiers
from planner.solve.pieces import SECONDS_PER_ROW
from planner.solve.rows import ONE, ZERO, write_rows
from planner.solve.slot_cuts import Cut, cut_of
from planner.solve.slot_facts import slot_facts
from planner.solve.slot_model import solve_slot
from planner.solve.state import NOTHING, State
from planner.solve.timetable import still_open, timetable, timetable_slot

ROUNDS: Mapping[str, int] = {"quick": 1, "normal": 6, "long": 20}  # for a slot, before things are taken out
CLASHES_A_ROUND = 4  # found one behind the other in a slot before its day is solved again
DAY_SECONDS = 0.3  # deterministic, for a slot's day
MOST_ADDED = 12  # candidates tried in a slot after something was taken out of it
WEEK_SECONDS = 0.5  # deterministic, for a person's week
MOST_TRIES = 4  # rows that one person's week may bring up before it is left as it was
WIN_BACK: Mapping[str, float] = {"quick": 4.0, "normal": 20.0, "long": 90.0}  # deterministic seconds in all
LOOK_SECONDS = 0.1  # charged for a slot's new timetable, so that budgets resemble seconds
SlotKey = tuple[date, str]


def solve_with_timetable(
    problem: Problem,
    solve_fn: Callable[[Problem], Plan],
    *,
    rules: Mapping[str, BookRule] | None = None,
    stop: Callable[[], bool] | None = None,
) -> tuple[Plan, Timetables, tuple[Clash, ...]]:
    """The plan of `solve_fn`, changed where a slot has no timetable; the timetables; the clashes left.

    Deterministic, but for `stop`, which ends it with the plan as far as it is. The certified bounds stay
    true, for no plan with timetables is better than the best without; they may no longer be reached.
    """
    plan = solve_fn(problem)
    made, clashes = timetable(still_open(plan, problem), problem)
    if not clashes:
        return plan, made, clashes
    repair = _Repair(problem, plan, book() if rules is None else rules, stop)
    repair.known = {**made, **{(c.day, c.slot): c for c in clashes}}
    repair.run([(c.day, c.slot) for c in clashes])
    better = repair.plan()
    left = tuple(x for _, x in sorted(repair.known.items()) if isinstance(x, Clash))
    return better, {k: x for k, x in sorted(repair.known.items()) if isinstance(x, SlotTimetable)}, left


class _Repair:
    def __init__(
        self,
        problem: Problem,
        plan: Plan,
        rules: Mapping[str, BookRule],
        stop: Callable[[], bool] | None,
    ) -> None:
        self.problem = problem
        self.before = plan
        self.stop = stop
        self.store = write_rows(problem, rules)
        self.model = linear_model(self.store)
        self.parts = Parts(self.model)
        self.state = State(self.store)
        self.state.set_to(c for p in plan.placements if (c := self.store.column_of(p)) not in (ONE, ZERO))
        self.cuts: list[Cut] = []
        self.known: dict[SlotKey, SlotTimetable | Clash] = {}
        self.spent = 0.0

    def told_to_stop(self) -> bool:
        return self.stop is not None and self.stop()

    def run(self, slots: Iterable[SlotKey]) -> None:
        touched: set[tuple[date, str]] = set()  # week and athlete whose sessions had to change
        for slot in slots:
            before = set(self.state.chosen)
            self.make_room(slot)
            changed = before ^ set(self.state.chosen)
            touched |= {(self.week(p.day), p.athlete) for c in changed if (p := self.placement(c))}
        limit = WIN_BACK.get(self.before.budget, WIN_BACK["normal"])
        self.spent = 0.0
        for week, athlete in sorted(touched):
            if self.spent < limit and not self.told_to_stop():
                self.win_back(week, athlete)

    def placement(self, column: int) -> Placement | None:
        return self.store.columns[column].placement

    def week(self, day: date) -> date:
        return day - timedelta(days=(day.weekday() - self.problem.block.week_start) % 7)

    # --- one slot -------------------------------------------------------------------------------------

    def make_room(self, slot: SlotKey) -> None:
        """Solve the slot's day again under more and more rows until it has a timetable, else take things out."""
        part = self.part(lambda p: p.day == slot[0])
        for _ in range(ROUNDS.get(self.before.budget, ROUNDS["normal"])):
            clash = self.known.get(slot)
            if not isinstance(clash, Clash) or self.told_to_stop():
                return
            new = [cut for c in self.one_behind_the_other(clash) if (cut := self.cut(c))]
            self.cuts += new
            before = list(self.state.chosen)
            if not new or not self.resolve(part, DAY_SECONDS):
                break
            self.look_again(before)
        if isinstance(self.known.get(slot), Clash):
            self.take_out(slot)
            self.fill(slot)

    def cut(self, clash: Clash) -> Cut | None:
        return cut_of(clash, self.problem, self.store)

    def one_behind_the_other(self, clash: Clash) -> list[Clash]:
        """The clash, and those that are still there without its last member, and so on."""
        found: list[Clash] = []
        left = list(self.chosen_in((clash.day, clash.slot)))
        now: Clash | SlotTimetable = clash
        while isinstance(now, Clash) and len(found) < CLASHES_A_ROUND:
            found.append(now)
            free = [p for p in now.placements if p not in self.problem.settled]
            if not free:
                break
            left.remove(max(free, key=lambda p: (p.unit.eyes, p.dose.minutes, p.key)))
            now = timetable_slot(left, self.problem, clash.day, clash.slot)
        return found

    def take_out(self, slot: SlotKey) -> None:
        """Leave out, or make lighter, what is missed least among those that collide; no must is broken."""
        while isinstance(clash := self.known.get(slot), Clash) and not self.told_to_stop():
            options = []
            for p in clash.placements:
                column = self.store.column_of(p)
                if column in (ONE, ZERO) or not self.state.values[column]:
                    continue
                lighter = [
                    self.store.column_of(q)
                    for q in self.problem.on(p.athlete, p.day)
                    if q.key[:4] == p.key[:4] and q.dose.minutes < p.dose.minutes
                ]
                for change in ([(column, -1)], *([(column, -1), (c, 1)] for c in lighter)):
                    options.append((self.state.trial(change), p.key, change))
            options = [x for x in options if x[0].must <= 0]
            if not options:
                return
            before = list(self.state.chosen)
            self.state.apply(min(options, key=lambda x: x[:2])[2])
            self.look_again(before)

    def fill(self, slot: SlotKey) -> None:
        """Add to a slot what is worth most, as long as it keeps its timetable."""
        tried: set[int] = set()
        while len(tried) < MOST_ADDED and not self.told_to_stop():
            options = []
            for p in self.problem.in_slot(*slot):
                column = self.store.column_of(p)
                if column not in tried and column not in (ONE, ZERO) and not self.state.values[column]:
                    gain = self.state.trial([(column, 1)])
                    options += [(gain, column)] if gain < NOTHING else []
            if not options:
                return
            gain, column = min(options)
            tried.add(column)
            before = list(self.state.chosen)
            self.state.apply([(column, 1)])
            if solve_slot(slot_facts(self.chosen_in(slot), self.problem, *slot), any_will_do=True).starts:
                self.look_again(before)
            else:
                self.state.apply([(column, -1)])

    # --- a person's week ------------------------------------------------------------------------------

    def win_back(self, week: date, athlete: str) -> None:
        """The best week of a person under all rows so far; taken only when every slot has a timetable."""
        part = self.part(lambda p: p.athlete == athlete and self.week(p.day) == week)
        before, price, known = list(self.state.chosen), self.state.price, dict(self.known)
        for _ in range(MOST_TRIES):
            if not self.resolve(part, WEEK_SECONDS) or self.state.price >= price:
                break
            new = [c for c in self.look_again(before) if not isinstance(known.get((c.day, c.slot)), Clash)]
            if not new:
                return
            self.cuts += [cut for c in new if (cut := self.cut(c))]
            self.state.set_to(before)
            self.known = dict(known)
        self.state.set_to(before)
        self.known = known

    # --- common ---------------------------------------------------------------------------------------

    def part(self, wanted: Callable[[Placement], bool]) -> Part:
        return tuple(c for c in self.store.free if (p := self.placement(c)) is not None and wanted(p))

    def resolve(self, part: Part, seconds: float) -> bool:
        """The part's best choice under all cuts, even where it is worse; False when there is none."""
        columns, rows = self.parts.reach(part)
        values = self.state.start(self.model)
        written = Written(self.model, values, columns, rows)
        for cut in self.cuts:
            cut.write(written, values)
        written.minimise(both_tiers(self.model, columns))
        written.hint(values)
        answer = written.run(Limits(seconds, self.before.random_seed, self.stop))
        self.spent += answer.spent + SECONDS_PER_ROW * len(rows)
        if answer.values is None:
            return False
        chosen = self.state.chosen
        mine = set(part)
        self.state.set_to({c for c in chosen if c not in mine} | {c for c in part if answer.values[c]})
        if self.state.price.must:
            self.state.set_to(chosen)
            return False
        return True

    def look_again(self, before: Sequence[int]) -> list[Clash]:
        """New timetables for the slots in which something changed; the clashes among them."""
        changed = set(before) ^ set(self.state.chosen)
        slots = sorted({(p.day, p.slot) for c in changed if (p := self.placement(c)) is not None})
        found = []
        for slot in slots:
            self.known.pop(slot, None)
            self.spent += LOOK_SECONDS
            if placements := self.chosen_in(slot):
                self.known[slot] = made = timetable_slot(placements, self.problem, *slot)
                found += [made] if isinstance(made, Clash) else []
        return found

    def chosen_in(self, slot: SlotKey) -> tuple[Placement, ...]:
        known = self.problem.known_in_slot(*slot)
        return tuple(p for p in known if self.state.values[self.store.column_of(p)])

    def plan(self) -> Plan:
        """The plan as it is now, its values anew and its bounds as they were certified."""
        placements = sorted({*self.problem.kept, *self.state.placements()}, key=lambda p: p.key)
        old, price = self.before.status, self.state.price
        should = TierStatus(price.should, old["should"].bound if "should" in old else None)
        prefer = old["prefer"].bound if should.proved and "prefer" in old else None
        status: dict[Tier, TierStatus] = {"should": should, "prefer": TierStatus(price.prefer, prefer)}
        stopped = self.before.stopped_early or self.told_to_stop()
        return replace(
            self.before, placements=tuple(placements), status=status, stopped_early=stopped
        )
