"""Competitions that come, go and move, examinations, arrivals and departures."""

from __future__ import annotations

from datetime import date, timedelta

from happened import Happens, Replanned, sums

from planner.domain.plan import Plan
from planner.review import review

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
HANNE, TEO = "Hanne Ostervik", "Teo Malmgard"
NOOR, EDVIN, LUMI = "Noor Castlebye", "Edvin Holmrask", "Lumi Tarrant"


def neural(made: Replanned, athlete: str, day: date) -> int:
    return max((p.dose.neural for p in made.own(athlete, day)), default=0)


def test_a_competition_comes_in_six_days_before(happens: Happens) -> None:
    """It takes the place of a fast day, the days around it are easy, and nothing is put on top."""
    meet = date(2027, 3, 7)
    happens.log(
        "2027-03-01 20:30", "competition-added", "name=Sunday meeting", f"first_day={meet}", f"last_day={meet}",
        f"athletes={SUVI}", "importance=train-through",
    )  # fmt: skip
    made = happens.replan("2027-03-01 20:35", alone=(ASTA, IVO, ELO))
    week = [date(2027, 3, 1) + timedelta(i) for i in range(7)]
    fast = [d for d in week if neural(made, SUVI, d) == 3]
    had = {p.day for p in made.had(SUVI) if p.dose.neural == 3 and p.day in week}
    assert len(fast) + 1 <= len(had), "the competition replaces a fast day, it is not added to them"
    assert neural(made, SUVI, meet - timedelta(1)) <= 1 and neural(made, SUVI, meet + timedelta(1)) <= 1
    assert not made.own(SUVI, meet)
    late = [x for x in review(Plan.of(made.after), made.problem).findings if x.athlete == SUVI]
    assert not [x for x in late if x.rule == "last_dates_before_competition"], "the last hard lift lies before it"
    main = {p.key: p.dose.amount for p in made.had(ASTA)}
    assert main == {p.key: p.dose.amount for p in made.own(ASTA)}, "the taper of the main competition stands"
    happens.stable("2027-03-01 20:40")


def test_two_competitions_of_a_triple_jumper_within_two_days_are_asked_about(happens: Happens) -> None:
    words = ("name=Friday cup", "first_day=2027-03-19", "last_day=2027-03-19", f"athletes={IVO}")
    said = happens.refused("2027-03-10 08:00", "competition-added", *words)
    assert "Harbour cup" in said and "Maybe" in said
    happens.log("2027-03-10 08:00", "competition-added", *words, "note=club needs one round for the points")


def test_a_competition_moves_forward_by_a_week(towards: Happens) -> None:
    """A shorter taper of five days at least; two weeks of it are not pressed into fast work."""
    towards.log(
        "2027-03-06 18:00", "competition-moved", "name=Harbour cup", "was=2027-03-20", "first_day=2027-03-13",
        "last_day=2027-03-13",
    )  # fmt: skip
    made = towards.replan("2027-03-06 18:05", alone=(TEO,), anew=True)
    meet = date(2027, 3, 13)
    for what in ("load", "units"):
        had, has = (sums(p for p in ps if p.day <= meet) for ps in (made.before, made.after))
        assert has[HANNE, date(2027, 3, 8), what] <= had[HANNE, date(2027, 3, 8), what], "nothing is added"
    assert not made.own(HANNE, meet)
    week = [p for p in made.own(HANNE, date(2027, 3, 8), date(2027, 3, 12))]
    assert sum(p.dose.load for p in week) < sum(
        p.dose.load for p in made.had(HANNE, date(2027, 3, 8), date(2027, 3, 12))
    )
    fast, had = (
        {p.day for p in week if p.dose.neural == 3},
        {p.day for p in made.had(HANNE, date(2027, 3, 8), date(2027, 3, 14)) if p.dose.neural == 3},
    )
    assert len(fast) < max(len(had), 2), "no more fast days than the week had without the competition"
    assert neural(made, HANNE, meet - timedelta(1)) <= 1
    kinds = {w.begins: w.kind for w in made.problem.weeks[HANNE]}
    assert kinds[date(2027, 3, 8)] in ("taper", "competition", "easing")


def test_a_competition_moves_back_by_a_week(towards: Happens) -> None:
    """A normal week comes in before the taper; the taper itself does not become longer."""
    before = {w.begins: w for w in towards_problem(towards).weeks[HANNE]}
    towards.log(
        "2027-03-07 18:00", "competition-moved", "name=Harbour cup", "was=2027-03-20", "first_day=2027-03-27",
        "last_day=2027-03-27",
    )  # fmt: skip
    made = towards.replan("2027-03-07 18:05", alone=(TEO,), anew=True)
    after = {w.begins: w for w in made.problem.weeks[HANNE]}
    tapers = [sum(w.kind == "taper" for w in weeks.values()) for weeks in (before, after)]
    assert tapers[1] <= tapers[0], "no three weeks of taper"
    opened = [b for b in after if after[b].share > before[b].share and b > date(2027, 3, 7)]
    assert opened, "a week is opened"
    load = [sums(ps)[HANNE, opened[0], "load"] for ps in (made.before, made.after)]
    assert load[1] > load[0], "the opened week is planned at its own level"
    assert not made.own(HANNE, date(2027, 3, 27))
    assert made.own(HANNE, date(2027, 3, 15), date(2027, 3, 20)), "one more week of its own work"
    fulls = [p.day for p in made.own(HANNE) if p.unit.family == "full-jumps" and p.dose.word == "full"]
    assert all((date(2027, 3, 27) - d).days >= 5 for d in fulls), "last dates count from the new day"


