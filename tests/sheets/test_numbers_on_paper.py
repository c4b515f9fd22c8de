"""Numbers to train by on the athlete page: targets, stop and lighter lines, tests, the day after the pit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planner.catalogue import units as catalogue
from planner.cli.words import day_lines
from planner.domain.attempt import Attempt
from planner.domain.block import Mark
from planner.domain.facts import Fact, Result
from planner.domain.problem import Problem
from planner.numbers import train_by
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.drawing import words_of
from planner.sheets.view_athlete import AthleteView, SessionView, UnitView
from tests.sheets import world

REVISION = revision_view(world.REVISION, False)
OUTCOME = world.outcome()
NOW = datetime(2027, 4, 10, 12, tzinfo=world.ZONE)
SIGNE, JONAS, AMADI = world.S, world.J, world.A


def with_marks(*marks: Mark) -> Problem:
    return world.problem(replace(world.block(), marks=marks))


def page(who: str, problem: Problem, facts: tuple[Fact, ...] = ()) -> AthleteView:
    by = train_by(OUTCOME.plan, problem, facts)
    return athlete_view(problem.block.athlete(who), OUTCOME, problem, REVISION, by)


def sessions(view: AthleteView) -> Iterator[SessionView]:
    return (s for w in view.weeks for d in w.days for s in d.sessions)


def units(view: AthleteView, name: str) -> list[UnitView]:
    return [u for s in sessions(view) for stop in s.stops for u in stop.units if u.name == name]


@pytest.mark.parametrize(
    ("unit", "name", "amount", "note"),
    [
        ("depth-jumps", "Low hurdle hops", "2 × 5", ""),
        ("flying-sprints", "Build-ups", "4 × 60 m", "to 92 %, flats"),
        ("extensive-tempo", "Extensive tempo", "", None),
    ],
)
def test_a_lighter_form_that_is_another_exercise_has_its_own_name(
    unit: str, name: str, amount: str, note: str | None
) -> None:
    there = next(p for p in OUTCOME.plan.placements if p.athlete == AMADI)
    book = catalogue()
    light = replace(there, unit=book[unit], dose=world.dose(book[unit], "advanced", "lighter"))
    alone = replace(OUTCOME, plan=replace(OUTCOME.plan, placements=(light,)))
    made = world.problem()
    view = athlete_view(made.block.athlete(AMADI), alone, made, REVISION, train_by(alone.plan, made, ()))
    (said,) = units(view, name)
    assert said.tag == "lighter"
    assert note is None or (said.amount, said.amount_note) == (amount, note)
    words = day_lines(made, (light,), (light.day,), AMADI)
    assert any(name in line and "lighter" in line for line in words)


def test_a_mark_becomes_a_band_a_stop_and_a_lighter_figure() -> None:
    """Flying 20 m in 2.00 s: the band, and 3 % over its middle to stop at."""
    problem = with_marks(Mark(AMADI, "flying 20 m", 200, "hundredths"), Mark(AMADI, "squat", 300, "half-kg"))
    (first, *_) = units(page(AMADI, problem), "Flying sprints")
    assert "20\u00a0m" in first.target and "\u00a0s" in first.target
    assert "slower than 2." in first.stop and "(3\u00a0%)" in first.stop
    assert first.recovery and first.shoes and first.lighter
    (lift, *_) = units(page(AMADI, problem), "Heavy lower-body strength")
    assert "squat" in lift.target and "\u00a0kg" in lift.target
    assert "first to go:" in lift.lighter and "stays:" in lift.lighter


def test_without_a_mark_words_of_effort_and_the_test_that_is_missing() -> None:
    view = page(AMADI, with_marks())
    (first, *_) = units(view, "Flying sprints")
    assert "of own best:" in first.target and "\u00a0s" not in first.target
    assert "flying 20\u00a0m" in view.weeks[0].tests
    told = page(AMADI, with_marks(Mark(AMADI, "flying 20 m", 200, "hundredths")))
    assert "flying 20\u00a0m" not in told.weeks[0].tests


def test_another_athletes_marks_change_nothing() -> None:
    mine = with_marks(Mark(AMADI, "flying 20 m", 200, "hundredths"))
    more = with_marks(*mine.block.marks, Mark(SIGNE, "flying 20 m", 230, "hundredths"))
    assert page(AMADI, mine) == page(AMADI, more)
    assert page(SIGNE, mine) != page(SIGNE, more)


def test_every_unit_of_every_page_has_its_lines() -> None:
    problem = world.problem()
    for athlete in problem.block.athletes:
        for session in sessions(page(athlete.name, problem)):
            for unit in (u for stop in session.stops for u in stop.units):
                assert unit.amount, unit.cell
                assert unit.tag == "lighter" or (unit.target and unit.lighter), unit.cell


@settings(max_examples=25, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(("30 m", "30 m hand", "30 m blocks", "flying 20 m", "100 m", "60 m grass", "400 m")),
        st.integers(1, 10**6), max_size=7,
    ),
    st.integers(1, 10**6), st.integers(1, 10**5),
)  # fmt: skip
@example({"30 m": 10**6}, 1, 1)
def test_no_mark_however_odd_puts_nonsense_on_paper(times: dict[str, int], cm: int, half_kg: int) -> None:
    marks = [Mark(AMADI, event, value, "hundredths") for event, value in sorted(times.items())]
    marks += [Mark(AMADI, "long jump", cm, "cm"), Mark(AMADI, "squat", half_kg, "half-kg")]
    said = f" {words_of(page(AMADI, with_marks(*marks))).lower()} "
    assert all(word not in said for word in (" nan", "inf ", "none", "-0.", "e+"))


def bailing(**more: object) -> Result:
    """The Monday of the first week at the pit; the next session there is Friday's."""
    attempts = (
        Attempt("mark", 1322, wind=4, gap=6, hop=502, step=396, jump=430),
        Attempt("not measured", hop=520, ended="bailed out in the step"),
        Attempt("not measured", hop=515, ended="bailed out in the step"),
    )
    return Result(
        recorded_at=NOW, athlete=JONAS, day=world.FIRST, event="triple jump", attempts=attempts, target=1340,
        **more,
    )  # type: ignore[arg-type]


