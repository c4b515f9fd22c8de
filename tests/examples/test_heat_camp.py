"""What a coach would look for first in the heat camp and the weeks after it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pypdf
import pytest
from reviewed import Planned

from planner.domain.block import Weather
from planner.domain.camp import camp_day
from planner.domain.plan import Placement
from planner.domain.revision import Revision
from planner.sheets import print_sheets

RONJA, ILAN, SIRI = "Ronja Vestmark", "Ilan Drovik", "Siri Halvane"
JORY, METTE, CASPAR = "Jory Pellam", "Mette Ostrand", "Caspar Lindvale"
ADULTS, MINORS = (RONJA, ILAN, SIRI, CASPAR), (JORY, METTE)
ARRIVES = {RONJA: 17, ILAN: 18, SIRI: 17, JORY: 17, METTE: 19, CASPAR: 20}
LEAVES = {
    RONJA: datetime(2027, 7, 24, 16),
    ILAN: datetime(2027, 7, 24, 16),
    SIRI: datetime(2027, 7, 22, 16),
    JORY: datetime(2027, 7, 24, 16),
    METTE: datetime(2027, 7, 23, 12),
    CASPAR: datetime(2027, 7, 24, 16),
}
# Average load of the weeks in the table 'before', effort x minutes.
USUAL = {RONJA: 2600, ILAN: 2700, SIRI: 2150, JORY: 1900, METTE: 1800, CASPAR: 2300}
TRIANGLE = re.compile(r'<svg class="tri"[^>]* aria-label="(\w+)"')
PATH = re.compile(r'<svg class="tri"[^>]* aria-label="(\w+)"><path d="([^"]+)" fill')
# Slots with a WBGT below 26.0: all early mornings, and these.
COOL_LATE_MORNINGS, COOL_LATE_EVENINGS = (17, 18, 23, 24), (17, 18, 23)


def july(day: int) -> date:
    return date(2027, 7, day)


def in_the_open(camp: Planned, *athletes: str) -> Iterator[Placement]:
    for athlete in athletes:
        yield from (p for p in camp.view.of(athlete) if p.day <= july(24) and p.place != "gym")


def wbgt(camp: Planned, p: Placement) -> int | None:
    rows = [w for w in camp.problem.block.weather if (w.day, w.slot) == (p.day, p.slot)]
    found: Weather | None = rows[0] if rows else None
    return None if found is None else found.wbgt


def test_every_must_is_kept(heat_camp: Planned) -> None:
    assert heat_camp.outcome.musts_broken == ()


def test_everybody_trains_in_camp(heat_camp: Planned) -> None:
    for athlete in heat_camp.problem.athletes:
        days = {p.day for p in heat_camp.view.of(athlete) if p.day <= july(24)}
        assert len(days) >= 3, f"{athlete}: {sorted(days)}"


def test_days_are_counted_from_the_own_arrival(heat_camp: Planned) -> None:
    for athlete, day in ARRIVES.items():
        assert camp_day(heat_camp.problem, athlete, july(day)) == 1
        assert camp_day(heat_camp.problem, athlete, july(day) - timedelta(1)) is None
    assert camp_day(heat_camp.problem, CASPAR, july(22)) == 3
    assert camp_day(heat_camp.problem, METTE, july(23)) == 5
    assert camp_day(heat_camp.problem, METTE, july(24)) is None  # left on Friday


def test_the_day_of_arrival_is_easy(heat_camp: Planned) -> None:
    for athlete, day in ARRIVES.items():
        assert heat_camp.neural(athlete, july(day)) <= 1, athlete


def test_the_first_fast_day_waits(heat_camp: Planned) -> None:
    """A day of grace after the journey: a preference after short ones, a must after more than six hours."""
    earliest = {RONJA: 19, SIRI: 19, ILAN: 20, METTE: 20, CASPAR: 21}
    for athlete, day in earliest.items():
        fast = [d for d in heat_camp.problem.days if heat_camp.neural(athlete, d) >= 3]
        assert fast and fast[0] >= july(day), f"{athlete}: {fast[0]}"


def test_nobody_trains_outside_in_the_hottest_slots(heat_camp: Planned) -> None:
    hot = [(july(20), "early evening"), (july(21), "early evening")]  # 30.5 and 31 degrees
    assert not [p.key for p in in_the_open(heat_camp, *ADULTS, *MINORS) if (p.day, p.slot) in hot]


def test_no_long_work_where_rest_must_equal_work(heat_camp: Planned) -> None:
    seen = 0
    for p in in_the_open(heat_camp, *ADULTS):
        heat = wbgt(heat_camp, p)
        if heat is not None and heat >= 279:
            seen += 1
            assert p.unit.family not in ("special-endurance", "tempo"), p.key
    assert seen, "nobody trained in a slot of 27.9 degrees and more: the test shows nothing"


def test_the_young_train_below_26_degrees_only(heat_camp: Planned) -> None:
    for p in in_the_open(heat_camp, *MINORS):
        cool = (
            p.slot == "early morning"
            or (p.slot == "late morning" and p.day.day in COOL_LATE_MORNINGS)
            or (p.slot == "late evening" and p.day.day in COOL_LATE_EVENINGS)
        )
        assert cool, p.key


def test_throws_cannot_be_had_for_the_young_and_the_plan_says_why(heat_camp: Planned) -> None:
    for athlete in MINORS:
        assert not [p for p in in_the_open(heat_camp, athlete) if p.unit.family == "throws"]
        said = [r for r in heat_camp.remarks if r.startswith(athlete) and "no throws, at least once" in r]
        assert len(said) == 1
        assert "cannot be had, because" in said[0]
        assert "WBGT of 30.0 degrees" in said[0] and "26.0" in said[0]


def test_mette_has_no_bed_and_is_told_why(heat_camp: Planned) -> None:
    """Arrives on Monday, leaves on Friday noon; Tuesday and Wednesday evening are too hot at 16 years."""
    assert not [p for p in in_the_open(heat_camp, METTE) if p.unit.place_kinds == ("bed",)]
    for day, degrees in ((20, "26.0"), (21, "27.0")):
        said = [r for r in heat_camp.remarks if r.startswith(f"{METTE}, {july(day):%a %d %b}, late evening")]
        assert len(said) == 1
        assert "cannot be had, because" in said[0] and f"WBGT of {degrees} degrees" in said[0]
    offered = [p for p in heat_camp.problem.candidates if p.athlete == METTE]
    beds = {(p.day, p.slot) for p in offered if p.place == "high jump bed"}
    assert beds == {(july(20), "late evening"), (july(21), "late evening")}, "no other bed was ever on offer"
    curves = [p for p in in_the_open(heat_camp, METTE) if p.unit.id == "curve-runs"]
    assert curves and all(p.slot == "early morning" for p in curves), "what takes its place is there"


def test_who_can_reach_the_bed_jumps_there(heat_camp: Planned) -> None:
    """Four evenings, and the coach's wish: one of the events of those who compete in all must not be left out."""
    for athlete in (RONJA, ILAN, SIRI, JORY):
        jumped = [p for p in in_the_open(heat_camp, athlete) if p.place == "high jump bed"]
        assert jumped, f"{athlete} never jumps high in the camp"


