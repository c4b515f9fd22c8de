"""What happens to a body: a limit holds by region and side, and nobody makes up for it."""

from __future__ import annotations

from datetime import date, timedelta

from happened import Happens

ASTA, IVO, SUVI, ELO = "Asta Brunnvik", "Ivo Telmark", "Suvi Ranholm", "Elo Markwist"
WEDNESDAY = date(2027, 3, 3)
RUNNING = ("acceleration", "top-speed", "speed-endurance", "special-endurance")


def days(first: date, n: int) -> list[date]:
    return [first + timedelta(i) for i in range(n)]


def test_a_tight_hamstring_in_the_warm_up_stops_fast_running(happens: Happens) -> None:
    """Stopped in the warm-up; no test run, nothing fast for days, and what was done of the day counts."""
    fast = min(
        (p for p in happens.before if p.athlete == SUVI and p.unit.id == "long-accelerations"), key=lambda p: p.day
    )
    on = fast.day
    others = [p for p in happens.before if (p.athlete, p.day) == (SUVI, on) and p != fast]
    missed = "".join(f", {p.unit.short} missed" for p in others)
    happens.day(f"{on} 19:40", str(on), f"Suvi: {fast.unit.short} 30 of {fast.dose.amount}{missed}")
    happens.log(
        f"{on} 19:45", "hurt", f"athlete={SUVI}", f"day={on}", "region=hamstring", "side=left",
        "stage=0", "entered_by=Kasimir",
    )  # fmt: skip
    made = happens.replan(f"{on} 19:50", alone=(ASTA, IVO, ELO))
    done = made.own(SUVI, on)
    assert [p.dose.amount for p in done] == [30], "the day is not counted as rest"
    to_come = [p for p in made.own(SUVI) if p.day > on]
    assert all(p.dose.neural == 0 for p in to_come), "no flat-out run to test it"
    assert not [p for p in to_come if p.unit.family in RUNNING]
    assert all(p.dose.loads.get(("hamstring", "left"), 0) == 0 for p in to_come)
    assert to_come, "work that spares it goes on"
    assert all(p.dose.neural < 3 for d in days(on, 6) for p in made.own(SUVI, d) if p not in done)
    happens.stable(f"{on} 20:00")


def test_the_way_back_goes_by_stages_that_people_enter(happens: Happens) -> None:
    """No calendar brings a stage back; one stage at a time, and nothing missed is made up for."""
    hurt = (f"athlete={SUVI}", "region=hamstring", "side=left")
    happens.log("2027-03-02 08:00", "hurt", *hurt, "day=2027-03-02", "stage=1", "entered_by=clinician")
    made = happens.replan("2027-03-02 08:05", alone=(ASTA, IVO, ELO))
    assert all(p.dose.loads.get(("hamstring", "left"), 0) == 0 for p in made.own(SUVI) if p.day > date(2027, 3, 1))
    assert made.told["in_doubt"] == [], "no competition of hers lies ahead"
    limits = [x for x in made.problem.block.limits if x.athlete == SUVI and x.region == "hamstring"]
    assert limits and all(x.ends is None for x in limits), "no date brings it back"
    assert "Maybe" in happens.refused(
        "2027-03-08 08:00", "stage-changed", *hurt, "day=2027-03-08", "stage=3", "entered_by=Kasimir"
    )
    happens.log("2027-03-08 08:00", "stage-changed", *hurt, "day=2027-03-08", "stage=2", "entered_by=clinician")
    again = happens.replan("2027-03-08 08:05", alone=(ASTA, IVO, ELO))
    later = [p for p in again.own(SUVI) if p.day >= date(2027, 3, 8)]
    assert all(p.dose.loads.get(("hamstring", "left"), 0) <= 1 and p.dose.neural <= 1 for p in later)


