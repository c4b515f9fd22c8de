"""Days missed, done otherwise, or done elsewhere: nothing is made up for, and what was done counts."""

from __future__ import annotations

from datetime import date

from happened import Happens

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
OTHERS = {ASTA: (IVO, SUVI, ELO), SUVI: (ASTA, IVO, ELO), IVO: (ASTA, SUVI, ELO), ELO: (ASTA, IVO, SUVI)}


def test_a_missed_key_day_moves_once_or_is_let_go(happens: Happens) -> None:
    """The bus did not come: the key work may move by two days at most, into an easy day; nothing else slides."""
    key = [p for p in happens.before if p.athlete == SUVI and p.importance == "key"]
    missed = min(p.day for p in key)
    was = [p for p in key if p.day == missed]
    happens.day(f"{missed} 21:00", str(missed), "Suvi: missed")
    made = happens.replan(f"{missed} 21:05", alone=OTHERS[SUVI])
    assert not made.own(SUVI, missed)
    new = [p for p in made.own(SUVI) if p.key[:4] not in {q.key[:4] for q in made.before}]
    assert {p.unit.id for p in new} <= {p.unit.id for p in was}
    for p in new:
        assert 0 < (p.day - missed).days <= 2, "moved once, by two days at most"
        assert all(q.dose.neural <= 1 for q in made.had(SUVI, p.day)), "into an easy day: no two sessions in one"
    kept = {p.key[:4] for p in made.had(SUVI) if p.day > missed}
    assert kept <= {p.key[:4] for p in made.own(SUVI)}, "nothing else slides by a day"
    assert set(made.kinds(SUVI).values()) <= {"new", "lighter"}, "the missed one is over: it moves nowhere"
    happens.stable(f"{missed} 21:30")


def test_a_missed_easy_day_is_dropped(happens: Happens) -> None:
    """A rest day stays a rest day: no tempo is made up for."""
    day = date(2027, 3, 6)
    lost = [p for p in happens.before if p.athlete == ELO and p.day == day]
    assert lost and all(p.importance != "key" for p in lost)
    happens.day("2027-03-06 20:00", "2027-03-06", "Elo: missed")
    made = happens.replan("2027-03-06 20:05", alone=OTHERS[ELO])
    assert not made.own(ELO, day)
    had, now = {p.day for p in made.had(ELO)}, {p.day for p in made.own(ELO)}
    assert now == had - {day}, "no rest day became a training day"
    assert not made.kinds(ELO), "nothing else changes"


def test_more_was_done_than_planned(happens: Happens) -> None:
    """Twelve jumps at school count, and the next jumps come in their lighter form."""
    happens.log("2027-03-02 18:00", "load-elsewhere", f"athlete={ELO}", "day=2027-03-02", "counters=take-offs 12")
    made = happens.replan("2027-03-02 18:05", alone=OTHERS[ELO])
    counted = [p for p in made.own(ELO, date(2027, 3, 2)) if p.dose.counters.get("take-offs") == 12]
    assert counted, "it is not ignored because it was not our session"
    jumps = [p for p in made.own(ELO) if p.day > date(2027, 3, 2) and p.dose.counters.get("take-offs")]
    first = [p for p in jumps if p.day == jumps[0].day]
    assert first and all(p.dose.word == "lighter" for p in first)
    happens.stable("2027-03-02 18:30")


def test_the_day_of_load_from_elsewhere_is_recorded_like_any_other(happens: Happens) -> None:
    """What was done elsewhere is told already: `day` asks about the plan only."""
    happens.log("2027-03-03 15:00", "load-elsewhere", f"athlete={ELO}", "day=2027-03-03", "counters=take-offs 12")
    happens.replan("2027-03-03 15:05", alone=OTHERS[ELO])
    said = happens.day("2027-03-03 21:00", "2027-03-03")
    assert "elsewhere" not in said.text and "as planned" in said.text