def towards_problem(happens: Happens):  # type: ignore[no-untyped-def]
    from planner import known

    return known.planned(happens.file)[0]


def test_two_days_late_to_the_camp(easter: Happens) -> None:
    """The own first day begins on arrival: easy, then at most medium; no big day that night."""
    easter.log(
        "2027-03-23 20:00", "person-away", f"name={NOOR}", "begins=2027-03-24 00:00", "ends=2027-03-26 15:00"
    )
    made = easter.replan("2027-03-23 20:05", alone=tuple(a for a in _easter() if a != NOOR))
    assert not [p for p in made.own(NOOR) if p.begins < made.now.replace(day=26, hour=15, minute=0)]
    arrival = [a for a in made.problem.block.away if a.athlete == NOOR and a.kind == "camp arrival"]
    assert [str(a.ends) for a in arrival] == ["2027-03-26 15:00:00"]
    assert neural(made, NOOR, date(2027, 3, 26)) <= 1, "nothing big on the evening of the arrival"
    assert neural(made, NOOR, date(2027, 3, 27)) <= 2, "the group's next big day is hers in a medium form"


def test_leaving_the_camp_early(easter: Happens) -> None:
    """The last fast work ends a day before leaving, and the travelling day is easy."""
    easter.log(
        "2027-03-29 20:00", "person-away", f"name={EDVIN}", "begins=2027-03-31 12:00", "ends=2027-04-04 23:00"
    )
    made = easter.replan("2027-03-29 20:05", alone=tuple(a for a in _easter() if a != EDVIN))
    assert neural(made, EDVIN, date(2027, 3, 31)) <= 1, "no maximal work hours before a long drive"
    assert not [p for p in made.own(EDVIN, date(2027, 4, 1), date(2027, 4, 4))]
    last = max(p.begins for p in made.own(EDVIN) if p.dose.neural == 3 and p.day < date(2027, 4, 1))
    assert last <= made.now.replace(day=30, hour=12, minute=0)


def test_an_examination_moves_into_the_block(easter: Happens) -> None:
    """The coach changes the row of the file: nothing fast in the day before it, and less in that week."""
    easter.edit(
        'athlete: Lumi Tarrant, kind: exam, from: "2027-04-06 09:00", until: "2027-04-06 12:00"',
        'athlete: Lumi Tarrant, kind: exam, from: "2027-03-31 09:00", until: "2027-03-31 12:00"',
    )
    made = easter.replan("2027-03-28 12:00", alone=tuple(a for a in _easter() if a != LUMI))
    assert not [
        p for p in made.own(LUMI)
        if p.dose.neural == 3
        and timedelta(0) <= made.now.replace(day=31, hour=9, minute=0) - p.begins < timedelta(hours=24)
    ]  # fmt: skip
    week = [(p.day, p.dose.load) for p in made.own(LUMI, date(2027, 3, 29), date(2027, 4, 4))]
    had = [(p.day, p.dose.load) for p in made.had(LUMI, date(2027, 3, 29), date(2027, 4, 4))]
    assert sum(n for _, n in week) <= sum(n for _, n in had) * 70 // 100, "clearly less, warm-ups included"
    found = review(Plan.of(made.view.placements), made.problem).findings
    own = [x.day for x in found if x.rule == "exam_week_volume" and x.athlete == LUMI]
    assert date(2027, 3, 29) not in own, "two fifths less without them"


def test_an_examination_beside_the_easier_week_takes_its_place(towards: Happens) -> None:
    """Two easy weeks never stand back to back: the one that was easier is planned anew at its own level."""
    towards.edit("competitions:\n", """\
away:
  - {athlete: Teo Malmgard, kind: exam, from: "2027-03-24 09:00", until: "2027-03-24 12:00"}

competitions:
""")
    easier, exams = date(2027, 3, 15), date(2027, 3, 22)
    made = towards.replan("2027-03-12 12:00", alone=(HANNE,), anew=True)
    kinds = {w.begins: w.kind for w in made.problem.weeks[TEO]}
    assert (kinds[easier], kinds[exams]) == ("loading", "easier")
    had, has = sums(made.before), sums(made.after)
    assert has[TEO, easier, "load"] > had[TEO, easier, "load"], "it is no easy week any more"
    assert has[TEO, exams, "load"] <= has[TEO, easier, "load"] * 60 // 100, "the other one is"
    assert not [p for p in made.own(TEO, date(2027, 3, 23), date(2027, 3, 24)) if p.dose.neural == 3]
    towards.stable("2027-03-12 12:30")


def _easter() -> tuple[str, ...]:
    return (
        "Tilde Okkarin", "Bram Vestergren", NOOR, EDVIN, LUMI, "Zofia Wrenfield", "Micah Dunnavar",
    )  # fmt: skip
