"""A coach away, run-ups that are off before the day that counts, a competition of fouls."""

from __future__ import annotations

from datetime import date, timedelta

from happened import Happens

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
JUMPING = ("technical-jumps", "full-jumps", "run-ups", "high-multi-jumps")


def test_the_jumps_coach_is_away_for_a_day(happens: Happens) -> None:
    """Nobody jumps unwatched, the junior least of all; what needs no eyes goes on; the rest stays as it was."""
    day = next(p.day for p in happens.before if p.athlete == ELO and p.unit.family in JUMPING and p.unit.eyes == 2)
    watched = {p.athlete for p in happens.before if p.day == day and p.unit.eyes == 2}
    happens.log(f"{day} 06:00", "person-away", "name=Orla", f"begins={day} 06:00", f"ends={day} 22:00")
    made = happens.replan(f"{day} 06:05", alone=[a for a in (ASTA, IVO, SUVI, ELO) if a not in watched])
    here = [p for p in made.after if p.day == day]
    assert here, "the evening is held without her"
    for p in here:
        taught = [x.coach for x in made.problem.presences_in(p.day, p.slot) if x.coach is not None]
        assert p.unit.eyes < 2 or any(c.teaches(p.unit.family) for c in taught), p.key
    assert not [p for p in here if p.athlete == ELO and p.unit.family in JUMPING], "no unwatched jumps of a junior"
    for p in made.after:
        if p.key not in {q.key for q in made.before} and p.day != day:
            assert abs((p.day - day).days) <= 2, "a move goes to a day near by"


def test_the_run_up_is_off_two_days_before_the_main_competition(happens: Happens) -> None:
    """Four of the run-ups were done; nothing is added to look for the mark, and the day before stays light."""
    day = date(2027, 3, 18)
    happens.day("2027-03-18 20:00", str(day), "Asta: off by 60 cm to start with")
    made = happens.replan("2027-03-18 20:05", alone=(ASTA, IVO, SUVI, ELO))
    run_ups = [p for p in made.own(ASTA) if p.unit.family in ("run-ups", "full-jumps") and p.day > day]
    assert sum(p.dose.amount for p in run_ups) <= 3, "not ten full run-ups"
    assert not [p for p in run_ups if p.day == date(2027, 3, 19)], "no new length on the day before"
    assert not made.changes


def test_three_fouls_and_no_mark(happens: Happens) -> None:
    """No session of technique is put in the next morning; what comes stays as it is."""
    happens.log(
        "2027-03-06 09:00", "competition-added", "name=Morning meeting", "first_day=2027-03-07",
        "last_day=2027-03-07", f"athletes={ELO}",
    )  # fmt: skip
    happens.replan("2027-03-06 09:05", alone=(ASTA, IVO, SUVI))
    happens.log(
        "2027-03-07 18:00", "result", f"athlete={ELO}", "day=2027-03-07", "event=long jump",
        "competition=Morning meeting", "attempts=foul; foul; foul",
    )  # fmt: skip
    made = happens.replan("2027-03-07 18:05", alone=(ASTA, IVO, SUVI))
    assert not made.changes, "the competitions to come and the work for them are not touched"
    morning = made.own(ELO, date(2027, 3, 7) + timedelta(1))
    assert not [p for p in morning if p.unit.family in ("technical-jumps", "full-jumps")]
    assert all(p.dose.neural <= 1 for p in morning)
