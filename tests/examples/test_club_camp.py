"""What a coach would look for first in the club's five-day camp."""

from __future__ import annotations

from datetime import date, timedelta

from reviewed import Planned

from planner.domain.camp import camp_day

TAMSIN, BIRK, NILLA = "Tamsin Orrek", "Birk Solvang", "Nilla Aker"
EMRIK, JONNA = "Emrik Dahle", "Jonna Vike"
MONDAY, FRIDAY = date(2027, 4, 5), date(2027, 4, 9)


def april(day: int) -> date:
    return date(2027, 4, day)


def test_every_must_is_kept(club_camp: Planned) -> None:
    assert club_camp.outcome.musts_broken == ()


def test_the_caller_is_there_and_the_pit_is_hers_alone(club_camp: Planned) -> None:
    pits = [p for p in club_camp.view.of(TAMSIN) if p.place == "pit"]
    assert pits
    for p in pits:
        others = {q.athlete for q in club_camp.view.in_slot(p.day, p.slot) if q.place == "pit"} - {TAMSIN}
        assert not others, f"{p.day} {p.slot}: {others}"
    for p in club_camp.view.of(TAMSIN):
        if p.dose.neural >= 2 and p.day >= MONDAY:
            there = club_camp.problem.presences_in(p.day, p.slot)
            assert any("caller" in x.tasks for x in there), p.key
    assert club_camp.neural(TAMSIN, april(8)) <= 1  # the caller is away


def test_the_one_held_back_stays_under_the_ceiling(club_camp: Planned) -> None:
    for day in (MONDAY + timedelta(i) for i in range(5)):
        assert club_camp.neural(BIRK, day) <= 2
    assert any(club_camp.neural(BIRK, d) == 3 for d in club_camp.problem.days if d > FRIDAY)
    said = [r for r in club_camp.remarks if r.startswith(BIRK) and "is held back" in r]
    assert said and all("cannot be had, because" in r for r in said)


def test_one_joins_for_a_part_of_a_unit(club_camp: Planned) -> None:
    joined = [p for p in club_camp.view.on(EMRIK, april(7)) if p.unit.id == "flying-sprints"]
    whole = [p for p in club_camp.view.on(TAMSIN, april(7)) if p.unit.id == "flying-sprints"]
    assert len(joined) == len(whole) == 1
    assert joined[0].slot == whole[0].slot
    assert joined[0].dose.amount == 60 < whole[0].dose.amount


def test_one_big_day_and_an_easy_one_after_it(club_camp: Planned) -> None:
    fast = [p for p in club_camp.view.on(TAMSIN, april(7)) if p.dose.neural >= 3]
    assert len(fast) == 3
    assert club_camp.neural(TAMSIN, april(8)) <= 1
    others = [d for d in (april(5), april(6), april(8), april(9)) if _fast_units(club_camp, d) >= 3]
    assert not others


def _fast_units(camp: Planned, day: date) -> int:
    return sum(p.dose.neural >= 3 for p in camp.view.on(TAMSIN, day))


def test_the_theme_runs_through_everybodys_days(club_camp: Planned) -> None:
    for theme in club_camp.problem.block.themes:
        days = set()
        for p in club_camp.view.of(theme.athlete):
            drills = {name for name, _, _ in p.dose.preparation}
            serves = p.unit.family == "acceleration" or p.unit.id in theme.units or drills & set(theme.units)
            if serves and MONDAY <= p.day <= FRIDAY:
                days.add(p.day)
        assert len(days) >= 2, f"{theme.athlete}: {sorted(days)}"
    told = [f for f in club_camp.outcome.findings if f.rule == "theme_served"]
    assert sum(f.amount for f in told) <= 1, "at most one day of five athletes' themes is missing"


def test_the_late_one_counts_from_her_own_arrival(club_camp: Planned) -> None:
    assert camp_day(club_camp.problem, NILLA, april(6)) == 1
    assert camp_day(club_camp.problem, NILLA, april(9)) == 4
    assert camp_day(club_camp.problem, TAMSIN, april(9)) == 5
    assert club_camp.neural(NILLA, april(6)) <= 1


def test_the_pit_is_not_used_before_the_school_leaves(club_camp: Planned) -> None:
    opening = [o for o in club_camp.problem.openings_in(april(6), "morning") if o.place.name == "pit"]
    assert [o.begins.hour * 60 + o.begins.minute for o in opening] == [11 * 60 + 30]
    for p in club_camp.view.in_slot(april(6), "morning"):
        if p.place == "pit":
            assert (p.begins.hour, p.begins.minute) >= (11, 30)


def test_nothing_stands_in_the_gym_that_is_lost(club_camp: Planned) -> None:
    assert not [p.key for p in club_camp.view.placements if p.day == april(8) and p.place == "gym"]
    lost = [r for r in club_camp.problem.refusals if r.day == april(8) and r.unit == "heavy-strength"]
    assert lost and all("no gym is open" in r.reason for r in lost)


def test_camp_week_and_the_week_of_the_competition(club_camp: Planned) -> None:
    usual = {TAMSIN: 2100, BIRK: 1700, NILLA: 1800, EMRIK: 2300, JONNA: 1600}
    for athlete, load in usual.items():
        camp, after = (
            sum(p.dose.load for p in club_camp.view.in_week(w)) for w in club_camp.problem.weeks[athlete]
        )
        assert camp * 100 <= 130 * load, f"{athlete}: {camp} of {load}"
        assert after * 100 <= 70 * load, f"{athlete}: {after} of {load}"


def test_the_day_before_the_competition_is_free(club_camp: Planned) -> None:
    for athlete in club_camp.problem.athletes:
        assert club_camp.neural(athlete, april(16)) <= 1
