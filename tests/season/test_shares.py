"""Shares of the peak week and kinds of weeks, against patterns written out by hand."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from planner.catalogue import taper
from planner.domain.block import Athlete, Away, Block, PhaseSpan
from planner.season.phases import COMPETITION, GENERAL, PRE, SPECIFIC, TAPER
from planner.season.shares import shares_for, usual_share
from planner.season.weeks import weeks_of

from .worlds import MONDAY, at, athlete, block, meet


def found(made: Block, phases: list[str], who: Athlete | None = None) -> list[tuple[int, str]]:
    who = who or athlete()
    shares = shares_for(made, who, weeks_of(made), phases, taper("long jump", who.level))
    return [(s.percent, s.kind) for s in shares]


def saturday(week: int) -> date:
    return MONDAY + timedelta(weeks=week - 1, days=5)


def test_advanced_three_loading_weeks_then_an_easier_one() -> None:
    assert found(block(days=35), [GENERAL, GENERAL, SPECIFIC, SPECIFIC, SPECIFIC]) == [
        (80, "loading"), (90, "loading"), (100, "loading"), (60, "easier"), (80, "loading"),
    ]  # fmt: skip


@pytest.mark.parametrize("level", ["novice", "developing"])
def test_others_two_loading_weeks_then_an_easier_one(level: str) -> None:
    who = athlete(level=level)
    assert [p for p, _ in found(block(days=28), [SPECIFIC] * 4, who)] == [90, 100, 60, 90]


def test_pre_competition_goes_on_from_where_the_loading_stands() -> None:
    # one loading week behind: the second of the shorter pattern, then the easier one
    assert [p for p, _ in found(block(days=28), [SPECIFIC, PRE, PRE, PRE])] == [80, 100, 60, 90]


def test_the_taper_follows_its_shape() -> None:
    made = block(days=21, competitions=(meet(saturday(3)),))
    assert found(made, [PRE, TAPER, TAPER]) == [(90, "loading"), (75, "taper"), (50, "taper")]
    # novices: one week at 60 %
    assert found(made, [PRE, PRE, TAPER], athlete(level="novice"))[-1] == (60, "taper")


def test_the_days_before_a_supporting_competition_are_eased() -> None:
    # four days before Saturday lie in its own week: 35 % off 100
    made = block(days=14, competitions=(meet(saturday(2), "supporting"),))
    assert found(made, [PRE, PRE]) == [(90, "loading"), (65, "easing")]
    # before a Tuesday three of four lie in the week before: 35 % off 90, down
    made = block(days=14, competitions=(meet(saturday(2) - timedelta(days=4), "supporting"),))
    assert found(made, [PRE, PRE]) == [(58, "easing"), (90, "loading")]


def test_an_easier_week_is_not_eased_again() -> None:
    made = block(days=21, competitions=(meet(saturday(3), "supporting"),))
    assert found(made, [PRE, PRE, PRE])[-1] == (60, "easier")


def test_between_competitions() -> None:
    made = block(days=21, competitions=(meet(saturday(2), "supporting"),))
    assert found(made, [COMPETITION] * 3) == [
        (75, "competition"), (55, "competition"), (75, "competition"),
    ]  # fmt: skip
    assert usual_share(COMPETITION, taper("long jump", "advanced")) == 75
    assert usual_share(TAPER, taper("long jump", "advanced")) == 50
    assert usual_share(SPECIFIC, taper("long jump", "advanced")) == 100


def test_an_exam_week_is_easier_and_stands_for_the_easier_week() -> None:
    exam = Away("Ada", at(MONDAY + timedelta(days=8)), at(MONDAY + timedelta(days=8), 23, 59), "exam")
    assert found(block(days=28, away=(exam,)), [SPECIFIC] * 4) == [
        (80, "loading"), (55, "easier"), (80, "loading"), (90, "loading"),
    ]  # fmt: skip


def test_a_camp_is_one_loading_stretch_with_an_easier_week_after_it() -> None:
    assert found(block(days=21, kind="camp"), [SPECIFIC] * 3) == [
        (100, "camp"), (100, "camp"), (65, "easier"),
    ]  # fmt: skip
    assert found(block(days=10, kind="camp"), [SPECIFIC, SPECIFIC]) == [(100, "camp"), (100, "camp")]


def test_a_share_the_coach_gave_wins() -> None:
    spans = (
        PhaseSpan("", SPECIFIC, MONDAY, MONDAY + timedelta(days=6), 120),
        PhaseSpan("", SPECIFIC, MONDAY + timedelta(days=7), MONDAY + timedelta(days=13), 60),
    )
    assert found(block(days=14, phases=spans), [SPECIFIC, SPECIFIC]) == [(120, "loading"), (60, "easier")]


def test_no_easier_week_just_before_a_taper() -> None:
    made = block(days=42, competitions=(meet(saturday(6)),))
    # 3 + 1 would put it in week 4, just before the taper: it comes a week earlier
    assert [p for p, _ in found(made, [SPECIFIC] * 4 + [TAPER] * 2)] == [80, 90, 60, 80, 75, 50]
    # 2 + 1 would leave one loading week in front of it: the taper unloads alone
    made = block(days=35, competitions=(meet(saturday(5)),))
    kinds = [k for _, k in found(made, [PRE] * 3 + [TAPER] * 2)]
    assert kinds == ["loading", "loading", "loading", "taper", "taper"]


def exams(*weeks: int) -> tuple[Away, ...]:
    """A day of exams in each of these weeks, counted from 1."""
    days = [MONDAY + timedelta(weeks=w - 1, days=2) for w in weeks]
    return tuple(Away("Ada", at(d), at(d, 23, 59), "exam") for d in days)


def test_exams_next_week_stand_for_the_easier_week() -> None:
    made = block(days=35, away=exams(5))
    assert [p for p, _ in found(made, [SPECIFIC] * 5)] == [80, 90, 100, 100, 55]


def test_never_three_easier_weeks_in_five() -> None:
    # exams in weeks 3 and 4; two loading weeks later the pattern of a developing athlete would ask for the
    # third easier week in five
    made = block(days=56, away=exams(3, 4))
    kinds = [k for _, k in found(made, [SPECIFIC] * 8, athlete(level="developing"))]
    assert kinds == ["loading", "loading", "easier", "easier", "loading", "loading", "loading", "easier"]


def test_loading_weeks_before_the_block_count() -> None:
    who = athlete()
    made = block(days=14)
    shares = shares_for(made, who, weeks_of(made), [SPECIFIC] * 2, taper("long jump", "advanced"), loaded=3)
    assert [s.percent for s in shares] == [60, 80]
