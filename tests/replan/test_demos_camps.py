"""What goes wrong in the heat camp and in the club's camp, with what must hold then."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest
from happened import Happens, concerned, rest

from planner.domain.plan import Placement

Demo = Callable[..., Happens]
RONJA, ILAN, SIRI, JORY = "Ronja Vestmark", "Ilan Drovik", "Siri Halvane", "Jory Pellam"
TAMSIN, EMRIK = "Tamsin Orrek", "Emrik Dahle"


def test_a_flight_that_lands_in_the_morning(demo: Demo) -> None:
    """Eight hours and a night: two days later at the earliest he is fast again."""
    camp = demo("heat-camp")
    camp.log("2027-07-18 20:00", "person-away", f"name={ILAN}", "begins=2027-07-18 20:00", "ends=2027-07-19 07:00")
    made = camp.replan("2027-07-18 20:05", alone=rest(camp, {ILAN}))
    fast = [d for d in made.fast_days(ILAN) if d <= date(2027, 7, 24)]
    assert all(d >= date(2027, 7, 21) for d in fast), fast
    assert made.neural(ILAN, date(2027, 7, 19)) <= 1


@pytest.mark.parametrize("day", [date(2027, 7, 19), date(2027, 7, 21)])
def test_the_throws_coach_is_ill(demo: Demo, day: date) -> None:
    """Nobody throws unwatched: what he alone could watch is gone that day, and nobody else is touched.

    On Monday somebody throws. On Wednesday it is too hot at the sector, and nothing of his is lost.
    """
    camp = demo("heat-camp")
    his = concerned(camp, lambda p: p.day == day and p.unit.family == "throws")
    watched = concerned(camp, lambda p: p.day == day and p.unit.eyes == 2)
    assert bool(his) == (day.day == 19) and watched
    camp.log(f"{day} 06:30", "person-away", "name=Viggo", f"begins={day} 06:00", f"ends={day} 23:00")
    made = camp.replan(f"{day} 06:35", alone=rest(camp, watched))
    assert not [p for p in made.after if p.day == day and p.unit.family == "throws"]
    for p in made.after:
        if p.day == day and p.begins >= made.now and p.unit.eyes == 2:
            taught = [x.coach for x in made.problem.presences_in(p.day, p.slot) if x.coach is not None]
            assert any(c.teaches(p.unit.family) for c in taught), p.key
    assert {c["athlete"] for c in made.changes} >= his


def test_the_bed_is_taken_on_wednesday(demo: Demo) -> None:
    """High jump of that evening goes to Friday for who is still there, or is lost; nobody else is touched.

    Two were to jump then, put there by the coach. Siri leaves on Thursday: hers is lost, and put on no other day.
    """
    day = date(2027, 7, 21)

    def jumping(p: Placement) -> bool:
        what = (p.day, p.slot, p.unit.id, p.dose.word)
        return p.athlete in (ILAN, SIRI) and what == (day, "late evening", "short-high-jumps", "full")

    camp = demo("heat-camp", jumping)
    there = concerned(camp, lambda p: p.day == day and p.place == "high jump bed")
    assert there == {ILAN, SIRI}
    camp.log(
        "2027-07-21 12:00", "venue-closed", "venue=Almaraz stadium", "place=high jump bed",
        "begins=2027-07-21 12:00", "ends=2027-07-21 23:00",
    )  # fmt: skip
    made = camp.replan("2027-07-21 12:05", alone=rest(camp, there))
    assert not [p for p in made.after if p.day == day and p.place == "high jump bed"]
    assert made.kinds(SIRI) and set(made.kinds(SIRI).values()) <= {"left out", "swapped"}
    assert all(c["date"] == str(day) for c in made.changes if c["athlete"] == SIRI)
    later = [p.day for p in made.own(ILAN, date(2027, 7, 22), date(2027, 7, 24)) if p.place == "high jump bed"]
    assert later in ([], [date(2027, 7, 23)])
    assert any(c["athlete"] == ILAN for c in made.changes)


def test_the_rehearsal_of_one_who_is_flat_is_cancelled_not_moved(demo: Demo) -> None:
    """Ronja is not held to the second day; Ilan's goes on as it was."""
    camp = demo("heat-camp")
    friday = date(2027, 7, 23)
    jumps = {p.athlete for p in camp.before if p.day == friday and p.unit.id == "full-long-jumps"}
    assert {RONJA, ILAN} <= jumps
    words = (f"athlete={RONJA}", f"begins={friday}", "ends=2027-07-24", "stage=2")
    camp.log("2027-07-22 20:30", "hold-back", *words)
    made = camp.replan("2027-07-22 20:35", alone=rest(camp, {RONJA}))
    later = made.own(RONJA, friday, date(2027, 7, 31))
    assert later and not [p for p in later if p.unit.id == "full-long-jumps"]
    assert all(made.neural(RONJA, d) <= 1 for d in (friday, date(2027, 7, 24)))
    assert all(c["kind"] in ("left out", "lighter", "swapped") for c in made.changes), "nothing is moved"
    assert [p for p in made.own(ILAN, friday) if p.unit.id == "full-long-jumps"]
    text = " ".join(made.messages.values()).lower()
    assert not {"flat", "sore", "hamstrings", "held"} & set(text.replace(".", " ").split())
    camp.stable("2027-07-22 20:50")


