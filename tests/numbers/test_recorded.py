"""From what the ledger holds to run-up work and attempts; and what may be recorded at all."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from numbers_made import WHO, problem

from planner.cli.facts import BadWords, fact_from, told
from planner.cli.pit_words import attempt, run_through
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.block import RunUp
from planner.domain.facts import Fact, OtherLeg, Result, RunUpReadings, StartMark
from planner.domain.finding import Line
from planner.domain.own_shoes import in_own_shoe, own_shoes
from planner.domain.shoe import Shoe
from planner.ledger import Ledger
from planner.numbers.answer_load import block_load
from planner.numbers.jumps import full_in_shoe, start_words
from planner.numbers.recorded import (
    attempts_of,
    jumped,
    mark_history,
    run_ups_in_force,
    shares_of,
    short_says,
)
from planner.numbers.run_up_card import run_up_card
from planner.review.pit_check import pit_complaints
from planner.season.differences import differences
from planner.season.facts import apply_facts

NOW = datetime(2027, 3, 20, 12, tzinfo=UTC)
SET = date(2027, 3, 1)
MADE = problem()
PERSON = MADE.block.athlete(WHO)
LEG = PERSON.take_off_leg
OTHER = "left" if LEG == "right" else "right"
ROW = RunUp(WHO, "long jump", 16, 3200, coach_mark=800, shoe=280, day=SET)


def runs(day: int, *boards: int, wind: int | None = 0, **more: object) -> RunUpReadings:
    made = tuple(RunThrough(b, wind) for b in boards)
    return RunUpReadings(
        recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=day), event="long jump", runs=made, **more
    )  # type: ignore[arg-type]


def history(*facts: Fact, row: RunUp = ROW):  # type: ignore[no-untyped-def]
    block = replace(MADE.block, run_ups=(row,))
    return mark_history(apply_facts(block, facts, NOW), facts, PERSON, "long jump", 16)


def test_two_sessions_move_the_still_wind_mark_by_what_the_wind_does_not_explain() -> None:
    """32 m: the wind shifts 8 cm for 1 m/s. 20 and 26 cm past the board in +1.0: 12 and 18 are not the wind's."""
    one, two = runs(3, 20, 20, 20, wind=10), runs(6, 26, 26, 26, wind=10)
    assert [m.mark_cm for m in history(one).marks] == [3200]
    assert history(one).next.why.endswith("a second session has to agree first")
    found = history(one, two)
    assert [(m.mark_cm, m.day) for m in found.marks] == [(3200, SET), (3215, SET + timedelta(days=6))]
    assert [s.unexplained_cm for s in found.sessions] == [12, 18]
    apart = history(one, runs(6, 31, 31, 31, wind=10))  # 12 and 23: more than 10 cm apart
    assert [m.mark_cm for m in apart.marks] == [3200] and "not within 10 cm" in apart.next.why


def test_a_session_after_the_move_is_read_from_the_new_mark() -> None:
    found = history(runs(3, 20, 20, 20), runs(6, 20, 20, 20), runs(9, 0, 0, 0), runs(12, 0, 0, 0))
    assert [m.mark_cm for m in found.marks] == [3200, 3220]
    assert found.next.shift_cm == 0


def test_jumps_with_a_gap_are_readings_too_and_wind_must_be_known() -> None:
    """A toe 12 cm behind the edge is 12 cm short; a session without its wind says nothing."""
    jumps = tuple(Attempt("mark", 600, wind=0, gap=12, start_mark=3190, coach_mark=-3) for _ in range(3))
    told = Result(recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=2), event="long jump", attempts=jumps)
    found = history(told)
    assert [s.unexplained_cm for s in found.sessions] == [-22]
    assert found.sessions[0].coach_cm == pytest.approx(-13)
    assert history(runs(3, 20, 20, 20, wind=None)).sessions == ()


