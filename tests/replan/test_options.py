"""The coach's choices: nothing before a day, up to three ways with their cost, gains that are asked for."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from datetime import date
from pathlib import Path

import pytest
from conftest import Week, _not_printed, at
from three_weeks import ADA, IVO, three_weeks

from planner import flow
from planner.asking import Ask, NoSuchOption, TooLate
from planner.domain.errors import Told
from planner.domain.plan import Placement
from planner.options import MOST
from planner.replan import Replanned, options, replan


@pytest.fixture(scope="module")
def given(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return three_weeks(tmp_path_factory.mktemp("three-weeks")).parent


@pytest.fixture
def three(given: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Week:
    monkeypatch.setattr(flow, "publish", _not_printed)
    shutil.copytree(given, tmp_path / "own")
    return Week(tmp_path / "own")


def miss(week: Week, who: str, day: date) -> None:
    for p in week.before:
        if p.athlete == who and p.day == day:
            week.tell(f"{day} 20:00", "done", f"athlete={who}", f"day={p.day}", f"slot={p.slot}",
                      f"unit={p.unit.id}", f"word={p.dose.word}", "remark=missed")  # fmt: skip


def placed(made: Replanned) -> tuple[Placement, ...]:
    return made.result.outcome.plan.placements


def of(placements: Iterable[Placement], who: str) -> set[object]:
    return {(p.key, p.dose.amount) for p in placements if p.athlete == who}


def test_a_missed_key_day_leaves_a_choice_and_each_way_is_one_command(three: Week) -> None:
    """No debt is the first way; the missed key unit may still be moved, in place of something else."""
    miss(three, ADA, date(2027, 3, 1))
    ways = options(three.file, at("2027-03-01 20:10"))
    assert 2 <= len(ways) <= MOST
    assert "is left out" in ways[0].sentence and not ways[0].changes
    assert "moves to" in ways[1].sentence
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
