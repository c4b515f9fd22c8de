"""The parts of the paper that need no PDF engine: words, names, looks, addresses, overflow, groups."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest

from planner.catalogue import units
from planner.domain.block import Away, Limit, Presence
from planner.domain.facts import Ill
from planner.domain.plan import Plan, TierStatus
from planner.domain.units import FAMILIES
from planner.season.fact_limits import illnesses
from planner.sheets import amount_words, words
from planner.sheets.assets import assets
from planner.sheets.build_athlete import athlete_view, revision_view, squad_foot
from planner.sheets.build_board import board_view
from planner.sheets.build_notes import sureness
from planner.sheets.build_session import WITH_ADULT
from planner.sheets.engine import Missing, Refused, opened, permitted
from planner.sheets.filenames import file_stems
from planner.sheets.fonts import uncovered
from planner.sheets.looks import BY_FAMILY, LOOKS, tile
from planner.sheets.paper import BAR_FULL_MM, BOARDS, NAME_MM, WEEK_MM
from tests.sheets import world

REVISION = revision_view(world.REVISION, True)


@pytest.mark.parametrize(
    ("amount", "measure", "note", "said"),
    [
        (240, "metres", "10-30 m each", ("240 m", "10-30 m each")),
        (8, "jumps", "", ("8 jumps", "")),
        (1, "jumps", "", ("1 jump", "")),
        (20, "minutes", "", ("20 min", "")),
        (4, "sets", "4 x 3 at 80 %", ("4 sets", "of 3 at 80 %")),
        (8, "sets", "2-5 at 82-92 %", ("8 sets", "of 2-5 at 82-92 %")),
        (3, "sets", "of each exercise", ("3 sets", "of each exercise")),
        (16, "minutes", "minutes of work", ("16 min", "of work")),
        (12, "take-offs", "from a box", ("12 take-offs", "from a box")),
    ],
)
def test_amounts_in_a_coachs_words(amount: int, measure: str, note: str, said: tuple[str, str]) -> None:
    dose = replace(world.dose(units()["heavy-strength"], "advanced"), amount=amount, measure=measure, note=note)
    assert amount_words.amount(dose) == said


def test_every_unit_prints_an_amount_at_every_level() -> None:
    for unit in units().values():
        for level in unit.amounts:
            dose = world.dose(unit, level)
            number, _ = amount_words.amount(dose)
            assert number[:1].isdigit(), (unit.id, number)
            assert amount_words.short_amount(dose) in number


@pytest.mark.parametrize(
    ("amount", "measure", "text", "said"),
    [
        (6, "jumps", "6 jumps (novices 5) from 4 steps", "6 jumps from 4 steps"),
        (5, "jumps", "6 jumps (novices 5) from 4 steps", "5 jumps from 4 steps"),
        (3, "jumps", "6 jumps (novices 5) from 4 steps", "3 jumps from 4 steps"),
        (120, "metres", "4 x 30 m (novices 3) standing, to 90 %", "4 × 30 m standing, to 90 %"),
        (90, "metres", "4 x 30 m (novices 3) standing, to 90 %", "3 × 30 m standing, to 90 %"),
        (60, "metres", "4 x 30 m (novices 3) standing, to 90 %", "60 m standing, to 90 %"),
        (120, "metres", "2 x 80 m (novices 2 x 60 m) at 90 %", "2 × 60 m at 90 %"),
        (10, "contacts", "2 x 5 low hurdle hops", "2 × 5 low hurdle hops"),
        (3, "sets", "3 x 2 at 65 %", "3 × 2 at 65 %"),
        (2, "sets", "3 x 2 at 65 %", "2 sets at 65 %"),
        (50, "metres", "half, standing start", "50 m, standing start"),
        (50, "metres", "Half the time, easy.", "50 m, easy"),
        (900, "metres", "two thirds, at 75 %", "900 m, at 75 %"),
        (4, "run-ups", "4 full run-ups, 3 pop-ups", "4 full run-ups, 3 pop-ups"),
        (2, "run-ups", "4 full run-ups, 3 pop-ups", "2 run-ups: full run-ups, 3 pop-ups"),
        (20, "metres", "mobility and 2 strides", "20 m: mobility and 2 strides"),
        (20, "minutes", "", "20 min"),
    ],
)
def test_the_lighter_line_says_what_is_counted(amount: int, measure: str, text: str, said: str) -> None:
    dose = replace(world.dose(units()["heavy-strength"], "advanced", "lighter"), amount=amount, measure=measure)
    assert "".join(amount_words.lighter(dose, text)) == said


def test_every_lighter_line_of_the_catalogue_says_its_amount_once() -> None:
    for unit in units().values():
        for level in unit.amounts:
            dose = world.dose(unit, level, "lighter")
            said = "".join(amount_words.lighter(dose, unit.lighter_text))
            assert "novice" not in said, unit.id
            # a series that comes to the same or the number itself, never another number of the same measure
            series = re.match(r"(\d+) × (\d+)", said)
            if series:
                assert dose.amount in (int(series[1]), int(series[1]) * int(series[2])), said
            else:
                assert said.startswith(str(dose.amount)), (unit.id, said)


def test_texts_of_the_catalogue_are_short_enough_for_paper() -> None:
    names = [unit.short for unit in units().values()]
    assert all(0 < len(name) <= 16 for name in names) and len(set(names)) == len(names)
    for unit in units().values():
        plain = re.sub(r" \(novices [^)]*\)", "", unit.lighter_text)
        for text in (unit.stop_rule, unit.recovery, unit.target, unit.shoes, plain):
            assert len(text) <= 46, (unit.id, text)


def test_dates_and_spans() -> None:
    assert words.long_date(date(2027, 3, 30)) == "Tue 30 Mar 2027"
    assert words.span(date(2027, 3, 29), date(2027, 4, 4)) == "29 Mar – 4 Apr 2027"
    assert words.span(date(2026, 12, 28), date(2027, 1, 3)) == "28 Dec 2026 – 3 Jan 2027"
    assert words.span(date(2027, 4, 5), date(2027, 4, 5)) == "5 Apr 2027"


def test_away_words() -> None:
    day = date(2027, 4, 9)

    def entry(kind: str, first: tuple[int, int], last: tuple[int, int], hours: int = 0) -> Away:
        return Away("x", datetime(2027, 4, *first), datetime(2027, 4, *last), kind, hours)

    assert words.away_words(entry("exam", (9, 8), (9, 14)), day) == "Exam from 08:00 until 14:00"
    assert words.away_words(entry("away", (8, 0), (11, 0)), day) == "Away"
    assert words.away_words(entry("travel", (9, 7), (9, 23), 4), day) == "Travel from 07:00, 4 h on the way"
    assert words.away_words(entry("camp arrival", (8, 0), (9, 14)), day) == "Arrival 14:00"
    assert words.away_words(entry("camp departure", (9, 16), (12, 0)), day) == "Departure 16:00"


def test_a_limit_names_region_and_side_and_what_may_be_done() -> None:
    first, last = date(2027, 4, 5), date(2027, 4, 11)
    limit = Limit("x", "calf-achilles", "left", 3, ends=date(2027, 4, 7), landings_a_session=0, contacts_a_week=40)
    assert words.limit_words(limit, first, last) == (
        "Left calf and Achilles tendon until Wed 7 Apr: easy running and landing only, below full effort; "
        "at most 40 contacts a week; no landings."
    )
    ill = words.limit_words(Limit("x", "illness", stage=3), first, last)
    assert ill == "After illness: easy work first, stop when it feels wrong."
    own = words.limit_words(Limit("x", "illness", stage=1), first, last)
    assert own == "After illness: own work only, as agreed with the clinician."
    assert "region" not in words.limit_words(Limit("x", "whole", hold_back=True), first, last)


def test_a_fever_says_rest_and_the_easy_days_after_it_come_back() -> None:
    at = datetime(2027, 4, 6, 8, tzinfo=UTC)
    ill = Ill(recorded_at=at, athlete="x", begins=date(2027, 4, 6), ends=date(2027, 4, 8), fever=True)
    (one,) = illnesses((ill,), at.date())
    said = [words.limit_words(x, date(2027, 4, 5), date(2027, 4, 11)) for x in one.limits()]
    assert said == [
        "While ill from Tue 6 Apr until Thu 8 Apr: rest, no training.",
        "After illness from Fri 9 Apr: easy work first, stop when it feels wrong.",
    ], "one easy day for every day ill"
    assert one.away(), "and nothing is placed on the days of the fever"


def test_text_is_freed_of_control_signs_and_direction_overrides() -> None:
    assert words.clean("a\x00b\u202ec\nd\ud800") == "a b c d\ufffd"
    assert words.shorter("one two three four", 12) == "one two…"
    assert len(words.shorter("x" * 90, 28)) == 28


def test_file_stems_are_safe_and_never_collide() -> None:
    names = [
        "Ann Lee",
        "ann lee",
        "Ann-Lee",
        "ليلى",
        "🏃",
        "'\"/\\..",
        "",
        "Zoë",
        "Zoe",
        "Љ",
        "x" * 300,
        "con",
    ]
    stems = file_stems(names)
    assert len(set(stems.values())) == len(names)
    for stem in stems.values():
        assert 0 < len(stem) < 60 and all(c.isascii() and (c.isalnum() or c == "-") for c in stem), stem
    assert file_stems(reversed(names)) == dict(stems)
    assert file_stems(["Signe Brattlien"]) == {"Signe Brattlien": "signe-brattlien"}


def test_every_family_has_a_letter_and_a_pattern_of_its_own() -> None:
    assert set(BY_FAMILY) == {*FAMILIES, "competition"}
    assert len({x.letter for x in LOOKS}) == len({x.pattern for x in LOOKS}) == len(LOOKS)
    drawn = {tile(x, assets()).split(",", 1)[1] for x in LOOKS}
    assert len(drawn) == len(LOOKS)


def test_letters_can_be_read_on_their_plates() -> None:
    for look in LOOKS:
        assert _contrast(look.colour, look.letter_colour) >= 4.5, look.family


def _contrast(one: str, other: str) -> float:
    def light(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        r, g, b = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    a, b = sorted((light(one), light(other)))
    return (b + 0.05) / (a + 0.05)


def test_only_the_sheets_own_assets_are_permitted(tmp_path: Path) -> None:
    folder = assets()
    known = frozenset({"data:image/svg+xml;base64,AAAA"})
    assert permitted("data:image/svg+xml;base64,AAAA", folder, known) is None
    assert permitted((folder / "base.css").as_uri(), folder, known) == (folder / "base.css").resolve()
    link = tmp_path / "assets"
    link.mkdir()
    (link / "out.css").symlink_to("/etc/hostname")
    for url in (
        "http://198.51.100.7/a", "https://example.org/", "ftp://example.org/x", "data:text/css,a", "file:///etc/passwd",
        folder.as_uri() + "/../pyproject.toml", folder.as_uri() + "/%2e%2e/pyproject.toml",
        "file://server" + str(folder / "base.css"),
    ):  # fmt: skip
        with pytest.raises(Refused):
            permitted(url, folder, known)
    with pytest.raises(Refused):
        permitted((link / "out.css").as_uri(), link, known)


@pytest.mark.needs_pdf
def test_the_engine_refuses_and_reports_what_a_template_should_not_fetch(tmp_path: Path) -> None:
    secret = tmp_path / "secret.svg"
    secret.write_text('<svg xmlns="http://www.w3.org/2000/svg"><text>hidden words</text></svg>', encoding="utf-8")
    html = f'<html lang="en"><title>x</title><body><img alt="x" src="{secret.as_uri()}">words</body></html>'
    with opened(assets(), frozenset()) as engine:
        assert not isinstance(engine, Missing)
        laid = engine.lay_out(html)
        drawn = engine.pdf(laid, b"x")
    assert len(laid.refused) == 1 and "secret.svg" in laid.refused[0]
    assert b"hidden" not in drawn


@pytest.mark.needs_pdf
@pytest.mark.parametrize(
    ("html", "cells"),
    [
        (
            '<div data-cell="narrow" style="width:20mm;white-space:nowrap">far too many words here</div>',
            ["narrow"],
        ),
        ('<div data-cell="low" style="width:20mm;height:6mm">far too many words for this</div>', ["low"]),
        (
            '<table style="table-layout:fixed;width:9mm"><tr><td data-cell="td">unbreaking</td></tr></table>',
            ["td"],
        ),
        ('<div data-cell="right" style="width:60mm;height:9mm">it fits</div>', []),
        ('<div data-cell="tall">one<br>two<br>three</div>', []),
    ],
)
def test_overflow_is_found_where_it_was_planted(html: str, cells: list[str]) -> None:
    page = f'<html lang="en"><title>x</title><body style="font-size:11pt">{html}</body></html>'
    with opened(assets(), frozenset()) as engine:
        assert not isinstance(engine, Missing)
        found = engine.lay_out(page).spills
    assert sorted({s.cell for s in found}) == cells


def test_signs_that_no_font_has_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.sheets.fonts.SYSTEM_FOLDERS", ())
    fonts = assets() / "fonts"
    assert uncovered("Åse Nørholt, 8 × 2-5 at 82-92 % … ’ – ✓", fonts) == ()
    assert uncovered("Ng 🏃\u200d ل", fonts) == ("ل", "🏃")


def test_the_fonts_stand_beside_their_licence() -> None:
    folder = assets() / "fonts"
    assert {p.stem.split("-")[1] for p in folder.glob("*.ttf")} == {"Regular", "Italic", "SemiBold", "Bold"}
    assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / "OFL.txt").read_text(encoding="utf-8")
    assert "IBM Plex" in (folder / "THIRD-PARTY.txt").read_text(encoding="utf-8")


def test_bars_grow_with_load_and_the_warm_up_counts() -> None:
    view = board_view(world.outcome(), world.problem(), REVISION, BOARDS["A3"], None)
    row = view.pages[0].rows[0]
    widths = [sum(b.width_mm for b in cell.bars) for cell in row.cells if cell.units]
    assert max(widths) <= BAR_FULL_MM + 0.01 and len(set(widths)) > 3
    week = world.problem().weeks[world.S][0]
    assert int(row.load) == sum(world_load(day) for day in week.days)


def world_load(day: date) -> int:
    """Counted here by hand: effort x minutes of each unit, and 25 x 3 once a session that needs a warm-up."""
    mine = [p for p in world.placements() if p.athlete == world.S and p.day == day]
    total = sum(p.dose.effort * p.dose.minutes for p in mine)
    for slot in {p.slot for p in mine}:
        total += 75 if any(not p.unit.recovery_only for p in mine if p.slot == slot) else 0
    return total


def test_lanes_are_those_in_use_and_groups_share_a_letter() -> None:
    view = board_view(world.outcome(), world.problem(), REVISION, BOARDS["A3"], None)
    first = view.pages[0]
    assert [d.lanes for d in first.days] == [1, 2, 1, 2, 1, 1, 1]
    monday = {row.name: row.cells[0].group for row in first.rows}
    assert monday[world.S] == monday[world.J] == monday[world.T] != monday[world.A] == monday[world.L]
    assert monday[world.R] == ""
    heads = {stop.letters: stop.text for stop in first.lanes[0].stops}
    assert first.lanes[0].stops[0].text.startswith("17:00 ")  # the time once, for all who begin then
    assert heads["J P"] == "north pit, Marit Lo"
    assert heads["W"] == "Pål Vinje"  # on the same straight: the place once, for all who are there
    assert first.rows[3].opens_group and not first.rows[1].opens_group


def test_a_small_paper_splits_the_week_by_whole_days() -> None:
    view = board_view(world.outcome(), world.problem(), REVISION, BOARDS["A4"], None)
    week = [p for p in view.pages if p.key.startswith("week 1")]
    assert len(week) == 2
    assert [d.weekday for p in week for d in p.days] == ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
    assert all(len(p.rows) == len(world.ATHLETES) for p in week)


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_the_lanes_of_a_page_fill_the_paper_and_quiet_ones_are_narrow(paper: str) -> None:
    view = board_view(world.outcome(), world.problem(), REVISION, BOARDS[paper], None)
    for page in view.pages:
        widths = [lane.width_mm for lane in page.lanes]
        assert sum(widths) == pytest.approx(BOARDS[paper].inner_width - NAME_MM - WEEK_MM, abs=0.2)
        quiet = [lane.width_mm for lane in page.lanes if lane.quiet]
        busy = [lane.width_mm for lane in page.lanes if not lane.quiet]
        assert not quiet or not busy or max(quiet) < min(busy)


def test_a_unit_away_from_its_letters_place_says_where_itself() -> None:
    given = world.outcome()
    moved = tuple(
        replace(p, place="grass", coach="") if p.athlete == world.T and p.unit.id == "medium-long-jumps" else p
        for p in given.plan.placements
    )
    view = board_view(
        replace(given, plan=replace(given.plan, placements=moved)),
        world.problem(), REVISION, BOARDS["A3"], None,
    )  # fmt: skip
    monday = {row.name: row.cells[0].units[0] for row in view.pages[0].rows}
    assert monday[world.T].where == "grass" and monday[world.S].where == ""
    assert monday[world.T].name == "mid jumps" and monday[world.T].amount.isdigit()


def test_many_athletes_are_cut_evenly_and_none_is_lost() -> None:
    outcome, problem = world.crowd(30)
    for paper in ("A4", "Letter", "A3"):
        view = board_view(outcome, problem, REVISION, BOARDS[paper], None)
        week = [p for p in view.pages if p.key.startswith("week 1")]
        runs: dict[str, list[int]] = {}
        names: dict[str, list[str]] = {}
        for page in week:
            day = page.lanes[0].date
            runs.setdefault(day, []).append(len(page.rows))
            names.setdefault(day, []).extend(row.name for row in page.rows)
        for day, counts in runs.items():
            assert max(counts) - min(counts) <= 4, counts
            assert names[day] == [a.name for a in problem.block.athletes]


def test_drills_of_a_session_are_said_once_with_their_sum() -> None:
    view = athlete_view(world.ATHLETES[0], world.outcome(), world.problem(), REVISION)
    friday = view.weeks[0].days[4].sessions[0]
    assert friday.warm_up == "Warm-up 25 min with running drills, then run-up starts 4"
    pool = view.weeks[0].days[3].sessions[0]
    assert pool.warm_up == "" and pool.stops[0].partners == "with Jonas and 2 more"
    given = world.outcome()
    book = units()
    doubled = tuple(
        replace(p, unit=book["short-long-jumps"], dose=world.dose(book["short-long-jumps"], "advanced"))
        if p.athlete == world.S and p.unit.id == "full-run-ups" else p
        for p in given.plan.placements
    )  # fmt: skip
    more = replace(given, plan=replace(given.plan, placements=doubled))
    said = athlete_view(world.ATHLETES[0], more, world.problem(), REVISION).weeks[0].days[4].sessions[0]
    assert said.warm_up.endswith("then run-up starts 8 and penultimate-step drills 20")


def test_what_is_for_novices_is_said_to_novices_only() -> None:
    def targets(level: str) -> set[str]:
        made = world.block()
        athletes = tuple(replace(a, level=level) for a in made.athletes)  # type: ignore[arg-type]
        problem = world.problem(replace(made, athletes=athletes))
        view = athlete_view(athletes[0], world.outcome(), problem, REVISION)
        units_of = [u for w in view.weeks for d in w.days for s in d.sessions for x in s.stops for u in x.units]
        return {u.target for u in units_of if u.name.startswith("Heavy")} - {""}

    assert targets("advanced") == {"a weight that leaves 2-3 repetitions (about 80\u00a0% of a best single)"}
    assert targets("novice") == {"technique first; a weight that leaves 3 repetitions. No test of a maximum"}


def test_nobody_under_age_is_said_to_be_on_their_own() -> None:
    def coaches(name: str) -> set[str]:
        athlete = next(a for a in world.ATHLETES if a.name == name)
        view = athlete_view(athlete, world.outcome(), world.problem(), REVISION)
        return {s.coach for w in view.weeks for d in w.days for x in d.sessions for s in x.stops}

    assert "on your own" in coaches(world.H) and "no coach" not in coaches(world.H)
    assert "no coach" in coaches(world.T) and "on your own" not in coaches(world.T)


def test_a_junior_reads_of_an_adult_only_where_the_file_knows_one_there() -> None:
    def alone(*there: Presence, venues: int = 1) -> set[str]:
        made = world.block()
        places = [p for p in world.PLACES.values() if venues > 1 or p.venue == "Solbakken"]
        openings = tuple(o for o in made.openings if o.place in places)
        problem = world.problem(replace(made, openings=openings, presences=there))
        tuva = made.athlete(world.T)
        view = athlete_view(tuva, world.outcome(), problem, REVISION)
        return {s.coach for w in view.weeks for d in w.days for x in d.sessions for s in x.stops if not s.partners}

    day = world.FIRST + timedelta(days=2)  # Tuva alone, without a coach
    adult = Presence(day, "evening", "Eskil Moe", 150, tasks=("adult",))
    assert "no coach" in alone() and WITH_ADULT not in alone()
    assert WITH_ADULT in alone(adult) and "no coach" not in alone(adult)
    assert WITH_ADULT not in alone(replace(adult, tasks=("rake",)))
    assert WITH_ADULT not in alone(replace(adult, hours=((time(17, 0), time(18, 0)),)))
    assert WITH_ADULT not in alone(adult, venues=3)


def test_a_line_ends_between_two_events_and_never_inside_one() -> None:
    made = replace(world.ATHLETES[0], events=("long jump", "100 m hurdles", "200 m"))
    view = athlete_view(made, world.outcome(), world.problem(), REVISION)
    assert view.events.split(" ") == ["Long\u00a0jump,", "100\u00a0m\u00a0hurdles", "and", "200\u00a0m"]


def test_no_test_is_asked_for_under_a_limit_or_before_a_competition() -> None:
    def tests(name: str) -> list[bool]:
        athlete = next(a for a in world.ATHLETES if a.name == name)
        return [bool(w.tests) for w in athlete_view(athlete, world.outcome(), world.problem(), REVISION).weeks]

    assert tests(world.S) == [True, False]  # a meeting that matters ends the second week
    assert not tests(world.T)[0]  # a knee at stage 4
    assert tests(world.J)[0]


def test_a_competition_of_this_week_is_named_before_later_ones() -> None:
    view = athlete_view(world.ATHLETES[0], world.outcome(), world.problem(), REVISION)
    assert [w.next_competition.split(":")[0] for w in view.weeks] == ["Next", "This week"]


def test_the_contact_stands_whole_in_the_foot_before_the_squad() -> None:
    assert squad_foot("Hollowmere AC", "0555 010 203") == "Hollowmere AC, 0555 010 203"
    long = squad_foot("Hollowmere AC jumps and sprints", "Call the coach, 0555 010 203")
    assert long.endswith(", Call the coach, 0555 010 203") and len(long) <= 52 and long.startswith("Hollowmere")


def test_how_sure_in_plain_words() -> None:
    def plan(should: TierStatus, early: bool = False) -> Plan:
        return Plan(
            (), {"must": TierStatus(0, 0), "should": should, "prefer": TierStatus(1, 1)}, stopped_early=early
        )

    assert sureness(plan(TierStatus(5, 5))) == "Proved best."
    assert sureness(plan(TierStatus(5, 4))) == "May be improved, by at most 1 point of targets."
    assert sureness(plan(TierStatus(5, None))) == "May be improved; by how much is not known."
    assert "second run may differ" in sureness(plan(TierStatus(5, 4), True))


def test_a_page_of_one_athlete_holds_nothing_of_another() -> None:
    view = athlete_view(world.ATHLETES[0], world.outcome(), world.problem(), REVISION)
    text = repr(view)
    assert "Tuva" in text and "knee" not in text.lower() and "Mosletten" not in text


def test_paper_never_says_what_it_must_not() -> None:
    texts: list[Any] = [athlete_view(a, world.outcome(), world.problem(), REVISION) for a in world.ATHLETES]
    texts.append(board_view(world.outcome(), world.problem(), REVISION, BOARDS["A3"], ()))
    text = repr([t for t in texts]).lower()
    for word in ("optimal", "guarantee", "prevents inj", "diagnos", "placement", "dose", "neural", "rehab"):
        assert word not in text, word