def test_a_start_within_three_weeks_of_an_injury_is_said_to_be_unlikely(happens: Happens) -> None:
    """Nobody is withdrawn and no stage moves: the coach reads it until a person enters full training."""
    words = (f"athlete={ASTA}", "region=hamstring", "side=left", "entered_by=clinician")
    happens.log("2027-03-05 08:00", "hurt", *words, "day=2027-03-05", "stage=1")
    made = happens.replan("2027-03-05 08:05", alone=(IVO, SUVI, ELO))
    (said,) = made.told["in_doubt"]
    assert said.startswith(f"{ASTA}: Harbour cup (Sat 20 Mar) is in doubt: a start 15 days after Fri 5 Mar")
    assert "is unlikely" in said and "return stage 1 now" in said and "people enter it" in said
    assert "Maybe ask the clinician" in said
    assert not [w for w in made.messages.values() if "doubt" in w or "hamstring" in w]
    assert [c for c in made.problem.block.competitions if c.athlete == ASTA], "nobody is withdrawn"
    for day, stage in ((8, 2), (10, 3), (12, 4), (15, 5)):
        happens.log(f"2027-03-{day:02} 08:00", "stage-changed", *words, f"day=2027-03-{day:02}", f"stage={stage}")
    after = happens.replan("2027-03-15 08:05", alone=(IVO, SUVI, ELO))
    assert after.told["in_doubt"] == [], "a person has said she trains again"


def test_a_start_just_after_fever_is_said_to_be_in_doubt(happens: Happens) -> None:
    """Three days ill ask for three easy days: the second day after them is too soon, the fourth is not."""
    ill = ("ill", f"athlete={ASTA}", "begins=2027-03-16", "ends=2027-03-18", "fever=yes")
    happens.log("2027-03-16 08:00", *ill)
    made = happens.replan("2027-03-16 08:05", alone=(IVO, SUVI, ELO))
    (said,) = made.told["in_doubt"]
    assert said.startswith(f"{ASTA}: Harbour cup (Sat 20 Mar) is in doubt: the fever is recorded until Thu 18 Mar")
    assert "3 easy days come after it" in said and "competition-withdrawn" in said
    assert all(made.neural(ASTA, d) <= 1 for d in days(date(2027, 3, 16), 6)), "nor is she sharpened for it"
    moved = ("name=Harbour cup", "was=2027-03-20", "first_day=2027-03-21", "last_day=2027-03-21")
    happens.log("2027-03-16 09:00", "competition-moved", *moved)
    assert len(happens.replan("2027-03-16 09:05", anew=True).told["in_doubt"]) == 1, "three days after"
    happens.log("2027-03-17 08:00", "ill", f"athlete={ASTA}", "begins=2027-03-16", "ends=2027-03-17", "fever=yes")
    assert happens.replan("2027-03-17 08:05", anew=True).told["in_doubt"] == [], "well a day earlier"


def test_a_sprained_ankle_spares_that_side_and_leaves_the_pit_to_the_others(happens: Happens) -> None:
    happens.log(
        "2027-03-03 06:30", "hurt", f"athlete={ASTA}", "day=2027-03-03", "region=ankle", "side=left",
        "stage=1", "entered_by=clinician",
    )  # fmt: skip
    made = happens.replan("2027-03-03 06:35", alone=(IVO, SUVI, ELO))
    later = [p for p in made.own(ASTA) if p.day >= WEDNESDAY]
    assert later and all(p.dose.loads.get(("ankle", "left"), 0) == 0 for p in later)
    assert not [p for p in later if p.unit.family in ("technical-jumps", "full-jumps", "run-ups")]
    words = (f"athlete={ASTA}", "region=ankle", "side=left", "entered_by=clinician")
    happens.log("2027-03-08 08:00", "stage-changed", *words, "day=2027-03-08", "stage=2")
    happens.log("2027-03-12 08:00", "stage-changed", *words, "day=2027-03-12", "stage=3")
    happens.log("2027-03-16 08:00", "stage-changed", *words, "day=2027-03-16", "stage=4")
    again = happens.replan("2027-03-16 08:05", alone=(IVO, SUVI, ELO))
    jumps = [p for p in again.own(ASTA) if p.day >= date(2027, 3, 16) and p.unit.family == "full-jumps"]
    assert not [p for p in jumps if p.dose.word == "full"], "the first take-off is not at the full run-up"


def test_three_days_of_fever(happens: Happens) -> None:
    """No training while it lasts, three easy days, the first fast day after them; nothing goes to the weekend."""
    happens.log("2027-03-09 08:00", "ill", f"athlete={ASTA}", "begins=2027-03-09", "ends=2027-03-11", "fever=yes")
    made = happens.replan("2027-03-09 08:05", alone=(IVO, SUVI, ELO))
    assert not [p for d in days(date(2027, 3, 9), 3) for p in made.own(ASTA, d)]
    easy = [p for d in days(date(2027, 3, 12), 3) for p in made.own(ASTA, d)]
    assert all(p.dose.neural <= 1 and p.dose.effort <= 4 for p in easy), [(p.key, p.dose.effort) for p in easy]
    assert min(d for d in made.fast_days(ASTA) if d > date(2027, 3, 9)) >= date(2027, 3, 15)
    sessions = {(p.day, p.slot) for p in made.own(ASTA)}
    assert sessions <= {(p.day, p.slot) for p in made.had(ASTA)}, "nothing was put on the weekend"
    happens.stable("2027-03-09 08:30")