def test_a_mark_set_by_a_person_begins_anew() -> None:
    told = StartMark(recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=8), event="long jump", steps=16,
                     start_mark=3300, coach_mark=810, shoe=280)  # fmt: skip
    found = history(runs(3, 20, 20, 20), runs(6, 20, 20, 20), told, runs(9, 15, 15, 15))
    assert [m.mark_cm for m in found.marks] == [3200, 3220, 3300]
    assert [s.unexplained_cm for s in found.sessions] == [20, 20, 15]
    assert found.next.shift_cm == 0  # what was read before it was set agrees with nothing


def test_runs_in_another_shoe_say_nothing_about_the_mark() -> None:
    """A start mark stands for one shoe (common practice, no source: flats stand 20-50 cm apart)."""
    there = history(runs(2, 30, 31, 32, shoe=280), runs(5, 30, 31, 32))
    assert there.next is not None and there.marks[-1].mark_cm == 3231 and len(there.sessions) == 2
    other = history(runs(2, 30, 31, 32, shoe=301), runs(5, 30, 31, 32, shoe=301))
    assert other.sessions == () and other.marks[-1].mark_cm == 3200


SPIKES, FLATS = Shoe("spikes", 280), Shoe("flats", 280)  # of one length: the name tells them apart
IN_SPIKES = replace(ROW, shoe_name="spikes")
IN_FLATS = RunUp(WHO, "long jump", 16, 3160, shoe=280, shoe_name="flats", day=SET)


def in_shoe(shoe: Shoe, *facts: Fact, rows: tuple[RunUp, ...] = (IN_SPIKES, IN_FLATS)):  # type: ignore[no-untyped-def]
    block = apply_facts(replace(MADE.block, run_ups=rows), facts, NOW)
    return mark_history(block, facts, PERSON, "long jump", 16, LEG, shoe=shoe)


def test_two_shoes_have_a_mark_each_that_only_their_own_sessions_move() -> None:
    """Still air: 20 cm past the board in flats, twice, is 20 cm back: 31.60 becomes 31.80 m, spikes stay at 32.00.

    One session in each shoe agrees with nothing, whatever both say.
    """
    flats = (runs(3, 20, 20, 20, shoe_name="flats"), runs(6, 20, 20, 20, shoe_name="flats"))
    assert [m.mark_cm for m in in_shoe(FLATS, *flats).marks] == [3160, 3180]
    spikes = in_shoe(SPIKES, *flats)
    assert [m.mark_cm for m in spikes.marks] == [3200] and spikes.sessions == () and spikes.runs == ()
    mixed = (flats[0], runs(6, 20, 20, 20, shoe_name="spikes"))
    for shoe, mark in ((SPIKES, 3200), (FLATS, 3160)):
        found = in_shoe(shoe, *mixed)
        assert [m.mark_cm for m in found.marks] == [mark] and len(found.sessions) == 1
        assert found.next.why.endswith("a second session has to agree first")


def test_a_mark_set_by_a_person_is_of_its_shoe_and_moves_no_other() -> None:
    told = StartMark(recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=2), event="long jump", steps=16,
                     start_mark=3190, shoe_name="flats")  # fmt: skip
    assert [m.mark_cm for m in in_shoe(FLATS, told).marks] == [3160, 3190]
    assert [m.mark_cm for m in in_shoe(SPIKES, told).marks] == [3200]
    block = apply_facts(replace(MADE.block, run_ups=(IN_SPIKES, IN_FLATS)), (told,), NOW)
    assert block.run_ups[-1].worn == FLATS, "the length is the shoe's"


def test_the_marks_in_force_are_one_for_each_shoe() -> None:
    """32.00 m in spikes stay; 31.60 m in flats go back 20 cm, by two sessions."""
    facts = (runs(3, 20, 20, 20, shoe_name="flats"), runs(6, 20, 20, 20, shoe_name="flats"))
    block = replace(MADE.block, run_ups=(IN_SPIKES, IN_FLATS))
    rows = run_ups_in_force(block, facts)
    assert [(r.worn.name, r.start_mark) for r in rows] == [("spikes", 3200), ("flats", 3160), ("flats", 3180)]
    for shoe, mark in ((SPIKES, 3200), (FLATS, 3180)):
        card = run_up_card(PERSON, rows, "long jump", 16, date(2027, 3, 20), shoe=shoe)
        assert (card.still.mark_cm, card.shoe) == (mark, shoe)


