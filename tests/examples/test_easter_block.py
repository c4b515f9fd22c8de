"""What a coach would look for first in the university's Easter block."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from planned_examples import planned
from reviewed import Planned

NOOR, EDVIN, LUMI, MICAH = "Noor Castlebye", "Edvin Holmrask", "Lumi Tarrant", "Micah Dunnavar"


def test_every_must_is_kept(easter: Planned) -> None:
    assert easter.outcome.musts_broken == ()


def test_everybody_trains(easter: Planned) -> None:
    for athlete in easter.problem.athletes:
        for week in easter.problem.weeks[athlete]:
            trained = len(easter.view.training_days(week))
            assert trained >= min(2, week.available_days), f"{athlete}, {week.begins}: {trained} days"


def test_no_two_fast_days_running(easter: Planned) -> None:
    for athlete in easter.problem.athletes:
        for day in easter.problem.days[1:]:
            both = easter.neural(athlete, day), easter.neural(athlete, day - timedelta(1))
            assert both != (3, 3), f"{athlete}, {day}"


def test_late_arrival_is_easy_and_the_first_fast_day_waits(easter: Planned) -> None:
    assert easter.neural(NOOR, date(2027, 3, 24)) <= 1
    assert easter.neural(NOOR, date(2027, 3, 25)) <= 2
    assert easter.neural(NOOR, date(2027, 3, 26)) == 0  # the stadium is shut
    fast = [d for d in easter.problem.days if easter.neural(NOOR, d) >= 3]
    assert fast and fast[0] >= date(2027, 3, 27)


def test_last_fast_work_ends_a_day_before_leaving(easter: Planned) -> None:
    fast = [p.day for p in easter.view.of(EDVIN) if p.dose.neural >= 3]
    assert [d for d in fast if d < date(2027, 3, 31)], "there was fast work to end in time"
    for p in easter.view.of(EDVIN):
        if p.dose.neural >= 3 and p.day < date(2027, 4, 5):
            session = next(s for s in easter.view.sessions(EDVIN, p.day) if s.slot == p.slot)
            first = [q for q in session.placements if q.unit.order <= p.unit.order]
            minutes = session.warm_up + sum(q.dose.minutes for q in first)
            ends = session.begins + timedelta(minutes=minutes)
            assert ends <= datetime(2027, 3, 31, 12), f"{p.unit.id} on {p.day} ends {ends}"


def test_nothing_fast_within_a_day_before_an_examination(easter: Planned) -> None:
    assert [p for p in easter.view.of(LUMI) if p.dose.neural >= 3], "there is fast work to be kept away"
    for exam in (datetime(2027, 4, 6, 9), datetime(2027, 4, 8, 9)):
        for p in easter.view.of(LUMI):
            if p.dose.neural >= 3:
                assert not exam - timedelta(hours=24) < p.begins < exam, f"{p.unit.id} {p.begins}"


def test_the_pit_is_never_asked_for_more_than_it_gives(easter: Planned) -> None:
    """40 jumps an hour, measured and raked: common practice, no source."""
    for slot in easter.problem.block.slots:
        openings = [o for o in easter.problem.openings_in(*slot.key) if o.place.kind == "pit"]
        minutes = sum(o.minutes for o in openings)
        here = [p for p in easter.view.in_slot(*slot.key) if p.place == "pit"]
        jumps = sum(p.dose.amount for p in here if p.unit.measure == "jumps")
        assert jumps <= 40 * minutes / 60, f"{slot.key}: {jumps} jumps in {minutes} minutes"


def test_the_novice_is_kept_from_what_is_too_hard(easter: Planned) -> None:
    done = [p for p in easter.view.of(MICAH)]
    assert all(p.unit.id != "depth-jumps" for p in done)
    assert all(p.dose.amount <= 24 for p in done if p.unit.id == "intensive-bounds")


def test_the_plan_is_the_same_a_second_time(easter: Planned) -> None:
    again = planned.__wrapped__("easter-block")
    assert again[1] == easter.outcome
