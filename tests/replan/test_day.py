"""A day is recorded in a few lines: everybody as planned but for the exceptions."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from planner.cli.day import BadLine, facts_of
from planner.domain.plan import Placement
from planner.rules._tiny import World, draw, problem

NOW = datetime(2027, 3, 1, 20, tzinfo=UTC)


def today() -> tuple[Placement, ...]:
    made = problem(World(("full-run-ups", "heavy-strength", "mobility"), days=1, athletes=2))
    return draw(made, "full-run-ups + heavy-strength\nheavy-strength + mobility")


def test_without_a_word_all_is_as_planned() -> None:
    done = facts_of([], today(), NOW)
    assert len(done) == 4 and all(f.remark == "as planned" and f.amount is None for f in done)


def test_exceptions_by_unit_and_for_the_whole_day() -> None:
    lines = ["ada: run-ups 4 of 10, lifting lighter, flat", "Bo: missed"]
    done = {(f.athlete, f.unit): f for f in facts_of(lines, today(), NOW)}
    assert done["Ada", "full-run-ups"].amount == 4 and done["Ada", "full-run-ups"].felt == "flat"
    assert done["Ada", "heavy-strength"].remark == "lighter"
    assert {f.remark for (name, _), f in done.items() if name == "Bo"} == {"missed"}


def test_the_effort_of_a_session_is_recorded_with_every_unit_of_it() -> None:
    done = {(f.athlete, f.unit): f for f in facts_of(["Ada: effort 8, flat"], today(), NOW)}
    assert {f.effort for (name, _), f in done.items() if name == "Ada"} == {8}
    assert done["Ada", "heavy-strength"].felt == "flat"
    assert {f.effort for (name, _), f in done.items() if name == "Bo"} == {None}


def test_the_effort_of_one_of_two_sessions_needs_its_slot() -> None:
    made = problem(World(("full-run-ups", "heavy-strength"), days=1, slots=("morning", "evening")))
    here = draw(made, "morning: full-run-ups + evening: heavy-strength")
    done = {f.slot: f.effort for f in facts_of(["Ada: morning effort 8"], here, NOW)}
    assert done == {"morning": 8, "evening": None}
    for line, needed in (("Ada: effort 8", "'evening effort 8'"), ("Ada: morning effort 11", "needed 0 to 10"),
                         ("Ada: noon effort 4", "evening or morning")):  # fmt: skip
        with pytest.raises(BadLine) as told:
            facts_of([line], here, NOW)
        assert needed in str(told.value)


def test_every_line_that_cannot_be_read_is_told() -> None:
    with pytest.raises(BadLine) as told:
        facts_of(["Cy: missed", "Ada run-ups 4", "Ada: hurdles 4"], today(), NOW)
    assert str(told.value).count("line ") == 3 and "Maybe" in str(told.value)
