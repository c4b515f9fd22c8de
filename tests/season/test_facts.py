"""What happened changes the block as a coach would have written it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from planner.domain.attempt import Attempt
from planner.domain.block import Away, Block, EventStart, Limit, Place, RunUp
from planner.domain.facts import (
    CompetitionAdded,
    CompetitionMoved,
    CompetitionWithdrawn,
    Done,
    Fact,
    HoldBack,
    Hurt,
    Ill,
    Late,
    LeavingEarly,
    LighterDayAsked,
    LoadElsewhere,
    OtherLeg,
    PersonAway,
    Result,
    Setback,
    StageChanged,
    TestPassed,
    Undone,
    VenueClosed,
    VenueOpened,
    WeatherFact,
)
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.season import make_problem
from planner.season.differences import differences
from planner.season.done import done_history
from planner.season.fact_limits import still_ill
from planner.season.facts import apply_facts
from planner.season.weeks import hindrance
from tests.season.worlds import MONDAY, at, athlete, block, line, meet

NOW = datetime(2027, 3, 2, 9, 0, tzinfo=UTC)


def day(n: int) -> date:
    return MONDAY + timedelta(days=n)


def after(made: Block, *facts: Fact, now: datetime = NOW) -> Block:
    return apply_facts(made, [replace(f, id=f.id or i) for i, f in enumerate(facts, start=1)], now)


def said(made: Block, region: str) -> list[tuple[str, int, date | None, date | None]]:
    return [(x.side, x.stage, x.begins, x.ends) for x in made.limits if x.region == region]


def test_without_facts_the_block_is_the_same_object() -> None:
    made = block()
    assert apply_facts(made, [], NOW) is made


# --- the body ---------------------------------------------------------------------------------------------


def hurt(stage: int = 1, n: int = 1, side: str = "left", region: str = "hamstring") -> Hurt:
    return Hurt(
        recorded_at=NOW, athlete="Ada", day=day(n), region=region, side=side, stage=stage, entered_by="Kit"
    )


def staged(stage: int, n: int, side: str = "left", region: str = "hamstring") -> StageChanged:
    return StageChanged(
        recorded_at=NOW, athlete="Ada", day=day(n), region=region, side=side, stage=stage, entered_by="Kit"
    )


def test_a_hurt_and_its_stages_follow_one_another() -> None:
    made = after(block(), hurt(1, 1), staged(2, 3), staged(3, 5))
    assert said(made, "hamstring") == [
        ("left", 1, day(1), day(2)),
        ("left", 2, day(3), day(4)),
        ("left", 3, day(5), None),
    ]


def test_a_recorded_stage_wins_over_an_earlier_line_of_the_file_and_loses_to_a_later_one() -> None:
    early = Limit("Ada", "knee", "left", 3, day(0), landings_a_session=6, line=line(7))
    late = Limit("Ada", "knee", "left", 5, day(6), line=line(8))
    made = after(block(days=14, limits=(early, late)), staged(4, 2, region="knee"))
    assert said(made, "knee") == [
        ("left", 3, day(0), day(1)),
        ("left", 4, day(2), day(5)),
        ("left", 5, day(6), None),
    ]
    assert [x.landings_a_session for x in made.limits] == [
        6,
        6,
        None,
    ]  # own caps stay


def test_a_fact_about_one_side_leaves_the_other_as_the_file_has_it() -> None:
    both = Limit("Ada", "knee", "both", 3, day(0))
    made = after(block(limits=(both,)), staged(4, 2, side="left", region="knee"))
    assert sorted(said(made, "knee")) == [
        ("left", 3, day(0), day(1)),
        ("left", 4, day(2), None),
        ("right", 3, day(0), None),
    ]


def test_both_sides_changed_alike_stay_one_limit() -> None:
    both = Limit("Ada", "knee", "both", 3, day(0))
    made = after(block(limits=(both,)), staged(4, 2, side="both", region="knee"))
    assert said(made, "knee") == [("both", 3, day(0), day(1)), ("both", 4, day(2), None)]


def test_a_passed_test_moves_no_stage() -> None:
    passed = TestPassed(
        recorded_at=NOW, athlete="Ada", day=day(2), region="hamstring", side="left", stage=1, entered_by="Kit"
    )
    assert said(after(block(), hurt(1, 1), passed), "hamstring") == [("left", 1, day(1), None)]


def test_a_setback_goes_back_and_a_mild_one_still_rests_a_day() -> None:
    setback = Setback(
        recorded_at=NOW, athlete="Ada", day=day(4), region="hamstring", side="left", stage=5, entered_by="Kit"
    )
    made = after(block(), hurt(4, 1), staged(6, 2), setback)
    assert said(made, "hamstring")[-1] == ("left", 5, day(4), None)
    (rest,) = [x for x in made.limits if x.region == "whole"]
    assert (rest.hold_back, rest.stage, rest.begins, rest.ends) == (True, 4, day(4), day(5))


def test_a_cleared_region_is_watched_for_four_weeks() -> None:
    made = after(block(), hurt(4, 1), staged(6, 2))
    assert said(made, "hamstring")[-1] == ("left", 6, day(2), day(29))


def test_other_athletes_and_regions_are_left_alone() -> None:
    limits = (
        Limit("Bo", "knee", "left", 3, day(0), line=line(3)),
        Limit("Ada", "foot", "left", 4, line=line(4)),
    )
    made = after(block(athlete(), athlete("Bo"), limits=limits), hurt())
    assert made.limits[:2] == limits


# --- illness ----------------------------------------------------------------------------------------------


def test_fever_takes_training_away_and_asks_for_an_easy_day_for_every_day_ill() -> None:
    made = after(block(days=14), Ill(recorded_at=NOW, athlete="Ada", begins=day(1), ends=day(3), fever=True))
    assert said(made, "illness") == [("both", 0, day(1), day(3)), ("both", 2, day(4), day(6))]
    (away,) = made.away
    assert (away.kind, away.begins, away.ends) == ("away", at(day(1)), at(day(3), 23, 59))
    menu = make_problem(made)
    assert not [p for n in (1, 2, 3) for p in menu.on("Ada", day(n))]
    assert menu.on("Ada", day(4))


def test_one_day_of_fever_still_has_two_easy_days() -> None:
    made = after(block(days=14), Ill(recorded_at=NOW, athlete="Ada", begins=day(1), ends=day(1), fever=True))
    assert said(made, "illness")[1] == ("both", 2, day(2), day(3))


def test_a_cold_takes_nothing_away_but_what_is_fast() -> None:
    made = after(block(), Ill(recorded_at=NOW, athlete="Ada", begins=day(1), ends=day(2)))
    assert said(made, "illness") == [("both", 2, day(1), day(2))]
    assert made.away == ()


def test_an_illness_that_is_not_over_lasts_through_tomorrow_and_a_later_word_ends_it() -> None:
    ill = Ill(recorded_at=NOW, athlete="Ada", begins=day(0), fever=True)
    assert said(after(block(days=14), ill), "illness")[0] == ("both", 0, day(0), day(2))
    later = after(block(days=14), ill, now=NOW + timedelta(days=3))
    assert said(later, "illness")[0] == ("both", 0, day(0), day(5))
    over = replace(ill, ends=day(1), recorded_at=NOW + timedelta(hours=1))
    assert said(after(block(days=14), ill, over), "illness")[0] == ("both", 0, day(0), day(1))


def test_what_an_illness_without_an_end_is_taken_for_is_said_until_it_ends() -> None:
    """NOW is the second day: taken to last through the third, and the command keeps the fever."""
    ill = Ill(recorded_at=NOW, athlete="Ada", begins=day(0), fever=True)
    (told,) = still_ill((ill,), day(1))
    assert told == (
        "Ada: ill since Mon 1 Mar and no last day is recorded; taken to last through Wed 3 Mar. Maybe log the "
        "last day, or a later one: planner log FILE ill athlete='Ada' begins=2027-03-01 ends=2027-03-03 fever=yes"
    )
    assert "through Fri 5 Mar" in still_ill((ill,), day(3))[0]
    assert "fever" not in still_ill((replace(ill, fever=False),), day(1))[0]
    assert still_ill((ill, replace(ill, ends=day(1))), day(1)) == ()


def test_a_hold_back_and_a_lighter_day_name_no_region_and_no_reason() -> None:
    made = after(
        block(),
        HoldBack(recorded_at=NOW, athlete="Ada", begins=day(1), ends=day(3), stage=3),
        LighterDayAsked(recorded_at=NOW, athlete="Ada", day=day(5)),
    )
    held, lighter = made.limits
    assert (held.region, held.hold_back, held.stage, held.lighter_only) == ("whole", True, 3, False)
    assert (lighter.begins, lighter.ends, lighter.hold_back, lighter.lighter_only) == (
        day(5),
        day(5),
        True,
        True,
    )


# --- time -------------------------------------------------------------------------------------------------


def test_coming_late_cuts_the_session_and_does_not_delete_it() -> None:
    made = after(block(), Late(recorded_at=NOW, athlete="Ada", day=day(1), slot="evening", minutes=30))
    assert [(a.kind, a.begins, a.ends) for a in made.away] == [("late", at(day(1), 16), at(day(1), 16, 30))]
    problem = make_problem(made)
    offered = problem.on("Ada", day(1))
    assert offered
    assert {problem.window_of(p) for p in offered} == {(at(day(1), 16, 30), at(day(1), 19))}


def test_late_and_leaving_early_with_too_little_left_is_no_session() -> None:
    late = Late(recorded_at=NOW, athlete="Ada", day=day(1), slot="evening", minutes=60)
    early = LeavingEarly(recorded_at=NOW, athlete="Ada", day=day(1), slot="evening", minutes=80)
    made = after(block(), late, early)  # 180 - 60 - 80 = 40 of the 45 that a short session needs
    assert hindrance(made, "Ada", at(day(1), 16), at(day(1), 19)) is not None
    assert not make_problem(made).on("Ada", day(1))
    assert make_problem(after(block(), late, replace(early, minutes=75))).on("Ada", day(1))


def test_the_last_word_about_a_slot_counts() -> None:
    late = Late(recorded_at=NOW, athlete="Ada", day=day(1), slot="evening", minutes=60)
    made = after(block(), late, replace(late, minutes=10))
    assert [a.ends for a in made.away] == [at(day(1), 16, 10)]


# --- places, people, weather ------------------------------------------------------------------------------


def pit(made: Block, n: int = 1) -> list[tuple[time, time]]:
    return [(o.begins, o.ends) for o in made.openings if o.place.name == "pit" and o.day == day(n)]


def test_a_closed_pit_leaves_the_longer_part_and_the_other_places() -> None:
    closed = VenueClosed(
        recorded_at=NOW, venue="park", place="pit", begins=at(day(1), 17), ends=at(day(1), 18)
    )
    made = after(block(), closed)
    assert pit(made) == [(time(16), time(17))]
    assert pit(made, 2) == [(time(16), time(19))]
    assert len(made.openings) == len(block().openings)
    whole = after(block(), replace(closed, place="", begins=at(day(1)), ends=at(day(2), 23)))
    assert {o.day for o in whole.openings} == {day(0), *(day(n) for n in range(3, 7))}


def test_opened_again_it_is_open_and_a_new_place_is_known_by_its_kind() -> None:
    closed = VenueClosed(recorded_at=NOW, venue="park", place="pit", begins=at(day(1)), ends=at(day(1), 23))
    opened = VenueOpened(
        recorded_at=NOW, venue="park", place="pit", begins=at(day(1), 17), ends=at(day(1), 21)
    )
    assert pit(after(block(), closed)) == []
    assert pit(after(block(), closed, opened)) == [(time(17), time(19))]
    fresh = replace(opened, venue="hall", place="indoor pit", place_kind="pit", jumps_per_hour=30)
    found = [o for o in after(block(), fresh).openings if o.place.venue == "hall"]
    assert [(o.place, o.begins) for o in found] == [
        (Place("hall", "indoor pit", "pit", jumps_per_hour=30), time(17))
    ]


def test_a_coach_who_is_away_has_fewer_minutes_or_none() -> None:
    away = PersonAway(recorded_at=NOW, name="Kit", begins=at(day(1), 18), ends=at(day(2), 23))
    made = after(block(), away)
    assert [p.minutes for p in made.presences] == [180, 120, 180, 180, 180, 180]
    assert day(2) not in {p.day for p in made.presences}


def test_weather_replaces_what_the_file_expected() -> None:
    first = WeatherFact(recorded_at=NOW, day=day(1), wbgt=210)
    made = after(block(), first, replace(first, wbgt=305, rain=True))
    assert [(w.day, w.wbgt, w.rain) for w in made.weather] == [(day(1), 305, True)]


# --- competitions, legs, results --------------------------------------------------------------------------


def test_competitions_are_added_moved_and_withdrawn() -> None:
    made = block(athlete(), athlete("Bo"), competitions=(meet(day(6)), meet(day(6), name="Bo")))
    added = CompetitionAdded(
        recorded_at=NOW, name="points match", first_day=day(4), last_day=day(4), athletes=("Ada", "Bo")
    )
    moved = CompetitionMoved(
        recorded_at=NOW, name="main meet", was=day(6), first_day=day(5), last_day=day(5), athletes=("Bo",)
    )
    gone = CompetitionWithdrawn(recorded_at=NOW, name="points match", first_day=day(4), athletes=("Bo",))
    found = [(c.name, c.athlete, c.first_day) for c in after(made, added, moved, gone).competitions]
    assert found == [
        ("main meet", "Ada", day(6)),
        ("main meet", "Bo", day(5)),
        ("points match", "Ada", day(4)),
    ]


def test_a_competition_on_another_day_has_no_timetable_that_anybody_accepted() -> None:
    starts = (EventStart("long jump", time(11)), EventStart("100 m", time(13)))
    held = replace(meet(day(6)), starts=starts, gap_accepted="Kit: two hours are enough")
    made = block(competitions=(held,))
    moved = CompetitionMoved(recorded_at=NOW, name="main meet", was=day(6), first_day=day(5), last_day=day(5))
    assert after(made).competitions == (held,)
    (there,) = after(made, moved).competitions
    assert (there.first_day, there.starts, there.gap_accepted) == (day(5), (), "")


def test_on_the_new_leg_an_athlete_is_a_novice_and_old_marks_keep_the_old_leg() -> None:
    made = block(run_ups=(RunUp("Ada", "long jump", 16, 3200),))
    tried = OtherLeg(recorded_at=NOW, athlete="Ada", day=day(1), leg="right")
    assert after(made, tried).athletes == made.athletes
    new = after(made, replace(tried, changed=True, entered_by="Kit"))
    assert new.athletes[0].take_off_leg == "right"
    assert new.athletes[0].level_for("full-jumps") == "novice"
    assert new.athletes[0].level_for("top-speed") == "advanced"
    assert new.run_ups[0].leg == "left"
    (limit,) = new.limits
    assert (limit.banned, limit.begins, limit.ends) == (("full-jumps",), day(1), day(21))


def test_the_best_attempt_becomes_a_mark_with_its_wind_and_none_that_the_wind_made() -> None:
    """Above +2.0 m/s no mark counts: World Athletics, Competition Rules, rule 31; Technical Rules 17 and 29."""
    attempts = (
        Attempt("mark", 601, wind=12, gap=4),
        Attempt("foul"),
        Attempt("mark", 615, wind=24),
        Attempt("pass"),
    )
    result = Result(recorded_at=NOW, athlete="Ada", day=day(1), event="long jump", attempts=attempts, rank=2)
    (mark,) = after(block(), result).marks
    assert (mark.value, mark.unit, mark.wind, mark.day) == (601, "cm", 12, day(1))
    assert attempts[0].effective == 605
    legal = replace(result, attempts=(*attempts, Attempt("mark", 609, wind=20)))
    assert after(block(), legal).marks[0].value == 609, "+2.0 itself counts"
    assert after(block(), replace(result, attempts=attempts[1:])).marks == ()
    assert after(block(), replace(result, attempts=(Attempt("foul"),))).marks == ()
    times = (Attempt("mark", 1192, "hundredths"), Attempt("mark", 1188, "hundredths"))
    assert after(block(), replace(result, attempts=times)).marks[0].value == 1188


def test_an_undone_fact_changes_nothing_and_an_undone_undoing_brings_it_back() -> None:
    facts = (hurt(), Undone(recorded_at=NOW, fact=1))
    assert after(block(), *facts) == block()
    assert said(after(block(), *facts, Undone(recorded_at=NOW, fact=2)), "hamstring")


# --- where file and ledger differ -------------------------------------------------------------------------


def test_differences_name_what_the_file_and_the_ledger_say() -> None:
    made = block(competitions=(meet(day(6)),))
    gone = CompetitionWithdrawn(recorded_at=NOW, id=1, name="main meet", first_day=day(6))
    (sentence,) = differences(made, [gone])
    assert sentence == (
        "main meet, Ada: the file says main competition on 2027-03-07, recorded since: nothing."
        " Maybe bring the file up to date."
    )
    assert differences(made, []) == []
    assert differences(replace(made, competitions=()), [gone]) == []


def test_a_file_brought_up_to_date_differs_no_more() -> None:
    made = block()
    fact = replace(hurt(3, 2), id=1)
    (sentence,) = differences(made, [fact])
    assert "Ada, hamstring: the file says nothing" in sentence and "left, return stage 3" in sentence
    written = replace(made, limits=(Limit("Ada", "hamstring", "left", 3, day(2), line=line(12)),))
    assert differences(written, [fact]) == []


def test_a_closed_venue_is_told_in_one_line_a_day_and_a_closed_place_by_name() -> None:
    """Nine places of the park stand open that evening: one line, not nine."""
    made = block()
    whole = VenueClosed(recorded_at=NOW, id=1, venue="park", begins=at(day(2)), ends=at(day(2), 23, 59))
    (sentence,) = differences(made, [whole])
    assert sentence == (
        "park, all places, 2027-03-03: the file says evening 16:00-19:00, recorded since: nothing."
        " Maybe bring the file up to date."
    )
    (one,) = differences(made, [replace(whole, place="pit")])
    assert one.startswith("park, pit, 2027-03-03:")
    two = differences(made, [replace(whole, place="pit"), replace(whole, id=2, place="gym")])
    assert [s.split(":")[0] for s in two] == ["park, pit, gym, 2027-03-03"]


# --- what was done ----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def problem() -> Problem:
    return make_problem(block(days=14))


def done(problem: Problem, unit: str = "flying-sprints", n: int = 1, **more: object) -> Done:
    fields: dict[str, object] = {"word": "full", **more}
    return Done(recorded_at=NOW, id=1, athlete="Ada", day=day(n), slot="evening", unit=unit, **fields)  # type: ignore[arg-type]


def offered(problem: Problem) -> Placement:
    key = ("Ada", day(1), "evening", "flying-sprints", "full")
    return next(p for p in problem.on("Ada", day(1)) if p.key == key)


def test_done_as_planned_is_the_placement_itself(problem: Problem) -> None:
    history, kept = done_history([done(problem)], problem)
    (planned,) = [
        p for p in problem.on("Ada", day(1)) if p.key == ("Ada", day(1), "evening", "flying-sprints", "full")
    ]
    assert history == () and kept == (planned,)
    assert kept[0].dose == planned.dose and kept[0].fixed


def test_a_part_done_counts_as_that_part_at_full_demand(problem: Problem) -> None:
    _, (whole,) = done_history([done(problem)], problem)
    half = whole.dose.amount // 2
    _, (kept,) = done_history([done(problem, amount=half, effort=9, minutes=20)], problem)
    assert kept.dose.amount == half
    assert kept.dose.counters["fast-metres"] == whole.dose.counters["fast-metres"] * half // whole.dose.amount
    assert (kept.dose.neural, kept.dose.loads) == (whole.dose.neural, whole.dose.loads)
    assert (kept.dose.effort, kept.dose.minutes) == (9, 20)
    assert kept.key == whole.key


def test_missed_leaves_no_placement_and_no_debt(problem: Problem) -> None:
    assert done_history([done(problem, remark="missed")], problem) == ((), ())
    assert done_history([done(problem, amount=0)], problem) == ((), ())


def test_lighter_is_the_lighter_row(problem: Problem) -> None:
    _, (kept,) = done_history([done(problem, remark="lighter")], problem)
    assert kept.dose.word == "lighter"
    week = problem.week_of("Ada", day(1))
    assert week is not None and kept.dose == week.doses["flying-sprints"][1]


def test_the_handed_out_amount_stands_even_when_the_season_would_now_say_less(problem: Problem) -> None:
    (planned,) = [
        p for p in problem.on("Ada", day(1)) if p.unit.id == "flying-sprints" and p.dose.word == "full"
    ]
    given = replace(planned, dose=replace(planned.dose, amount=999), coach="Kit")
    _, (kept,) = done_history([done(problem)], problem, [given])
    assert kept.dose.amount == 999 and kept.coach == "Kit"


def test_before_the_block_is_history(problem: Problem) -> None:
    history, kept = done_history([done(problem, n=-3)], problem)
    assert kept == () and history[0].day == day(-3) and history[0].dose.amount > 0


def test_load_elsewhere_counts_with_the_demand_of_the_unit_it_was_like(problem: Problem) -> None:
    fact = LoadElsewhere(
        recorded_at=NOW, id=4, athlete="Ada", day=day(2), counters={"full-jumps": 8}, unit="full-long-jumps"
    )
    _, (like,) = done_history([fact], problem)
    assert like.dose.counters["full-jumps"] == 8 and like.dose.neural == 3 and like.dose.amount == 8
    _, (unlike,) = done_history([replace(fact, unit="", minutes=30, effort=5)], problem)
    assert unlike.dose.counters == {"full-jumps": 8} and unlike.dose.load == 150


def test_the_kept_work_makes_a_problem(problem: Problem) -> None:
    facts = [
        done(problem),
        LoadElsewhere(recorded_at=NOW, id=2, athlete="Ada", day=day(2), counters={"low-contacts": 30}),
    ]
    history, kept = done_history(facts, problem)
    made = make_problem(apply_facts(problem.block, facts, NOW), history=history, kept=kept)
    assert set(kept) <= made.settled
    assert not set(kept) & set(made.candidates)


def test_away_by_the_file_stays(problem: Problem) -> None:
    away = Away("Ada", at(day(3)), at(day(4)), line=line(5))
    assert after(block(away=(away,)), hurt()).away == (away,)
