"""A change is told once and in one way: by the re-plan, in the messages, beside another revision, on the cards."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from three_weeks import ADA, IVO
from week import Week

from planner import flow, reissue
from planner.comparing import compared
from planner.flow import Result
from planner.review.changes import message
from planner.sheets import COMPETITION
from planner.sheets.report import PrintReport

MISSED = date(2027, 3, 1)


def test_a_missed_unit_moves_nowhere_and_both_commands_tell_the_same(three: Week) -> None:
    """Ada misses a day with key work, which finds another day; Ivo an easy one."""
    three.miss(ADA, MISSED)
    three.miss(IVO, date(2027, 3, 3))
    made = three.replan("2027-03-03 20:10")
    assert all(c.day > date(2027, 3, 3) for c in made.changes)
    assert not [c for c in made.changes if c.kind == "moved"], "what is over moves nowhere"
    assert "1 Mar:" not in message(ADA, made.changes) and "3 Mar:" not in message(IVO, made.changes)
    _, found = compared(three.file, 1)
    assert (found.changes, found.unchanged) == (made.changes, made.unchanged)


def test_a_change_of_the_plan_is_the_same_list_and_the_other_way_round_its_mirror(three: Week) -> None:
    three.miss(IVO, date(2027, 3, 3))
    three.tell("2027-03-08 20:30", "person-away", f"name={ADA}", "begins=2027-03-11", "ends=2027-03-11")
    made = three.replan("2027-03-08 20:40")
    assert {c.athlete for c in made.changes} == {ADA} and made.unchanged == (IVO,)
    problem, found = compared(three.file, 1)
    assert (found.changes, found.unchanged) == (made.changes, made.unchanged)
    _, back = compared(three.file, 2, 1)
    assert {c.athlete for c in back.changes} == {ADA} and len(back.changes) == len(found.changes)
    three.tell("2027-03-12 20:30", "person-away", f"name={IVO}", "begins=2027-03-15", "ends=2027-03-15")
    again = three.replan("2027-03-12 20:40")
    _, last = compared(three.file, 2)
    assert last.changes == again.changes
    _, both = compared(three.file, 1)
    assert {c for c in both.changes if c.athlete == ADA} == set(made.changes), "what came of a day over stays told"
    assert {c for c in both.changes if c.athlete == IVO} == set(again.changes)
    assert problem.athletes == (ADA, IVO)


def test_a_competition_card_follows_the_limits_of_its_day(three: Week, monkeypatch: pytest.MonkeyPatch) -> None:
    """Care on the card names the limit on the day of the competition: it is old once that changes."""
    printed: list[tuple[str, ...]] = []

    def noted(file: Path, ledger: object, result: Result, settings: object, names: tuple[str, ...]) -> Result:
        printed.append(names)
        return replace(result, report=PrintReport())

    monkeypatch.setattr(flow, "publish", noted)
    monkeypatch.setattr(reissue, "with_notice", lambda file, result, *rest: result)

    def cards() -> list[tuple[str, ...]]:
        found = [names for names in printed if COMPETITION in names]
        pages = {name for names in printed if "squad board" in names for name in names}
        assert (ADA in pages) == bool(found), "her own page names the limit too"
        printed.clear()
        return found

    of_leg = (f"athlete={ADA}", "day=2027-03-08", "region=hamstring", "side=left", "entered_by=Dr Holm")
    three.tell("2027-03-08 20:00", "hurt", *of_leg, "stage=3")
    three.replan("2027-03-08 20:10")
    assert cards() == [(COMPETITION, ADA)]
    raised = ("stage-changed", *of_leg[:1], "day=2027-03-09", *of_leg[2:], "stage=4", "note=walks and jogs")
    three.tell("2027-03-09 08:00", *raised)
    three.replan("2027-03-09 08:10")
    assert cards() == [(COMPETITION, ADA)], "a stage that was raised"
    three.miss(IVO, date(2027, 3, 9))
    three.replan("2027-03-09 21:10")
    assert cards() == [], "and nobody else's"
