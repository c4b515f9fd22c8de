"""What may be placed, what is refused, and which line of the coach's file says so."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from planner.domain.block import Away, Block, Limit, Theme, Wish
from planner.domain.plan import Placement, Refusal
from planner.domain.problem import Problem
from planner.domain.record import placement_record
from planner.season import make_problem
from planner.season.eligible import eligible

from .worlds import MONDAY, at, athlete, block, line, meet

TUESDAY = MONDAY + timedelta(days=1)
WEDNESDAY = MONDAY + timedelta(days=2)


def offered(problem: Problem, day: date, unit: str, word: str = "full") -> list[Placement]:
    return [p for p in problem.on("Ada", day) if p.unit.id == unit and p.dose.word == word]


def refused(problem: Problem, day: date, unit: str) -> list[Refusal]:
    return [r for r in problem.refusals if r.day == day and r.unit in (unit, "")]


def test_a_candidate_opens_with_its_place() -> None:
    made = make_problem(block())
    (gym,) = offered(made, MONDAY, "heavy-strength")
    assert (gym.place, gym.venue, gym.begins) == ("gym", "park", datetime(2027, 3, 1, 16))
    assert gym.dose == made.weeks["Ada"][0].doses["heavy-strength"][0]
    assert gym.importance == "supporting"


def test_the_best_open_place_is_taken() -> None:
    assert offered(make_problem(block()), MONDAY, "extensive-tempo")[0].place == "grass"
    assert offered(make_problem(block(places=("track",))), MONDAY, "extensive-tempo")[0].place == "track"
    anywhere = offered(make_problem(block(places=())), MONDAY, "mobility")[0]
    assert (anywhere.place, anywhere.begins) == ("", datetime(2027, 3, 1, 16))


def test_no_opening_of_a_fitting_place() -> None:
    made = make_problem(block(places=("track", "straight")))
    assert not offered(made, MONDAY, "heavy-strength")
    (refusal,) = refused(made, MONDAY, "heavy-strength")
    assert "no gym is open" in refusal.reason
    assert refusal.line == line(100)


def test_a_session_that_would_not_fit_even_alone() -> None:
    slots = tuple(
        s.__class__(s.day, s.name, s.begins, s.begins.replace(hour=16, minute=50), s.line)
        for s in block().slots
    )
    short = block()
    openings = tuple(
        o.__class__(o.day, o.slot, o.place, o.begins, o.begins.replace(minute=50), o.line)
        for o in short.openings
    )
    made = make_problem(Block("b", short.begins, short.ends, athletes=short.athletes, slots=slots,
                              openings=openings))  # fmt: skip
    # 25 minutes of warm-up and at least 45 of long accelerations in 50
    assert not offered(made, MONDAY, "long-accelerations")
    (refusal,) = refused(made, MONDAY, "long-accelerations")
    assert refusal.line == line(60)
    assert "50 are open at most" in refusal.reason
    assert offered(made, MONDAY, "mobility")


def test_no_training_on_a_competition_day() -> None:
    made = make_problem(block(competitions=(meet(WEDNESDAY, "train-through"),)))
    assert made.on("Ada", WEDNESDAY) == ()
    (refusal,) = refused(made, WEDNESDAY, "mobility")
    assert refusal.line == line(9)
    assert offered(made, TUESDAY, "primer")  # the day before, and only then
    assert not offered(made, MONDAY, "primer")


@pytest.mark.parametrize(
    ("kind", "begins", "ends", "hours", "days_open"),
    [
        ("away", at(TUESDAY), at(TUESDAY, 23, 59), 0, (MONDAY, WEDNESDAY)),
        ("away", at(TUESDAY, 9), at(TUESDAY, 12), 0, (MONDAY, TUESDAY, WEDNESDAY)),
        ("away", at(TUESDAY, 18), at(TUESDAY, 20), 0, (MONDAY, WEDNESDAY)),
        ("exam", at(TUESDAY), at(TUESDAY, 23, 59), 0, (MONDAY, TUESDAY, WEDNESDAY)),
        ("exam", at(TUESDAY, 16), at(TUESDAY, 18), 0, (MONDAY, WEDNESDAY)),
        ("travel", at(TUESDAY), at(TUESDAY, 23, 59), 4, (MONDAY, TUESDAY, WEDNESDAY)),
        ("travel", at(TUESDAY), at(TUESDAY, 23, 59), 9, (MONDAY, WEDNESDAY)),
        ("camp arrival", at(MONDAY), at(TUESDAY, 15), 5, (TUESDAY, WEDNESDAY)),
        ("camp departure", at(TUESDAY, 12), at(WEDNESDAY, 23, 59), 5, (MONDAY,)),
    ],
)
def test_away(kind: str, begins: datetime, ends: datetime, hours: int, days_open: tuple[date, ...]) -> None:
    entry = Away("Ada", begins, ends, kind, hours, line=line(30))
    made = make_problem(block(days=3, away=(entry,)))
    found = tuple(d for d in (MONDAY, TUESDAY, WEDNESDAY) if made.on("Ada", d))
    assert found == days_open
    for day in {MONDAY, TUESDAY, WEDNESDAY} - set(days_open):
        assert [r.line for r in refused(made, day, "mobility")] == [line(30)]


def test_a_limit_takes_units_out_by_region_and_by_name() -> None:
    knee = Limit("Ada", "knee", "left", 3, MONDAY, TUESDAY, line=line(40))
    made = make_problem(block(limits=(knee,)))
    assert not offered(made, TUESDAY, "short-long-jumps")
    assert refused(made, TUESDAY, "short-long-jumps")[0].line == line(40)
    assert offered(made, WEDNESDAY, "short-long-jumps")  # the limit has ended
    banned = Limit("Ada", "knee", "left", 6, banned=("heavy-strength", "tempo"), line=line(41))
    made = make_problem(block(limits=(banned,)))
    assert {r.reason for r in refused(made, MONDAY, "heavy-strength")} == {
        "Heavy lower-body strength: ruled out by a person"
    }
    assert not offered(made, MONDAY, "extensive-tempo")
    assert offered(made, MONDAY, "power-lifts")


def test_an_ankle_counts_for_calf_and_foot_and_stage_one_bears_no_load() -> None:
    ankle = Limit("Ada", "ankle", "left", 1, line=line(40))
    made = make_problem(block(limits=(ankle,)))
    assert not offered(made, MONDAY, "short-accelerations")  # unsafe for the calf
    assert not offered(made, MONDAY, "general-strength")  # loads calf and foot a little
    assert "allows no load" in refused(made, MONDAY, "general-strength")[0].reason
    assert offered(made, MONDAY, "own-work")
    assert offered(made, MONDAY, "upper-body")


def test_without_a_limit_there_is_no_own_work() -> None:
    made = make_problem(block())
    assert not offered(made, MONDAY, "own-work")
    assert not refused(made, MONDAY, "own-work")
    held = make_problem(block(limits=(Limit("Ada", "whole", stage=2, hold_back=True),)))
    assert not offered(held, MONDAY, "own-work")


def test_stage_five_leaves_a_part_of_the_amount() -> None:
    whole = make_problem(block()).weeks["Ada"][0].doses["short-long-jumps"]
    part = make_problem(block(limits=(Limit("Ada", "knee", "left", 5),))).weeks["Ada"][0].doses
    # 80 % of 32 jumps = 25 / 2 = 12; of these 75 % = 9; the lighter row stays at its 6
    assert whole[0].amount == 12
    assert [d.amount for d in part["short-long-jumps"]] == [9, 6]
    assert part["upper-body"][0].amount == 3  # does not load the knee


def test_the_other_side_is_limited_only_where_it_is_loaded() -> None:
    right = make_problem(block(limits=(Limit("Ada", "knee", "right", 5),))).weeks["Ada"][0].doses
    assert right["short-long-jumps"][0].amount == 9  # one load is left on the other leg
    assert right["throws-technique"][0].amount < make_problem(block()).weeks["Ada"][0].doses[
        "throws-technique"
    ][0].amount


def test_landings_a_session() -> None:
    limit = Limit("Ada", "knee", "left", 6, landings_a_session=8)
    assert make_problem(block(limits=(limit,))).weeks["Ada"][0].doses["short-long-jumps"][0].amount == 8


def test_youth_gates() -> None:
    child = athlete(level="novice", event="triple jump", born=date(2014, 6, 1), training_years=1)
    made = make_problem(block(child, phases=()))
    assert not offered(made, MONDAY, "medium-triple-jumps")  # from 14 years on
    reasons = [r.reason for r in refused(made, MONDAY, "medium-triple-jumps")]
    assert reasons == ["Triple jumps from 10-12 steps: from 14 years on, age is 12"]
    assert refused(made, MONDAY, "medium-triple-jumps")[0].line == line(1)


def test_the_lighter_form_is_offered_where_it_can_matter() -> None:
    plain = make_problem(block())
    assert offered(plain, MONDAY, "heavy-strength", "lighter")
    assert not offered(plain, MONDAY, "extensive-tempo", "lighter")
    saturday = MONDAY + timedelta(days=5)
    before = make_problem(block(competitions=(meet(saturday, "train-through"),)))
    assert not offered(before, MONDAY, "extensive-tempo", "lighter")  # five days before
    assert offered(before, TUESDAY, "extensive-tempo", "lighter")  # four days before
    limited = make_problem(block(limits=(Limit("Ada", "foot", "left", 5),)))
    assert offered(limited, MONDAY, "extensive-tempo", "lighter")
    assert not offered(limited, MONDAY, "upper-body", "lighter")  # does not load the foot
    held = make_problem(block(limits=(Limit("Ada", "whole", hold_back=True),)))
    assert offered(held, MONDAY, "upper-body", "lighter")
    assert not offered(held, MONDAY, "mobility", "lighter")
    travel = Away("Ada", at(WEDNESDAY), at(WEDNESDAY, 23, 59), "travel", 2)
    away = make_problem(block(away=(travel,)))
    assert offered(away, MONDAY, "extensive-tempo", "lighter")
    assert not offered(away, MONDAY + timedelta(days=5), "extensive-tempo", "lighter")


def test_units_fit_the_event() -> None:
    sprinter, jumper = eligible(athlete(event="100 m")), eligible(athlete())
    assert not {u for u in sprinter if "jump" in u} - {"low-multi-jumps"}
    assert "short-long-jumps" in jumper
    assert "short-triple-jumps" not in jumper
    assert "throws-technique" not in jumper
    assert {"race-hurdles", "throws-technique"} <= eligible(athlete(event="80 m hurdles"))
    assert {"short-high-jumps", "throws-technique"} <= eligible(athlete(event="decathlon"))
    assert "hurdle-rhythm" in eligible(athlete(level="novice"))


def test_fixed_places_and_wishes() -> None:
    fixed = (
        Wish("Ada", TUESDAY, "full-run-ups", amount="4 run-ups", line=line(70)),
        Wish("Ada", WEDNESDAY, "testing", line=line(71)),
        Wish("Ada", MONDAY, "extensive-tempo", slot="dawn", line=line(72)),
    )
    wishes = (Wish("Ada", MONDAY, "short-triple-jumps", line=line(73)),)
    made = make_problem(block(fixed=fixed, wishes=wishes))
    (run,) = offered(made, TUESDAY, "full-run-ups")
    assert (run.fixed, run.dose.amount, run.dose.counters["run-ups"]) == (True, 4, 4)
    assert not offered(made, WEDNESDAY, "full-run-ups")[0].fixed
    assert offered(made, WEDNESDAY, "testing")[0].fixed
    assert not offered(made, TUESDAY, "testing")
    assert offered(made, MONDAY, "short-triple-jumps")
    (unmet,) = [r for r in made.refusals if r.line == line(72)]
    assert "'must be here' cannot be met: there is no such slot" in unmet.reason


def test_a_wish_on_a_day_away_says_why_it_cannot_be_met() -> None:
    gone = Away("Ada", at(TUESDAY), at(TUESDAY, 23, 59), line=line(30))
    wish = Wish("Ada", TUESDAY, "flying-sprints", line=line(73))
    made = make_problem(block(away=(gone,), wishes=(wish,)))
    (unmet,) = [r for r in made.refusals if r.line == line(73)]
    assert unmet.reason == "'would like' cannot be met: away: not there in this slot"


def test_a_theme_brings_its_units() -> None:
    theme = Theme("Ada", "rhythm", begins=MONDAY, ends=TUESDAY, units=("hurdle-rhythm",))
    made = make_problem(block(themes=(theme,)))
    assert offered(made, MONDAY, "hurdle-rhythm")
    assert not offered(made, WEDNESDAY, "hurdle-rhythm")


def test_a_week_of_one_day_still_offers_what_a_whole_week_asks_for() -> None:
    made = make_problem(block(days=1))
    week = made.weeks["Ada"][0]
    assert (week.counts["technical-jumps"].target, week.training_days.target) == (0, 1)
    assert offered(made, MONDAY, "short-long-jumps")


def test_what_is_looked_for_on_some_days_only_is_what_the_whole_look_finds_there() -> None:
    away = Away("Ada", at(TUESDAY, 6), at(TUESDAY, 22), line=line(7))
    seen = block(away=(away,), wishes=(Wish("Ada", "mobility", TUESDAY),))
    whole = make_problem(seen)
    some = make_problem(seen, only={("Ada", WEDNESDAY), ("Nobody", MONDAY)})
    expected = whole.on("Ada", WEDNESDAY)
    assert expected and some.candidates == expected
    assert [placement_record(p) for p in some.candidates] == [placement_record(p) for p in expected]
    assert whole.refusals and not some.refusals and some.weeks == whole.weeks
    assert make_problem(seen, only=()).candidates == ()


def test_preparation_is_never_placed_on_its_own() -> None:
    assert not [p for p in make_problem(block()).candidates if p.unit.preparation]