def test_the_full_run_up_in_flats_is_the_longest_set_in_them_unless_that_is_a_short_one() -> None:
    """Readings without a number of steps: in flats of 14 steps they are those 14, in flats of 8 nobody's mark."""
    of_14, of_8 = replace(IN_FLATS, steps=14, start_mark=2800), replace(IN_FLATS, steps=8, start_mark=1300)
    told = (runs(3, 9, 9, 9, shoe_name="flats"),)
    for row, sessions in ((of_14, 1), (of_8, 0)):
        rows = (IN_SPIKES, row)
        block = replace(MADE.block, run_ups=rows)
        found = mark_history(block, told, PERSON, "long jump", row.steps, LEG, shoe=FLATS)
        assert len(found.sessions) == sessions
    assert full_in_shoe((IN_SPIKES, of_8), "long jump", LEG, FLATS) == 16


def test_what_was_recorded_without_a_shoe_counts_for_the_first_and_check_says_so() -> None:
    """A ledger from before shoes were named: one row then, a second shoe in the file since."""
    told = replace(runs(3, 20, 20, 20), id=7)
    assert len(in_shoe(SPIKES, told).sessions) == 1 and in_shoe(FLATS, told).sessions == ()
    block = replace(MADE.block, run_ups=(IN_SPIKES, IN_FLATS))
    (said,) = differences(block, (told,))
    assert "counts for spikes 28.0 cm, the first. Maybe undo fact 7" in said and "shoe='flats'" in said
    assert differences(replace(block, run_ups=(IN_SPIKES,)), (told,)) == []


def test_a_card_lists_short_run_ups_of_its_shoe_first_and_names_another_one() -> None:
    rows = (
        IN_SPIKES, IN_FLATS,
        RunUp(WHO, "long jump", 8, 1290, shoe=280, shoe_name="spikes", day=SET),
        RunUp(WHO, "long jump", 8, 1270, shoe=280, shoe_name="flats", day=date(2027, 3, 9)),
        RunUp(WHO, "long jump", 10, 1700, shoe=280, shoe_name="flats", day=SET),
    )  # fmt: skip
    card = run_up_card(PERSON, rows, "long jump", 16, date(2027, 3, 20), shoe=SPIKES)
    short = {s.steps: (s.mark_cm, s.shoe) for s in card.shorts if s.measured}
    assert short == {8: (1290, ""), 10: (1700, "flats")}


def test_a_line_to_train_by_gives_the_mark_of_the_shoe_the_unit_asks_for() -> None:
    rows = (IN_SPIKES, IN_FLATS)
    one = start_words(rows[:1], PERSON, "long jump", 16, 2027)[0]
    assert one.startswith("still-wind start mark 32.00 m, coach"), "the only shoe needs no name"
    for shoes, said in (("jumping spikes", ["32.00 m in spikes"]), ("flats", ["31.60 m in flats"]),
                        ("throwing shoes", ["32.00 m in spikes", "31.60 m in flats"])):  # fmt: skip
        found = start_words(rows, PERSON, "long jump", 16, 2027, shoes)[0]
        assert [part for part in ("32.00 m in spikes", "31.60 m in flats") if part in found] == said


