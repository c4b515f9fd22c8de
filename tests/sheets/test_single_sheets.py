"""Measuring sheets and competition cards, read back; which words print which sheet."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path

import pytest

from planner.domain.block import Competition, EventStart, Limit, Presence, RunUp, Weather
from planner.domain.plan import Plan
from planner.domain.problem import Problem
from planner.numbers import numbers
from planner.sheets import Beside, Recorded, print_sheets, select
from planner.sheets.build_athlete import athlete_view
from planner.sheets.build_competition import UNDECIDED, competition_view
from planner.sheets.build_measuring import measuring_view
from planner.sheets.build_parents import parents_view
from planner.sheets.view_competition import CompetitionView
from planner.sheets.view_parents import ParentsView
from tests.sheets import world
from tests.sheets.slot_world import (
    DAY,
    FRIDAY,
    MARKS,
    REVISION,
    RUN_UPS,
    SLOT,
    SUNDAY,
    given,
    here,
    measuring,
    printed,
)
from tests.sheets.test_print import A4, LETTER, PT_PER_MM, pdf, text_of

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
    assert (page.starts[0].still, page.starts[0].today) == ("33.20", "33.37") and page.rows == 6
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
    assert all(p.starts == () and p.wind == () and p.notes for p in view.pages)
    assert view.pages[0].times[-1].clock == "11:00" and view.pages[1].times[-1].clock == ""
    assert "time s" in view.pages[0].columns


def test_two_events_have_their_own_starts_and_the_card_says_who_accepted_the_gap() -> None:
    made = with_start(None)
    both = next(c for c in made.block.competitions if c.athlete == world.A)

    def card(meet: Competition) -> CompetitionView:
        return competition_view(made.block.athlete(world.A), meet, made, REVISION, Recorded())

    starts = (EventStart("200 m", time(11, 30)), EventStart("100 m", time(12, 20)))
    timed = replace(both, start=starts[0].at, starts=starts)
    view = card(timed)
    assert [(p.event, p.times[-1].clock) for p in view.pages] == [("200 m", "12:20"), ("100 m", "12:20")]
    (line,) = [x for x in view.care if "from start to start" in x]
    assert "200 m 11:30 and 100 m 12:20, 50 minutes" in line and "nobody has decided it yet" in line
    (line,) = [x for x in card(replace(timed, gap_accepted="zqnote of the coach")).care if "from start" in x]
    assert "Your coach has agreed to both" in line and "zqnote" not in line
    (line,) = [x for x in card(both).care if "not known" in x]
    assert "Ask your coach" in line
    assert not any("coach" in x for x in card(replace(both, events=("100 m",))).care)


def on_one_day(*starts: EventStart) -> CompetitionView:
    """The card of one athlete in these events, at these times of one day."""
    made = with_start(None)
    both = next(c for c in made.block.competitions if c.athlete == world.A)
    meet = replace(both, events=tuple(reversed([x.event for x in starts])), start=starts[0].at, starts=starts)
    return competition_view(made.block.athlete(world.A), meet, made, REVISION, Recorded())


JUMP, RACE = EventStart("long jump", time(11, 0)), EventStart("100 m hurdles", time(12, 10))


def test_two_events_of_a_day_are_one_run_of_times_the_earlier_first() -> None:
    """Counted by hand: 210, 100, 90 and 45 minutes before 11:00; 35 and 25 before 12:10."""
    first, later = on_one_day(JUMP, RACE).pages
    assert (first.event, later.event) == ("Long jump", "100 m hurdles")
    day = [(row.clock, row.said.replace("\u00a0", " ")) for row in first.times]
    assert day == sorted(day, key=lambda row: row[0])
    for needed in (
        ("07:30", "light meal, drink"), ("09:20", "arrive; number, shoes, order of start"),
        ("09:30", "long jump: warm-up begins"), ("10:15", "call room"), ("11:00", "Long jump begins"),
        ("11:35", "100 m hurdles: short warm-up again, spikes on"), ("11:45", "call room"),
        ("12:10", "100 m hurdles begins"),
    ):  # fmt: skip
        assert needed in day, needed
    assert [row.clock for row in later.times] == ["11:35", "11:45", "12:02", "12:07", "12:10"]
    told = " ".join(row.said for page in (first, later) for row in page.times)
    assert told.count("arrive") == told.count("meal") == 1
    assert "card of long\u00a0jump" in later.times_said and "card of" not in first.times_said
    assert later.warm_up[0] == "easy running, 5 min" and "15 min" in first.warm_up[0]


def test_times_that_overlap_are_said_in_words_and_others_are_not() -> None:
    """By hand: jumps from 11:00 may last 75 minutes, until 12:15; a race from 11:00 ten minutes, until 11:10."""

    def said(*starts: EventStart) -> list[str]:
        care = (x.replace("\u00a0", " ") for x in on_one_day(*starts).care)
        return [x for x in care if x.startswith("Times overlap")]

    (one,) = said(JUMP, RACE)
    assert "long jump may last until about 12:15" in one
    assert "for 100 m hurdles: warm-up 11:35, call room 11:45 and start 12:10" in one
    assert "judges of long jump" in one and "a race waits for nobody" in one
    (call,) = said(JUMP, replace(RACE, at=time(12, 35)))
    assert "for 100 m hurdles: warm-up 12:00 and call room 12:10. " in call
    assert said(JUMP, replace(RACE, at=time(12, 50))) == []
    (two,) = said(replace(RACE, at=time(11, 0)), EventStart("200 m", time(11, 44)))
    assert "warm-up 11:09. A race waits for nobody: settle with your coach" in two
    assert said(replace(RACE, at=time(11, 0)), EventStart("200 m", time(11, 45))) == []
    (field,) = said(JUMP, EventStart("high jump", time(12, 30)))
    assert "judges of long jump and high jump" in field


def test_three_events_of_a_day_stay_one_run_of_times() -> None:
    view = on_one_day(JUMP, RACE, EventStart("200 m", time(15, 0)))
    day = [(row.clock, row.said.replace("\u00a0", " ")) for row in view.pages[0].times]
    assert day[-3:] == [("14:25", "200 m: short warm-up again, spikes on"), ("14:35", "call room"),
                        ("15:00", "200 m begins")]  # fmt: skip
    assert [clock for clock, _ in day] == sorted(clock for clock, _ in day)
    mixed = on_one_day(JUMP, replace(RACE, at=time(11, 20))).pages[0].times
    rows = [(row.clock, row.said.replace("\u00a0", " ")) for row in mixed]
    assert ("10:45", "100 m hurdles: short warm-up again, spikes on") in rows
    assert ("10:48", "long jump: one jump from a short run-up") in rows


def test_without_a_timetable_the_events_after_the_known_first_have_no_second_arrival() -> None:
    made = with_start(time(11, 0))
    race = next(c for c in made.block.competitions if c.athlete == world.A)
    view = competition_view(made.block.athlete(world.A), race, made, REVISION, Recorded())
    assert [any("arrive" in row.said for row in page.times) for page in view.pages] == [True, False]
    assert {row.clock for row in view.pages[1].times} == {""}


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("more", [(), (EventStart("200 m", time(15, 0)),)])
def test_a_card_of_several_events_fits(tmp_path: Path, paper: str, more: tuple[EventStart, ...]) -> None:
    made = with_start(None)
    starts = (JUMP, RACE, *more)
    cards = tuple(
        replace(c, events=tuple(x.event for x in starts), start=starts[0].at, starts=starts)
        for c in made.block.competitions
        if c.athlete in (world.A, world.S)
    )
    made = given(competitions=cards)
    report = printed(tmp_path, "competition", paper=paper, problem=made)
    assert report.complete and not report.warnings, report
    assert "Times overlap" in text_of(pdf(report))


def test_cues_are_those_agreed_after_bailed_attempts_then_the_aim() -> None:
    made = with_start(None)
    jump = next(c for c in made.block.competitions if c.athlete == world.S)
    view = competition_view(made.block.athlete(world.S), jump, made, REVISION, Recorded(cues={world.S: "eyes up"}))
    assert view.cues == ("Eyes up.", "Hold the last two steps quick and flat.")


def test_a_card_under_a_limit_says_who_decides_and_one_without_is_silent() -> None:
    made = with_start(None)
    jump = next(c for c in made.block.competitions if c.athlete == world.S)
    knee = Limit(world.S, "knee", "left", 4, begins=jump.first_day)

    def care(limit: Limit) -> tuple[str, ...]:
        own = replace(made, block=replace(made.block, limits=(limit,)))
        return competition_view(own.block.athlete(world.S), jump, own, REVISION, Recorded()).care

    assert care(knee)[0] == UNDECIDED and "your clinician, your coach and you decide" in UNDECIDED
    for other in (replace(knee, stage=5), replace(knee, ends=jump.first_day - timedelta(days=1), begins=None),
                  replace(knee, athlete=world.A), replace(knee, hold_back=True)):  # fmt: skip
        assert not any("decide" in line for line in care(other))


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


def test_a_sheet_for_parents_is_for_those_under_18(tmp_path: Path) -> None:
    made = given()
    block = made.block
    young = replace(block.athlete(world.S), born=date(2010, 4, 6))  # 17 on the block's first day
    grown = replace(block.athlete(world.H), born=date(2009, 4, 5))
    unknown = replace(block.athlete(world.A), born=None)
    own = {a.name: a for a in (young, grown, unknown)}
    athletes = tuple(own.get(a.name, replace(a, born=date(1999, 1, 1))) for a in block.athletes)
    made = replace(made, block=replace(block, athletes=athletes))
    every = print_sheets(world.outcome(), made, world.REVISION, tmp_path, names=("parents",), beside=Beside(DAY))
    assert {p.stem for p in every.written} == {"parents-signe-brattlien-A4"}
    asked = print_sheets(
        world.outcome(), made, world.REVISION, tmp_path, names=("parents", world.H), beside=Beside(DAY)
    )
    assert [n.sheet for n in asked.not_written] == [f"{world.H}, for the parents"]
    assert "under 18. Maybe" in asked.not_written[0].reason


def test_the_sheet_for_parents_names_as_adults_who_is_counted_as_one(tmp_path: Path) -> None:
    made = given()
    block = made.block
    young = tuple(replace(a, born=date(2012, 4, 6)) if a.name == world.S else a for a in block.athletes)
    helpers = tuple(
        Presence(s.day, s.name, name, s.minutes, tasks=(task,))
        for s in block.slots
        for name, task in (("Runa Holt", "rake"), ("Eskil Moe", "adult"))
    )
    made = replace(made, block=replace(block, athletes=young, presences=(*block.presences, *helpers)))
    print_sheets(world.outcome(), made, world.REVISION, tmp_path, names=("parents",), beside=Beside(DAY))
    page = (tmp_path / "parents-signe-brattlien-A4.html").read_text(encoding="utf-8")
    said = re.search(r'data-cell="adults">Adults who are there: <b>(.*?)</b>', page)
    assert said and "Marit Lo" in said[1] and "Eskil Moe" in said[1] and "Runa Holt" not in said[1], said


def _of_a_child(**more: object) -> ParentsView:
    """The sheet of one athlete of the fortnight, taken for a child, with a competition on its last Sunday."""
    meet = Competition("Fjordby spring meeting", world.S, SUNDAY, SUNDAY, ("100 m hurdles", "long jump"), **more)  # type: ignore[arg-type]
    made = given(competitions=(meet,))
    young = replace(made.block.athlete(world.S), born=date(2012, 4, 6))
    return parents_view(young, world.outcome(), made, REVISION)


def test_parents_read_when_to_be_at_a_competition_and_what_to_bring() -> None:
    """Arrival is counted by hand, 100 minutes before the first start, and is that of the child's own card."""
    (row,) = [r for w in _of_a_child(start=JUMP.at, starts=(JUMP, RACE)).weeks for r in w.rows if r.what]
    assert (row.arrive, row.begins) == ("arrive 09:20", "starts 11:00")
    assert row.bring == "jumping spikes, spikes, flats, warm clothes, food and water"
    assert [t.clock for t in on_one_day(JUMP, RACE).pages[0].times if "arrive" in t.said] == ["09:20"]
    (row,) = [r for w in _of_a_child().weeks for r in w.rows if r.what]
    assert (row.arrive, row.begins) == ("ask the coach", "") and "flats" in row.bring