def test_lifting_heavy_with_the_others_is_refused_and_what_may_be_done_is_shown(demo: Demo) -> None:
    """A person ruled it out for his back: the line that says so is named, and the plan stands."""
    camp = demo("heat-camp")
    row = f"  - {{athlete: {JORY}, date: 2027-07-23, slot: gym hour, unit: heavy-strength}}\n"
    camp.edit("fixed:\n", "fixed:\n" + row)
    made = camp.replan("2027-07-22 20:00", alone=rest(camp, ()))
    lifted = [p for p in made.own(JORY, date(2027, 7, 17), date(2027, 7, 31)) if p.unit.id == "heavy-strength"]
    assert not made.changes and not lifted
    (said,) = made.told["unmet"]
    assert said.startswith(f"{JORY}, Fri 23 Jul, gym hour: heavy lower-body strength must be here by the file")
    assert "cannot be had, because" in said and "ruled out by a person (block.yaml" in said
    assert "Maybe general strength circuit or upper body and trunk" in said


# --- the club's camp ------------------------------------------------------------------------------------


def test_the_caller_is_away_on_the_big_day(demo: Demo) -> None:
    """Without the voice she trusts she does not run: the file's own rows collide with that and are named.

    The coach takes them out: the day is easy for her, the next one too, and it is not pressed into another.
    """
    camp = demo("club-camp")
    day = date(2027, 4, 7)
    camp.log(f"{day} 07:00", "person-away", "name=Ivo", f"begins={day} 07:00", f"ends={day} 22:00")
    said = camp.cannot(f"{day} 07:10")
    assert "no caller for 1 of Tamsin Orrek" in said and "must be here and is not" in said
    for row in (
        "slot: morning, unit: full-long-jumps", "slot: morning, unit: block-starts",
        "slot: afternoon, unit: flying-sprints",
    ):  # fmt: skip
        camp.edit(f"  - {{athlete: {TAMSIN}, date: {day}, {row}, amount: full}}\n", "")
    camp.edit("fixed:\n", "fixed: []\n")
    made = camp.replan(f"{day} 07:20", alone=rest(camp, {TAMSIN}))
    assert made.neural(TAMSIN, day) <= 1 and made.neural(TAMSIN, date(2027, 4, 8)) <= 1
    had, has = ([p.day for p in ps if p.dose.neural >= 3] for ps in (made.had(TAMSIN), made.own(TAMSIN)))
    assert len(has) < len(had)


def test_flat_on_the_morning_after_the_big_day(demo: Demo) -> None:
    camp = demo("club-camp")
    words = (f"athlete={TAMSIN}", "begins=2027-04-08", "ends=2027-04-09", "stage=2")
    camp.log("2027-04-08 07:30", "hold-back", *words)
    made = camp.replan("2027-04-08 07:35", alone=rest(camp, {TAMSIN}))
    assert all(made.neural(TAMSIN, date(2027, 4, d)) <= 1 for d in (8, 9))
    after = [p.key for p in made.had(TAMSIN) if p.day > date(2027, 4, 11)]
    assert after == [p.key for p in made.own(TAMSIN) if p.day > date(2027, 4, 11)], "then as planned, and no more"


def test_one_who_joined_for_a_part_did_less(demo: Demo) -> None:
    """Two of three runs: what was left out is gone, and the others keep their plan."""
    camp = demo("club-camp")
    camp.day("2027-04-07 20:00", "2027-04-07", "Emrik: flying 40 of 60")
    made = camp.replan("2027-04-07 20:10", alone=rest(camp, {EMRIK}))
    done = [p for p in made.own(EMRIK, date(2027, 4, 7)) if p.unit.id == "flying-sprints"]
    assert [p.dose.amount for p in done] == [40]
    assert not made.changes, "nothing is made up for"