def test_runs_of_the_other_leg_and_of_other_steps_are_other_run_ups() -> None:
    assert history(runs(3, 20, 20, 20, leg=OTHER)).sessions == ()
    assert history(runs(3, 20, 20, 20, steps=8)).sessions == ()
    changed = OtherLeg(recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=5), leg=OTHER, changed=True,
                       entered_by="Coach")  # fmt: skip
    facts = (runs(3, 20, 20, 20), changed, runs(6, 30, 30, 30))
    block = apply_facts(replace(MADE.block, run_ups=(ROW,)), facts, NOW)
    person = block.athlete(WHO)
    assert person.take_off_leg == OTHER
    old = mark_history(block, facts, person, "long jump", 16, LEG)
    assert [s.day for s in old.sessions] == [SET + timedelta(days=3)]
    assert mark_history(block, facts, person, "long jump", 16).marks == ()  # the old card stays the old leg's


def test_the_card_shows_what_was_recorded() -> None:
    facts = (runs(3, 20, 20, 20), runs(6, 20, 20, 20))
    block = replace(MADE.block, run_ups=(ROW,))
    found = history(*facts)
    card = run_up_card(PERSON, block.run_ups, "long jump", 16, date(2027, 3, 20), found.logged)
    assert card.still.mark_cm == 3220 and card.age == "13 days old" and len(card.last) == 2
    eight = history(*(runs(i, 10 * i, wind=10 * i) for i in range(1, 10)))
    assert eight.marks[-1].slope is not None and eight.marks[-1].slope.cm_per_mps == pytest.approx(10)


TRIPLE = tuple(
    Attempt("mark", 1300 + 10 * i, wind=4, gap=10, hop=462 + 3 * i, step=390 + 3 * i, jump=458 + 4 * i)
    for i in range(3)
)
BAILED = Attempt("not measured", hop=520, ended="bailed out in the step")


def triple(*attempts: Attempt, **more: object) -> Result:
    return Result(
        recorded_at=NOW, athlete=WHO, day=SET, event="triple jump", attempts=attempts, **more
    )  # type: ignore[arg-type]


def test_bailed_attempts_change_no_shares_and_no_marks() -> None:
    whole = triple(*TRIPLE, Attempt("pass"), BAILED)
    assert [a.bailed for a in attempts_of(whole)] == [False, False, False, True]
    with_, without = shares_of([whole], [WHO]), shares_of([triple(*TRIPLE)], [WHO])
    assert with_ == without and sum(with_[WHO]) == pytest.approx(100, abs=0.11)
    assert shares_of([triple(*TRIPLE[:2], BAILED)], [WHO]) == {}
    after = apply_facts(MADE.block, [triple(BAILED)], NOW)
    assert after.marks == MADE.block.marks


def test_a_short_jump_is_a_mark_of_its_own_and_one_of_the_other_leg_is_none() -> None:
    jump = Attempt("mark", 520, wind=3, gap=6)
    short = Result(recorded_at=NOW, athlete=WHO, day=SET, event="long jump", attempts=(jump,), steps=8)
    (mark,) = apply_facts(MADE.block, [short], NOW).marks[len(MADE.block.marks):]
    assert (mark.event, mark.value, mark.wind, mark.day) == ("long jump 8 steps", 520, 3, SET)
    trial = replace(short, leg=OTHER)
    assert apply_facts(MADE.block, [trial], NOW).marks == MADE.block.marks
    shorts, fulls = jumped([short, trial], PERSON, "long jump", LEG)
    assert [(j.cm, j.steps) for j in shorts] == [(526, 8)] and fulls == ()


def long_jump(day: int, cm: int, steps: int = 0, gap: int | None = 10, **more: object) -> Result:
    jump = Attempt("mark", cm - (gap or 0), gap=gap)
    return Result(
        recorded_at=NOW, athlete=WHO, day=SET + timedelta(days=day), event="long jump", attempts=(jump,),
        steps=steps, **more,
    )  # type: ignore[arg-type]  # fmt: skip


