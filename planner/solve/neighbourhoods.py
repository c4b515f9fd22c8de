"""The parts in which a larger plan is improved, in a fixed order.

A person's week, the same two or three weekdays of all of a person's weeks, a fortnight, the squad's two days, a
person's whole block, the squad's week, two people's week: what a coach would take in hand at once. Weekly
counts bind inside a person's week, one week on the next along the same weekdays, shared places and training
together across the squad on a day; each kind of part frees what the others leave tied. Of what was measured
(`tests/bench/RESULTS.md`) the weekdays won most for their time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from itertools import combinations

from planner.domain.plan import Placement
from planner.solve.parts import Part
from planner.solve.rows import RowStore

LARGEST = 1600  # candidates in a part at most; larger ones seldom end within their share of the budget


def kinds_of_parts(store: RowStore) -> list[list[Part]]:
    """Kinds of parts, the quickest first; inside a kind in order of dates, then names."""
    weeks = {p.day: _week(store, p.day) for p in store.problem.candidates}
    names = store.problem.athletes
    pairs = [set(two) for two in combinations(names, 2)]
    days = {day: n // 2 for n, day in enumerate(store.problem.days)}
    odd = {day: (n + 1) // 2 for n, day in enumerate(store.problem.days)}
    mondays = sorted(set(weeks.values()))
    kinds = [
        by_person_and_week(store),
        _grouped(store, lambda p: [(p.athlete, d) for d in _weekdays(p.day, 2)]),
        _grouped(store, lambda p: [(p.athlete, d) for d in _weekdays(p.day, 3)]),
        _grouped(store, lambda p: [(m, p.athlete) for m in _fortnights(weeks[p.day], mondays)]),
        _grouped(store, lambda p: [(days[p.day],)]),
        _grouped(store, lambda p: [(odd[p.day],)]),
        _grouped(store, lambda p: [(p.athlete,)]),
        by_week(store),
        _grouped(store, lambda p: [(weeks[p.day], i) for i, two in enumerate(pairs) if p.athlete in two]),
    ]
    small = ([part for part in kind if len(part) <= LARGEST] for kind in kinds)
    return [kind for kind in small if kind]


def by_person_and_week(store: RowStore) -> list[Part]:
    return _grouped(store, lambda p: [(_week(store, p.day), p.athlete)])


def weeks_of_people(store: RowStore) -> list[list[int]]:
    """Of each athlete with candidates the numbers of `by_person_and_week`'s parts, in order of weeks."""
    found: dict[str, list[int]] = {}
    for n, part in enumerate(by_person_and_week(store)):
        placement = store.columns[part[0]].placement
        assert placement is not None, "a part holds candidates"
        found.setdefault(placement.athlete, []).append(n)
    return [found[name] for name in sorted(found)]


def by_week(store: RowStore) -> list[Part]:
    return _grouped(store, lambda p: [(_week(store, p.day),)])


def _week(store: RowStore, day: date) -> date:
    return day - timedelta(days=(day.weekday() - store.problem.block.week_start) % 7)


def _weekdays(day: date, count: int) -> list[int]:
    """The sets of weekdays running (by their first one) a day belongs to."""
    return [(day.weekday() - back) % 7 for back in range(count)]


def _fortnights(monday: date, mondays: list[date]) -> list[date]:
    """The fortnights (by their first week) a week belongs to."""
    return [m for m in (monday - timedelta(7), monday) if m in mondays and m != mondays[-1]]


def _grouped(store: RowStore, keys: Callable[[Placement], Iterable[tuple[object, ...]]]) -> list[Part]:
    groups: dict[tuple[object, ...], list[int]] = {}
    for c in store.free:
        placement = store.columns[c].placement
        if placement is not None:
            for key in keys(placement):
                groups.setdefault(key, []).append(c)
    return [tuple(g) for _, g in sorted(groups.items(), key=lambda kv: kv[0])]
