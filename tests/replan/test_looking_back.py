"""Looking back on a block: planned as first handed out, done as recorded, marks, evidence, fouls."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from three_weeks import ADA, IVO, three_weeks
from week import Week, at

from planner import known
from planner.domain.attempt import Attempt
from planner.domain.facts import Fact, Result
from planner.domain.plan import Plan
from planner.domain.record import placement_record
from planner.following import next_block
from planner.intake import read_block
from planner.looking_back import Days, NothingYet, look_back
from planner.numbers.look_back import Amounts, load_of
from planner.replan import tell
from planner.season import edge_after

ZONE = ZoneInfo("Europe/London")


def jumps(day: int, steps: int, *metres: float, fouls: int = 0) -> Result:
    """Jumps of a March day; every one taken off 5 cm behind the edge, so toe to landing is 5 cm more."""
    tried = [Attempt("mark", round(m * 100), "cm", None, 5) for m in metres]
    return Result(
        recorded_at=datetime(2027, 3, day, 20, tzinfo=ZONE), athlete=ADA, day=date(2027, 3, day),
        event="long jump", steps=steps, competition="" if steps else "Spring meeting", rank=0 if steps else 2,
        attempts=(*tried, *[Attempt("foul")] * fouls), note="zzprivatezz",
    )  # fmt: skip


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> Week:
    file = three_weeks(tmp_path_factory.mktemp("back"))
    made = Week(file.parent)
    pairs: Sequence[Fact] = [
        f for day in (3, 8, 11, 14) for f in (jumps(day, 8, 4.95, 4.90 + day / 100), jumps(day, 0, 5.60, fouls=1))
    ]
    tell(file, pairs, at("2027-03-15 21:00"))
    for p in made.before:
        words = [f"athlete={p.athlete}", f"day={p.day}", f"slot={p.slot}", f"unit={p.unit.id}",
                 f"word={p.dose.word}"]  # fmt: skip
        if (p.athlete, p.day) == (IVO, date(2027, 3, 13)):
            made.tell("2027-03-13 20:00", "done", *words, "remark=missed")
        if (p.athlete, p.unit.id, p.day) == (IVO, "extensive-tempo", date(2027, 3, 12)):
            made.tell("2027-03-12 20:00", "done", *words, "amount=800", "felt=zzprivatezz")
    return made


def of(units: Sequence[Amounts], name: str) -> Amounts:
    return next(a for a in units if name in a.what)


def test_done_is_what_was_recorded_and_the_rest_counts_as_planned(week: Week) -> None:
    _, found = look_back(week.file, at("2027-03-22 09:00"))
    ivo = next(o for o in found.own if o.athlete == IVO)
    tempo, flying = of(ivo.units, "Extensive tempo"), of(ivo.units, "Flying")
    assert (tempo.planned, tempo.done, tempo.done_times) == (5400, 5000, 6)
    assert (flying.planned, flying.done, flying.planned_times, flying.done_times) == (260, 160, 3, 2)
    second = ivo.weeks[1]
    missed = [p for p in week.before if (p.athlete, p.day) == (IVO, date(2027, 3, 13))]
    tempo_gone = 0 <= second.planned - second.done - load_of(missed) <= 400
    assert second.planned > second.done and tempo_gone, "a missed session and a third of a tempo run less"
    assert ivo.weeks[0].planned == ivo.weeks[0].done
    days = {(p.day, p.slot) for p in week.before if p.athlete == IVO}
    assert (ivo.sessions, ivo.unspoken) == (len(days), len(days) - 2)


def test_marks_fouls_and_what_short_run_ups_suggested(week: Week) -> None:
    _, found = look_back(week.file, at("2027-03-22 09:00"))
    ada = next(o for o in found.own if o.athlete == ADA)
    assert [(m.event, m.after.value) for m in ada.marks] == [("long jump", 560), ("long jump 8 steps", 504)]
    assert [(f.event, f.attempts, f.fouls) for f in ada.fouls] == [
        ("long jump", 8, 4),
        ("long jump from short run-ups", 8, 0),
    ]
    (said,) = ada.short
    # own pairs of the other days, toe to landing: 5.65 m over 5.00, 5.03 and 5.06 m; times the best of 5.09 m
    assert "long jump from 8 steps, 5.09 m toe to landing: suggests 5.68-5.75 m (3 pairs)" in said
    assert said.endswith("jumped: 5.65 m.")
    assert {(s.athlete, s.competition, s.rank) for s in found.squad.starts} == {(ADA, "Spring meeting", 2)}


def test_a_stretch_of_days_and_nothing_before_there_is_something(week: Week) -> None:
    first, last = date(2027, 3, 8), date(2027, 3, 14)
    _, found = look_back(week.file, at("2027-03-22 09:00"), Days(first, last))
    assert (found.first, found.last) == (first, last) and all(len(o.weeks) == 1 for o in found.own)
    _, early = look_back(week.file, at("2027-03-05 09:00"))
    assert early.last == date(2027, 3, 5) - timedelta(days=1), "today is not over"
    with pytest.raises(NothingYet, match="Maybe wait"):
        look_back(week.file, at("2027-03-01 09:00"))


# What the plan answers alone, and what takes the week's amounts or what else may be placed: words of 'log'.
AS_HELD = (
    ("done", f"athlete={IVO}", "day=2027-03-12", "slot=training", "unit=extensive-tempo", "amount=800"),
    ("done", f"athlete={IVO}", "day=2027-03-13", "slot=training", "unit=flying-sprints", "remark=missed"),
    ("load-elsewhere", f"athlete={ADA}", "day=2027-03-09", "minutes=40", "effort=5"),
)
OTHERWISE = (
    ("done", f"athlete={IVO}", "day=2027-03-13", "slot=training", "unit=intensive-bounds", "remark=lighter"),
    ("done", f"athlete={ADA}", "day=2027-03-16", "slot=training", "unit=extensive-tempo"),
    ("done", f"athlete={ADA}", "day=2027-03-11", "slot=training", "unit=upper-body", "word=full"),
    ("load-elsewhere", f"athlete={ADA}", "day=2027-03-09", "unit=extensive-tempo", "minutes=40", "effort=5"),
)


@pytest.mark.parametrize(("told", "weeks_too"), [((), False), (AS_HELD, False), ((*AS_HELD, *OTHERWISE), True),
                                                 *[((words,), True) for words in OTHERWISE]])  # fmt: skip
def test_the_quick_way_to_what_was_done_says_what_the_whole_one_says(
    told: Sequence[tuple[str, ...]], weeks_too: bool, tmp_path: Path
) -> None:
    file = three_weeks(tmp_path)
    week = Week(tmp_path)
    for words in told:
        week.tell("2027-03-18 21:00", *words)
    facts, stored = known.facts_of(file), known.planned(file)[1]
    for now in (datetime(2027, 3, 18, 22, tzinfo=ZONE), datetime(2027, 3, 23, tzinfo=ZONE)):
        quick, stand = known.done_by(file, read_block(file), stored, facts, now)
        whole, then = known.after_facts(file, stored, facts, now)
        assert stand == then
        assert [placement_record(p) for p in stand.settled] == [placement_record(p) for p in then.settled]
        assert quick.block.limits == whole.block.limits and bool(quick.weeks) is weeks_too
        assert len(quick.candidates) < len(whole.candidates)


def test_what_crosses_to_the_next_block_is_the_same_as_with_everything_on_offer(tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    old = three_weeks(tmp_path / "old")
    week = Week(old.parent)
    for words in (*AS_HELD, *OTHERWISE):
        week.tell("2027-03-21 21:00", *words)
    new, _ = next_block(old, tmp_path / "new", at("2027-03-22 09:00"))
    stored, facts = known.recorded(old, known.planned(old)[0].units)
    assert stored is not None
    problem, stand = known.after_facts(old, stored, facts, datetime(2027, 3, 21, 23, 59, tzinfo=ZONE))
    whole, quick = edge_after(Plan.of(stand.settled), problem), known.edge_before(new, read_block(new))
    assert quick == whole and whole.placements
    assert [placement_record(p) for p in quick.placements] == [placement_record(p) for p in whole.placements]