def test_three_own_pairs_within_three_weeks_suggest_a_range_and_fewer_give_no_figure() -> None:
    """Effective distances only; no conversion is published, three pairs within 21 days are common practice."""
    pairs = [(0, 500, 590), (30, 510, 612), (60, 505, 601)]
    facts = [f for day, short, full in pairs for f in (long_jump(day, short, 8), long_jump(day + 2, full))]
    said = short_says(MADE.block, [*facts, long_jump(120, 520, 8)], PERSON, "long jump", LEG)
    low, high = round(520 * 590 / 500), round(520 * 612 / 510)
    assert set(said) == {8} and said[8].startswith("5.20 m toe to landing on 29 Jun")
    assert f"suggests {low / 100:.2f}-{high / 100:.2f} m (3 pairs)" in said[8]
    late = [*facts[:-1], long_jump(60 + 22, 601), long_jump(120, 520, 8)]  # the last pair is 22 days apart
    unmeasured = [*facts[:-1], long_jump(62, 601, gap=None), long_jump(120, 520, 8)]
    other = [*facts[:-1], replace(facts[-1], leg=OTHER), long_jump(120, 520, 8)]
    for fewer in (late, unmeasured, other):
        words = short_says(MADE.block, fewer, PERSON, "long jump", LEG)[8]
        assert "suggests" not in words and "no figure: 2 own pairs" in words
    assert apply_facts(MADE.block, facts, NOW).marks[-1].value == 591, "what is suggested is never a mark"


def test_a_ten_step_jump_above_the_usual_band_means_the_best_may_be_due() -> None:
    """Ten steps, 92 % of the best: the usual band ends at 91 % (common practice); no figure is given."""
    facts = [long_jump(0, 600), long_jump(2, 552, 10)]
    assert short_says(MADE.block, facts, PERSON, "long jump", LEG)[10].endswith("the best may be due")


def test_the_ledger_gives_back_what_was_typed_at_the_pit(tmp_path: Path) -> None:
    typed = fact_from("result", [
        f"athlete={WHO}", "day=2027-03-01", "event=triple jump", "target=13.40 m", "cue=quick hop", "cue_after=1",
        "attempts=13.22 m +0.4 hop=5.02 step=3.96 jump=4.30 gap=6 start=33.20 coach=-3 clip=12;"
        "bailed-step hop=5.05 wind=-0.2;planned-stop hop=4.90 step=3.90;foul gap=-3;pass",
    ], NOW)  # fmt: skip
    assert isinstance(typed, Result)
    assert typed.attempts[0] == Attempt("mark", 1322, "cm", 4, 6, 3320, -3, 502, 396, 430, "completed", "12")
    assert typed.attempts[1] == Attempt("not measured", wind=-2, hop=505, ended="bailed out in the step")
    assert [a.ended for a in typed.attempts[2:]] == ["planned stop", "completed", "completed"]
    ran = fact_from("run-up-readings", [
        f"athlete={WHO}", "day=2027-03-01", "event=long jump", "runs=+12 wind=0.8 start=33.20 coach=6;-3 wind=0",
    ], NOW)  # fmt: skip
    assert isinstance(ran, RunUpReadings) and ran.runs == (RunThrough(12, 8, 3320, 6), RunThrough(-3, 0))
    with Ledger.open(tmp_path / "spring.yaml", create=True) as ledger:
        ledger.record_facts((typed, ran))
        assert ledger.facts() == (replace(typed, id=1), replace(ran, id=2))


@pytest.mark.parametrize("text", ["33.20 m", "3320 cm", "33.20", "33.20m", "3320cm", "33,20"])
def test_a_length_is_typed_in_metres_or_with_its_unit(text: str) -> None:
    words = [f"athlete={WHO}", "day=2027-03-01", "event=long jump", "steps=16", f"start_mark={text}"]
    made = fact_from("start-mark", words, NOW)
    assert isinstance(made, StartMark) and made.start_mark == 3320
    assert "start mark 33.20 m" in told(made)