def test_parents_and_child_read_the_same_time_to_come() -> None:
    made = given()
    outcome = replace(world.outcome(), plan=Plan.of(tuple(
        replace(p, starts=p.begins + timedelta(minutes=50)) for p in world.placements()
    )))  # fmt: skip
    child = made.block.athlete(world.S)
    page = athlete_view(child, outcome, made, REVISION)
    own = [s.stops[0].time for w in page.weeks for d in w.days for s in d.sessions]
    rows = [r for w in parents_view(child, outcome, made, REVISION).weeks for r in w.rows if not r.what]
    assert own and [r.begins for r in rows] == own
    assert "17:25" in own, "25 minutes of warm-up before 17:50, though the pit is open from 17:00"


def test_hours_of_a_week_are_those_of_the_rows_below_them() -> None:
    def minutes(clock: str) -> int:
        return int(clock[:2]) * 60 + int(clock[3:])

    weeks = _of_a_child(start=JUMP.at, starts=(JUMP, RACE)).weeks
    for week in weeks:
        both = sum(minutes(r.until) - minutes(r.begins) for r in week.rows if not r.what)
        assert both and week.hours == f"{both // 60}:{both % 60:02d} h here", week
    assert any(r.what for r in weeks[-1].rows), "a competition is among the rows, and not counted"


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(
    ("squad", "contact"),
    [
        ("Harrow Lane Athletics", "Coach Mallory 07700 900123"),
        ("Solbakken jumps and sprints", "Marit Lo 555 0142"),
        ("Wommersley Town Harriers", "Wilhelmina Mommsen +44 7700 900123"),
    ],
)
def test_an_ordinary_contact_fits_the_foot_of_the_sheet_for_parents(
    tmp_path: Path, paper: str, squad: str, contact: str
) -> None:
    made = given()
    block = made.block
    athletes = tuple(replace(a, born=date(2012, 4, 6)) if a.name == world.S else a for a in block.athletes)
    made = replace(made, block=replace(block, athletes=athletes, squad=squad, contact=contact))
    report = print_sheets(
        world.outcome(), made, world.REVISION, tmp_path, paper=paper, names=("parents",), beside=Beside(DAY)
    )
    assert report.complete and not report.warnings, report
    assert contact.rsplit(maxsplit=1)[-1] in text_of(pdf(report)).rsplit("page 1 of", 1)[1]


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


