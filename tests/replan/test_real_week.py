"""What happens in a real week, and what must not happen then."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

import pytest
from happened import more_than_given
from week import Week

from planner import known
from planner.domain.plan import Placement
from planner.replan import BadFact, Replanned
from planner.review.changes import MOST_WORDS, message

TILDE, BRAM, NOOR, MICAH = "Tilde Okkarin", "Bram Vestergren", "Noor Castlebye", "Micah Dunnavar"


def placed(made: Replanned) -> tuple[Placement, ...]:
    return made.result.outcome.plan.placements


def others_alone(week: Week, made: Replanned, *touched: str) -> None:
    """Everybody else keeps every unit at the same amount."""

    def held(placements: Iterable[Placement]) -> list[object]:
        return [(p.key, p.dose.amount) for p in placements if p.athlete not in touched]

    assert held(placed(made)) == held(week.before)


def nothing_added(week: Week, made: Replanned) -> None:
    """No athlete's week holds more units, load, metres, take-offs or contacts than was handed out."""

    assert not (more := more_than_given(week.before, placed(made))), more


def test_with_nothing_recorded_nothing_moves(week: Week) -> None:
    made = week.replan("2027-03-24 20:00")
    assert made.result.unchanged and not made.changes
    assert [p.key for p in placed(made)] == [p.key for p in week.before]


def test_a_missed_day_makes_no_debt(week: Week) -> None:
    missed = [p for p in week.before if p.athlete == TILDE and p.day == date(2027, 3, 22)]
    for p in missed:
        week.tell(
            "2027-03-22 20:00", "done", f"athlete={TILDE}", f"day={p.day}", f"slot={p.slot}",
            f"unit={p.unit.id}", f"word={p.dose.word}", "remark=missed",
        )  # fmt: skip
    made = week.replan("2027-03-22 20:10")
    others_alone(week, made, TILDE)
    nothing_added(week, made)
    assert not [p for p in placed(made) if p.athlete == TILDE and p.day == date(2027, 3, 22)]


def test_illness_with_fever_stops_training_and_returns_slowly(week: Week) -> None:
    week.tell("2027-03-25 08:00", "ill", f"athlete={TILDE}", "begins=2027-03-25", "ends=2027-03-26", "fever=yes")
    made = week.replan("2027-03-25 08:10")
    others_alone(week, made, TILDE)
    nothing_added(week, made)
    own = [p for p in placed(made) if p.athlete == TILDE]
    assert not [p for p in own if p.day in (date(2027, 3, 25), date(2027, 3, 26))]
    assert all(p.dose.neural <= 2 for p in own if p.day in (date(2027, 3, 27), date(2027, 3, 28)))
    again = week.replan("2027-03-25 08:30")
    assert again.result.unchanged and not again.changes


def test_a_hurt_knee_is_held_by_region_and_side(week: Week) -> None:
    """The stage comes from a person; what lands on the knee goes, the rest and everybody else stay."""
    week.tell(
        "2027-03-27 09:00", "hurt", f"athlete={BRAM}", "day=2027-03-27", "region=knee", "side=right", "stage=3",
        "entered_by=coach", "note=5 of 10 in the morning",
    )  # fmt: skip
    made = week.replan("2027-03-27 09:10")
    others_alone(week, made, BRAM)
    nothing_added(week, made)
    after = [p for p in placed(made) if p.athlete == BRAM and p.begins > datetime(2027, 3, 27, 9, 10)]
    assert after, "work that spares the knee goes on"
    for p in after:
        assert p.dose.loads.get(("knee", "right"), 0) <= 1, p.key
        assert p.dose.neural <= 2, p.key


def test_a_stage_is_never_skipped_without_a_word(week: Week) -> None:
    week.tell(
        "2027-03-27 09:00", "hurt", f"athlete={BRAM}", "day=2027-03-27", "region=knee", "side=right", "stage=2",
        "entered_by=clinician", "note=swollen",
    )  # fmt: skip
    with pytest.raises(BadFact, match="Maybe"):
        week.tell(
            "2027-03-28 09:00", "stage-changed", f"athlete={BRAM}", "day=2027-03-28", "region=knee",
            "side=right", "stage=5", "entered_by=coach",
        )  # fmt: skip


