"""What goes wrong in the shipped examples, with what must hold then."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from happened import Happens, Replanned

from planner.domain.plan import Placement

Demo = Callable[[str], Happens]
TILDE, BRAM, NOOR = "Tilde Okkarin", "Bram Vestergren", "Noor Castlebye"
RAFE, BASTIAN, LEANDER = "Rafe K.", "Bastian L.", "Leander T."
RONJA, ILAN, SIRI = "Ronja Vestmark", "Ilan Drovik", "Siri Halvane"
JORUN, AVELINE, DARIO = "Jorun Velstad", "Aveline Skarn", "Dario Penhallick"


def names(happens: Happens) -> list[str]:
    return sorted({p.athlete for p in happens.before})


def neural(made: Replanned, athlete: str, day: date) -> int:
    return max((p.dose.neural for p in made.own(athlete, day)), default=0)


def at(happens: Happens, there: Callable[[Placement], bool]) -> set[str]:
    return {p.athlete for p in happens.before if there(p)}


def rest(happens: Happens, touched: set[str]) -> list[str]:
    return [a for a in names(happens) if a not in touched]


# --- the Easter block -----------------------------------------------------------------------------------


def test_rain_shuts_the_pit_until_two(easter: Happens) -> None:
    """Thursday morning's pit is shut; the afternoon holds no more jumps than were planned for the day."""
    day = date(2027, 3, 25)
    shut = at(easter, lambda p: p.day == day and p.place == "pit" and p.begins.hour < 14)
    easter.log(
        "2027-03-25 09:20", "venue-closed", "venue=Brankholt stadium", "place=pit", "begins=2027-03-25 09:20",
        "ends=2027-03-25 14:00",
    )  # fmt: skip
    made = easter.replan("2027-03-25 09:25", alone=rest(easter, shut))
    here = [p for p in made.after if p.day == day and p.place == "pit"]
    assert all(p.begins.hour >= 14 for p in here)
    for athlete in sorted(shut):
        jumps = [sum(p.dose.counters.get("take-offs", 0) for p in ps(athlete, day)) for ps in (made.had, made.own)]
        assert jumps[1] <= jumps[0]


def test_a_lighter_day_in_camp_tells_no_reason(easter: Happens) -> None:
    easter.log("2027-04-01 09:00", "lighter-day-asked", f"athlete={NOOR}", "day=2027-04-01")
    made = easter.replan("2027-04-01 09:05", alone=rest(easter, {NOOR}))
    here = made.own(NOOR, date(2027, 4, 1))
    assert all(p.dose.word == "lighter" or p.dose.neural <= 1 for p in here)


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
    assert neural(made, LEANDER, date(2027, 6, 8)) <= 1 and neural(made, LEANDER, date(2027, 6, 10)) <= 1


def test_jumps_at_school_count(demo: Demo) -> None:
    juniors = demo("juniors")
    juniors.log(
        "2027-05-24 20:00", "load-elsewhere", f"athlete={BASTIAN}", "day=2027-05-24", "counters=take-offs 12"
    )
    made = juniors.replan("2027-05-24 20:05", alone=rest(juniors, {BASTIAN}))
    jumps = [p for p in made.own(BASTIAN) if p.day > date(2027, 5, 24) and p.dose.counters.get("take-offs")]
    assert not jumps or all(p.dose.word == "lighter" for p in jumps if p.day == jumps[0].day)


# --- from the hall to the summer ------------------------------------------------------------------------


def test_the_runway_opens_late(demo: Demo) -> None:
    outdoor = demo("indoor-to-outdoor")
    pit = at(outdoor, lambda p: p.place == "pit" and p.day <= date(2027, 4, 15))
    outdoor.log(
        "2027-04-09 12:00", "venue-closed", "venue=Skellbeck stadium", "place=pit", "begins=2027-04-01 00:00",
        "ends=2027-04-15 23:59",
    )  # fmt: skip
    made = outdoor.replan("2027-04-09 12:05", alone=rest(outdoor, pit))
    assert not [p for p in made.after if p.place == "pit" and p.day <= date(2027, 4, 15)]