@pytest.mark.parametrize(("text", "needed"), [
    ("3320", "3320 metres cannot be; '3320 cm' if centimetres are meant"), ("33.205 m", "to hundredths"),
    ("33 feet", "a length with its unit"), ("far", "a length as a number"),
])  # fmt: skip
def test_a_bare_number_that_cannot_be_metres_is_refused(text: str, needed: str) -> None:
    words = [f"athlete={WHO}", "day=2027-03-01", "event=long jump", "steps=16", f"start_mark={text}"]
    with pytest.raises(BadWords, match="start_mark: found") as error:
        fact_from("start-mark", words, NOW)
    assert needed in str(error.value)
    if text == "3320":
        with pytest.raises(ValueError, match="metres cannot be"):
            attempt("5.31 m start=3320")
    assert attempt("5.31 m start=33.20").start_mark == attempt("5.31 m start=3320cm").start_mark == 3320


def test_a_unit_said_once_stands_for_all_attempts() -> None:
    def typed(text: str) -> tuple[Attempt, ...]:
        words = (f"athlete={WHO}", "day=2027-03-01", "event=long jump", f"attempts={text}")
        made = fact_from("result", [*words], NOW)
        assert isinstance(made, Result)
        return made.attempts

    whole = (Attempt("mark", 531, wind=8), Attempt("foul"), Attempt("mark", 539, wind=11))
    assert typed("5.31 m +0.8; foul; 5.39 +1.1") == typed("5.31 +0.8; foul; 5.39m +1.1") == whole
    for text in ("5.31 +0.8; foul", "5.31 m; 11.20 s; 5.39"):
        with pytest.raises(BadWords, match="with their unit"):
            typed(text)


@pytest.mark.parametrize(("text", "needed"), [
    ("13.22", "with their unit"), ("13.22 m hip=5", "hop=..."), ("13.225 m", "to hundredths"),
    ("13.22 m wind=fast", "wind as a number"), ("nan m", "metres or seconds to hundredths"),
])  # fmt: skip
def test_what_cannot_be_read_at_the_pit_says_what_is_needed(text: str, needed: str) -> None:
    with pytest.raises(ValueError, match=needed.replace("...", r"\.\.\.")):
        attempt(text)
    with pytest.raises(BadWords, match="attempts: found"):
        fact_from("result", [f"athlete={WHO}", "day=2027-03-01", "event=triple jump", f"attempts={text}"], NOW)


def test_a_run_needs_its_reading() -> None:
    with pytest.raises(ValueError, match="at the board as a number"):
        run_through("wind=1")
    with pytest.raises(ValueError, match="'gap=4' to be one of wind"):
        run_through("3 gap=4")


GOOD = triple(*TRIPLE, BAILED, Attempt("foul", gap=-4), target=1340, cue="quick hop", cue_after=2)
BAD: tuple[tuple[Fact, str], ...] = (
    (triple(replace(TRIPLE[0], hop=300)), "come to 1148 cm"),
    (triple(replace(BAILED, jump=380)), "bailed out in the step, with a jump measured"),
    (triple(replace(BAILED, outcome="mark", value=900)), "with a whole distance"),
    (triple(replace(TRIPLE[0], wind=240)), "wind 24; needed wind in m/s from -6 to 6. Maybe 2.4 is meant, or it"),
    (triple(Attempt("mark", 1322, "hundredths")), "a length, as the triple jump is measured"),
    (triple(TRIPLE[0], cue_after=0), "no cue"),
    (triple(TRIPLE[0], target=13), "a jump in centimetres from 300"),
    (replace(triple(TRIPLE[0]), event="long jump"), "phases of the triple jump only"),
    (replace(triple(TRIPLE[0]), event="60 m", attempts=(Attempt("mark", 712),)), "a time, as the 60 m is"),
    (runs(1), "no run"),
    (runs(1, 400), "run 1: 400; needed a reading at the board"),
    (runs(1, 4, wind=80), "run 1: wind 8; needed wind in m/s from -6 to 6. Maybe 0.8 is meant"),
    (runs(1, 4, steps=1), "the steps of a run-up from 2 to 24. Maybe one foot was counted"),
    (StartMark(recorded_at=NOW, athlete=WHO, day=SET, event="long jump", steps=16, start_mark=32), "a start mark"),
    (
        StartMark(recorded_at=NOW, athlete=WHO, day=SET, event="long jump", steps=16, start_mark=3250),
        "one start mark for one run-up. Maybe undo fact 4 first",
    ),
)  # fmt: skip
KNOWN = (StartMark(recorded_at=NOW, athlete=WHO, day=SET, event="long jump", steps=16, start_mark=3200, id=4),)