def test_a_closed_pit_leaves_the_others_alone(week: Week) -> None:
    day = date(2027, 3, 27)
    jumpers = {p.athlete for p in week.before if p.day == day and p.place == "pit"}
    assert jumpers, "the example has a day at the pit"
    week.tell(
        "2027-03-27 08:00", "venue-closed", "venue=Brankholt stadium", "place=pit",
        "begins=2027-03-27 08:00", "ends=2027-03-27 23:00",
    )  # fmt: skip
    made = week.replan("2027-03-27 08:10")
    others_alone(week, made, *jumpers)
    nothing_added(week, made)
    assert not [p for p in placed(made) if p.day == day and p.place == "pit"]


def test_a_coach_away_moves_only_what_needs_those_eyes(week: Week) -> None:
    day = date(2027, 3, 30)
    watched = {p.athlete for p in week.before if p.day == day and p.unit.eyes == 2}
    week.tell("2027-03-30 08:00", "person-away", "name=Reyk", "begins=2027-03-30 08:00", "ends=2027-03-30 22:00")
    made = week.replan("2027-03-30 08:10")
    nothing_added(week, made)
    others_alone(week, made, *watched)
    problem = made.result.problem
    for p in placed(made):
        if p.day == day and p.unit.eyes == 2:
            there = [x for x in problem.presences_in(p.day, p.slot) if x.coach is not None]
            assert any(x.coach is not None and x.coach.teaches(p.unit.family) for x in there), p.key


def test_a_lighter_day_is_given_and_no_reason_is_kept(week: Week) -> None:
    day = next(p.day for p in week.before if p.athlete == NOOR and p.dose.neural >= 2)
    week.tell(f"{day} 08:00", "lighter-day-asked", f"athlete={NOOR}", f"day={day}")
    made = week.replan(f"{day} 08:10")
    others_alone(week, made, NOOR)
    here = [p for p in placed(made) if p.athlete == NOOR and p.day == day]
    assert all(p.dose.word == "lighter" or p.unit.recovery_only or p.dose.neural <= 1 for p in here), here
    with pytest.raises(Exception, match="needed one of"):
        week.tell(f"{day} 09:00", "lighter-day-asked", f"athlete={NOOR}", f"day={day}", "note=slept badly")


def test_a_competition_that_comes_in_makes_room_and_adds_nothing(week: Week) -> None:
    week.tell(
        "2027-03-30 20:00", "competition-added", "name=Evening meeting", "first_day=2027-04-02",
        "last_day=2027-04-02", f"athletes={MICAH}",
    )  # fmt: skip
    made = week.replan("2027-03-30 20:10")
    others_alone(week, made, MICAH)
    own = [p for p in placed(made) if p.athlete == MICAH]
    assert not [p for p in own if p.day == date(2027, 4, 2)]
    assert all(p.dose.neural <= 1 for p in own if p.day in (date(2027, 4, 1), date(2027, 4, 3)))


def test_what_began_before_now_is_never_touched(week: Week) -> None:
    week.tell("2027-03-25 14:00", "ill", f"athlete={TILDE}", "begins=2027-03-25", "ends=2027-03-27", "fever=yes")
    made = week.replan("2027-03-25 14:05")
    past = [p.key for p in week.before if p.begins < datetime(2027, 3, 25, 14, 5)]
    assert set(past) <= {p.key for p in placed(made)}


def test_the_reviewed_plan_keeps_every_must_after_a_replan(week: Week) -> None:
    week.tell("2027-03-24 19:00", "person-away", "name=Sabo", "begins=2027-03-25 00:00", "ends=2027-03-26 00:00")
    made = week.replan("2027-03-24 20:00")
    assert made.result.outcome.musts_broken == ()
    problem, stored = known.planned(week.file)
    assert stored.revision.number == made.result.revision.number
    assert [p.key for p in stored.placements] == [p.key for p in placed(made)]
    assert problem.block.name == "Easter block"


def test_messages_are_short_and_say_no_cause(week: Week) -> None:
    week.tell("2027-03-25 08:00", "ill", f"athlete={TILDE}", "begins=2027-03-25", "ends=2027-03-28", "fever=yes")
    made = week.replan("2027-03-25 08:10")
    text = message(TILDE, made.changes)
    assert 5 < len(text.split()) <= MOST_WORDS
    assert not {"ill", "illness", "fever", "sick", "hurt", "limit"} & set(text.lower().replace(".", " ").split())
    assert message(BRAM, made.changes) == "Bram, nothing changes for you."
