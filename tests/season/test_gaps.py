"""After more than two weeks without a pit the jumps begin again with less; a shorter gap changes nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

import pytest

from planner.domain.block import Away
from planner.season import make_problem

from .worlds import MONDAY, at, block

JUMPS = ("short-long-jumps", "medium-long-jumps", "full-long-jumps")
SIX_WEEKS = 42


def amounts(shut: tuple[date, date] | None, *, away: bool = False) -> list[Mapping[str, int]]:
    """Full amounts by unit, week by week, with the pit shut from one day to another (or the athlete gone then)."""
    made = block(days=SIX_WEEKS)
    if shut is not None and not away:
        open_ = tuple(o for o in made.openings if o.place.kind != "pit" or not shut[0] <= o.day <= shut[1])
        made = replace(made, openings=open_)
    if shut is not None and away:
        gone = Away("Ada", at(shut[0]), at(shut[1], 23, 59), "away")
        made = replace(made, away=(gone,))
    return [{u: d[0].amount for u, d in w.doses.items()} for w in make_problem(made).weeks["Ada"]]


def shut_for(days: int, week: int = 2) -> tuple[date, date]:
    """So many days without a pit, up to the Wednesday of the third week: it is open again on the Thursday."""
    last = MONDAY + timedelta(days=7 * week + 2)
    return last - timedelta(days=days - 1), last


def test_the_week_the_pit_opens_again_holds_two_thirds_of_the_jumps() -> None:
    """60 to 70 % of what was done before: common practice, no source."""
    usual, after = amounts(None), amounts(shut_for(15))
    for unit in JUMPS:
        assert 60 * usual[2][unit] <= 100 * after[2][unit] <= 70 * usual[2][unit], unit
        assert [w[unit] for i, w in enumerate(after) if i != 2] == [w[unit] for i, w in enumerate(usual) if i != 2]
    others = [u for u in usual[2] if u not in after[2] or after[2][u] != usual[2][u]]
    assert {*JUMPS} <= {*others} and not {"triple-jump-phases", "flying-sprints", "full-run-ups"} & {*others}


@pytest.mark.parametrize("days", [1, 13])
def test_two_weeks_are_no_gap(days: int) -> None:
    """Thirteen days shut: the last jumps and the next ones are fourteen days apart."""
    assert amounts(shut_for(days)) == amounts(None)
    assert amounts(shut_for(14)) != amounts(None)


def test_a_pit_that_opens_with_the_block_says_nothing_of_the_time_before() -> None:
    assert amounts((MONDAY, MONDAY + timedelta(days=16)))[2] == amounts(None)[2]


def test_an_easier_week_is_small_enough() -> None:
    """The fourth week asks for 60 % of everything."""
    assert amounts(shut_for(15, week=3)) == amounts(None)


def test_who_was_away_begins_again_with_less_too() -> None:
    usual, after = amounts(None), amounts(shut_for(15), away=True)
    for unit in JUMPS:
        assert 60 * usual[2][unit] <= 100 * after[2][unit] <= 70 * usual[2][unit], unit