def test_throws_and_sprints_only_where_their_coach_is(heat_camp: Planned) -> None:
    """Viggo is there from Sunday to Thursday; Ulrika does not teach throws nor top speed."""
    seen = 0
    for p in in_the_open(heat_camp, *ADULTS, *MINORS):
        if p.unit.family in ("throws", "top-speed") and p.unit.eyes == 2:
            seen += 1
            assert july(18) <= p.day <= july(22) and p.coach == "Viggo", p.key
    assert seen


def test_pit_groups_and_gym_hold_what_they_hold(heat_camp: Planned) -> None:
    """40 jumps an hour at a pit, six at a place, four in the gym."""
    placed = [p for p in heat_camp.view.placements if p.day <= july(24)]
    for day, slot in sorted({(p.day, p.slot) for p in placed}):
        here = [p for p in placed if (p.day, p.slot) == (day, slot)]
        assert len({p.athlete for p in here if p.place == "gym"}) <= 4
        for place in ("pit", "high jump bed", "hurdle lanes", "throws sector"):
            assert len({p.athlete for p in here if p.place == place}) <= 6
        jumps = sum(p.dose.amount for p in here if p.place == "pit" and p.dose.measure == "jumps")
        minutes = [o.minutes for o in heat_camp.problem.openings_in(day, slot) if o.place.name == "pit"]
        assert not jumps or jumps * 60 <= 40 * minutes[0], f"{day} {slot}: {jumps} jumps"


def test_last_fast_work_ends_a_day_before_leaving(heat_camp: Planned) -> None:
    seen = set()
    for athlete, leaves in LEAVES.items():
        for p in heat_camp.view.of(athlete):
            if p.dose.neural >= 3 and p.begins < leaves:
                session = next(s for s in heat_camp.view.sessions(athlete, p.day) if s.slot == p.slot)
                first = [q for q in session.placements if q.unit.order <= p.unit.order]
                ends = p.begins + timedelta(minutes=session.warm_up + sum(q.dose.minutes for q in first))
                assert ends <= leaves - timedelta(hours=24), f"{athlete}: {p.unit.id} ends {ends}"
                seen.add(athlete)
    assert len(seen) >= 3, "fast work was done in the camp"


