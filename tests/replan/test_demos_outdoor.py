"""What goes wrong between the hall and the summer, with what must hold then."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, datetime, timedelta

from happened import Happens, command, concerned, rest

from planner.domain.plan import Placement
from planner.sheets.build_board import care_word

Demo = Callable[[str], Happens]
JORUN, AVELINE, DARIO = "Jorun Velstad", "Aveline Skarn", "Dario Penhallick"
MARIT, TOBIN = "Marit Okonvale", "Tobin Estray"
EVERYBODY = (JORUN, AVELINE, DARIO, MARIT, TOBIN)


WITHOUT_PIT = ("triple-jump-phases", "box-take-offs", "full-run-ups")  # on grass, in the gym, on a straight


def test_the_runway_opens_late(demo: Demo) -> None:
    """Sixteen days without a pit: nobody jumps there, other work keeps its place, and jumps begin with less.

    After more than 14 days 60 to 70 % of what was done before: common practice, no source.
    """
    outdoor = demo("indoor-to-outdoor")
    opens = date(2027, 4, 16)
    pit = concerned(outdoor, lambda p: p.place == "pit" and p.day < opens)
    assert DARIO in pit and MARIT in pit
    outdoor.log(
        "2027-04-09 12:00", "venue-closed", "venue=Skellbeck stadium", "place=pit", "begins=2027-04-01 00:00",
        "ends=2027-04-15 23:59",
    )  # fmt: skip
    made = outdoor.replan("2027-04-09 12:05", alone=rest(outdoor, pit))
    shut = [p for p in made.after if date(2027, 4, 1) <= p.day < opens]
    assert not [p for p in shut if "pit" in p.place]
    for athlete in (DARIO, MARIT):
        assert [p for p in shut if p.athlete == athlete and p.unit.id in WITHOUT_PIT], athlete
    began = []
    for athlete in sorted(pit):
        jumps = [p for p in made.own(athlete, opens, date(2027, 4, 18)) if p.place == "pit" and _jumps(p)]
        for p in jumps:
            (had,) = {q.dose.amount for q in made.had(athlete, *_week(p.day)) if q.unit.id == p.unit.id}
            assert 60 * had <= 100 * p.dose.amount <= 70 * had, f"{p.key}: {p.dose.amount} of {had}"
            began.append(p)
    planned = [p for who in pit for p in made.had(who, opens, date(2027, 4, 18)) if p.place == "pit" and _jumps(p)]
    assert bool(began) == bool(planned), "who was to jump when the runway opens does, with less"
    beside = json.loads(command("show", str(outdoor.file), "--against", "1", "--json").out)
    assert tuple(beside["changes"]) == made.changes and set(beside["unchanged"]) == set(made.unchanged)
    assert beside["recorded_between"] == ["pit: closed"]


def _jumps(p: Placement) -> bool:
    return p.unit.family in ("technical-jumps", "full-jumps")


def _week(day: date) -> tuple[date, date]:
    monday = day - timedelta(days=day.weekday())
    return monday, monday + timedelta(days=6)


def test_a_relay_meeting_takes_a_fast_day(demo: Demo) -> None:
    """It counts as one fast day of the week, and the Monday after it is easy."""
    outdoor = demo("indoor-to-outdoor")
    outdoor.log(
        "2027-05-10 09:00", "competition-added", "name=Relay meeting", "first_day=2027-05-16",
        "last_day=2027-05-16", f"athletes={JORUN}; {AVELINE}",
    )  # fmt: skip
    made = outdoor.replan("2027-05-10 09:05", alone=rest(outdoor, {JORUN, AVELINE}))
    seen = 0
    for athlete in (JORUN, AVELINE):
        week = (date(2027, 5, 10), date(2027, 5, 16))
        fast = [{p.day for p in ps(athlete, *week) if p.dose.neural == 3} for ps in (made.had, made.own)]
        assert len(fast[1]) <= max(0, len(fast[0]) - 1), athlete
        seen += len(fast[0])
        assert made.neural(athlete, date(2027, 5, 17)) <= 1
    assert seen, "there was a fast day to be taken"


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
    coming = [date(2027, 5, 24) + timedelta(days=i) for i in range(7)]
    assert care_word(DARIO, coming, made.problem) == "limited", "all that a shared sheet says"
    assert care_word(AVELINE, coming, made.problem) == ""


def test_a_meeting_moves_by_a_day(demo: Demo) -> None:
    """What is easy because of it moves by a day: nothing changes but on the two days after it."""
    outdoor = demo("indoor-to-outdoor")
    outdoor.log(
        "2027-04-28 12:00", "competition-moved", "name=Opening meeting", "was=2027-05-08", "first_day=2027-05-09",
        "last_day=2027-05-09",
    )  # fmt: skip
    made = outdoor.replan("2027-04-28 12:05")
    assert made.changes and {c["date"] for c in made.changes} <= {"2027-05-10", "2027-05-11"}
    for athlete in EVERYBODY:
        assert made.neural(athlete, date(2027, 5, 8)) <= 1 and not made.own(athlete, date(2027, 5, 9))
        assert made.neural(athlete, date(2027, 5, 10)) <= 1


def test_the_qualifying_meeting_moves_to_two_weeks_before_the_championships(demo: Demo) -> None:
    """It stands at the start of the taper and gets no ease of its own; it replaces that week's full jumps.

    Who is limited is not entered: the others read that, and no cause. The weeks it left are planned anew.
    """
    outdoor = demo("indoor-to-outdoor")
    when = "2027-05-25"
    outdoor.log(
        f"{when} 12:00", "competition-withdrawn", "name=Qualifying meeting", "first_day=2027-06-05",
        f"athletes={DARIO}", "note=tendon is stiff again",
    )  # fmt: skip
    outdoor.log(
        f"{when} 12:01", "competition-moved", "name=Qualifying meeting", "was=2027-06-05", "first_day=2027-06-12",
        "last_day=2027-06-12",
    )  # fmt: skip
    made = outdoor.replan(f"{when} 12:05", anew=True)
    meet = date(2027, 6, 12)
    entered = {c.athlete for c in made.problem.block.competitions if c.first_day == meet}
    assert entered == set(EVERYBODY) - {DARIO}
    week = (date(2027, 6, 7), meet)
    for athlete in sorted(entered):
        assert not made.own(athlete, meet) and made.neural(athlete, meet - timedelta(1)) <= 1
        (own,) = [w for w in made.problem.weeks[athlete] if w.begins == week[0]]
        assert own.kind in ("competition", "taper")
        tapers = [w.begins for w in made.problem.weeks[athlete] if w.kind == "taper"]
        assert tapers == [date(2027, 6, 14), date(2027, 6, 21)], "one taper, as long as before"
    assert not [p for p in made.own(MARIT, *week) if p.unit.family == "full-jumps"]
    later = {(p.key, p.dose.amount) for p in made.after if p.day >= date(2027, 6, 15)}
    before = {(p.key, p.dose.amount) for p in made.before if p.day >= date(2027, 6, 15)}
    assert later <= before and len(before - later) <= 1, "the rest stands, but for a unit just after the meeting"
    text = " ".join(made.messages.values()).lower()
    assert "tendon" not in text and "stiff" not in text