def test_a_cold_without_fever_means_easy_work(happens: Happens) -> None:
    """Told before the early session of the first day begins: what has begun is not planned again."""
    happens.log("2027-03-03 06:00", "ill", f"athlete={SUVI}", "begins=2027-03-03", "ends=2027-03-05")
    made = happens.replan("2027-03-03 06:05", alone=(ASTA, IVO, ELO))
    during = [p for d in days(WEDNESDAY, 3) for p in made.own(SUVI, d)]
    assert all(p.dose.neural <= 1 and p.dose.metabolic <= 1 for p in during), "nothing is sweated out"
    assert not [p for p in during if p.unit.family == "special-endurance"]
    after = {p.key for p in made.had(SUVI) if p.day > date(2027, 3, 7)}
    assert after <= {p.key for p in made.own(SUVI)}, "then as planned"


def test_flat_the_morning_after_a_big_day(happens: Happens) -> None:
    """The coach holds one athlete back for two days: lighter, the others not, the big day is not insisted on."""
    happens.log(
        "2027-03-09 07:30", "hold-back", f"athlete={IVO}", "begins=2027-03-09", "ends=2027-03-10", "stage=2"
    )
    made = happens.replan("2027-03-09 07:35", alone=(ASTA, SUVI, ELO))
    held = [p for d in days(date(2027, 3, 9), 2) for p in made.own(IVO, d)]
    assert all(p.dose.neural <= 1 for p in held)
    text = " ".join(made.messages.values()).lower()
    assert not {"flat", "tired", "sore", "held"} & set(text.split())


def test_another_take_off_leg(happens: Happens) -> None:
    """A novice again on the new leg: no jumps from the full run-up for three weeks, no old start mark."""
    happens.log(
        "2027-03-02 08:00", "other-leg", f"athlete={ASTA}", "day=2027-03-02", "leg=right", "changed=yes",
        "entered_by=clinician",
    )  # fmt: skip
    made = happens.replan("2027-03-02 08:05", alone=(IVO, SUVI, ELO))
    (said,) = made.told["in_doubt"]
    assert "Harbour cup (Sat 20 Mar) is in doubt: it lies 18 days after the change of take-off leg, 21" in said
    later = [p for p in made.own(ASTA) if p.day >= date(2027, 3, 2)]
    assert not [p for p in later if p.unit.family == "full-jumps"]
    assert made.problem.block.athlete(ASTA).take_off_leg == "right"
    marks = [r for r in made.problem.block.run_ups if r.athlete == ASTA]
    assert marks and all(r.leg == "left" for r in marks), "the old marks keep the name of the old leg"
    before = {p.key[:4]: p.dose.amount for p in made.before}
    jumps = [p for p in later if p.unit.family == "technical-jumps"]
    assert all(p.dose.amount < before.get(p.key[:4], 99) for p in jumps), "not the same counts next day"
    for p in jumps:
        assert p.dose.take_offs.get("right", 0) >= p.dose.take_offs.get("left", 0), "counted on the new leg"


def test_a_lighter_day_is_given_without_a_question(happens: Happens) -> None:
    happens.log("2027-03-03 06:30", "lighter-day-asked", f"athlete={ASTA}", "day=2027-03-03")
    made = happens.replan("2027-03-03 06:35", alone=(IVO, SUVI, ELO))
    here = made.own(ASTA, WEDNESDAY)
    assert here and all(p.dose.word == "lighter" or p.dose.neural <= 1 for p in here)
    had, has = ([p for p in ps if p.day != WEDNESDAY] for ps in (made.had(ASTA), made.own(ASTA)))
    assert [(p.key, p.dose.amount) for p in has] == [(p.key, p.dose.amount) for p in had], "all other days stand"
    assert "note" in happens.refused("2027-03-03 06:40", "lighter-day-asked", f"athlete={SUVI}",
                                     "day=2027-03-03", "note=bad night")  # fmt: skip