def test_two_bailed_attempts_put_the_cue_on_the_next_page() -> None:
    view = page(JONAS, with_marks(), (bailing(cue="quick hop", cue_after=2),))
    (over,) = [s for s in sessions(view) if s.theme]
    assert over.cell.startswith("Fri")
    told, cue, today = over.theme
    told = told.replace("\u00a0", " ")
    marks = "marks for 13.40 m (hop 1 over; step 1 over)"
    assert told == f"Mon 5 Apr, triple jump: {marks}, best 13.22 m (+0.4), 2 of 3 bailed out of."
    assert cue == "Coach's cue: 'quick hop' (bailed out 1 then 1)."
    assert today.startswith("Today: marks stay at 13.40\u00a0m: 2 attempts were bailed out of")


def test_one_bailed_attempt_leaves_the_cue_beside_the_result() -> None:
    fact = bailing(cue="quick hop")
    one = replace(fact, attempts=fact.attempts[:2], day=world.FIRST + timedelta(days=3))
    (over,) = [s for s in sessions(page(JONAS, with_marks(), (one,))) if s.theme]
    assert over.theme[0].startswith("Yesterday, triple jump: ") and over.theme[0].endswith("cue 'quick hop'.")
    assert not any(line.startswith("Coach's cue") for line in over.theme)


def test_what_one_did_at_the_pit_stands_on_nobody_elses_page() -> None:
    facts = (bailing(cue="quick hop"),)
    assert page(SIGNE, with_marks(), facts) == page(SIGNE, with_marks())


def test_the_test_day_says_what_is_due() -> None:
    ragna = world.R
    marks = (
        Mark(ragna, "30 m", 440, "hundredths", day=world.FIRST - timedelta(days=100)),
        Mark(ragna, "flying 20 m", 225, "hundredths", day=world.FIRST - timedelta(days=10)),
    )
    (testing,) = units(page(ragna, with_marks(*marks)), "Testing")
    assert "30\u00a0m (107 days old)" in testing.how and "five bounds (no dated mark)" in testing.how
    assert "flying 20" not in testing.how
