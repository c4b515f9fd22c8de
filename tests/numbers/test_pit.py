"""At the pit: a start mark that moves for a reason, attempts, short run-ups, the other leg."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from numbers_made import MONDAY, WHO, placed, problem

from planner.domain.block import Limit, RunUp
from planner.numbers.attempts import (
    Attempt,
    PhaseMarks,
    cue_for,
    medians,
    next_target,
    own_shares,
    total_range,
    total_words,
    two_phases,
    verdict_words,
)
from planner.numbers.build import lines_for
from planner.numbers.errors import NoNumber
from planner.numbers.evidence import Jumped, own_pairs, short_evidence
from planner.numbers.run_up_card import run_up_card
from planner.numbers.run_up_work import Run, StillMark, move, read_session, slope_of
from planner.science.errors import OutOfReach

STILL = StillMark(4000, 20, 28.0, date(2027, 2, 1))  # 40 m: the wind shifts 10 cm for 1 m/s
ONE, TWO = date(2027, 3, 1), date(2027, 3, 4)


def session(day: date, *boards: int, wind: float = 0.0):  # type: ignore[no-untyped-def]
    return read_session(STILL, day, [Run(b, wind) for b in boards])


def test_wind_is_parted_from_the_rest() -> None:
    found = session(ONE, 30, 32, 28, wind=2.0)
    assert (found.median_cm, found.explained_cm, found.unexplained_cm, found.spread_cm) == (30, 20, 10, 4)
    assert session(ONE, 20, 20, 20, wind=2.0).shift_cm == 0  # the wind explains it all


def test_the_start_mark_used_counts() -> None:
    runs = [Run(0, 0.0, start_cm=4015)] * 3
    assert read_session(STILL, ONE, runs).unexplained_cm == 15


def test_a_mark_moves_only_when_a_second_session_agrees() -> None:
    one, two = session(ONE, 20, 22, 18), session(TWO, 26, 24, 28)
    assert move(STILL, [one]).shift_cm == 0
    moved = move(STILL, [two, one])
    assert (moved.shift_cm, moved.mark_cm, moved.shoes) == (23, 4023, Fraction(1))
    assert move(STILL, [one, session(TWO, 31, 31, 31)]).shift_cm == 0  # 11 cm apart
    assert move(STILL, [one, session(TWO, 30, 30, 30)]).shift_cm == 25  # 10 cm apart
    assert move(STILL, [one, session(ONE, 20, 20, 20)]).shift_cm == 0  # one day is one session
    assert move(STILL, [session(date(2027, 1, 30), 20, 20, 20), two]).shift_cm == 0  # before the mark was set


def test_a_wide_spread_never_moves_it() -> None:
    wide = session(TWO, 5, 22, 37)
    assert wide.wide and "rhythm" in wide.why
    assert move(STILL, [session(ONE, 20, 22, 18), wide]).shift_cm == 0
    assert not read_session(STILL, TWO, [Run(b, 0.0) for b in (5, 22, 37)], "novice").wide


def test_a_miss_of_more_than_half_a_step_is_no_reading() -> None:
    """40 m in 20 steps: a step of 2 m, half of it 100 cm."""
    all_off = session(ONE, 110, 120, 115)
    assert all_off.shift_cm == 0 and "count the steps" in all_off.why and "no shoe lengths" in all_off.why
    assert move(STILL, [all_off, session(TWO, 112, 118, 115)]).shift_cm == 0
    some = session(ONE, 20, 20, 20, 150)
    assert (some.missed, some.unexplained_cm) == (1, 20)


def test_less_than_a_quarter_of_a_shoe_is_left_alone() -> None:
    assert move(STILL, [session(ONE, 6, 6, 6), session(TWO, 6, 6, 6)]).shift_cm == 0


@pytest.mark.parametrize(
    "coach,board,shift,word",
    [(20, 22, 22, "long"), (2, 25, 0, "reaching"), (-3, -25, 0, "chopping"), (30, 2, 15, "steering"),
     (30, -30, 0, "disagree")],
)  # fmt: skip
def test_coachs_mark_and_board(coach: int, board: int, shift: int, word: str) -> None:
    """Diagnosis by both marks; common practice, no source."""
    found = read_session(STILL, ONE, [Run(board, 0.0, coach_cm=coach)] * 3)
    assert found.shift_cm == shift and word in found.why


@given(st.lists(st.integers(-90, 90), min_size=3, max_size=8), st.floats(-4, 4))
def test_explained_and_unexplained_come_to_the_median(boards: list[int], wind: float) -> None:
    found = read_session(StillMark(4000, 16, 28.0), ONE, [Run(b, wind) for b in boards])
    if not found.missed:
        assert found.explained_cm + found.unexplained_cm == pytest.approx(found.median_cm)


def test_own_slope_after_enough_runs() -> None:
    runs = [Run(round(14 * w), w) for w in (-2.0, -1.5, -1.0, -0.5, 0.5, 1.0, 1.5, 2.0)]
    found = slope_of(STILL, runs)
    assert found is not None and found.cm_per_mps == pytest.approx(14, abs=0.5)
    assert slope_of(STILL, runs[:7]) is None
    mine = StillMark(4000, 20, 28.0, slope=found)
    assert mine.today(2.0) == 4028 and STILL.today(2.0) == 4020


def test_bad_readings() -> None:
    with pytest.raises(NoNumber, match="no run"):
        read_session(STILL, ONE, [])
    with pytest.raises(NoNumber, match="needed the wind"):
        read_session(STILL, ONE, [Run(3, None)])
    for bad in (lambda: Run(3, 30.0), lambda: Run(900, 0.0), lambda: StillMark(33, 18, 28.0),
                lambda: StillMark(3300, 18, 42.0), lambda: Run(3, float("nan"))):  # fmt: skip
        with pytest.raises(OutOfReach):
            bad()


def test_card() -> None:
    world = problem()
    athlete = world.block.athletes[0]
    rows = (RunUp(WHO, "long jump", 18, 3320, 4, 535, 805, 262, leg="left", day=date(2027, 2, 1)),
            RunUp(WHO, "long jump", 8, 1240, leg="left"))  # fmt: skip
    card = run_up_card(athlete, rows, "long jump", 18, ONE)
    assert [r.wind_mps for r in card.table] == list(range(-4, 5)) and card.table[4].shift_cm == 0
    assert card.age == "28 days old" and not card.estimate and card.front == "left"
    assert [(s.steps, s.measured) for s in card.shorts if s.measured] == [(8, True)]
    assert run_up_card(athlete, (), "long jump", 18, ONE).estimate
    with pytest.raises(NoNumber, match="two start marks"):
        run_up_card(athlete, (rows[0], RunUp(WHO, "long jump", 18, 3350, shoe=262, leg="left", day=rows[0].day)),
                    "long jump", 18, ONE)  # fmt: skip


WHOLE = [Attempt(430, 370, 400), Attempt(440, 360, 410), Attempt(420, 380, 390)]
BAILED = Attempt(500, ended="bailed out in the step")


def test_bailed_attempts_are_kept_apart() -> None:
    assert medians([*WHOLE, BAILED]).hop == 430 and medians([*WHOLE, BAILED]).bailed == 1
    assert own_shares([*WHOLE, BAILED]) == own_shares(WHOLE)
    assert own_shares(WHOLE[:2]) is None
    shares = own_shares(WHOLE)
    assert shares is not None and sum(shares) == 100


def test_two_phases_give_a_range() -> None:
    """9.80 m come to about 14.0 m at a share of 30 % and 15.1 m at 35 %: common practice, no source."""
    shares = [Attempt(550, 430, 420), Attempt(540, 434, 525)]  # 30.0 % and 35.0 % of the jump
    found = total_range(980, shares)
    assert (round(found.low / 100, 1), round(found.high / 100, 1)) == (14.0, 15.1)
    with pytest.raises(OutOfReach, match="two or more"):
        total_range(980, [*shares[:1], BAILED])


def test_the_next_target() -> None:
    marks = PhaseMarks.of(1200, (35, 30, 35))
    good, short = Attempt(420, 360, 420), Attempt(380, 340, 380)
    assert marks.verdicts(good) == ("hit", "hit") and marks.verdicts(short) == ("short", "short")
    assert marks.verdicts(Attempt(480, 300, 400)) == ("over", "hit")
    assert next_target(marks, [good, good, short, good]).total == 1220
    assert next_target(marks, [good, good, short, short, good]).total == 0  # the fifth does not count
    assert next_target(marks, [good, good, good, good, BAILED]).total == 0


def test_two_bailed_put_the_cue_on_the_next_page() -> None:
    assert not cue_for([*WHOLE, BAILED]).on_next_page
    found = cue_for([BAILED, BAILED, *WHOLE], given_after=2)
    assert found.on_next_page and found.before is not None and found.after is not None
    assert found.before.hop is None and found.after.hop == 430


def test_bad_attempts() -> None:
    with pytest.raises(NoNumber, match="later phase"):
        Attempt(400, 300, 300, ended="bailed out in the step")
    with pytest.raises(OutOfReach, match="come to"):
        Attempt(400, 300, 300, gap=5, measured=1050)
    with pytest.raises(NoNumber, match="attempt 9"):
        cue_for(WHOLE, given_after=9)


def jumped(day: int, cm: int, steps: int = 0) -> Jumped:
    return Jumped(MONDAY + timedelta(day), cm, steps, "left")


def test_short_run_ups_need_three_own_pairs() -> None:
    shorts = [jumped(0, 500, 8), jumped(30, 505, 8), jumped(60, 510, 8)]
    fulls = [jumped(5, 590), jumped(28, 600), jumped(60 + 21, 600)]
    pairs = own_pairs(shorts, fulls)
    assert len(pairs) == 3
    found = short_evidence("long jump", 8, 515, pairs)
    assert found.words == "suggests 6.06-6.12 m (3 pairs)"
    fewer = own_pairs(shorts, [*fulls[:2], jumped(60 + 22, 600)])  # 22 days apart
    assert short_evidence("long jump", 8, 515, fewer).high == 0
    with pytest.raises(NoNumber, match="different steps"):
        own_pairs([*shorts, jumped(1, 500, 6)], fulls)


def test_a_ten_step_jump_at_92_percent_stands_above_the_band() -> None:
    """The best may be due, and no figure is given: common practice, no source."""
    found = short_evidence("long jump", 10, 552, (), best_full_cm=600)
    assert "the best may be due" in found.words and (found.low, found.high) == (0, 0)


def test_a_trial_of_the_other_leg() -> None:
    """A new first estimate for the leg that is tried; what is measured for the other leg is left alone."""
    marks = (RunUp(WHO, "long jump", 4, 590), RunUp(WHO, "long jump", 18, 3310))
    world = problem(level="advanced", run_ups=marks)
    lines = lines_for(placed("trial-long-jumps", 5, measure="jumps"), world)
    assert (lines.steps, lines.amount) == (4, "5 jumps from 4 steps, right leg")
    assert "5.90" not in lines.target and "right foot in front" in lines.target and "first estimate" in lines.doubt
    own = problem(level="advanced", run_ups=(*marks, RunUp(WHO, "long jump", 4, 545, leg="right")))
    assert "start mark 5.45 m" in lines_for(placed("trial-long-jumps", 5, measure="jumps"), own).target
    short = problem(limits=(Limit(WHO, "knee", "left", 4, run_up_steps=2),))
    assert lines_for(placed("trial-long-jumps", 3, measure="jumps"), short).steps == 2


def test_each_attempt_is_hit_short_or_over() -> None:
    """A target of 14.00 m at 35/30/35: marks at 4.90 and 9.10 m, 28 cm either way (2 points, common practice)."""
    marks = PhaseMarks.of(1400, (35, 30, 35))
    tried = [
        Attempt(490, 420, 490), Attempt(461, 420, 480), Attempt(519, 420),
        Attempt(500, ended="planned stop"), Attempt(400, ended="bailed out in the step"),
    ]  # fmt: skip
    assert verdict_words(marks, tried) == "hop 2 hit, 1 short, 1 over; step 1 hit, 1 short, 1 over"
    assert verdict_words(marks, [Attempt(None, None, None)]) == ""


def test_two_phases_give_a_total_only_as_a_range_from_own_shares() -> None:
    """Two phases of 9.80 m come to about 14.0 m at a share of 30 %, 15.1 m at 35 % (common practice)."""
    whole = [Attempt(490, 490, 420), Attempt(455, 455, 490), Attempt(490, 455, 455)]  # 30, 35 and 32.5 %
    alone = Attempt(500, 480, None, "planned stop")
    assert two_phases([*whole, alone, Attempt(520, 480, None, "bailed out in the jump")]) == 980
    assert total_words(980, whole).startswith("hop and step 9.80 m come to 14.00-15.08 m by own shares of 3")
    assert total_words(980, whole[:2]) == ""
