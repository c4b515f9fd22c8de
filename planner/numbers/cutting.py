"""An amount, cut up as a coach writes it: sets x repetitions x distance, coming to exactly what is counted."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

# What each departure costs, where a distance a tenth off the rung's costs 1. Choices of taste.
UNEVEN = 3.0  # repetitions of two lengths where the rung has one
UNEVEN_AS_THE_RUNG = 0.3
UNEQUAL_SETS = 0.6
UNEQUAL_AND_UNEVEN = 3.0
OTHER_SETS = 0.15


@dataclass(frozen=True)
class Group:
    """`sets` equal sets; `each` is what one set holds: metres, contacts ... of each repetition."""

    sets: int
    each: tuple[int, ...]

    @property
    def total(self) -> int:
        return self.sets * sum(self.each)

    @property
    def repetitions(self) -> int:
        return self.sets * len(self.each)


def cut(
    amount: int, sets: int, each: tuple[int, ...], span: tuple[int, int], step: int = 1
) -> tuple[Group, ...]:
    """The amount in repetitions like those of a rung (`sets` of `each`), inside a span, in whole steps.

    The groups always come to the amount. Where nothing inside the span does, one repetition more than fits.
    ValueError for an amount or rung of nothing.
    """
    if amount <= 0 or not each or sets <= 0:
        raise ValueError(f"{amount} in {sets} sets of {each}: amounts above nothing are needed")
    if amount == sets * sum(each) and all(span[0] <= one <= span[1] for one in each):
        return (Group(sets, each),)
    mean = sum(each) / len(each)
    low, high = span
    dear = UNEVEN_AS_THE_RUNG if len(set(each)) > 1 else UNEVEN
    best: tuple[float, tuple[Group, ...]] | None = None
    for count in range(max(1, -(-amount // high)), max(1, amount // low) + 1):
        for lengths in _lengths(amount, count, span, step):
            for price, groups in _in_sets(lengths, sets, len(each)):
                uneven = dear if len(set(lengths)) > 1 else 0.0
                whole = price + uneven + 10 * abs(amount / count - mean) / mean
                if best is None or whole < best[0] - 1e-9:
                    best = (whole, groups)
    if best is not None:
        return best[1]
    return _leftover(amount, round(mean), span)


def _lengths(amount: int, count: int, span: tuple[int, int], step: int) -> Iterator[tuple[int, ...]]:
    """So many repetitions, all alike or the later ones longer by one step."""
    for width in dict.fromkeys((step, 1)):
        base = amount // count // width * width
        rest = amount - base * count
        if base < span[0] or rest % width:
            continue
        more = rest // width
        if more < count and (more == 0 or base + width <= span[1]):
            yield (base,) * (count - more) + (base + width,) * more
            return


def _in_sets(
    lengths: tuple[int, ...], sets: int, per_set: int
) -> Iterator[tuple[float, tuple[Group, ...]]]:
    count, longest = len(lengths), max(lengths)
    if sets == 1 and per_set > 1:
        yield 0.0, (Group(1, lengths),)
        return
    longer = sum(one == longest for one in lengths) if len(set(lengths)) > 1 else 0
    most = count if per_set == 1 else sets + 1
    for many in range(1, most + 1):
        if count % many == 0 and longer % many == 0:
            size = count // many
            each = lengths[:1] * (size - longer // many) + (longest,) * (longer // many)
            yield OTHER_SETS * (abs(many - sets) + abs(size - per_set)), (Group(many, each),)
    if count > per_set:
        parts = [lengths[i : i + per_set] for i in range(0, count, per_set)]
        if len(parts[-1]) < per_set:
            price = UNEQUAL_AND_UNEVEN if longer else UNEQUAL_SETS
            yield price + OTHER_SETS * abs(len(parts) - sets), grouped(parts)


def grouped(parts: list[tuple[int, ...]]) -> tuple[Group, ...]:
    """Equal sets in a row as one group."""
    return tuple(Group(len(list(same)), each) for each, same in itertools.groupby(parts))


def _leftover(amount: int, like: int, span: tuple[int, int]) -> tuple[Group, ...]:
    """Full repetitions and a shorter last one, when nothing even is to be had."""
    one = min(max(like, span[0]), span[1], amount)
    whole, rest = divmod(amount, one)
    parts = [(one,) * whole] if not rest else [(one,) * whole + (rest,)]
    return grouped(parts)


def words(groups: tuple[Group, ...], unit: str) -> str:
    """'3 x 3 x 30 m', '3 x (20+30+30) m', '2 x 120 + 1 x 100 m', '2 x 3 x 30 and 1 x 30 m'."""
    return f"{' and '.join(_one(g) for g in groups)} {unit}".strip()


def _one(group: Group) -> str:
    runs = [(value, len(list(same))) for value, same in itertools.groupby(group.each)]
    if len(runs) == 1:
        value, count = runs[0]
        if group.sets == 1:
            return f"{count} x {value}"
        return f"{group.sets} x {count} x {value}" if count > 1 else f"{group.sets} x {value}"
    if group.sets == 1 and len(runs) == 2:
        return " + ".join(f"{count} x {value}" for value, count in runs)
    return f"{group.sets} x ({'+'.join(map(str, group.each))})"