IN_TWO = (
    RunUp(world.S, "long jump", 18, 3320, shoe=262, shoe_name="spikes", day=date(2027, 3, 24)),
    RunUp(world.S, "long jump", 18, 3285, shoe=270, shoe_name="flats", day=date(2027, 3, 10)),
)


def test_the_card_of_a_competition_has_a_start_mark_for_each_shoe() -> None:
    """In +2 m/s, 0.25 % a metre a second: 17 cm back of 33.20 m, 16 cm back of 32.85 m."""
    made = given(run_ups=IN_TWO, weather=(Weather(SUNDAY, wind=20, wind_from="tail"),))
    jump = next(c for c in made.block.competitions if c.athlete == world.S)
    page = competition_view(made.block.athlete(world.S), jump, made, REVISION, Recorded()).pages[0]
    said = [(s.shoe, s.still, s.today) for s in page.starts]
    assert said == [("Spikes", "33.20", "33.37"), ("Flats", "32.85", "33.01")]
    (here,) = [row for row in page.wind if row[0].here]
    assert [(c.shift, c.mark) for c in here] == [("back 17", "33.37"), ("back 16", "33.01")]
    named = given(run_ups=IN_TWO[:1])
    one = competition_view(named.block.athlete(world.S), jump, named, REVISION, Recorded()).pages[0]
    assert one.starts[0].still_said == "long jump, 18 steps, in spikes, 25 days old"


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_card_of_a_competition_fits_with_two_shoes_or_three(tmp_path: Path, paper: str) -> None:
    third = replace(IN_TWO[0], shoe_name="spikes of last summer", start_mark=3300, shoe=265)
    report = printed(tmp_path, "competition", world.S, paper=paper, problem=given(run_ups=(*IN_TWO, third)))
    assert report.complete, report.overflow
    text = text_of(pdf(report))
    assert "33.20" in text and "32.85" in text and "Spikes of last summer: still wind 33.00 m" in text


def test_the_measuring_sheet_says_the_shoe_of_the_unit_or_every_one_it_may_be() -> None:
    """Full run-ups ask for jumping spikes; two pairs of spikes both stand there."""
    old = replace(IN_TWO[1], shoe_name="old spikes")
    for run_ups, said in (
        (IN_TWO, "18 steps, spikes 33.20"),
        ((IN_TWO[0], old), "18 steps, spikes 33.20, old spikes 32.85"),
        (IN_TWO[1:], "18 steps, 32.85 m"),
    ):
        rows = measuring(given(run_ups=run_ups), timed=False, day=FRIDAY).rows
        assert {r.what.replace("\u00a0", " ") for r in rows if r.name == "Signe"} == {said}
