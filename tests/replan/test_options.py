"""The coach's choices: nothing before a day, up to three ways with their cost, gains that are asked for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

import pytest
from three_weeks import ADA, IVO
from week import Week, at

from planner import flow
from planner.asking import Ask, NoSuchOption, TooLate
from planner.domain.errors import Told
from planner.domain.plan import Placement, Plan
from planner.options import MOST
from planner.replan import Replanned, options, replan
from planner.review import review


def placed(made: Replanned) -> tuple[Placement, ...]:
    return made.result.outcome.plan.placements


def of(placements: Iterable[Placement], who: str) -> set[object]:
    return {(p.key, p.dose.amount) for p in placements if p.athlete == who}


def test_a_missed_key_day_leaves_a_choice_and_each_way_is_one_command(three: Week) -> None:
    """A key unit finds another day near by, in place of something else; letting it go is another way."""
    three.miss(ADA, date(2027, 3, 1))
    ways = options(three.file, at("2027-03-01 20:10"))
    assert 2 <= len(ways) <= MOST
    gone = {p.unit.name.lower() for p in three.before if p.day == date(2027, 3, 1)}
    assert "moves to" in ways[0].sentence
    assert {c.now.split(",")[0] for c in ways[0].changes if c.kind == "new"} <= gone
    assert all(c.day > date(2027, 3, 1) for way in ways for c in way.changes), "what is over moves nowhere"
    assert any("is left out" in way.sentence for way in ways[1:])
    for way in ways:
        assert way.sentence.count(".") == 1 and {c.athlete for c in way.changes} <= {ADA}
        assert not way.outcome.musts_broken
    first = replan(three.file, at("2027-03-01 20:20"))
    assert first.choice and first.result.revision.number == 2
    second = replan(three.file, at("2027-03-01 20:30"), Ask(option=2))  # after the first was taken
    assert second.changes == ways[1].changes and second.result.revision.number == 3
    assert of(placed(second), IVO) == of(three.before, IVO)
    flow.hand_out(three.file, at("2027-03-01 21:00"))
    with pytest.raises(TooLate, match="handed out since the last fact"):
        options(three.file, at("2027-03-01 21:10"))


def test_with_nothing_recorded_there_is_nothing_to_choose(three: Week) -> None:
    ways = options(three.file, at("2027-03-03 20:00"))
    assert len(ways) == 1 and not ways[0].changes
    assert not replan(three.file, at("2027-03-03 20:00")).choice
    with pytest.raises(NoSuchOption, match="found 2, but what was recorded leaves 1 way"):
        replan(three.file, at("2027-03-03 20:00"), Ask(option=2))


def test_nothing_before_the_given_day_changes(three: Week) -> None:
    """The run-ups of Thursday lose their pit: they may go forward to Friday, not back to Tuesday or Wednesday."""
    three.tell("2027-03-08 20:30", "venue-closed", "venue=track", "place=pit", "begins=2027-03-11 00:00",
               "ends=2027-03-11 23:00")  # fmt: skip
    since = date(2027, 3, 11)
    held = {p.key for p in three.before if p.day < since}
    made = replan(three.file, at("2027-03-08 20:40"), Ask(since=since))
    assert {p.key for p in placed(made) if p.day < since} == held
    assert made.changes and all(c.day >= since for c in made.changes)
    assert "nothing before 2027-03-11" in made.result.revision.reason


def test_what_must_change_before_the_given_day_is_said(three: Week) -> None:
    three.tell("2027-03-09 20:30", "venue-closed", "venue=track", "place=pit", "begins=2027-03-11 00:00",
               "ends=2027-03-11 23:00")  # fmt: skip
    with pytest.raises(Told, match="Thu 11 Mar"):
        replan(three.file, at("2027-03-09 20:40"), Ask(since=date(2027, 3, 15)))


def test_a_competition_that_moves_back_opens_its_week_and_the_coach_may_leave_it(three: Week) -> None:
    """The week after the old date was an easy one; it is planned anew at its own level, Ivo keeps everything."""
    three.tell("2027-03-09 20:00", "competition-moved", "name=Spring meeting", "was=2027-03-14",
               "first_day=2027-03-21", "last_day=2027-03-21")  # fmt: skip
    ways = options(three.file, at("2027-03-09 20:10"))
    assert "are planned anew" in ways[0].sentence and "No week is planned anew" in ways[1].sentence
    made = replan(three.file, at("2027-03-09 20:20"))
    assert of(placed(made), IVO) == of(three.before, IVO)
    week = [p for p in placed(made) if p.athlete == ADA and date(2027, 3, 15) <= p.day <= date(2027, 3, 20)]
    was = [p for p in three.before if p.athlete == ADA and date(2027, 3, 15) <= p.day]
    assert sum(p.dose.load for p in week) > sum(p.dose.load for p in was), "at its own level, not the old one"
    assert any(p.importance == "key" for p in week)
    assert made.result.outcome.musts_broken == ()
    stays = ways[1].outcome.plan.placements
    assert sum(p.dose.load for p in stays if p.athlete == ADA and p.day >= date(2027, 3, 15)) <= sum(
        p.dose.load for p in was
    )


def test_too_few_run_ups_before_the_main_competition_are_said_and_no_stage_moves(three: Week) -> None:
    quiet = replan(three.file, at("2027-03-08 20:00"))
    assert quiet.not_ready == ()
    three.miss(ADA, date(2027, 3, 11))
    made = replan(three.file, at("2027-03-11 20:10"))
    (said,) = made.not_ready
    where = "for the long jump of Spring meeting (Sun 14 Mar)"
    assert said.startswith(f"{ADA} is not ready by the plan's rules {where}")
    assert "1 of 2 days with full run-ups" in said and "Maybe start from a shorter run-up" in said
    assert "medium" not in said, "what was never promised was not lost"
    assert not made.result.problem.block.limits


def test_a_gain_moves_what_was_handed_out_only_when_asked_and_adds_nothing(three: Week) -> None:
    """The coach comes to care much more about the hours between fast days than when the plan was handed out."""
    more = "rules:\n  - {rule: hours_to_recover, weight: 200}\n"
    three.file.write_text(three.file.read_text(encoding="utf-8") + more, encoding="utf-8")
    least = replan(three.file, at("2027-03-03 20:00"))
    assert least.result.unchanged
    made = replan(three.file, at("2027-03-03 20:05"), Ask(improve=True))
    assert made.changes and "improved" in made.result.revision.reason
    free = replace(made.result.problem, kept=())
    was_given_way, given_way = (
        sum(review(Plan.of(ps), free).score["should"].values()) for ps in (three.before, placed(made))
    )
    assert given_way < was_given_way
    for who in (ADA, IVO):
        for monday in (date(2027, 3, 1), date(2027, 3, 8), date(2027, 3, 15)):
            now, was = ([p for p in ps if p.athlete == who and 0 <= (p.day - monday).days < 7]
                        for ps in (placed(made), three.before))  # fmt: skip
            assert len(now) <= len(was)
            assert sum(p.dose.load for p in now) <= sum(p.dose.load for p in was)
    near = {p.key for p in three.before if p.day <= date(2027, 3, 4)}
    assert near <= {p.key for p in placed(made)}, "what begins within 24 hours stays"
