"""What goes wrong in the Easter block and among the juniors, with what must hold then."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from happened import Happens, concerned, rest

from planner.domain.plan import Placement, Plan
from planner.numbers.run_up_work import StillMark
from planner.review.exceptions import prices

Demo = Callable[[str], Happens]
TILDE, BRAM, NOOR = "Tilde Okkarin", "Bram Vestergren", "Noor Castlebye"
EDVIN, MICAH = "Edvin Holmrask", "Micah Dunnavar"
RAFE, BASTIAN, LEANDER = "Rafe K.", "Bastian L.", "Leander T."


# --- the Easter block -----------------------------------------------------------------------------------


@pytest.mark.parametrize("day", [date(2027, 3, 22), date(2027, 3, 25)])
def test_rain_shuts_the_pit_until_two(easter: Happens, day: date) -> None:
    """The morning's jumps go to the afternoon of the same day, as many as they were; nobody else changes.

    On Monday some jump in the morning, whoever the plan puts there; on Thursday a school has the pit then, and
    nothing has to move.
    """
    shut = concerned(easter, lambda p: p.day == day and p.place == "pit" and p.begins.hour < 14)
    assert bool(shut) == (day.day == 22)
    easter.log(
        f"{day} 09:20", "venue-closed", "venue=Brankholt stadium", "place=pit", f"begins={day} 09:20",
        f"ends={day} 14:00",
    )  # fmt: skip
    made = easter.replan(f"{day} 09:25", alone=rest(easter, shut))
    assert all(p.begins.hour >= 14 for p in made.after if p.day == day and p.place == "pit")
    for athlete in sorted(shut):
        had, has = made.jumps(athlete, day)
        assert has == had > 0
        other = [p.key for p in made.had(athlete) if p.day != day]
        assert other == [p.key for p in made.own(athlete) if p.day != day]
    if not shut:
        assert not made.changes


def test_a_sore_knee_takes_the_landings_out(easter: Happens) -> None:
    """Five of ten in the morning is a stop: the coach enters stage 3, and no date brings the jumps back."""
    easter.log(
        "2027-03-27 09:00", "hurt", f"athlete={BRAM}", "day=2027-03-27", "region=knee", "side=right", "stage=3",
        "entered_by=Reyk", "note=5 of 10 in the morning",
    )  # fmt: skip
    made = easter.replan("2027-03-27 09:10", alone=rest(easter, {BRAM}))
    later = [p for p in made.own(BRAM) if p.begins > made.now]
    assert later and {p.day for p in later} & {date(2027, 3, 29) + timedelta(i) for i in range(6)}
    assert not [p for p in later if p.unit.family in ("technical-jumps", "full-jumps")]
    assert not [p for p in later if p.dose.counters.get("landings")]
    knee = [x for x in made.problem.block.limits if x.athlete == BRAM and x.region == "knee" and not x.hold_back]
    assert [x.stage for x in knee if x.active_on(date(2027, 4, 10))] == [3], "stages are entered, not reached"
    text = " ".join((*made.messages.values(), *(str(c) for c in made.changes))).lower()
    assert not [w for w in ("knee", "pain", "sore", "5 of 10", "stage") if w in text]


FIXED = """\
fixed:
  - {athlete: Tilde Okkarin, date: %s, slot: afternoon, unit: %s}

"""
WHY = "two days running to settle the start mark"
DATES = "athlete: Tilde Okkarin, from: 2027-03-29, until: 2027-03-31"
EXCEPTIONS = f"""\
exceptions:
  - {{rule: two_day_sum_low, off: yes, {DATES}, reason: "{WHY}"}}
  - {{rule: hours_to_recover_floor, off: yes, {DATES}, reason: "{WHY}"}}

