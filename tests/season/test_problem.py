"""The whole problem: weeks of a block, what came before it, and how large it gets."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from planner.domain.block import Away, BeforeWeek, LastDone, Limit, PhaseSpan
from planner.season import make_problem

from .worlds import MONDAY, at, athlete, block, line, meet

EASTER = date(2027, 3, 22)
WEEKS_BEFORE = tuple(MONDAY - timedelta(weeks=n) for n in (1, 2, 3, 4, 5))


def phase(name: str, share: int | None = None) -> tuple[PhaseSpan, ...]:
    return (PhaseSpan("", name, MONDAY, MONDAY + timedelta(days=60), share),)


def test_weeks_run_from_monday_and_know_their_days_inside_the_block() -> None:
    made = make_problem(block(days=10, begins=MONDAY + timedelta(days=3)))
    first, second = made.weeks["Ada"]
    assert (first.begins, len(first.days), first.available_days) == (MONDAY, 4, 4)
    assert (second.begins, len(second.days)) == (MONDAY + timedelta(days=7), 6)
    # strength 2/2/3 over four days: 1.14 -> 1
    assert (first.counts["strength"].target, first.counts["strength"].maximum) == (1, 3)


def test_a_week_away_shrinks_targets_and_volume_alike() -> None:
    gone = Away("Ada", at(MONDAY), at(MONDAY + timedelta(days=1), 23, 59))
    made = make_problem(block(away=(gone,), phases=phase("specific-preparation", 100)))
    week = made.weeks["Ada"][0]
    assert week.available_days == 5
    # technical jumps 2 x 5/7 = 1.43 -> 1; 32 jumps x 5/7 = 22 in one session: held at the top, 20
    assert week.counts["technical-jumps"].target == 1
    assert week.doses["short-long-jumps"][0].amount == 20


def test_competition_and_taper_volumes() -> None:
    weeks = make_problem(block(days=14, phases=phase("taper", 50))).weeks["Ada"]
    # run-ups: pre-competition peak 14, taper's own top 6 is its usual (50 %) week: 12 x 50 % = 6 / 1;
    # a session of such a week is at most 50 % of the range's top of 10
    assert weeks[0].counts["run-ups"].target == 1
    assert weeks[0].doses["full-run-ups"][0].amount == 5
    weeks = make_problem(block(days=14, phases=phase("competition", 75))).weeks["Ada"]
    # run-ups: the competition's top 8 in a 75 % week: 8 x 100 / 75 = 10; 75 % of 10 = 7 / 1
    assert weeks[0].doses["full-run-ups"][0].amount == 7


def test_the_rise_is_held_over_what_was_done() -> None:
    before = tuple(BeforeWeek("Ada", w, {"run-ups": n, "short-jumps": 10}, line(80))
                   for w, n in zip(WEEKS_BEFORE, (3, 4, 2, 1, 99), strict=True))  # fmt: skip
    made = make_problem(block(days=14, before=before, phases=phase("specific-preparation", 100)))
    first, second = made.weeks["Ada"]
    assert first.reference_known
    assert first.reference == {"run-ups": 4, "short-jumps": 10}  # the fifth week back does not count
    # run-ups: 4 + 2 = 6 in one session, then 6 + 2 = 8
    assert [w.doses["full-run-ups"][0].amount for w in (first, second)] == [6, 8]
    # short jumps: 10 + 20 % = 12 / 2 = 6, but never under the range's low end in a loading week
    assert first.doses["short-long-jumps"][0].amount == 12
    # nothing is said of tempo: 2400 m / 1, not held
    assert first.doses["extensive-tempo"][0].amount == 2400


def test_without_a_past_nothing_is_held_and_it_is_known() -> None:
    week = make_problem(block(phases=phase("specific-preparation", 100))).weeks["Ada"][0]
    assert (week.reference_known, week.reference) == (False, {})
    assert week.doses["full-run-ups"][0].amount == 10


@pytest.mark.parametrize(
    ("missed", "percent"), [(2, 100), (3, 75), (6, 75), (7, 60), (13, 60), (14, 50), (27, 50), (28, 50)]
)
def test_coming_back_from_an_illness(missed: int, percent: int) -> None:
    ill = Limit("Ada", "illness", "both", 0, MONDAY - timedelta(days=missed), MONDAY - timedelta(days=1))
    made = make_problem(block(days=14, limits=(ill,), phases=phase("specific-preparation", 100)))
    back, later = made.weeks["Ada"]
    # tempo: one session of the week's 2400 m
    assert back.doses["extensive-tempo"][0].amount == 2400 * percent // 100 // 100 * 100
    assert later.doses["extensive-tempo"][0].amount == 2400


def test_coming_back_from_days_away_and_from_idle_weeks() -> None:
    gone = Away("Ada", at(MONDAY), at(MONDAY + timedelta(days=6), 23, 59))
    made = make_problem(block(days=14, away=(gone,), phases=phase("specific-preparation", 100)))
    assert made.weeks["Ada"][1].doses["extensive-tempo"][0].amount == 2000  # 85 % of 2400, whole 100 m
    idle = tuple(BeforeWeek("Ada", w, {"tempo-metres": 0}) for w in WEEKS_BEFORE[:2])
    made = make_problem(block(days=7, before=idle, phases=phase("general-preparation", 100)))
    assert made.weeks["Ada"][0].doses["general-strength"][0].amount == 2  # 14 days: 50 % of 4 rounds


def test_the_usual_fast_day_is_the_two_first_key_units_at_full_amount() -> None:
    week = make_problem(block(phases=phase("specific-preparation", 100))).weeks["Ada"][0]
    flying, long = week.doses["flying-sprints"][0], week.doses["long-accelerations"][0]
    assert week.usual_fast_day == 25 * 3 + flying.load + long.load
    lighter = make_problem(block(days=28, phases=phase("specific-preparation"))).weeks["Ada"]
    assert len({w.usual_fast_day for w in lighter}) == 1  # an easier week does not lower it


def test_the_usual_fast_day_of_what_was_done() -> None:
    plain = make_problem(block(phases=phase("specific-preparation", 100)))
    fast = next(p for p in plain.candidates if p.unit.id == "flying-sprints")
    done = tuple(replace(fast, day=MONDAY - timedelta(days=n)) for n in (3, 6))
    week = make_problem(block(phases=phase("specific-preparation", 100)), history=done).weeks["Ada"][0]
    assert week.usual_fast_day == 25 * 3 + fast.dose.load


def test_last_dates_become_history_and_settled_placements_leave_the_menu() -> None:
    done = (
        LastDone("Ada", "flying-sprints", MONDAY - timedelta(days=2)),
        LastDone("Ada", "short-triple-jumps", MONDAY - timedelta(days=3)),
        LastDone("Ada", "mobility", MONDAY),  # not before the block
    )
    made = make_problem(block(last_done=done))
    assert [(p.day, p.unit.id) for p in made.history] == [
        (MONDAY - timedelta(days=3), "short-triple-jumps"), (MONDAY - timedelta(days=2), "flying-sprints"),
    ]  # fmt: skip
    assert made.history[1].dose == made.weeks["Ada"][0].doses["flying-sprints"][0]
    settled = made.candidates[:3]
    again = make_problem(block(last_done=done), kept=settled)
    assert again.kept == settled
    assert not set(settled) & set(again.candidates)


def test_the_main_unit_of_each_family_fits_the_athlete() -> None:
    span = phase("specific-preparation", 100)
    week = make_problem(block(phases=span)).weeks["Ada"][0]
    assert week.main_units["technical-jumps"] == "short-long-jumps"
    hop = make_problem(block(athlete(event="triple jump"), phases=span)).weeks["Ada"][0]
    assert hop.main_units["technical-jumps"] == "short-triple-jumps"
    knee = make_problem(block(limits=(Limit("Ada", "knee", "left", 3),), phases=span)).weeks["Ada"][0]
    assert "technical-jumps" not in knee.main_units


def test_an_exam_week_halves_the_amounts() -> None:
    exam = Away("Ada", at(MONDAY + timedelta(days=1)), at(MONDAY + timedelta(days=1), 23, 59), "exam")
    week = make_problem(block(away=(exam,))).weeks["Ada"][0]
    assert (week.exam_week, week.share, week.kind) == (True, 55, "easier")
    # 55 % of 32 jumps = 17 / 2 = 8
    assert week.doses["short-long-jumps"][0].amount == 8


def test_what_was_assumed_is_said() -> None:
    made = make_problem(block(athlete(levels={"strength": "advanced"}, level="developing")))
    assert [a.subject for a in made.block.assumptions] == ["Ada: phases", "Ada: levels"]


def test_candidates_stand_in_key_order_without_doubles() -> None:
    made = make_problem(block(days=14, slots=("morning", "evening")))
    keys = [p.key for p in made.candidates]
    assert keys == sorted(keys)
    assert len(set(keys)) == len(keys)


def test_seven_athletes_and_twenty_days() -> None:
    squad = (
        athlete("Ada"), athlete("Bo", "triple jump", take_off_leg="right"),
        athlete("Cy", "100 m", "developing"), athlete("Di", "400 m"),
        athlete("Ed", "400 m", "developing"), athlete("Fay", "heptathlon"),
        replace(athlete("Gus", level="novice", training_years=1), events=("long jump", "100 m")),
    )  # fmt: skip
    meets = tuple(meet(EASTER + timedelta(days=19), "supporting", a.name) for a in squad)
    made = block(
        *squad, days=20, begins=EASTER, slots=("morning", "evening"), competitions=meets,
        limits=(Limit("Bo", "knee", "right", 5, contacts_a_week=30),),
    )  # fmt: skip
    problem = make_problem(made)
    assert 5000 < len(problem.candidates) < 12_000
    assert {p.athlete for p in problem.candidates} == {a.name for a in squad}
    assert make_problem(made).candidates == problem.candidates
