"""Phases counted back from competitions, against seasons worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import groupby

import pytest

from planner.domain.block import Block, PhaseSpan
from planner.season.phases import frame_for, phases_for
from planner.season.weeks import weeks_of

from .worlds import MONDAY, block, meet


def saturday(week: int) -> date:
    """The Saturday of the block's week, counted from 1."""
    return MONDAY + timedelta(weeks=week - 1, days=5)


def drawn(made: Block, level: str = "advanced", taper_days: int = 14) -> str:
    """The phases in runs: 'general 14 specific 11 ...'."""
    weeks = weeks_of(made)
    phases, _ = phases_for(made, "Ada", weeks, frame_for(level, len(weeks), taper_days))  # type: ignore[arg-type]
    return " ".join(f"{p.removesuffix('-preparation')} {len(list(run))}" for p, run in groupby(phases))


def test_a_year_with_one_peak() -> None:
    # 14 + 11 + 6 weeks before the first supporting competition in week 32; the main one ends week 47.
    meets = (meet(saturday(32), "supporting"), meet(saturday(47)))
    assert drawn(block(days=52 * 7, competitions=meets)) == (
        "general 14 specific 11 pre-competition 6 competition 14 taper 2 transition 5"
    )


def test_a_year_with_two_peaks() -> None:
    # first: 8 + 6 + 3 weeks, supporting one in week 18, taper of 7 days, main in week 22; then a bridge,
    # 4 + 5 + 3 weeks, supporting one in week 36; the taper of 7 days leaves 11 competition weeks of which
    # 10 are allowed, so pre-competition is one week longer in front.
    meets = (
        meet(saturday(18), "supporting"), meet(saturday(22)),
        meet(saturday(36), "supporting"), meet(saturday(47)),
    )  # fmt: skip
    found = drawn(block(days=52 * 7, competitions=meets), taper_days=7)
    assert found == (
        "general 8 specific 6 pre-competition 3 competition 4 taper 1 bridge 1 "
        "general 5 specific 5 pre-competition 3 competition 10 taper 1 transition 5"
    )


def test_novices_eight_weeks() -> None:
    # main in week 7 with 3-5 days of taper: that week; two weeks pre-competition, three specific before
    # it, one general left in front; a friendly one (train-through) opens no competition phase.
    meets = (meet(saturday(4), "train-through"), meet(saturday(7)), meet(saturday(8), "train-through"))
    assert drawn(block(days=56, competitions=meets), "novice", 5) == (
        "general 1 specific 3 pre-competition 2 taper 1 competition 1"
    )


def test_two_main_competitions_close_together() -> None:
    # five weeks apart: one competition phase between, with a taper of its own (two weeks) at its end
    meets = (meet(saturday(3)), meet(saturday(8)))
    assert drawn(block(days=56, competitions=meets)) == "pre-competition 1 taper 2 competition 3 taper 2"


def test_a_supporting_competition_alone_makes_pre_competition_of_its_last_two_weeks() -> None:
    made = block(days=21, competitions=(meet(saturday(3), "supporting"),))
    weeks = weeks_of(made)
    phases, assumed = phases_for(made, "Ada", weeks, frame_for("advanced", 3, 14))
    assert phases == ("specific-preparation", "pre-competition", "pre-competition")
    assert "no main competition" in assumed[0].text


def test_without_competitions_specific_preparation_is_assumed_and_said() -> None:
    made = block(days=14)
    phases, assumed = phases_for(made, "Ada", weeks_of(made), frame_for("advanced", 2, 14))
    assert phases == ("specific-preparation",) * 2
    assert assumed[0].subject == "Ada: phases"


def test_given_phases_win_and_an_athletes_own_win_over_those_for_all() -> None:
    spans = (
        PhaseSpan("", "general-preparation", MONDAY, MONDAY + timedelta(days=13)),
        PhaseSpan("Ada", "pre-competition", MONDAY + timedelta(days=7), MONDAY + timedelta(days=13)),
    )
    made = replace(block(days=14, competitions=(meet(saturday(2)),)), phases=spans)
    weeks = weeks_of(made)
    phases, assumed = phases_for(made, "Ada", weeks, frame_for("advanced", 2, 14))
    assert phases == ("general-preparation", "pre-competition")
    assert assumed == ()


@pytest.mark.parametrize(
    ("weekday", "expected"),
    [
        (0, "pre-competition 1 taper 3"),
        (2, "pre-competition 1 taper 3"),
        (5, "pre-competition 2 taper 2"),
    ],
)
def test_the_taper_is_judged_by_the_middle_of_the_week(weekday: int, expected: str) -> None:
    # 14 days; week middles (Thursdays) lie -3, 4, 11 and 18 days before a Monday; -1, 6, 13, 20 before a
    # Wednesday; 2, 9, 16, 23 before a Saturday.
    day = MONDAY + timedelta(weeks=3, days=weekday)
    assert drawn(block(days=28, competitions=(meet(day),))) == expected


def test_after_the_last_main_competition_comes_the_transition() -> None:
    made = block(days=14, competitions=(meet(MONDAY - timedelta(days=9)),))
    assert drawn(made) == "transition 2"
