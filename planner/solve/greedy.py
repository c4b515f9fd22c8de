"""What a coach does by hand: week by week, key families first, in the habitual slots, never breaking a must.

The first answer, the start of every improvement and the way out when time is short. Fixed by a golden test:
the same problem always gives the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta

from planner.domain.plan import Placement
from planner.solve.collector import put_off
from planner.solve.rows import RowStore
from planner.solve.state import NOTHING, Change, Price, State
from planner.solve.trials import FINAL, Batch, Trials

IMPORTANCE = ("key", "supporting", "if there is time")
COMPANIONS = 2  # how many further units one choice may bring along to keep the musts
COMPANION_CHOICES = 12  # candidates looked at for each of them
SWEEPS = 4  # rounds of the second pass at most; a fourth round has never changed a plan in our examples
CHUNK = 256  # candidates whose additions are priced at once in the second pass
SMALL = 1500  # candidates up to which the second pass also swaps
Stop = Callable[[], bool]


def greedy(store: RowStore, stop: Stop | None = None) -> State:
    """A plan by hand's order. `price.must` of the state is above 0 when the musts could not be met so."""
    with put_off():
        by_hand = Greedy(store, stop)
        by_hand.begin()
        by_hand.second_pass()
    return by_hand.state


class Greedy:
    """The state, the candidates by week and family, and what has become a habit so far."""

    def __init__(self, store: RowStore, stop: Stop | None = None, state: State | None = None) -> None:
        self.store = store
        self.state = state or State(store)
        self.stop = stop or (lambda: False)
        self._placement: dict[int, Placement] = {}
        for c in store.free:
            placement = store.columns[c].placement
            if placement is not None:
                self._placement[c] = placement
        self._habits: dict[tuple[str, int, str, str], int] = {}
        self._trials = Trials(self.state)
        self._kept: dict[int, int] = {}  # chosen candidate -> change after which taking it out was of no use
        self._stayed: dict[int, int] = {}  # the same for putting it elsewhere
        self._weeks: dict[tuple[str, date], list[int]] = {}

    def begin(self) -> State:
        """The first whole plan."""
        self.place_fixed()
        self.repair()
        self.fill()
        return self.state

    def fill(self) -> None:
        """Week by week from what stands already."""
        for _, columns in self._by_week_and_importance():
            self._fill(columns)

    def place_fixed(self) -> None:
        """What the coach has fixed stands before anything else is looked at."""
        for c, p in self._placement.items():
            if p.fixed and not self.state.values[c]:
                self._take_if(c, lambda price: price.must <= 0)

    def repair(self) -> None:
        """Add what the musts ask for (required units), as long as an addition brings them closer."""
        while broken := self.state.broken_rows():
            for row in broken:
                welcome = self.state.welcome_for(row)
                best = self._best(welcome, self._trials.batch(welcome))
                if best is not None and best[0].must < 0:
                    self._apply(best[1])
                    break
            else:
                return

    def _by_week_and_importance(self) -> list[tuple[tuple[date, int], list[int]]]:
        groups: dict[tuple[date, int], list[int]] = {}
        for c, p in self._placement.items():
            groups.setdefault((self._week_begins(p.day), IMPORTANCE.index(p.importance)), []).append(c)
        return sorted(groups.items())

    def _fill(self, columns: list[int]) -> None:
        """Athletes and families in turn, each takes its best candidate, until none makes the plan better."""
        turns: dict[tuple[str, str], list[int]] = {}
        for c in columns:
            p = self._placement[c]
            turns.setdefault((p.unit.family, p.athlete), []).append(c)
        several = [mine for _, mine in sorted(turns.items())]
        live = list(zip(several, self._trials.batches(several), strict=True))
        while live:  # never cut short: a plan that is half filled is nobody's best
            still = []
            for turn in live:
                best = self._best(*turn)
                if best is not None and best[0].must <= 0 and best[0].should < 0:
                    self._apply(best[1])
                    still.append(turn)
            live = still

    def _best(self, columns: Sequence[int], batch: Batch) -> tuple[Price, list[Change]] | None:
        """The best single choice with what it must bring along; ties by habit, then key order."""
        best: tuple[tuple[int, int, int, int], Price, list[Change]] | None = None
        kept = self.state.price.must == 0
        for c, (*tiers, final) in zip(columns, batch.prices().tolist(), strict=True):
            if self.state.values[c]:
                continue
            changes: list[Change] = [(c, 1)]
            price = Price(*tiers)
            if price.must > 0:
                hopeless = price.should >= 0 or (kept and final)
                if hopeless or not (found := self._with_companions(c)):
                    continue
                price, changes = found
            if best is not None and price > best[1]:
                continue
            rank = (*price, -self._habit(c))
            if best is None or rank < best[0]:
                best = (rank, price, changes)
        return None if best is None else (best[1], best[2])

    def _with_companions(self, column: int) -> tuple[Price, list[Change]] | None:
        """A choice that breaks a must until something else comes with it (a unit and its companion)."""
        state = self.state
        changes: list[Change] = [(column, 1)]
        before = set(state.broken_around(changes))
        total = state.apply(changes)
        while total.must > 0 and len(changes) <= COMPANIONS:
            new = [j for j in state.broken_around(changes) if j not in before]
            options = [c for c in state.welcome_for(new[0]) if not state.values[c]] if new else []
            tried = [(state.trial([(c, 1)]), c) for c in options[:COMPANION_CHOICES]]
            if not tried or min(tried)[0].must >= 0:
                break
            change = (min(tried)[1], 1)
            total = total.plus(state.apply([change]))
            changes.append(change)
        state.apply([(c, -d) for c, d in changes])
        return (total, changes) if total.must <= 0 else None

    def _habit(self, column: int) -> int:
        p = self._placement[column]
        return self._habits.get((p.athlete, p.day.weekday(), p.slot, p.unit.family), 0)

    def _take_if(self, column: int, wanted: Callable[[Price], bool]) -> bool:
        if wanted(self.state.trial([(column, 1)])):
            self._apply([(column, 1)])
            return True
        return False

    def _apply(self, changes: list[Change]) -> None:
        self.state.apply(changes)
        for c, d in changes:
            p = self._placement[c]
            habit = (p.athlete, p.day.weekday(), p.slot, p.unit.family)
            self._habits[habit] = self._habits.get(habit, 0) + d

    def second_pass(self) -> None:
        """Single additions, removals and (in small plans) swaps, until none helps."""
        columns = list(self._placement)
        chunks = [columns[n : n + CHUNK] for n in range(0, len(columns), CHUNK)]
        batches = [(chunk, self._trials.batch(chunk)) for chunk in chunks]
        for _ in range(SWEEPS):
            moved = sum(self._add(*batch) for batch in batches)
            moved += self._sweep(self._removals, self._kept) + self._sweep(self._swaps, self._stayed)
            if not moved or self.stop():
                return

    def _add(self, columns: Sequence[int], batch: Batch) -> int:
        """Each of these candidates in turn, if it makes the plan better."""
        done = first = 0
        while first < len(columns):
            prices = batch.prices().tolist()
            for n in range(first, len(columns)):
                if not self.state.values[columns[n]] and tuple(prices[n][:FINAL]) < NOTHING:
                    self._apply([(columns[n], 1)])
                    done += 1
                    break
            first = n + 1
        return done

    def _sweep(self, moves: Callable[[int], Iterable[list[Change]]], looked: dict[int, int]) -> int:
        """Each chosen candidate's moves in turn, the first that helps is made.

        `looked` keeps after which change of the plan a candidate's moves were last found to be of no use: one
        whose price cannot have changed since then is not tried again.
        """
        state, done = self.state, 0
        for c in self._placement:
            if not state.values[c]:
                continue
            last = looked.get(c, -1)
            mine = state.moved_since(c, last)
            for changes in moves(c):
                if (mine or state.moved_since(changes[-1][0], last)) and state.trial(changes) < NOTHING:
                    self._apply(changes)
                    done += 1
                    break
            else:
                looked[c] = state.changes
        return done

    def _removals(self, column: int) -> Iterable[list[Change]]:
        return ([(column, -1)],)

    def _swaps(self, column: int) -> Iterable[list[Change]]:
        """The other amount in the same place; in small plans every other place of the week too."""
        p = self._placement[column]
        small = len(self._placement) <= SMALL
        return (
            [(column, -1), (c, 1)]
            for c in self._same_week(p)
            if not self.state.values[c] and (small or self._placement[c].unit.id == p.unit.id)
        )

    def _week_begins(self, day: date) -> date:
        return day - timedelta(days=(day.weekday() - self.store.problem.block.week_start) % 7)

    def _same_week(self, placement: Placement) -> list[int]:
        if not self._weeks:
            for c, p in self._placement.items():
                self._weeks.setdefault((p.athlete, self._week_begins(p.day)), []).append(c)
        return self._weeks[placement.athlete, self._week_begins(placement.day)]
