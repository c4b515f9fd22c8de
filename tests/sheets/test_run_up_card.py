"""The run-up card, read back: marks, wind, ages, phases as targets, and what it says when it knows little."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from planner.domain.attempt import Attempt as Jump
from planner.domain.attempt import RunThrough
from planner.domain.block import Mark, RunUp, Weather
from planner.domain.facts import Result, RunUpReadings
from planner.domain.problem import Problem
from planner.domain.shoe import NO_SHOE, Shoe
from planner.numbers.attempts import Attempt
from planner.numbers.run_up_card import Logged
from planner.numbers.run_up_work import Run, StillMark, read_session
from planner.sheets import Beside, PrintReport, Recorded, print_sheets, recorded_from
from planner.sheets.build_athlete import revision_view
from planner.sheets.build_run_up import move_words, run_up_view, shoes
from tests.sheets import world
from tests.sheets.test_print import A4, LETTER, PT_PER_MM, pdf, text_of

TODAY = date(2027, 4, 5)
SET = date(2027, 3, 24)
RUN_UPS = (
    RunUp(world.S, "long jump", 18, 3320, 4, 535, 805, 262, day=SET),
    RunUp(world.S, "long jump", 8, 1290, day=date(2027, 3, 1)),
    RunUp(world.J, "triple jump", 14, 2710, board=1100),
)
MARKS = (Mark(world.J, "triple jump", 1462, "cm"), Mark(world.J, "triple jump 8 steps", 1280, "cm"))
STILL = StillMark(3320, 18, 26.2, SET, 805)


def given(**more: Any) -> Problem:
    return world.problem(replace(world.block(), run_ups=RUN_UPS, marks=MARKS, **more))


def printed(folder: Path, *names: str, problem: Problem | None = None, paper: str = "A4",
            recorded: Recorded | None = None) -> PrintReport:  # fmt: skip
    beside = Beside(TODAY, recorded=recorded or Recorded())
    return print_sheets(
        world.outcome(), problem or given(), world.REVISION, folder, paper=paper, names=names, beside=beside
    )


def page(name: str, problem: Problem | None = None, recorded: Recorded | None = None) -> Any:
    made = problem or given()
    view = run_up_view(
        made.block.athlete(name), made, revision_view(world.REVISION, True), TODAY, recorded or Recorded()
    )
    assert view is not None
    return view.pages[0]


@pytest.mark.needs_pdf
@pytest.mark.parametrize(("paper", "size"), [("A4", A4), ("Letter", LETTER)])
def test_a_card_is_one_sheet_that_folds_and_says_where_to_start(
    tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    report = printed(tmp_path, "run-up", world.S, paper=paper)
    assert report.complete and not report.warnings, report
    assert [p.name for p in report.written] == [f"run-up-signe-brattlien-{paper}.{e}" for e in ("pdf", "html")]
    reader = pdf(report)
    assert len(reader.pages) == 1
    box = reader.pages[0].mediabox
    assert (float(box.width) / PT_PER_MM, float(box.height) / PT_PER_MM) == pytest.approx(size, abs=0.2)
    text = text_of(reader)
    for needed in (
        "Signe Brattlien", "Long jump, 18 steps", "33.20 m", "set Wed 24 Mar 2027, 12 days ago", "8.05", "27.85",
        "step 4, 5.35 from the start", "back 33 cm", "1½ shoes", "forward 8 cm", "32.87", "8 cm for 1 m/s, 0.25 %",
        "12.90", "35 days old", "count the steps", "Shoe 26.2 cm.", "Stop on pain", "Revision 3",
    ):  # fmt: skip
        assert needed in text, needed
    assert "nan" not in text.lower().replace("nano", "")


def test_the_whole_set_holds_a_card_for_each_athlete_with_a_run_up_and_no_other(tmp_path: Path) -> None:
    report = printed(tmp_path, "run-up")
    assert sorted(p.stem for p in report.written if p.suffix == ".html") == [
        "run-up-jonas-ekornrud-A4", "run-up-signe-brattlien-A4",
    ]  # fmt: skip


def test_a_jumper_who_never_measured_gets_an_estimate_that_says_so_and_a_sprinter_none(tmp_path: Path) -> None:
    estimate = page(world.T)
    assert estimate.still_said == "an estimate" and "First estimate" in estimate.care[0]
    assert estimate.still.endswith("0"), "an estimate is no tape's reading"
    report = printed(tmp_path, "run-up", world.A)
    assert "neither a run-up nor a jump" in str(report.not_written[0])


def test_todays_mark_is_worked_out_when_the_wind_along_the_runway_is_known() -> None:
    tail = page(world.S, given(weather=(Weather(TODAY, wind=20, wind_from="tail"),)))
    assert tail.today == "33.37" and [r.wind for r in tail.wind if r.here] == ["+2"]
    head = page(world.S, given(weather=(Weather(TODAY, wind=35, wind_from="head"),)))
    assert head.today == "32.91"
    for side in ("cross", "N"):
        assert page(world.S, given(weather=(Weather(TODAY, wind=35, wind_from=side),))).today == ""


def test_readings_stand_in_figures_and_few_runs_carry_no_advice() -> None:
    many = read_session(STILL, date(2027, 4, 1), [Run(12, 0.0), Run(16, 0.5), Run(10, 0.2)], "advanced")
    few = read_session(STILL, date(2027, 4, 3), [Run(25, 1.0), Run(20, 1.0)], "advanced")
    logged = {
        (world.S, "long jump", 18, world.ATHLETES[0].take_off_leg, Shoe("", 262)): Logged(
            STILL, (many, few)
        )
    }
    made = page(world.S, recorded=Recorded(logged=logged))
    last, before = made.readings
    assert (last.day, last.runs, last.said) == ("3 Apr", "2", "")
    assert (before.runs, before.board) == ("3", "+12") and "long by" in before.said
    assert made.reading_lines == 1


def test_phase_marks_come_from_own_shares_once_three_whole_jumps_are_measured() -> None:
    usual = page(world.J)
    assert [r.steps for r in usual.phases][:1] == ["14"] and usual.phases[0].total == "14.15"
    assert (usual.phases[0].hop, usual.phases[0].step) == ("4.95", "9.20")
    assert any(r.said == "own 12.80" for r in usual.phases)
    jumps = tuple(Attempt(540, 420, 440) for _ in range(3))
    own = page(world.J, recorded=Recorded(attempts={world.J: jumps}, cues={world.J: "hold the step"}))
    assert own.phases[0].hop == "5.45" and "own shares" in " ".join(own.phases_said)
    assert own.phases_said[0] == "Cue: Hold the step."
    out = (*jumps[:2], Attempt(540, ended="bailed out in the step"))
    assert "own shares once" in " ".join(page(world.J, recorded=Recorded(attempts={world.J: out})).phases_said)


def test_without_a_measured_jump_no_phase_figure_stands() -> None:
    made = page(world.J, world.problem(replace(world.block(), run_ups=RUN_UPS)))
    assert made.phases == () and "No triple jump is measured yet" in " ".join(made.phases_said)


def test_two_marks_for_one_run_up_are_told_and_nothing_is_printed(tmp_path: Path) -> None:
    twice = (*RUN_UPS, replace(RUN_UPS[0], start_mark=3400))
    report = printed(tmp_path, "run-up", world.S, problem=world.problem(replace(world.block(), run_ups=twice)))
    assert not report.written and "two start marks" in str(report.not_written[0])


def test_words_for_shifts() -> None:
    assert [move_words(x) for x in (-8, 0, 17)] == ["forward 8 cm", "stay", "back 17 cm"]
    assert [shoes(Fraction(x, 2)) for x in (0, 1, -2, 3)] == ["", "½ shoe", "1 shoe", "1½ shoes"]


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_fullest_card_fits(tmp_path: Path, paper: str) -> None:
    said = [Run(12, 0.0), Run(16, 0.5), Run(10, 0.2), Run(250, 0.2)]
    days = (date(2027, 3, 28), date(2027, 4, 1), date(2027, 4, 3))
    rows = tuple(
        RunUp(
            world.J, "triple jump", n, 200 * n, day=SET, board=1100, check_steps=4, check_mark=500, coach_mark=900
        )
        for n in (4, 6, 8, 10, 12, 14)
    )
    still = StillMark(2800, 14, 31.2, date(2026, 9, 1))
    logged = Logged(still, tuple(read_session(still, d, said) for d in days))
    leg = next(a.take_off_leg for a in world.ATHLETES if a.name == world.J)
    recorded = Recorded(
        {(world.J, "triple jump", 14, leg, NO_SHOE): logged},
        cues={world.J: "hold the step long and patient, eyes up"},
    )
    made = world.problem(replace(world.block(), run_ups=rows, marks=MARKS))
    report = printed(tmp_path, "run-up", world.J, problem=made, paper=paper, recorded=recorded)
    assert report.complete, report.overflow
    assert len(pdf(report).pages) == 1
    assert "Set 216 days ago" in text_of(pdf(report))


def test_what_was_recorded_at_the_pit_reaches_the_card() -> None:
    when = datetime(2027, 4, 4, 18, tzinfo=UTC)
    runs = tuple(RunThrough(cm, 0) for cm in (18, 20, 22))
    bailed = Jump("not measured", hop=520, ended="bailed out in the step")
    jumps = (*[Jump("mark", 1400, gap=0, hop=540, step=420, jump=440) for _ in range(3)], bailed, bailed)
    facts = (
        RunUpReadings(recorded_at=when, athlete=world.S, day=date(2027, 3, 28), event="long jump", runs=runs),
        RunUpReadings(recorded_at=when, athlete=world.S, day=date(2027, 4, 2), event="long jump", runs=runs),
        Result(
            recorded_at=when, athlete=world.J, day=date(2027, 4, 3), event="triple jump", attempts=jumps,
            cue="hold the step", cue_after=3,
        ),
    )  # fmt: skip
    made = given()
    found = recorded_from(made.block, facts)
    card = page(world.S, recorded=found)
    assert [r.day for r in card.readings] == ["2 Apr", "28 Mar"]
    assert card.still == "33.40" and "set Fri 2 Apr 2027" in card.still_said, "two sessions agreed on 20 cm"
    triple = page(world.J, recorded=found)
    assert "own shares" in " ".join(triple.phases_said)
    assert triple.phases_said[0].startswith("Cue: Hold the step (before hop 5.40, step 4.20")
    assert recorded_from(made.block, ()).logged == {}


SPIKES, FLATS = Shoe("spikes", 262), Shoe("flats", 270)
IN_TWO = (
    replace(RUN_UPS[0], shoe_name="spikes"),
    RunUp(world.S, "long jump", 18, 3285, 4, 530, 800, 270, day=date(2027, 3, 10), shoe_name="flats"),
    RunUp(world.S, "long jump", 8, 1290, day=date(2027, 3, 1), shoe=270, shoe_name="flats"),
)


def in_two(*facts: Any, **more: Any) -> tuple[Any, ...]:
    made = world.problem(replace(world.block(), run_ups=IN_TWO, marks=MARKS, **more))
    view = run_up_view(
        made.block.athlete(world.S), made, revision_view(world.REVISION, True), TODAY,
        recorded_from(made.block, facts),
    )  # fmt: skip
    assert view is not None
    return view.pages


def test_two_shoes_have_two_cards_each_with_its_mark_its_name_and_the_other_ones() -> None:
    """In +2 m/s, 0.25 % a metre a second: 33.20 m x 0.5 % = 17 cm back, 32.85 m x 0.5 % = 16 cm back."""
    spikes, flats = in_two(weather=(Weather(TODAY, wind=20, wind_from="tail"),))
    assert (spikes.shoe, spikes.still, spikes.today) == ("in spikes", "33.20", "33.37")
    assert (flats.shoe, flats.still, flats.today) == ("in flats", "32.85", "33.01")
    assert "Spikes 26.2 cm." in spikes.facts and "Flats: 32.85 m in still wind, on another card." in spikes.facts
    assert "Flats 27.0 cm." in flats.facts and "Spikes: 33.20 m in still wind, on another card." in flats.facts
    assert [s.said for s in spikes.shorts if s.steps == "8"] == ["35 days old, flats"]
    assert [s.said for s in flats.shorts if s.steps == "8"] == ["35 days old"]
    assert spikes.key != flats.key, "a cell that does not fit is named with its card"


def test_the_only_shoe_has_one_card_and_no_other_is_spoken_of() -> None:
    only = page(world.S)
    assert only.shoe == "" and "Shoe 26.2 cm." in only.facts and not any("another card" in f for f in only.facts)


def test_readings_stand_on_the_card_of_their_shoe_and_move_its_mark_only() -> None:
    """Still air, 20 cm past the board in flats on two days: 32.85 becomes 33.05 m."""
    when = datetime(2027, 4, 4, 18, tzinfo=UTC)
    runs = tuple(RunThrough(cm, 0) for cm in (18, 20, 22))
    facts = [
        RunUpReadings(recorded_at=when, athlete=world.S, day=day, event="long jump", runs=runs, shoe_name="flats")
        for day in (date(2027, 3, 28), date(2027, 4, 2))
    ]
    spikes, flats = in_two(*facts)
    assert (spikes.still, spikes.readings) == ("33.20", ())
    assert flats.still == "33.05" and [r.day for r in flats.readings] == ["2 Apr", "28 Mar"]


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_two_cards_are_two_sheets_of_one_document_and_fit(tmp_path: Path, paper: str) -> None:
    long_name = tuple(replace(r, shoe_name=f"{r.shoe_name} of the best sort") for r in IN_TWO)
    made = world.problem(replace(world.block(), run_ups=long_name, marks=MARKS))
    report = printed(tmp_path, "run-up", world.S, problem=made, paper=paper)
    assert report.complete, report.overflow
    first, second = (p.extract_text() for p in pdf(report).pages)
    assert "in spikes of the best sort" in first and "in flats of the best sort" in second
