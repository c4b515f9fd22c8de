"""Load is effort x minutes: published days recomputed."""

from __future__ import annotations

import pytest

from planner.science.load import median_load, part_load, session_load, week_load


def test_a_day_of_two_sessions_is_a_sum_of_products() -> None:
    # sessions of 7 x 120 and 4 x 40: 1000 as published; a product of means would be 5.5 x 160 = 880
    assert session_load([(7, 120), (4, 40)], warm_up=False) == 1000


def test_the_warm_up_is_added_once() -> None:
    assert session_load([(7, 40), (5, 20)]) == 7 * 40 + 5 * 20 + 25 * 3
    assert week_load([300, 0, 455]) == 755


def test_the_middle_of_loads() -> None:
    assert median_load([]) == 0
    assert median_load([300, 500, 100]) == 300
    assert median_load([100, 201]) == 151


@pytest.mark.parametrize(("effort", "minutes"), [(11, 10), (-1, 10), (5, -1)])
def test_impossible_figures_are_refused(effort: int, minutes: int) -> None:
    with pytest.raises(ValueError, match="needed"):
        part_load(effort, minutes)
