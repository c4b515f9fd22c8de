"""Phases counted back from competitions, against seasons worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import groupby

import pytest

from planner.domain.block import Block, PhaseSpan
from planner.season.phases import SECOND_OF_TWO, frame_for, phases_for, shared_out
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
    # Mon 1 Mar 2027 to Sun 27 Feb 2028. First peak: supporting Sat 3 Jul 2027 (week 18), main Sat 31 Jul
    # (week 22): 8 + 6 + 3 + 4 and a week of taper, 26 Jul to 1 Aug. Bridge 2 to 8 Aug. Then 12 weeks to the
    # week of the supporting one, Mon 1 Nov (week 36): 4 + 5 + 3; competitions to 9 Jan; taper 10 to 22 Jan
    # 2028 with the main one on its Saturday (week 47); transition to the end.
    meets = (
        meet(date(2027, 7, 3), "supporting"), meet(date(2027, 7, 31)),
        meet(date(2027, 11, 6), "supporting"), meet(date(2028, 1, 22)),
    )  # fmt: skip
    assert drawn(block(days=52 * 7, competitions=meets)) == (
        "general 8 specific 6 pre-competition 3 competition 4 taper 1 bridge 1 "
        "general 4 specific 5 pre-competition 3 competition 10 taper 2 transition 5"
    )


def test_indoor_to_outdoor() -> None:
    # last main one indoors the day before the block, Sun 28 Feb; supporting Sat 22 May, main Sat 26 Jun.
    # Ten weeks from Mon 8 Mar to Sun 16 May: usual 4 + 5 + 3 less one specific and one pre-competition.
    meets = (
        meet(date(2027, 2, 28)),
        meet(date(2027, 5, 8), "train-through"),
        meet(date(2027, 5, 22), "supporting"),
        meet(date(2027, 6, 26)),
    )  # fmt: skip
    assert drawn(block(days=17 * 7 - 1, competitions=meets)) == (
        "bridge 1 general 4 specific 4 pre-competition 2 competition 4 taper 2"
    )


@pytest.mark.parametrize(
    ("weeks", "level_needs", "expected"),
    [
        (20, 6, (10, 6, 4)),  # beyond the most of each (5, 6, 4) all goes to general
        (15, 6, (5, 6, 4)),
        (12, 6, (4, 5, 3)),
        (11, 6, (4, 4, 3)),
        (10, 6, (4, 4, 2)),
        (9, 6, (3, 4, 2)),
        (7, 6, (1, 4, 2)),
        (6, 6, (0, 4, 2)),
        (4, 4, (0, 2, 2)),
        (1, 6, (0, 0, 1)),
    ],
)
def test_weeks_between_two_peaks_are_shared_out(
    weeks: int, level_needs: int, expected: tuple[int, int, int]
) -> None:
    found = shared_out(weeks, SECOND_OF_TWO, level_needs)
    assert sum(found) == weeks
    assert found == expected


def test_a_main_competition_gets_its_weeks_in_front_even_when_competitions_come_early() -> None:
    # 9 weeks from the bridge to the taper, supporting ones from the second on: six of them stay specific
    # and pre-competition (4 + 2) for an advanced athlete, four for a developing one.
    meets = (meet(saturday(1)), meet(saturday(4), "supporting"), meet(saturday(13)))
    made = block(days=13 * 7, competitions=meets)
    assert drawn(made, taper_days=14) == (
        "taper 1 bridge 1 specific 4 pre-competition 2 competition 3 taper 2"
    )
    assert drawn(made, "developing", 14) == (
        "taper 1 bridge 1 specific 2 pre-competition 2 competition 5 taper 2"
    )


def test_two_seasons_are_parted_by_a_transition() -> None:
    # 45 weeks apart: no bridge but five weeks of transition, then a season with one peak
    made = block(days=46 * 7, competitions=(meet(saturday(1)), meet(saturday(46))))
    assert drawn(made).startswith("taper 1 transition 5 general ")


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