@pytest.mark.needs_pdf
def test_the_camp_overview_draws_who_arrives_and_who_leaves(heat_camp: Planned, tmp_path: Path) -> None:
    """A black triangle on the day of arrival, an open one on the day of leaving, and nowhere else; with a key."""
    made = Revision(1, datetime(2027, 1, 4, 9, tzinfo=ZoneInfo("UTC")), "built")
    report = print_sheets(heat_camp.outcome, heat_camp.problem, made, tmp_path, names=("board",), processes=1)
    assert report.complete and not report.warnings, report
    html = (tmp_path / "squad-board-A4.html").read_text(encoding="utf-8")
    cells = re.findall(r'<td[^>]* data-cell="([^"]+)">\s*<div class="in">(.*?)</td>', html, re.DOTALL)
    drawn = {(cell, turn) for cell, inside in cells for turn in TRIANGLE.findall(inside)}
    arrive = {(f"{a}, {july(day):%a} {day} Jul", "arrives") for a, day in ARRIVES.items()}
    leave = {(f"{a}, {at:%a} {at.day} Jul", "leaves") for a, at in LEAVES.items()}
    assert drawn == arrive | leave
    arrivals, departures = (
        {path for turn, path in PATH.findall(html) if turn == wanted} for wanted in ("arrives", "leaves")
    )
    assert len(arrivals) == len(departures) == 1 and arrivals != departures, "told apart without colour"
    reader = pypdf.PdfReader(tmp_path / "squad-board-A4.pdf")
    first = [page.extract_text() for page in reader.pages if "Arrival 11:00" in page.extract_text()]
    assert first and all("arrives" in text for text in first), "the key says what the triangle means"


def test_nobody_trains_at_the_camp_before_or_after_the_own_stay(heat_camp: Planned) -> None:
    for athlete, leaves in LEAVES.items():
        for p in heat_camp.view.of(athlete):
            if p.day <= july(25):
                assert july(ARRIVES[athlete]) <= p.day and p.begins < leaves, p.key


def test_the_camp_week_and_the_week_after_against_the_usual(heat_camp: Planned) -> None:
    for athlete, load in USUAL.items():
        weeks = {w.begins: w for w in heat_camp.problem.weeks[athlete]}
        camp = sum(p.dose.load for p in heat_camp.view.in_week(weeks[july(18)]))
        after = sum(p.dose.load for p in heat_camp.view.in_week(weeks[july(25)]))
        assert camp * 100 <= 130 * load, f"{athlete}: {camp} of {load}"
        assert after * 100 <= 70 * load, f"{athlete}: {after} of {load}"


def test_the_taper_begins_on_the_first_of_august(heat_camp: Planned) -> None:
    for athlete in (RONJA, ILAN, SIRI, JORY, METTE):
        weeks = {w.begins: w for w in heat_camp.problem.weeks[athlete]}
        first, second = weeks[date(2027, 8, 1)], weeks[date(2027, 8, 8)]
        assert (first.kind, second.kind) == ("taper", "taper")
        assert 100 > first.share > second.share
        loads = [sum(p.dose.load for p in heat_camp.view.in_week(w)) for w in (first, second)]
        assert USUAL[athlete] > loads[0] > loads[1] > 0, f"{athlete}: {loads}"
        assert any(heat_camp.neural(athlete, d) >= 2 for d in second.days[:-2]), "a fast touch stays"


def test_the_rehearsal_is_the_one_exception(heat_camp: Planned) -> None:
    for athlete in heat_camp.problem.athletes:
        for day in heat_camp.problem.days[1:]:
            both = (heat_camp.neural(athlete, day), heat_camp.neural(athlete, day - timedelta(1)))
            meets = heat_camp.problem.competition_on(athlete, day)
            if both == (3, 3) and not meets:
                assert athlete in (RONJA, ILAN) and day == july(23), f"{athlete}, {day}"
    for athlete in (RONJA, ILAN):
        thursday = {p.unit.id for p in heat_camp.view.on(athlete, july(22))}
        friday = {p.unit.id for p in heat_camp.view.on(athlete, july(23))}
        assert {"race-hurdles", "throws-technique"} <= thursday and "full-long-jumps" in friday
        assert "throws-technique" not in friday  # nobody there to watch
    reasons = [s.reason for s in heat_camp.problem.block.settings if s.is_exception]
    assert reasons and all(len(r) >= 10 for r in reasons)


def test_heavy_lifting_is_out_for_the_limited_back(heat_camp: Planned) -> None:
    for p in heat_camp.view.of(JORY):
        if p.day <= july(31):
            assert p.unit.id != "heavy-strength"
            assert p.dose.counters.get("landings", 0) <= 10, p.key


def test_themes_run_through_the_days(heat_camp: Planned) -> None:
    for theme in heat_camp.problem.block.themes:
        mine = [p for p in heat_camp.view.of(theme.athlete) if p.unit.id in theme.units]
        days = {p.day for p in mine if p.day <= july(24)}
        assert len(days) >= 3, f"{theme.athlete}: {sorted(days)}"
