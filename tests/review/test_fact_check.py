"""What speaks against a fact is said before it is recorded, with what is needed instead."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta, timezone

import pytest

from planner.domain.attempt import Attempt
from planner.domain.block import Competition, Limit
from planner.domain.facts import (
    CompetitionAdded,
    CompetitionMoved,
    CompetitionWithdrawn,
    Done,
    Fact,
    Forgotten,
    HoldBack,
    Hurt,
    Ill,
    Late,
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
from planner.domain.problem import Problem
from planner.review.fact_check import complaints_about
from planner.review.own_events import another_run
from planner.rules._tiny import MONDAY, World, problem

NOW = datetime(2027, 3, 3, 16, 30, tzinfo=timezone(timedelta(hours=1)))  # 15:30 in the block's zone
TUE, WED, THU = (MONDAY + timedelta(days=n) for n in (1, 2, 3))
LATER = THU + timedelta(days=7)
KIT = "Kit"
SPAN = {"begins": datetime.combine(WED, time(8)), "ends": datetime.combine(WED, time(9))}


@pytest.fixture(scope="module")
def made() -> Problem:
    block = {
        "limits": (Limit("Ada", "knee", "left", 2, MONDAY), Limit("Ada", "foot", "right", 4, MONDAY, TUE)),
        "competitions": (Competition("Spring Open", "Ada", THU, THU),),
    }
    return problem(World(("flying-sprints", "full-long-jumps"), days=7, athletes=2, block=block))


def said(made: Problem, fact: Fact, *known: Fact, now: datetime = NOW) -> list[str]:
    numbered = [replace(x, id=x.id or i) for i, x in enumerate(known, start=1)]
    return [str(c) for c in complaints_about(fact, made, numbered, now)]


def done(**more: object) -> Done:
    fields: dict[str, object] = {
        "recorded_at": NOW, "athlete": "Ada", "day": TUE, "slot": "evening", "unit": "flying-sprints", **more,
    }  # fmt: skip
    return Done(**fields)  # type: ignore[arg-type]


def staged(kind: type[StageChanged] | type[Setback] | type[TestPassed], stage: int, **more: object) -> Fact:
    fields: dict[str, object] = {
        "recorded_at": NOW, "athlete": "Ada", "day": WED, "region": "knee", "side": "left", "stage": stage,
        "entered_by": KIT, **more,
    }  # fmt: skip
    return kind(**fields)  # type: ignore[arg-type]


AT = datetime.combine
GOOD: tuple[Fact, ...] = (
    done(),
    done(remark="missed"),
    done(amount=40, remark="lighter", effort=9),
    Ill(recorded_at=NOW, athlete="Ada", begins=WED, fever=True),
    Hurt(recorded_at=NOW, athlete="Bo", day=WED, region="ankle", side="left", stage=0, entered_by=KIT),
    staged(StageChanged, 3),
    staged(StageChanged, 1),
    staged(StageChanged, 6, note="the clinician cleared it on Tuesday"),
    staged(TestPassed, 2),
    staged(Setback, 1),
    HoldBack(recorded_at=NOW, athlete="Ada", begins=THU),
    LighterDayAsked(recorded_at=NOW, athlete="Ada", day=THU),
    Late(recorded_at=NOW, athlete="Ada", day=THU, slot="evening", minutes=15),
    VenueClosed(recorded_at=NOW, venue="track", begins=AT(WED, time(8)), ends=AT(WED, time(20))),
    VenueOpened(
        recorded_at=NOW, venue="hall", place="pit", place_kind="pit",
        begins=AT(WED, time(17)), ends=AT(WED, time(20)),
    ),
    PersonAway(recorded_at=NOW, name=KIT, begins=AT(WED, time(8)), ends=AT(WED, time(20))),
    WeatherFact(recorded_at=NOW, day=THU, wbgt=305),
    CompetitionAdded(
        recorded_at=NOW, name="points match", first_day=THU, last_day=THU, athletes=("Ada", "Bo")
    ),
    CompetitionMoved(
        recorded_at=NOW, name="Spring Open", was=THU, first_day=LATER, last_day=LATER
    ),
    CompetitionWithdrawn(recorded_at=NOW, name="Spring Open", first_day=THU, athletes=("Ada",)),
    Result(
        recorded_at=NOW, athlete="Ada", day=WED, event="long jump",
        attempts=(Attempt("mark", 601, wind=12), Attempt("foul"), Attempt("pass")), rank=2,
    ),
    LoadElsewhere(recorded_at=NOW, athlete="Ada", day=TUE, counters={"full-jumps": 8}),
    OtherLeg(recorded_at=NOW, athlete="Ada", day=TUE, leg="right"),
)  # fmt: skip


@pytest.mark.parametrize("fact", GOOD, ids=lambda x: x.kind)
def test_nothing_is_said_of_a_possible_fact(made: Problem, fact: Fact) -> None:
    assert said(made, fact) == []


def test_a_complaint_says_where_what_is_needed_and_a_remedy(made: Problem) -> None:
    assert said(made, done(athlete="Adda")) == [
        "the fact 'done', athlete: found 'Adda'; needed an athlete of the squad. Maybe 'Ada' is meant."
    ]


BAD: tuple[tuple[Fact, str], ...] = (
    (done(unit="flying-sprint"), "a unit of the catalogue or the block"),
    (done(slot="night"), "a slot of that day"),
    (done(day=date(2017, 3, 2)), "a date near the block"),
    (done(day=THU), "a day up to today, 2027-03-03"),
    (done(day=WED), "a slot that has begun; it is 15:30"),
    (done(amount=40, remark="missed"), "found 40 of a missed unit"),
    (done(amount=0), "found 0 done as planned"),
    (done(effort=11), "an effort from 0 to 10"),
    (done(recorded_at=NOW + timedelta(minutes=1)), "a moment that is not to come"),
    (done(recorded_at=datetime(2027, 3, 2)), "a moment with a time zone"),
    (Ill(recorded_at=NOW, athlete="Ada", begins=THU), "begins: found 2027-03-04; needed a day up to today"),
    (Ill(recorded_at=NOW, athlete="Ada", begins=WED, ends=TUE), "an end not before 2027-03-03"),
    (
        PersonAway(recorded_at=NOW, name=KIT, begins=AT(WED, time(8)), ends=AT(WED, time(8))),
        "2027-03-03 08:00, when it begins; needed an end that comes later",
    ),
    (staged(StageChanged, 4), "needed stage 3, or a note of at least 10 characters"),
    (staged(StageChanged, 4, note="ok"), "needed stage 3, or a note"),
    (staged(StageChanged, 7), "a return stage from 0 (stop) to 6"),
    (staged(StageChanged, 3, side="right"), "no limit of Ada there (knee, right)"),
    (staged(StageChanged, 5, region="foot", side="right"), "no limit of Ada there"),  # over since Tuesday
    (staged(StageChanged, 3, region="nee"), "Maybe 'knee' is meant"),
    (staged(StageChanged, 3, entered_by=" "), "stages are set by people only"),
    (staged(StageChanged, 3, day=THU), "a day up to today"),
    (staged(TestPassed, 3), "needed the stage the athlete is in, 2"),
    (staged(Setback, 3), "a setback from stage 2 up to 3"),
    (HoldBack(recorded_at=NOW, athlete="Ada", begins=WED, stage=9), "a ceiling from 0 to 6"),
    (Late(recorded_at=NOW, athlete="Ada", day=THU, slot="evening", minutes=0), "minutes from 1 to 600"),
    (Late(recorded_at=NOW, athlete="Ada", day=LATER, slot="evening", minutes=5), "a day with a slot"),
    (
        VenueClosed(recorded_at=NOW, venue="trak", **SPAN),
        "'track' is meant",
    ),
    (
        VenueClosed(recorded_at=NOW, venue="track", place="pitt", **SPAN),
        "'pit' is meant",
    ),
    (PersonAway(recorded_at=NOW, name="Pat", **SPAN), "a coach, helper or athlete"),
    (WeatherFact(recorded_at=NOW, day=THU), "a temperature, rain or wind"),
    (WeatherFact(recorded_at=NOW, day=THU, wind=350), "found 35; needed a wind in m/s from 0 to 30. Maybe 3.5 is"),
    (WeatherFact(recorded_at=NOW, day=THU, air=600), "found 60; needed degrees Celsius from -40 to 50. Maybe 6"),
    (
        CompetitionAdded(recorded_at=NOW, name="Spring Open", first_day=THU, last_day=THU, athletes=("Ada",)),
        "a second time for Ada",
    ),
    (
        CompetitionMoved(recorded_at=NOW, name="Spring Opn", was=THU, first_day=THU, last_day=THU),
        "'Spring Open' is meant",
    ),
    (CompetitionWithdrawn(recorded_at=NOW, name="Spring Open", first_day=WED), "the day it is on, 2027"),
    (
        CompetitionWithdrawn(recorded_at=NOW, name="Spring Open", first_day=THU, athletes=("Bo",)),
        "Bo, not entered in",
    ),
    (Result(recorded_at=NOW, athlete="Ada", day=WED, event="long jump"), "at least one: a mark, a foul"),
    (
        Result(recorded_at=NOW, athlete="Ada", day=WED, event="long jump", attempts=(Attempt("mark"),)),
        "attempt 1: a mark that is missing",
    ),
    (
        LoadElsewhere(recorded_at=NOW, athlete="Ada", day=TUE, counters={"full-jump": 8}),
        "something that is counted. Maybe 'full-jumps' is meant",
    ),
    (LoadElsewhere(recorded_at=NOW, athlete="Ada", day=TUE), "an amount, minutes or a unit"),
    (OtherLeg(recorded_at=NOW, athlete="Ada", day=TUE, leg="right", changed=True), "who decided the change"),
    (Undone(recorded_at=NOW, fact=5), "the number of a recorded fact"),
    (Forgotten(recorded_at=NOW), "'planner forget' is meant"),
)


@pytest.mark.parametrize(("fact", "words"), BAD, ids=[f"{x.kind}: {w[:30]}" for x, w in BAD])
def test_one_sentence_says_what_is_wrong(made: Problem, fact: Fact, words: str) -> None:
    (sentence,) = said(made, fact)
    assert words in sentence and "found" in sentence and "needed" in sentence


def test_every_problem_is_said_at_once(made: Problem) -> None:
    assert len(said(made, done(athlete="X", unit="y", slot="z", day=TUE, effort=99))) == 4


def test_done_and_missed_contradict_each_other_until_one_is_undone(made: Problem) -> None:
    missed = done(remark="missed")
    (sentence,) = said(made, missed, done())
    assert "'missed' beside 'as planned' (fact 1)" in sentence and "undo fact 1 first" in sentence
    assert said(made, missed, done(), Undone(recorded_at=NOW, fact=1)) == []
    assert said(made, missed, done(unit="full-long-jumps")) == []


def test_a_stage_is_judged_by_the_facts_before_it(made: Problem) -> None:
    third = staged(StageChanged, 3, day=TUE)
    assert said(made, staged(StageChanged, 4), third) == []
    assert len(said(made, staged(StageChanged, 5), third)) == 1
    hurt = Hurt(recorded_at=NOW, athlete="Bo", day=TUE, region="ankle", side="left", stage=1, entered_by=KIT)
    ankle = staged(StageChanged, 2, athlete="Bo", region="ankle")
    assert len(said(made, ankle)) == 1
    assert said(made, ankle, hurt) == []
    assert len(said(made, ankle, hurt, Undone(recorded_at=NOW, fact=1))) == 1


def test_a_stage_for_both_sides_is_judged_by_the_worse_one(made: Problem) -> None:
    right = Hurt(
        recorded_at=NOW, athlete="Ada", day=TUE, region="knee", side="right", stage=4, entered_by=KIT
    )
    (sentence,) = said(made, staged(StageChanged, 5, side="both"), right)
    assert "a step from stage 2 to 5" in sentence


def test_competitions_are_those_after_the_facts_so_far(made: Problem) -> None:
    later = THU + timedelta(7)
    moved = CompetitionMoved(recorded_at=NOW, name="Spring Open", was=THU, first_day=later, last_day=later)
    gone = CompetitionWithdrawn(recorded_at=NOW, name="Spring Open", first_day=later)
    assert len(said(made, gone)) == 1
    assert said(made, gone, moved) == []
    assert len(said(made, gone, moved, gone)) == 1


def test_what_is_undone_already_is_said_and_an_undoing_may_be_undone(made: Problem) -> None:
    undone = Undone(recorded_at=NOW, fact=1)
    assert said(made, undone, done()) == []
    assert "undone already" in said(made, undone, done(), undone)[0]
    assert said(made, Undone(recorded_at=NOW, fact=2), done(), undone) == []


def result(event: str = "long jump", **more: object) -> Result:
    fields: dict[str, object] = {
        "recorded_at": NOW, "athlete": "Ada", "day": WED, "event": event,
        "attempts": (Attempt("mark", 601, wind=12), Attempt("foul")), **more,
    }  # fmt: skip
    return Result(**fields)  # type: ignore[arg-type]


def test_a_result_names_a_competition_that_is_known(made: Problem) -> None:
    assert said(made, result(competition="Spring Open")) == []
    (unknown,) = said(made, result(competition="Sprng Open"))
    assert "competition: found 'Sprng Open'; needed a competition of the block: Spring Open" in unknown
    assert "Maybe 'Spring Open' is meant, or record it first with competition-added." in unknown
    added = CompetitionAdded(recorded_at=NOW, name="Hall cup", first_day=WED, last_day=WED, athletes=("Ada",))
    assert said(made, result(competition="Hall cup"), added) == []


@pytest.mark.parametrize(("event", "unit", "competition", "fine"), [
    ("100 m", "hundredths", "Spring Open", True),  # another distance than the own ones is said, not refused
    ("standing long jump", "cm", "", True),  # a test
    ("squat", "half-kg", "", True),
    ("squat", "half-kg", "Spring Open", False),
    ("high jump", "cm", "", False),
    ("100 m hurdles", "hundredths", "", False),
])  # fmt: skip
def test_a_result_is_of_an_event_of_the_athlete(
    made: Problem, event: str, unit: str, competition: str, fine: bool
) -> None:
    found = said(made, result(event, competition=competition, attempts=(Attempt("mark", 1300, unit),)))
    assert (not found) is fine
    assert fine or f"found '{event}'; needed an event of Ada: long jump. Maybe" in found[0]


def test_a_combined_eventer_may_do_any_event(made: Problem) -> None:
    block = replace(made.block, athletes=tuple(replace(a, events=("heptathlon",)) for a in made.block.athletes))
    assert said(replace(made, block=block), result("high jump", competition="Spring Open")) == []


def test_the_same_result_is_refused_under_another_name_of_the_meeting_too(made: Problem) -> None:
    before = result(competition="Spring Open", id=7)
    (again,) = said(made, result(), before)
    assert "the same result of Ada a second time (fact 7)" in again and "Maybe undo fact 7 first" in again
    assert said(made, result(attempts=(Attempt("mark", 603),)), before) == [], "another set of jumps that day"


def test_another_distance_in_competition_is_said(made: Problem) -> None:
    assert another_run(result("100 m", competition="Spring Open"), made.block) == (
        "The 100 m is no event of Ada in the file (long jump); recorded all the same."
    )
    for silent in (result(competition="Spring Open"), result("100 m")):
        assert another_run(silent, made.block) == ""
