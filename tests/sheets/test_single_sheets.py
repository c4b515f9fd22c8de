"""Measuring sheets, competition cards and the coach's session page, read back; which words print which."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from planner.domain.block import Mark, RunUp, Weather
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, HelperTask, SlotTimetable, Station, TimetableLine, Watched
from planner.numbers import numbers
from planner.sheets import Beside, PrintReport, Recorded, print_sheets, select
from planner.sheets.build_athlete import revision_view
from planner.sheets.build_coach import coach_view
from planner.sheets.build_competition import competition_view
from planner.sheets.build_measuring import measuring_view
from planner.sheets.paper import BOARDS
from planner.sheets.view_coach import CoachView
from planner.sheets.view_measuring import MeasuringView
from tests.sheets import world
from tests.sheets.test_print import A4, LETTER, PT_PER_MM, pdf, text_of

DAY = world.FIRST
SLOT = "evening"
FRIDAY = DAY + timedelta(days=4)
SUNDAY = DAY + timedelta(days=13)
REVISION = revision_view(world.REVISION, True)
RUN_UPS = (
    RunUp(world.S, "long jump", 18, 3320, 4, 535, 805, 262, day=date(2027, 3, 24)),
    RunUp(world.S, "long jump", 12, 2080, day=date(2027, 3, 24)),
    RunUp(world.J, "triple jump", 14, 2710, board=1100),
)
MARKS = (Mark(world.J, "triple jump", 1462, "cm"),)


def given(**more: object) -> Problem:
    return world.problem(replace(world.block(), run_ups=RUN_UPS, marks=MARKS, **more))  # type: ignore[arg-type]


def here(day: date = DAY, slot: str = SLOT) -> tuple[Placement, ...]:
    return tuple(p for p in world.placements() if (p.day, p.slot) == (day, slot))


def at(hour: int, minute: int) -> datetime:
    return datetime.combine(DAY, time(hour, minute))


def table() -> SlotTimetable:
    """Monday evening by hand: two long jumpers share the pit and take turns, a third comes later."""
    lines = []
    for name, begins, ends, turn in (
        (world.S, (17, 30), (18, 0), 1),
        (world.T, (17, 30), (18, 0), 2),
        (world.J, (18, 0), (18, 30), 1),
    ):
        lines += [
            TimetableLine(name, "warm-up", at(17, 0), at(17, 25)),
            TimetableLine(
                name,
                "unit",
                at(*begins),
                at(*ends),
                "medium-long-jumps",
                "full",
                "Solbakken",
                "north pit",
                "Marit Lo",
                2,
                turn,
            ),
            TimetableLine(
                name, "unit", at(*ends), at(18, 55), "low-multi-jumps", "full", "Solbakken", "north pit"
            ),
        ]
    watched = Watched("medium-long-jumps", "north pit", (world.S, world.T), True)
    return SlotTimetable(
        DAY,
        SLOT,
        tuple(lines),
        (Station("Marit Lo", at(17, 30), at(18, 0), "Solbakken", "north pit", (watched,)),),
        (HelperTask("Ola", "rake", at(17, 30), at(18, 30), "Solbakken", "north pit"),),
    )


def measuring(made: Problem | None = None, *, timed: bool = True, day: date = DAY) -> MeasuringView:
    made = made or given()
    asked = [p for p in here(day) if p.place == "north pit" and p.dose.measure in ("jumps", "run-ups", "attempts")]
    lines = numbers(Plan.of(asked), made)
    return measuring_view(
        day,
        SLOT,
        asked,
        made,
        table=table() if timed else None,
        lines=lines,
        recorded=Recorded(),
        revision=REVISION,
    )


def coach(made: Problem | None = None, *, timed: bool = True, clash: Clash | None = None) -> CoachView:
    made = made or given()
    return coach_view(
        DAY,
        SLOT,
        here(),
        made,
        table=table() if timed else None,
        clash=clash,
        lines=numbers(Plan.of(here()), made),
        revision=REVISION,
        paper=BOARDS["A4"],
    )


def printed(folder: Path, *names: str, paper: str = "A4", problem: Problem | None = None) -> PrintReport:
    beside = Beside(DAY, tables={(DAY, SLOT): table()})
    return print_sheets(
        world.outcome(), problem or given(), world.REVISION, folder, paper=paper, names=names, beside=beside
    )


# --- measuring ------------------------------------------------------------------------------------------


def test_who_shares_the_pit_takes_turns_and_who_comes_later_follows() -> None:
    rows = [r for r in measuring().rows if r.number]
    firsts = [(r.number, r.name) for r in rows[:4]]
    assert firsts == [("1", "Signe"), ("1", "Tuva"), ("2", "Signe"), ("2", "Tuva")]
    assert [r.opens for r in rows[:4]] == [True, False, True, False]
    names = [r.name for r in rows]
    assert names.index("Jonas") > max(i for i, n in enumerate(names) if n == "Tuva")
    planned = {p.athlete: p.dose.amount for p in here() if p.unit.id == "medium-long-jumps"}
    assert len(rows) == sum(planned.values()), "every attempt has its row"


def test_the_sheet_says_steps_start_mark_order_and_who_rakes() -> None:
    made = measuring()
    assert made.rows[0].what.startswith("10 steps") or made.rows[0].what.startswith("12 steps, 20.80 m")
    assert "17:30 Signe, Tuva" in made.order and "18:00 Jonas" in made.order
    assert made.jobs == ("Ola rakes",)
    assert [s.name for s in made.sums] == ["Signe", "Tuva", "Jonas"]


def test_without_a_timetable_everybody_still_takes_turns() -> None:
    rows = [r for r in measuring(timed=False).rows if r.number]
    assert {r.name for r in rows[:3]} == {"Signe", "Tuva", "Jonas"}


def test_run_ups_say_that_nobody_jumps_and_triple_jumps_ask_for_phases() -> None:
    friday = measuring(timed=False, day=FRIDAY)
    run_ups = [r for r in friday.rows if r.result == "no jump" and r.name == "Signe"]
    assert run_ups and run_ups[0].what == "18 steps, 33.20 m"
    short = [p for p in world.placements() if p.unit.id == "short-triple-jumps" and p.athlete == world.J]
    made = given()
    view = measuring_view(
        short[0].day,
        SLOT,
        short,
        made,
        table=None,
        lines=numbers(Plan.of(short), made),
        recorded=Recorded(),
        revision=REVISION,
    )
    assert all(r.phases for r in view.rows) and "hop" in view.aims and "step" in view.aims


@pytest.mark.needs_pdf
@pytest.mark.parametrize(("paper", "size"), [("A4", A4), ("Letter", LETTER)])
def test_a_measuring_sheet_has_boxes_for_everything(tmp_path: Path, paper: str, size: tuple[float, float]) -> None:
    report = printed(tmp_path, "measuring", paper=paper)
    assert report.complete and not report.warnings, report
    names = [p.name for p in report.written if p.suffix == ".pdf"]
    assert f"measuring-2027-04-05-evening-north-pit-{paper}.pdf" in names
    reader = pdf(report)
    box = reader.pages[0].mediabox
    assert (float(box.width) / PT_PER_MM, float(box.height) / PT_PER_MM) == pytest.approx(size, abs=0.2)
    text = text_of(reader)
    for needed in (
        "North pit, Solbakken",
        "Mon 5 Apr 2027, evening, from 17:30",
        "−40",
        "+10",
        "film clip",
        "gauge",
        "planned stop",
        "Summary",
        "middle gap",
        "best + gap",
        "Ola rakes",
        "Stop on pain",
        "Draft",
    ):
        assert needed in text, needed
    html = tmp_path / f"measuring-2027-04-14-evening-north-pit-{paper}.html"
    assert not html.exists(), "that slot is more than seven days away"


@pytest.mark.needs_pdf
def test_triple_jumps_have_boxes_for_how_an_attempt_ended(tmp_path: Path) -> None:
    report = printed(tmp_path, "measuring", "2027-04-14")
    assert report.complete, report
    text = text_of(pdf(report))
    for needed in ("hop", "completed", "planned stop", "bailed out in hop", "Marks to aim at"):
        assert needed in text, needed


@pytest.mark.needs_pdf
def test_empty_rows_give_way_before_a_second_sheet(tmp_path: Path) -> None:
    """Twelve triple jumps fill a sheet: the two empty rows go, the summary stays on it."""
    made = given()
    few = [p for p in world.placements() if p.unit.id == "short-triple-jumps" and p.athlete == world.J]
    many = tuple(replace(p, dose=replace(p.dose, amount=10)) for p in few)
    out = replace(world.outcome(), plan=Plan.of(many))
    report = print_sheets(
        out, made, world.REVISION, tmp_path, names=("measuring", "2027-04-14"), beside=Beside(DAY)
    )
    assert report.complete, report
    reader = pdf(report)
    assert len(reader.pages) == 1 and "Summary" in text_of(reader)


def test_two_marks_for_one_run_up_stop_the_measuring_sheet_with_a_sentence(tmp_path: Path) -> None:
    rows = (*RUN_UPS, replace(RUN_UPS[0], start_mark=3400))
    made = world.problem(replace(world.block(), run_ups=rows))
    report = printed(tmp_path, "measuring", str(FRIDAY), problem=made)
    assert not report.written and "two start marks" in str(report.not_written[0])


# --- competition ----------------------------------------------------------------------------------------


def with_start(start: time | None) -> Problem:
    cards = tuple(replace(c, start=start) for c in world.block().competitions)
    return given(competitions=cards, weather=(Weather(SUNDAY, wind=20, wind_from="tail"),))


def test_times_are_worked_back_from_the_start_and_left_to_write_without_one() -> None:
    made = with_start(time(14, 0))
    jump = next(c for c in made.block.competitions if c.athlete == world.S)
    page = competition_view(made.block.athlete(world.S), jump, made, REVISION, Recorded()).pages[0]
    times = {row.said: row.clock for row in page.times}
    assert times["warm-up begins"] == "12:30" and times["call room"] == "13:15"
    assert times["run-through 1, controlled"] == "13:35" and times["competition begins"] == "14:00"
    moments = [row.clock for row in page.times]
    assert moments == sorted(moments)
    assert (page.still, page.today) == ("33.20", "33.37") and page.rows == 6
    bare = with_start(None)
    page = competition_view(bare.block.athlete(world.S), jump, bare, REVISION, Recorded()).pages[0]
    late = competition_view(
        bare.block.athlete(world.S), replace(jump, start=None), bare, REVISION, Recorded()
    ).pages[0]
    assert {row.clock for row in late.times} == {""} and late.times[-1].before == "start"
    assert page.times[-1].clock == "14:00"


def test_a_sprinter_has_a_page_an_event_without_a_start_mark() -> None:
    made = with_start(time(11, 0))
    race = next(c for c in made.block.competitions if c.athlete == world.A)
    view = competition_view(made.block.athlete(world.A), race, made, REVISION, Recorded())
    assert [p.event for p in view.pages] == ["100 m", "200 m"]
    assert all(p.still == "" and p.wind == () and p.notes for p in view.pages)
    assert view.pages[0].times[-1].clock == "11:00" and view.pages[1].times[-1].clock == ""
    assert "time s" in view.pages[0].columns


def test_cues_are_those_agreed_after_bailed_attempts_then_the_aim() -> None:
    made = with_start(None)
    jump = next(c for c in made.block.competitions if c.athlete == world.S)
    view = competition_view(made.block.athlete(world.S), jump, made, REVISION, Recorded(cues={world.S: "eyes up"}))
    assert view.cues == ("Eyes up.", "Hold the last two steps quick and flat.")


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_competition_cards_are_printed_inside_the_block_only(tmp_path: Path, paper: str) -> None:
    report = printed(tmp_path, "competition", paper=paper, problem=with_start(time(14, 0)))
    assert report.complete and not report.warnings, report
    assert {p.stem for p in report.written} == {
        f"competition-2027-04-18-fjordby-spring-meeting-{who}-{paper}"
        for who in ("amadi-korsvold", "signe-brattlien")
    }
    text = text_of(pdf(report))
    for needed in (
        "Long jump",
        "Fjordby spring meeting, Sun 18 Apr 2027",
        "13:15",
        "call room",
        "33.20 m",
        "What came of it",
        "Today 33.37 m",
        "Warm-up, in this order",
        "Think of",
        "Stop on pain",
        "an adult",
    ):
        assert needed in text, needed


# --- the coach's page -----------------------------------------------------------------------------------


def test_there_is_a_line_for_every_five_minutes_and_a_column_for_every_place_and_coach() -> None:
    view = coach()
    assert [c.title for c in view.columns] == ["Marit Lo stands at", "Any free spot", "North pit"]
    clocks = [line.clock for line in view.lines]
    assert clocks[0] == "17:00" and clocks[-1] == "18:50"
    minutes = [int(c[:2]) * 60 + int(c[3:]) for c in clocks]
    assert {b - a for a, b in pairwise(minutes)} == {5}
    assert abs(sum(c.width_mm for c in view.columns) + 14 - BOARDS["A4"].inner_width) < 1


def test_a_line_says_who_begins_what_in_which_order_and_where_the_coach_stands() -> None:
    view = coach()
    line = next(x for x in view.lines if x.clock == "17:30")
    stands, free, pit = line.cells
    assert (stands.entries[0].what, stands.entries[0].who, stands.entries[0].until) == (
        "North pit",
        "Signe, Tuva",
        "18:00",
    )
    assert not free.busy and pit.busy
    amounts = {p.athlete: p.dose.amount for p in here() if p.unit.id == "medium-long-jumps"}
    assert pit.entries[0].who == f"1 Signe {amounts[world.S]}, 2 Tuva {amounts[world.T]}"
    quiet = next(x for x in view.lines if x.clock == "17:35")
    assert not quiet.opens and [c.busy for c in quiet.cells] == [True, False, True]


def test_a_long_stretch_of_nothing_is_one_line() -> None:
    late = replace(
        table(), lines=(*table().lines, TimetableLine(world.A, "unit", at(20, 0), at(20, 10), "mobility"))
    )
    view = coach_view(
        DAY, SLOT, here(), given(), table=late, clash=None, lines={}, revision=REVISION, paper=BOARDS["A4"]
    )
    gaps = [x for x in view.lines if x.gap]
    assert [(x.clock, x.gap) for x in gaps] == [("18:55", "nobody until 20:00")]


def test_helpers_limits_stop_rules_lighter_lines_and_weather_stand_on_it() -> None:
    view = coach()
    assert [(j.who, j.task, j.when) for j in view.jobs] == [("Ola", "rakes", "17:30 to 18:30, north pit")]
    assert any(x.startswith("Tuva: Right knee") for x in view.limits)
    jumps = next(b for b in view.behind if b.name == "Long jumps from 10-14 steps")
    assert jumps.stop and jumps.lighter and "novices" not in jumps.lighter
    sprints = next(b for b in view.behind if b.name == "Short accelerations")
    assert sprints.people
    assert any("Lightning" in x for x in view.weather)
    assert not any("full run-up;" in x for x in view.weather), "nobody jumps from the full run-up on Monday"
    friday = coach_view(
        FRIDAY,
        SLOT,
        here(FRIDAY),
        given(),
        table=None,
        clash=None,
        lines={},
        revision=REVISION,
        paper=BOARDS["A4"],
    )
    assert any("3 m/s" in x and "full run-up;" in x for x in friday.weather)


def test_a_slot_without_a_timetable_says_why_and_lists_who_does_what_when_the_place_opens() -> None:
    clash = Clash(DAY, SLOT, (), "one pit for 40 jumps in half an hour", ("Maybe open it earlier.",))
    view = coach(timed=False, clash=clash)
    assert "one pit for 40 jumps" in view.warning and "Maybe open it earlier." in view.warning
    assert view.lines[0].clock == "17:00" and any(c.entries for c in view.lines[0].cells)


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_coachs_page_prints_on_the_long_side(tmp_path: Path, paper: str) -> None:
    report = printed(tmp_path, "session", "2027-04-05", SLOT, paper=paper)
    assert report.complete and not report.warnings, report
    reader = pdf(report)
    assert float(reader.pages[0].mediabox.width) > float(reader.pages[0].mediabox.height)
    text = text_of(reader)
    for needed in (
        "Mon 5 Apr 2027, evening",
        "17:00 to 18:55",
        "Coach's own copy",
        "Marit Lo stands at",
        "mid jumps",
        "Helpers",
        "Limits today",
        "What stands behind it",
        "Wet and windy",
        "Afterwards",
        "as planned",
    ):
        assert needed in text, needed


# --- which words print which sheet ----------------------------------------------------------------------


def test_words_choose_kinds_people_days_and_slots() -> None:
    made = given()
    whole = select((), made)
    assert whole.pages[0] == "squad board" and whole.kinds == ("run-up", "measuring", "competition", "session")
    one = select(("run-up", world.S), made)
    assert (one.pages, one.kinds, one.people) == ((), ("run-up",), (world.S,))
    day = select(("2027-04-07",), made)
    assert day.kinds == ("measuring", "competition", "session") and day.pages == ()
    assert day.slot(date(2027, 4, 7), "morning") and not day.slot(date(2027, 4, 8), "morning")
    both = select(("session", "2027-04-07", "evening", "board"), made)
    assert both.pages == ("squad board",) and not both.slot(date(2027, 4, 7), "morning")
    assert select((world.S,), made).pages == (world.S,)
    assert select(("sesion",), made).wrong[0][0] == "sesion"


def test_without_a_day_the_sheets_of_slots_are_those_of_the_coming_week() -> None:
    made = given()
    soon = select(("session",), made, today=date(2027, 4, 1))
    assert soon.slot(DAY, SLOT) and soon.slot(DAY + timedelta(days=6), SLOT)
    assert not soon.slot(DAY + timedelta(days=7), SLOT)
    later = select(("session",), made, today=DAY + timedelta(days=2))
    assert not later.slot(DAY, SLOT) and later.slot(DAY + timedelta(days=8), SLOT)


def test_an_athlete_called_like_a_kind_goes_first() -> None:
    _, made = world.renamed(world.H, "session")
    found = select(("session",), made)
    assert found.pages == ("session",) and found.kinds == ()


@pytest.mark.needs_pdf
def test_any_name_and_markup_stay_text_on_every_single_sheet(tmp_path: Path) -> None:
    attack = '<img src="file:///etc/passwd"> {{ 7*7 }} & Åsa'
    out, made = world.renamed(world.S, attack)
    rows = tuple(replace(r, athlete=attack) if r.athlete == world.S else r for r in RUN_UPS)
    made = replace(made, block=replace(made.block, run_ups=rows, marks=MARKS, squad=attack, contact=attack))
    names = ("run-up", "competition", "measuring", "session", attack, "2027-04-05", "2027-04-18")
    report = print_sheets(out, made, world.REVISION, tmp_path, names=names, beside=Beside(DAY))
    assert report.complete and not report.warnings, report
    for path in report.written:
        assert path.parent == tmp_path
        if path.suffix == ".html":
            html = path.read_text(encoding="utf-8")
            assert "<img" not in html and "root:" not in html and "49" not in html.split("</title>")[0]
