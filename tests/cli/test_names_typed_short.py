"""Names of competitions and events as typed: a beginning, other capitals, and what is no event at all."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from planner.cli.facts import fact_from
from planner.cli.telling import Unsure, with_whole_names
from planner.domain.block import Competition
from planner.domain.facts import CompetitionAdded, CompetitionMoved, Result
from planner.domain.problem import Problem
from planner.rules._tiny import World, problem

NOW = datetime(2027, 3, 3, 20, tzinfo=UTC)
DAY = date(2027, 3, 3)


@pytest.fixture(scope="module")
def made() -> Problem:
    both = [(name, who) for name in ("County meeting", "City cup") for who in ("Ada", "Bo")]
    meets = tuple(Competition(name, who, DAY, DAY) for name, who in both)
    return problem(World(("full-long-jumps",), athletes=2, block={"competitions": meets}))


@pytest.mark.parametrize(("typed", "meant"), [
    ("County", "County meeting"), ("county m", "County meeting"), ("C", "C"), ("Village", "Village"), ("", ""),
])  # fmt: skip
def test_the_beginning_of_a_competition_will_do(made: Problem, typed: str, meant: str) -> None:
    words = ["athlete=ad", f"day={DAY}", "event=Long Jump", f"competition={typed}", "attempts=5.91 m"]
    fact = with_whole_names(fact_from("result", words, NOW), made)
    assert isinstance(fact, Result)
    assert (fact.athlete, fact.event, fact.competition) == ("Ada", "long jump", meant)


def test_a_competition_is_moved_by_its_beginning_and_a_new_one_keeps_its_name(made: Problem) -> None:
    dates = ["first_day=2027-03-10", "last_day=2027-03-10"]
    moved = with_whole_names(fact_from("competition-moved", ["name=city", f"was={DAY}", *dates], NOW), made)
    assert isinstance(moved, CompetitionMoved) and moved.name == "City cup"
    added = with_whole_names(fact_from("competition-added", ["name=City", "athletes=Ada", *dates], NOW), made)
    assert isinstance(added, CompetitionAdded) and added.name == "City"


def test_what_is_no_event_is_asked_back(made: Problem) -> None:
    words = ["athlete=Ada", f"day={DAY}", "event=lon jump", "attempts=5.91 m"]
    with pytest.raises(Unsure, match="found 'lon jump', needed an event or a test") as error:
        with_whole_names(fact_from("result", words, NOW), made)
    assert "Maybe 'long jump' is meant." in str(error.value)
