"""What a coach would look for first in the seventeen weeks from the indoor to the outdoor season."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from planned_examples import EXAMPLES
from reviewed import Planned

from planner.domain.competing import several_events
from planner.intake import check_block
from planner.season import outline_of, parts_of
from planner.solve import verify

JORUN, AVELINE, DARIO = "Jorun Velstad", "Aveline Skarn", "Dario Penhallick"
MARIT, TOBIN = "Marit Okonvale", "Tobin Estray"
EVERYBODY = (JORUN, AVELINE, DARIO, MARIT, TOBIN)
LAST_INDOORS, MAIN = date(2027, 2, 28), date(2027, 6, 26)
EXAMS = tuple(
    datetime(2027, 5, day, hour, minute)
    for day, hour, minute in ((10, 9, 0), (13, 9, 0), (18, 13, 30), (20, 9, 0), (25, 9, 0), (28, 9, 0))
)


def days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=i) for i in range((last - first).days + 1)]


def test_every_must_is_kept_in_the_plan_as_one_whole(outdoor: Planned) -> None:
    assert len(parts_of(outdoor.problem)) > 1
    assert outdoor.outcome.musts_broken == ()


def test_rows_and_checks_agree_about_the_whole(outdoor: Planned) -> None:
    verify(outdoor.outcome.plan, outdoor.problem, outdoor.outcome)


@pytest.mark.parametrize("athlete", EVERYBODY)
def test_phases_are_counted_back_from_the_outdoor_main_competition(outdoor: Planned, athlete: str) -> None:
    outline = outline_of(outdoor.problem)
    assert outline.stretches(athlete) == (
        ("bridge", 1, date(2027, 3, 1), date(2027, 3, 7)),
        ("general preparation", 4, date(2027, 3, 8), date(2027, 4, 4)),
        ("specific preparation", 4, date(2027, 4, 5), date(2027, 5, 2)),
        ("pre-competition", 2, date(2027, 5, 3), date(2027, 5, 16)),
        ("competition", 4, date(2027, 5, 17), date(2027, 6, 13)),
        ("taper", 2, date(2027, 6, 14), MAIN),
    )
    assert outline.remarks == ()


def test_the_bridge_is_easy_for_all(outdoor: Planned) -> None:
    """Five to nine days at neural 0-1 after the last main competition indoors."""
    for athlete in EVERYBODY:
        bridge = days(LAST_INDOORS + timedelta(1), date(2027, 3, 7))
        assert all(outdoor.neural(athlete, d) <= 1 for d in bridge)
        first = next(d for d in outdoor.problem.days if outdoor.neural(athlete, d) >= 2)
        assert 5 <= (first - LAST_INDOORS).days - 1 <= 12, f"{athlete}: first on {first}"


def test_easier_weeks_are_where_they_belong_and_never_three_in_five(outdoor: Planned) -> None:
    for athlete in EVERYBODY:
        weeks = outdoor.problem.weeks[athlete]
        low = [w.kind == "easier" and not w.exam_week for w in weeks]
        assert all(sum(low[i : i + 5]) < 3 for i in range(len(low)))
        if athlete != TOBIN:  # advanced: three loading weeks, then an easier one
            assert [w.begins for w in weeks if w.kind == "easier"] == [date(2027, 3, 29), date(2027, 4, 26)]
        tapers = [w.index for w in weeks if w.kind == "taper"]
        assert not low[tapers[0] - 1]


def test_no_pit_while_the_runway_is_laid(outdoor: Planned) -> None:
    closed = days(date(2027, 4, 1), date(2027, 4, 12))
    placed = [p for p in outdoor.outcome.plan.placements if p.day in closed]
    assert placed
    assert not [p for p in placed if "pit" in p.place]
    assert not [p for p in placed if p.unit.family == "full-jumps"]
    for athlete in (DARIO, MARIT):  # phases on grass, take-offs from a box, run-ups on a straight
        instead = {(p.unit.id, p.place) for p in placed if p.athlete == athlete}
        wanted = {("triple-jump-phases", "grass"), ("box-take-offs", "gym"), ("full-run-ups", "straight")}
        assert len(instead & wanted) >= 2, f"{athlete}: {instead}"


def test_the_hall_until_march_the_stadium_from_april(outdoor: Planned) -> None:
    for p in outdoor.outcome.plan.placements:
        assert p.venue != "Skellbeck hall" or p.day <= date(2027, 3, 31)
        assert p.venue != "Skellbeck stadium" or p.day >= date(2027, 4, 1)


def test_an_opening_meeting_has_no_fast_day_beside_it(outdoor: Planned) -> None:
    for athlete in EVERYBODY:
        for c in outdoor.problem.competitions_of(athlete)[1:]:
            for beside in (c.first_day - timedelta(1), c.first_day + timedelta(1)):
                assert beside > MAIN or outdoor.neural(athlete, beside) <= 2, f"{athlete}, {beside}"


def test_nothing_fast_within_a_day_before_examinations_and_less_in_their_weeks(outdoor: Planned) -> None:
    for exam in EXAMS:
        for p in outdoor.view.of(TOBIN):
            if p.dose.neural >= 3:
                assert not exam - timedelta(hours=24) < p.begins < exam, f"{p.unit.id} {p.begins}"
    weeks = outdoor.problem.weeks[TOBIN]
    assert [w.begins for w in weeks if w.exam_week] == [date(2027, 5, d) for d in (10, 17, 24)]
    assert all(w.share <= 60 for w in weeks if w.exam_week)
    load = {w.begins: sum(p.dose.load for p in outdoor.view.in_week(w)) for w in weeks}
    usual = [load[w.begins] for w in weeks if w.kind == "loading" and w.begins >= date(2027, 4, 5)]
    for week in (w for w in weeks if w.exam_week):  # about 40 % less: common practice, no source
        assert 0 < load[week.begins] <= 0.62 * sum(usual) / len(usual), f"{week.begins}: {load[week.begins]}"


def test_no_race_hurdles_and_full_jumps_on_one_day(outdoor: Planned) -> None:
    for day in outdoor.problem.days:
        units = {p.unit.id for p in outdoor.view.on(MARIT, day)}
        assert not {"race-hurdles", "full-long-jumps"} <= units, str(day)


def test_two_events_on_the_day_of_the_championships_are_shown_and_accepted(
    outdoor: Planned, tmp_path: Path
) -> None:
    """Hurdles and long jump: the file gives both clock times and who accepts the time between them."""
    (meet,) = [c for c in outdoor.problem.block.competitions if (c.athlete, c.first_day) == (MARIT, MAIN)]
    entered = several_events(outdoor.problem.block, meet)
    assert entered is not None and set(entered.events) == {"long jump", "100 m hurdles"} and entered.accepted
    assert [gap.minutes for gap in entered.gaps] == [190]
    text = (EXAMPLES / "indoor-to-outdoor" / "block.yaml").read_text(encoding="utf-8")
    row = re.search(r"starts: 100 m hurdles 11:20; long jump 14:30(, gap_accepted: \"[^\"]+\")", text)
    assert row is not None

    def asked(now: str) -> list[str]:
        (tmp_path / "block.yaml").write_text(now, encoding="utf-8")
        said = map(str, check_block(tmp_path / "block.yaml")[1])
        return [line for line in said if "several events on one day" in line]

    assert not asked(text)
    (line,) = asked(text.replace(row[1], ""))
    assert MARIT in line and "190 minutes from start to start" in line and "'gap_accepted'" in line
    (line,) = asked(text.replace(",\n     " + row[0], ""))
    assert MARIT in line and "the time between them is not known" in line and "'starts'" in line


def test_the_tendon_is_kept_inside_its_stage(outdoor: Planned) -> None:
    """Stage 4 from 20 April: sub-maximal, no more than a medium load on it; stage 5 from 11 May."""
    for day in days(date(2027, 4, 20), date(2027, 5, 10)):
        for p in outdoor.view.on(DARIO, day):
            assert p.dose.neural <= 2, f"{p.unit.id} on {day}"
            assert p.dose.loads.get(("calf-achilles", "left"), 0) <= 2, f"{p.unit.id} on {day}"
    before = outdoor.problem.week_of(DARIO, date(2027, 4, 12))
    during = outdoor.problem.week_of(DARIO, date(2027, 5, 3))
    assert before is not None and during is not None
    assert during.doses["intensive-bounds"][0].amount < before.doses["intensive-bounds"][0].amount


@pytest.mark.parametrize("athlete", EVERYBODY)
def test_the_taper_cuts_the_volume_and_keeps_it_fast(outdoor: Planned, athlete: str) -> None:
    """Load of the last week 40-60 % below the loading weeks' average, a developing athlete's at least 25 %.

    Two weeks, 41-60 % less: Bosquet, Montpetit, Arvisais, Mujika 2007, Medicine and Science in Sports and
    Exercise 39(8):1358-1365. Intensity is kept: something fast in each week.
    """
    weeks = outdoor.problem.weeks[athlete]
    load = {w.index: sum(p.dose.load for p in outdoor.view.in_week(w)) for w in weeks}
    loading = [load[w.index] for w in weeks if w.kind == "loading" and w.phase != "general-preparation"]
    usual = sum(loading) / len(loading)
    first, last = (w for w in weeks if w.kind == "taper")
    assert load[last.index] < load[first.index] < usual
    least = 0.25 if athlete == TOBIN else 0.4
    assert load[last.index] <= (1 - least) * usual, f"{load[last.index]} of {usual:.0f}"
    assert any(p.dose.counters.get("fast-metres", 0) for p in outdoor.view.in_week(first))
    assert any(p.dose.counters.get("fast-metres", 0) for p in outdoor.view.in_week(last))