@pytest.mark.parametrize(("fact", "said"), BAD, ids=[s[:30] for _, s in BAD])
def test_what_cannot_be_true_is_not_recorded(fact: Fact, said: str) -> None:
    found = [str(c) for c in pit_complaints(fact, Line("log"), KNOWN)]  # type: ignore[arg-type]
    assert any(said in one for one in found), found


def test_what_can_be_true_is_not_complained_of() -> None:
    assert pit_complaints(GOOD, Line("log"), KNOWN) == []
    assert pit_complaints(runs(1, 4, -12), Line("log"), KNOWN) == []


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({}, "found no shoe where Ada has 2; needed one of them: spikes 28.0 cm, flats 28.0 cm. "
             "Maybe shoe='spikes'"),
        ({"shoe": 280}, "found '28.0 cm' where Ada has 2"),
        ({"shoe_name": "spkies"}, "found 'spkies'; needed one of Ada's shoes (spikes 28.0 cm, flats 28.0 cm), "
                                  "or a new one with its length. Maybe 'spikes' is meant"),
        ({"shoe_name": "flats", "shoe": 270}, "found 'flats 27.0 cm' beside 'flats 28.0 cm'; needed one length"),
    ],
)  # fmt: skip
def test_which_shoe_is_asked_for_where_it_is_not_clear(more: dict[str, object], said: str) -> None:
    rows = (IN_SPIKES, IN_FLATS)
    (found,) = (str(c) for c in pit_complaints(runs(1, 4, **more), Line("log"), (), rows))
    assert said.replace("Ada", WHO) in found
    marked = StartMark(recorded_at=NOW, athlete=WHO, day=SET, event="long jump", steps=16, start_mark=3200, **more)  # type: ignore[arg-type]
    assert len(pit_complaints(marked, Line("log"), (), rows)) == 1


def test_a_clear_shoe_is_filled_in_and_a_new_one_is_a_shoe_of_its_own() -> None:
    rows = (IN_SPIKES, IN_FLATS)
    for read, shoe in (
        (runs(1, 4, shoe_name="FLATS"), FLATS),
        (runs(1, 4, shoe_name="boots", shoe=301), Shoe("boots", 301)),
    ):
        assert pit_complaints(read, Line("log"), (), rows) == []
        assert in_own_shoe(read, own_shoes(WHO, rows)).worn == shoe
    assert in_own_shoe(runs(1, 4), own_shoes(WHO, rows[:1])).worn == SPIKES, "the only one"
    assert in_own_shoe(runs(1, 4), own_shoes(WHO, ())).worn == Shoe(), "nobody named one"
    ran = (Attempt("mark", 1180, "hundredths"),)
    sprint = Result(recorded_at=NOW, athlete=WHO, day=SET, event="100 m", attempts=ran)
    assert pit_complaints(sprint, Line("log"), (), rows) == []
    assert in_own_shoe(sprint, (SPIKES,)) == sprint, "nothing is read of a start mark"


def test_a_whole_block_has_a_row_a_week() -> None:
    """Two weeks by hand: 1400 and 700; the days of the second are alike, so their spread is nothing."""
    found = block_load([("week 1", (400, 0, 300, 0, 500, 200, 0)), ("week 2", (100,) * 7)], "Planned load")
    rows = dict(found.rows)
    assert rows["week 1"].startswith("1400; mean / spread of the days ") and rows["week 2"] == "700"
    assert rows["whole block"] == "2100 (effort x minutes)" and "fading mean, 7 days" in rows
