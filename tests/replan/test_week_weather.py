"""Rain, heat, a runway that is taken, a crowded pit: the place gives way, not the athletes."""

from __future__ import annotations

import itertools
from datetime import date, timedelta

from happened import Happens, Replanned

from planner.domain.plan import Placement

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
EVERYBODY = (ASTA, IVO, SUVI, ELO)
JUMPS = ("technical-jumps", "full-jumps")


def a_day_of(happens: Happens, athlete: str, family: str) -> Placement:
    """The first evening on which an athlete has work of a family at full amount."""
    return next(
        p for p in happens.before
        if p.athlete == athlete and p.unit.family == family and p.slot == "evening" and p.dose.word == "full"
    )  # fmt: skip


def at_the(happens: Happens, place: str, on: date, slot: str = "evening") -> set[str]:
    return {p.athlete for p in happens.before if p.place == place and p.day == on and p.slot == slot}


def others(*touched: str) -> list[str]:
    return [a for a in EVERYBODY if a not in touched]


def fast_at_the_pit(made: Replanned, athlete: str) -> list[date]:
    return sorted({p.day for p in made.own(athlete) if p.place == "pit" and p.dose.neural == 3})


def test_rain_closes_the_pit_before_full_jumps(happens: Happens) -> None:
    """Three quarters of an hour before: full jumps give way to run-ups elsewhere, move once, or are dropped."""
    full = a_day_of(happens, ASTA, "full-jumps")
    jumpers = at_the(happens, "pit", full.day)
    now = f"{full.day} 16:15"
    happens.log(
        now, "venue-closed", "venue=Varnmere track", "place=pit", f"begins={full.day} 16:15",
        f"ends={full.day} 23:00",
    )  # fmt: skip
    made = happens.replan(now, alone=others(*jumpers))
    here = [p for p in made.after if p.day == full.day and p.slot == "evening"]
    assert not [p for p in here if p.place == "pit"], "nobody jumps on a flooded board"
    was = max(p.dose.neural for p in made.had(ASTA, full.day))
    assert all(p.dose.neural <= was for p in made.own(ASTA, full.day)), "no harder than it was"
    for athlete in sorted(jumpers):
        days = fast_at_the_pit(made, athlete)
        before = sorted({p.day for p in made.had(athlete) if p.place == "pit" and p.dose.neural == 3})
        new = [d for d in days if d not in before]
        assert all(b - a > timedelta(1) for a, b in itertools.pairwise(days)), "no two pit days running"
        assert len(days) <= len(before) and len(new) <= 1
    fulls = [p for p in made.own(ASTA) if p.unit.family == "full-jumps"]
    had = [p for p in made.had(ASTA) if p.unit.family == "full-jumps"]
    assert len(fulls) <= len(had), "the ladder repeats, it does not go on"
    happens.stable(now)


def test_the_runway_is_taken_for_the_first_hour(happens: Happens) -> None:
    """Straight first, pit in the second hour: everybody keeps the work, and whoever it concerns is told."""
    jump = (
        a_day_of(happens, IVO, "technical-jumps")
        if at_evening(happens, IVO)
        else a_day_of(happens, ASTA, "full-jumps")
    )
    there = at_the(happens, "pit", jump.day)
    happens.log(
        f"{jump.day} 12:00", "venue-closed", "venue=Varnmere track", "place=pit", f"begins={jump.day} 17:00",
        f"ends={jump.day} 18:00",
    )  # fmt: skip
    made = happens.replan(f"{jump.day} 12:05", alone=others(*there))
    at_pit = [p for p in made.after if p.day == jump.day and p.slot == "evening" and p.place == "pit"]
    assert at_pit, "half of the pit's time is left and is used"
    assert all(p.begins.hour >= 18 for p in at_pit), "nobody stands at a taken runway"
    jumps = sum(p.dose.counters.get("take-offs", 0) for p in at_pit)
    assert jumps <= 40 * 90 // 60, "no more than the pit takes in what is left"
    assert len({p.athlete for p in at_pit}) <= 4
    changed = {c["athlete"] for c in made.changes}
    assert changed and changed <= set(made.messages), "nobody changes without being told"


def at_evening(happens: Happens, athlete: str) -> bool:
    return any(
        p.athlete == athlete and p.unit.family == "technical-jumps" and p.slot == "evening"
        and p.dose.word == "full" for p in happens.before
    )  # fmt: skip


def test_a_heat_warning_empties_the_hot_evening(happens: Happens) -> None:
    """Above the warning nobody runs in the sun because it was booked: early that day or not at all."""
    tempo = a_day_of(happens, IVO, "tempo")
    there = {p.athlete for p in happens.before if p.day == tempo.day and p.slot == "evening"}
    now = f"{tempo.day} 06:00"
    happens.log(now, "weather", f"day={tempo.day}", "slot=evening", "wbgt=30.5")
    made = happens.replan(now, alone=others(*there))
    hot = [p for p in made.after if p.day == tempo.day and p.slot == "evening" and p.place != "gym"]
    assert not [p for p in hot if p.unit.family in ("tempo", "special-endurance", "speed-endurance")]
    assert all(p.unit.recovery_only or p.dose.neural == 0 for p in hot) or not hot, hot
    had, has = (
        [(p.day, p.slot) for p in ps if p.unit.family == "tempo"] for ps in (made.had(IVO), made.own(IVO))
    )
    assert (tempo.day, "evening") not in has and len(has) <= len(had)
    assert set(has) - set(had) <= {(tempo.day, "early")}, "the cool morning of that day may take it, no other day"


def test_athletes_who_share_a_pit_day_do_not_queue(happens: Happens) -> None:
    """Two hours of the pit shrink to forty minutes: the jumps that stay fit into them."""
    day = max(
        (p.day for p in happens.before if p.place == "pit" and p.slot == "evening"),
        key=lambda d: (len(at_the(happens, "pit", d)), -d.toordinal()),
    )
    there = at_the(happens, "pit", day)
    assert len(there) >= 2
    happens.log(
        f"{day} 12:00", "venue-closed", "venue=Varnmere track", "place=pit", f"begins={day} 17:40",
        f"ends={day} 20:00",
    )  # fmt: skip
    made = happens.replan(f"{day} 12:05", alone=others(*there))
    at_pit = [p for p in made.after if p.day == day and p.slot == "evening" and p.place == "pit"]
    assert sum(p.dose.counters.get("take-offs", 0) for p in at_pit) <= 40 * 40 // 60, "nobody waits in a queue"
    assert len({p.athlete for p in at_pit}) <= 4
