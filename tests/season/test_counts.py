"""Weekly counts against the rows they come from, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.domain.problem import Count
from planner.season.caps import caps_for, hours_cap
from planner.season.counts import Days, counts_for, importance_of, level_in, scaled
from planner.season.phases import GENERAL, SPECIFIC

from .worlds import athlete

WHOLE = Days(7, 7, 0)


@pytest.mark.parametrize(
    ("count", "days", "expected"),
    [
        (Count(1, 2, 2), 7, Count(1, 2, 2)),
        (Count(1, 2, 2), 5, Count(1, 1, 2)),  # 0.71 -> 1, 1.43 -> 1
        (Count(2, 3, 4), 4, Count(1, 2, 4)),  # 1.14 -> 1, 1.71 -> 2
        (Count(0, 1, 1), 3, Count(0, 0, 1)),  # 0.43 -> 0
        (Count(5, 7, 7), 4, Count(3, 4, 7)),  # 2.86 -> 3
        (Count(1, 1, 1), 0, Count(0, 0, 1)),
    ],
)
def test_targets_and_minima_shrink_with_the_days_there(count: Count, days: int, expected: Count) -> None:
    assert scaled(count, days) == expected


def test_an_advanced_long_jumper_in_specific_preparation() -> None:
    counts, fast, training = counts_for(athlete(), SPECIFIC, WHOLE, False)
    assert counts["technical-jumps"] == Count(1, 2, 2)
    assert counts["strength"] == Count(2, 2, 3)
    assert (fast, training) == (Count(2, 3, 3), Count(5, 5, 6))
    assert "throws" not in counts


def test_a_competition_day_stands_for_a_fast_day_and_an_easier_week_wants_one_less() -> None:
    assert counts_for(athlete(), SPECIFIC, Days(7, 7, 1), False)[1] == Count(1, 2, 3)
    assert counts_for(athlete(), SPECIFIC, Days(7, 7, 2), False)[1] == Count(0, 1, 3)
    assert counts_for(athlete(), SPECIFIC, WHOLE, True)[1] == Count(1, 2, 3)
    assert counts_for(athlete(), SPECIFIC, Days(7, 7, 1), True)[1] == Count(1, 2, 3)


def test_no_more_training_days_than_openings() -> None:
    assert counts_for(athlete(), SPECIFIC, Days(7, 3, 0), False)[2] == Count(3, 3, 6)


def test_a_second_event_adds_its_own_families_at_their_minimum() -> None:
    # novice long jump in specific preparation: top-speed 0/0/1, acceleration 1/1/2; the novice sprint row
    # has top-speed 0/1/1, acceleration 1/2/2, speed-endurance 0/1/1
    who = replace(athlete(level="novice"), events=("long jump", "100 m"))
    counts, _, _ = counts_for(who, SPECIFIC, WHOLE, False)
    assert counts["acceleration"] == Count(1, 1, 2)
    assert counts["top-speed"] == Count(0, 0, 1)
    assert counts["technical-jumps"] == Count(1, 1, 2)


def test_hurdles_borrow_the_combined_events_row() -> None:
    # advanced combined events: hurdles 1/1/2, throws 2/2/3, technical jumps 2/2/3, run-ups 0/1/1
    counts, _, _ = counts_for(athlete(event="110 m hurdles"), SPECIFIC, WHOLE, False)
    assert counts["hurdles"] == Count(1, 1, 2)
    assert counts["run-ups"] == Count(0, 0, 1)  # another technical family: at its minimum
    assert counts["throws"] == Count(2, 2, 3)
    assert importance_of(athlete(event="110 m hurdles"), SPECIFIC)["hurdles"] == "key"


def test_a_quality_at_another_level_takes_the_lower_one() -> None:
    who = athlete(levels={"technical-jumps": "novice", "strength": "advanced"}, level="developing")
    assert level_in(who, "technical-jumps") == "novice"
    assert level_in(who, "strength") == "developing"
    assert level_in(who, "throws") == "developing"
    lower = athlete(levels={"high-multi-jumps": "novice"})
    assert counts_for(lower, SPECIFIC, WHOLE, False)[0]["high-multi-jumps"] == Count(0, 0, 1)  # novice row
    assert caps_for(lower)["high-contacts"] == 24
    assert caps_for(lower)["fast-metres"] == 600


def test_importance_in_general_preparation() -> None:
    found = importance_of(athlete(), GENERAL)
    assert found["technical-jumps"] == "key"
    assert found["tempo"] == "supporting"
    assert found["general"] == "if there is time"
    assert found["top-speed"] == "if there is time"  # no target in this phase


def test_caps() -> None:
    caps = caps_for(athlete())
    assert (caps["short-jumps"], caps["high-contacts"], caps["take-offs-one-leg"]) == (36, 120, 100)
    # a sprinter who jumps: the sprint row has no jumps, the long jump's own cap counts
    both = replace(athlete(event="100 m"), events=("100 m", "long jump"))
    assert caps_for(both)["short-jumps"] == 36
    assert caps_for(both)["fast-metres"] == 900


def test_hours() -> None:
    assert hours_cap(athlete(), 24) == 15 * 60
    assert hours_cap(athlete(level="novice"), 13) == 13 * 60
    assert hours_cap(athlete(level="developing"), 18) == 10 * 60
