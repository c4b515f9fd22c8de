"""The season at a glance, in the words a coach reads."""

from __future__ import annotations

from datetime import timedelta

from planner.domain.block import Away, PhaseSpan
from planner.season import Outline, make_problem, outline_of

from .worlds import MONDAY, at, athlete, block, meet


def outline(weeks: int, **more: object) -> Outline:
    return outline_of(make_problem(block(days=weeks * 7, **more)))  # type: ignore[arg-type]


def test_a_week_in_one_line() -> None:
    saturday = MONDAY + timedelta(days=33)
    exam = Away("Ada", at(MONDAY + timedelta(days=1)), at(MONDAY + timedelta(days=1), 23, 59), "exam")
    found = outline(5, competitions=(meet(saturday),), away=(exam,))
    words = [w.words for w in found.weeks["Ada"]]
    assert words == [
        "pre-competition: exams, easier week, 55 % of the peak week",
        "pre-competition: loading week, 90 % of the peak week",
        "pre-competition: loading week, 100 % of the peak week",
        "taper: 75 % of the peak week",
        "taper: 50 % of the peak week; main meet (main) Sat 3 Apr",
    ]
    assert found.stretches("Ada") == (
        ("pre-competition", 3, MONDAY, MONDAY + timedelta(days=20)),
        ("taper", 2, MONDAY + timedelta(days=21), MONDAY + timedelta(days=34)),
    )


def test_counts_are_those_the_plan_is_made_by() -> None:
    found = outline(1)
    (week,) = found.weeks["Ada"]
    (own,) = make_problem(block(days=7)).weeks["Ada"]
    assert week.counts == {f: c for f, c in own.counts.items() if c.target}
    assert (week.fast_days, week.training_days) == (own.fast_days, own.training_days)


def test_too_little_time_before_a_main_competition_is_said() -> None:
    # phases given: four general weeks, then three specific and two pre-competition; six are wanted
    spans = tuple(
        PhaseSpan("", phase, MONDAY + timedelta(weeks=a), MONDAY + timedelta(weeks=b, days=-1))
        for phase, a, b in (("general-preparation", 0, 4), ("specific-preparation", 4, 7),
                            ("pre-competition", 7, 9), ("taper", 9, 11))
    )  # fmt: skip
    saturday = MONDAY + timedelta(weeks=10, days=5)
    (remark,) = outline(11, competitions=(meet(saturday),), phases=spans).remarks
    assert remark.startswith("Ada: 5 weeks of specific preparation and pre-competition before main meet")
    assert "6 are wanted" in remark and "Maybe" in remark
    # four are enough below the advanced level
    who = athlete(level="developing")
    made = block(who, days=77, competitions=(meet(saturday),), phases=spans)
    assert outline_of(make_problem(made)).remarks == ()


def test_pre_competition_under_two_weeks_is_said() -> None:
    spans = tuple(
        PhaseSpan("", phase, MONDAY + timedelta(weeks=a), MONDAY + timedelta(weeks=b, days=-1))
        for phase, a, b in (("general-preparation", 0, 2), ("specific-preparation", 2, 9),
                            ("pre-competition", 9, 10), ("taper", 10, 12))
    )  # fmt: skip
    saturday = MONDAY + timedelta(weeks=11, days=5)
    (remark,) = outline(12, competitions=(meet(saturday),), phases=spans).remarks
    assert remark.startswith("Ada: 1 week of pre-competition") and "2 are wanted" in remark


def test_a_block_in_the_middle_of_a_season_is_not_judged() -> None:
    assert outline(5, competitions=(meet(MONDAY + timedelta(days=33)),)).remarks == ()
