"""Which shoes an athlete runs up in, from the run-ups of the block and what was recorded at the pit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.domain.block import RunUp
from planner.domain.fact import Fact
from planner.domain.pit_facts import Result, RunUpReadings, StartMark
from planner.domain.shoe import Shoe, different, meant_among

AtThePit = Result | RunUpReadings | StartMark


def own_shoes(athlete: str, run_ups: Iterable[RunUp], facts: Iterable[Fact] = ()) -> tuple[Shoe, ...]:
    """The athlete's shoes, the first mentioned first; () while no run-up and no shoe is known.

    A row of the block without a shoe is of the first row's, which may be one that nobody named (`NO_SHOE`);
    the file's reader sees to it that no such row stands where the file knows two.
    """
    rows = [r.worn for r in run_ups if r.athlete == athlete]
    told = [f.worn for f in facts if isinstance(f, AtThePit) and f.athlete == athlete]
    return different([*rows[:1], *(s for s in (*rows[1:], *told) if s.said)])


def reads_mark(fact: AtThePit) -> bool:
    """Whether a fact says something about a start mark: it sets one, or the board was read."""
    return not isinstance(fact, Result) or any(a.gap is not None for a in fact.attempts)


def in_own_shoe(fact: AtThePit, own: Sequence[Shoe]) -> AtThePit:
    """The fact with its whole shoe: the one meant, or the athlete's only one where none was said.

    As it was where no shoe or several can be meant, and where the lengths contradict each other.
    """
    meant = meant_among(fact.worn, own)
    if len(meant) != 1 or not (fact.worn.said or reads_mark(fact)):
        return fact
    (shoe,) = meant
    if None not in (fact.shoe, shoe.length) and fact.shoe != shoe.length:
        return fact
    return replace(fact, shoe=shoe.length if shoe.length is not None else fact.shoe, shoe_name=shoe.name)