def test_a_relay_meeting_takes_a_fast_day(demo: Demo) -> None:
    """It counts as one fast day of the week, and the Monday after it is easy."""
    outdoor = demo("indoor-to-outdoor")
    outdoor.log(
        "2027-05-10 09:00", "competition-added", "name=Relay meeting", "first_day=2027-05-16",
        "last_day=2027-05-16", f"athletes={JORUN}; {AVELINE}",
    )  # fmt: skip
    made = outdoor.replan("2027-05-10 09:05", alone=rest(outdoor, {JORUN, AVELINE}))
    for athlete in (JORUN, AVELINE):
        week = (date(2027, 5, 10), date(2027, 5, 16))
        fast = [{p.day for p in ps(athlete, *week) if p.dose.neural == 3} for ps in (made.had, made.own)]
        assert len(fast[1]) <= max(0, len(fast[0]) - 1), athlete
        assert neural(made, athlete, date(2027, 5, 17)) <= 1


def test_a_morning_of_stiffness_goes_back_a_stage(demo: Demo) -> None:
    """The coach enters stage 4 and takes him out of the meeting; others read 'limited' and no cause."""
    outdoor = demo("indoor-to-outdoor")
    outdoor.log(
        "2027-05-20 09:00", "setback", f"athlete={DARIO}", "day=2027-05-20", "region=calf-achilles", "side=left",
        "stage=4", "entered_by=Rhoswen", "note=stiff for 25 minutes",
    )  # fmt: skip
    made = outdoor.replan("2027-05-20 09:05", alone=rest(outdoor, {DARIO}))
    soon = [p for p in made.own(DARIO) if p.begins > datetime(2027, 5, 20, 9, 5)]
    assert soon and all(p.dose.neural <= 2 for p in soon if p.day <= date(2027, 5, 26))
    assert not [p for p in soon if p.unit.family == "full-jumps" and p.dose.word == "full"]
    text = " ".join(made.messages.values()).lower()
    assert "stiff" not in text and "achilles" not in text


# --- the heat camp --------------------------------------------------------------------------------------


def test_a_flight_that_lands_in_the_morning(demo: Demo) -> None:
    """Eight hours and a night: two days later at the earliest he is fast again."""
    camp = demo("heat-camp")
    camp.log("2027-07-18 20:00", "person-away", f"name={ILAN}", "begins=2027-07-18 20:00", "ends=2027-07-19 07:00")
    made = camp.replan("2027-07-18 20:05", alone=rest(camp, {ILAN}))
    fast = [d for d in made.fast_days(ILAN) if d <= date(2027, 7, 24)]
    assert all(d >= date(2027, 7, 21) for d in fast), fast
    assert neural(made, ILAN, date(2027, 7, 19)) <= 1


def test_the_throws_coach_is_ill(demo: Demo) -> None:
    """Nobody throws unwatched that Wednesday."""
    camp = demo("heat-camp")
    day = date(2027, 7, 21)
    thrown = at(camp, lambda p: p.day == day and p.unit.eyes == 2)
    camp.log("2027-07-21 06:30", "person-away", "name=Viggo", "begins=2027-07-21 06:00", "ends=2027-07-21 23:00")
    made = camp.replan("2027-07-21 06:35", alone=rest(camp, thrown))
    for p in made.after:
        if p.day == day and p.begins >= made.now and p.unit.eyes == 2:
            taught = [x.coach for x in made.problem.presences_in(p.day, p.slot) if x.coach is not None]
            assert any(c.teaches(p.unit.family) for c in taught), p.key


def test_the_bed_is_taken_on_wednesday(demo: Demo) -> None:
    """High jump of that evening goes to another evening or is lost, and nobody else is touched."""
    camp = demo("heat-camp")
    day = date(2027, 7, 21)
    there = at(camp, lambda p: p.day == day and p.place == "high jump bed")
    camp.log(
        "2027-07-21 12:00", "venue-closed", "venue=Almaraz stadium", "place=high jump bed",
        "begins=2027-07-21 12:00", "ends=2027-07-21 23:00",
    )  # fmt: skip
    made = camp.replan("2027-07-21 12:05", alone=rest(camp, there))
    assert not [p for p in made.after if p.day == day and p.place == "high jump bed"]
    assert not [p for p in made.own(SIRI) if p.day > date(2027, 7, 22) and p.day <= date(2027, 7, 24)]