"""


def test_two_days_running_at_the_pit_have_a_price_and_an_easy_day(easter: Happens) -> None:
    """Full jumps on Monday, run-ups on Tuesday to settle the start mark: accepted with a reason.

    The two days come to five, the coach reads whether the Wednesday after them is easy, and nothing was added.
    """
    row = FIXED % ("2027-03-30", "full-run-ups, amount: full")
    easter.edit("themes:\n", row + EXCEPTIONS + "themes:\n")
    made = easter.replan("2027-03-28 12:00", alone=rest(easter, {TILDE}))
    tuesday = [p for p in made.own(TILDE, date(2027, 3, 30)) if p.unit.id == "full-run-ups"]
    assert [(p.dose.amount, p.slot) for p in tuesday] == [(6, "afternoon")]
    assert made.neural(TILDE, date(2027, 3, 29)) + made.neural(TILDE, date(2027, 3, 30)) == 5
    said = [str(p) for p in prices(Plan.of(made.after), made.problem) if p.bites]
    assert said and all(WHY in text for text in said)
    (price,) = [text for text in said if "two day sum low" in text]
    assert "Mon 29 and Tue 30 Mar come to 5 on the two-day scale" in price
    easy = made.neural(TILDE, date(2027, 3, 31)) <= 1
    assert f"Wed 31 Mar {'is easy' if easy else 'should be easy and is not'}" in price
    assert "first two run-ups" in price
    easter.stable("2027-03-28 12:30")


def test_full_jumps_on_the_coachs_day_away_are_refused(easter: Happens) -> None:
    """Nobody there can watch them: the two facts are named, and without the row the plan stands."""
    row = FIXED % ("2027-03-31", "full-long-jumps")
    easter.edit("themes:\n", row + "themes:\n")
    said = easter.cannot("2027-03-28 12:00")
    assert "no coach who is there can teach Long jumps from the full run-up" in said
    assert "must be here and is not" in said and "Ways out that were tried" in said
    assert re.search(r"Possible, \d+ units? handed out changed and \d+ points of should lost in the plan", said)
    easter.edit("date: 2027-03-31, slot: afternoon", "date: 2027-04-01, slot: afternoon")
    made = easter.replan("2027-03-28 12:10", alone=rest(easter, {TILDE}))
    assert [p for p in made.own(TILDE, date(2027, 4, 1)) if p.unit.id == "full-long-jumps"], "the day after may do"


def test_a_head_wind_at_the_pit_moves_the_start_mark(easter: Happens) -> None:
    """3.5 m/s from the front: nothing of the plan moves; short jumps stay, and a mark moves 29 cm forward.

    0.25 % of the run-up for each metre a second: 33.20 m x 0.0025 x 3.5 = 29 cm; common practice, no source.
    """
    easter.log("2027-04-03 08:00", "weather", "day=2027-04-03", "wind=3.5", "wind_from=head")
    made = easter.replan("2027-04-03 08:05", alone=rest(easter, ()))
    assert not made.changes
    (run_up,) = [r for r in made.problem.block.run_ups if r.athlete == TILDE]
    still = StillMark(run_up.start_mark, run_up.steps, run_up.shoe / 10)
    assert run_up.start_mark - still.today(-3.5) == 29


def test_a_lighter_day_in_camp_tells_no_reason(easter: Happens) -> None:
    hard = [p.day for p in easter.before if p.athlete == NOOR and p.dose.neural > 1]
    day = min(d for d in hard if d >= date(2027, 4, 1))
    easter.log(f"{day} 06:00", "lighter-day-asked", f"athlete={NOOR}", f"day={day}")
    made = easter.replan(f"{day} 06:05", alone=rest(easter, {NOOR}))
    here = made.own(NOOR, day)
    assert here and all(p.dose.word == "lighter" or p.dose.neural <= 1 for p in here)
    assert any(p.dose.word == "lighter" for p in here)
    assert "note" in easter.refused(
        f"{day} 06:10", "lighter-day-asked", f"athlete={EDVIN}", f"day={day}", "note=bad night"
    )


# --- the juniors ----------------------------------------------------------------------------------------


def test_a_sore_heel_keeps_coming_without_landings(demo: Demo) -> None:
    """The coach goes back to stage 2: no landings on that side, and there is still something to come for."""
    juniors = demo("juniors")
    for region in ("calf-achilles", "foot"):
        juniors.log(
            "2027-05-18 19:30", "setback", f"athlete={RAFE}", "day=2027-05-18", f"region={region}", "side=left",
            "stage=2", "entered_by=Wanda",
        )  # fmt: skip
    made = juniors.replan("2027-05-18 19:35", alone=rest(juniors, {RAFE}))
    later = [p for p in made.own(RAFE) if p.day > date(2027, 5, 18)]
    assert later, "he still comes"
    assert all(p.dose.loads.get(("calf-achilles", "left"), 0) <= 1 for p in later)
    assert not [p for p in later if p.dose.counters.get("landings") or p.unit.family == "full-jumps"]


def test_a_second_school_competition_adds_no_session(demo: Demo) -> None:
    juniors = demo("juniors")
    meet = date(2027, 6, 9)
    juniors.log(
        "2027-06-07 18:00", "competition-added", "name=School match", f"first_day={meet}", f"last_day={meet}",
        f"athletes={LEANDER}",
    )  # fmt: skip
    made = juniors.replan("2027-06-07 18:05", alone=rest(juniors, {LEANDER}))
    sessions = [{(p.day, p.slot) for p in ps} for ps in (made.had(LEANDER), made.own(LEANDER))]
    assert sessions[1] <= sessions[0] and not made.own(LEANDER, meet)
    assert made.neural(LEANDER, date(2027, 6, 8)) <= 1 and made.neural(LEANDER, date(2027, 6, 10)) <= 1


def test_jumps_at_school_count(demo: Demo) -> None:
    """Twelve on Monday: they stand in the week's count, and the next jumps come in their lighter form.

    Two did them: one whose next jumps were light already, and one whose next ones were whole.
    """
    juniors = demo("juniors")
    monday = date(2027, 5, 24)
    coming: dict[str, Placement] = {}  # each one's next jumps
    for p in sorted(juniors.before, key=lambda p: p.day):
        if p.day > monday and p.dose.counters.get("take-offs"):
            coming.setdefault(p.athlete, p)
    whole = next(p for who, p in coming.items() if who != BASTIAN and p.dose.word == "full")
    both = (BASTIAN, whole.athlete)
    for athlete in both:
        juniors.log("2027-05-24 20:00", "load-elsewhere", f"athlete={athlete}", f"day={monday}",
                    "counters=take-offs 12")  # fmt: skip
    made = juniors.replan("2027-05-24 20:05", alone=rest(juniors, both))
    for athlete in both:
        told = sum(p.dose.counters.get("take-offs", 0) for p in made.own(athlete, monday))
        assert told == 12 + sum(p.dose.counters.get("take-offs", 0) for p in made.had(athlete, monday))
        (week,) = [w for w in made.problem.weeks[athlete] if w.begins == monday]
        assert sum(p.dose.counters.get("take-offs", 0) for p in made.view.in_week(week)) >= 12
        had, has = (
            [p for p in ps if p.day > monday and p.dose.counters.get("take-offs")]
            for ps in (made.had(athlete), made.own(athlete))
        )
        assert had, "jumps were to come"
        assert all(p.dose.word == "lighter" for p in has if p.day == had[0].day)
    (change,) = [c for c in made.changes if c["athlete"] == whole.athlete]
    assert change["date"] == str(whole.day) and change["kind"] in ("lighter", "swapped", "left out")


def test_heavy_rain_on_the_last_evening_before_the_championships(demo: Demo) -> None:
    """No roof: nobody runs up in full on a wet runway; who stays off it keeps everything; nothing is added."""
    juniors = demo("juniors")
    day = date(2027, 6, 10)
    up = concerned(juniors, lambda p: p.day == day and p.unit.family in ("run-ups", "full-jumps"))
    assert up
    juniors.log(f"{day} 12:00", "weather", f"day={day}", "rain=yes")
    made = juniors.replan(f"{day} 12:05", alone=rest(juniors, up))
    wet = [p for p in made.after if p.day == day and p.unit.family in ("run-ups", "full-jumps")]
    assert all(p.dose.word == "lighter" for p in wet)
    assert {c["date"] for c in made.changes} == {str(day)}, "nothing is put on another day before Saturday"
