"""Facts are kept as told, corrections are rows, one person can be forgotten, damage is mended."""

from __future__ import annotations

import json
import re
import sqlite3
from dataclasses import fields, replace
from datetime import date, datetime, time, timedelta
from importlib import resources
from pathlib import Path

import ledger_made
import pytest
from ledger_made import NOW, record

from planner.domain import facts as f
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.block import Athlete, Competition, Limit, RunUp, Theme
from planner.domain.fact_record import audiences, fact_of, recorded_fact, seen_by
from planner.domain.facts import FACTS, Fact, Undone, in_force
from planner.domain.plain import RecordError
from planner.domain.record import block_from, block_record, canonical
from planner.domain.shoe import NO_SHOE, Shoe
from planner.ledger import (
    Ledger,
    LedgerDamaged,
    LedgerError,
    LedgerMoved,
    LedgerUnknown,
    damage,
    ledger_path,
    rescue,
)

SECRET = "Zanzibar"  # stands in every private field
DAY = date(2027, 3, 2)
SIMPLE = {
    "athlete": "Ada", "athletes": ("Ada", "Bo"), "name": "Spring Open", "venue": "park", "place": "pit",
    "slot": "evening", "unit": "flying-sprints", "event": "long jump", "region": "knee", "side": "left",
    "stage": 3, "minutes": 20, "leg": "right", "fact": 1, "counters": {"full-jumps": 4},
    "attempts": (
        Attempt("mark", 1322, wind=12, gap=3, start_mark=3150, coach_mark=-4, hop=502, step=396, jump=430),
        Attempt("foul"), Attempt("not measured", hop=505, ended="bailed out in the step", clip="7"),
    ),
    "runs": (RunThrough(12, 8, 3320, -4), RunThrough(-3)), "steps": 16, "start_mark": 3320,
}  # fmt: skip
PLANTED = ("note", "felt", "test", "entered_by", "cue", "shoe_name")


@pytest.fixture
def block(tmp_path: Path) -> Path:
    return tmp_path / "spring.yaml"


def one_of(kind: type[Fact]) -> Fact:
    """A fact of a kind with something in every field."""
    values: dict[str, object] = {"recorded_at": NOW}
    for field in fields(kind):
        if field.name in SIMPLE:
            values[field.name] = SIMPLE[field.name]
        elif field.name in PLANTED:
            values[field.name] = f"{SECRET} {field.name}"
        elif field.name in ("begins", "ends"):
            moment = kind in (f.VenueClosed, f.VenueOpened, f.PersonAway)
            values[field.name] = datetime.combine(DAY, time(17)) if moment else DAY
        elif field.name in ("day", "first_day", "last_day", "was"):
            values[field.name] = DAY
    return kind(**values)  # type: ignore[arg-type]


EVERY = tuple(one_of(kind) for kind in FACTS.values() if kind not in (f.Undone, f.Forgotten))


# --- as told ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("fact", EVERY, ids=lambda x: x.kind)
def test_a_fact_comes_back_from_its_record(fact: Fact) -> None:
    text = canonical(recorded_fact(fact))
    assert fact_of(json.loads(text), 7) == replace(fact, id=7)


def test_a_record_that_does_not_fit_says_what_is_needed() -> None:
    good = recorded_fact(one_of(f.Ill))
    for broken, said in (
        ({"kind": "flu"}, "kind: found 'flu'"),
        ({"begins": "soon"}, "begins: found 'soon'; a date in ISO form"),
        ({"fever": 1}, "fever: found 1; a value of kind bool"),
        ({"reason": "x"}, r"unknown \['reason'\]"),
    ):
        with pytest.raises(RecordError, match=said):
            fact_of({**good, **broken})


def test_a_lighter_day_has_no_place_for_a_reason() -> None:
    assert {x.name for x in fields(f.LighterDayAsked)} == {"recorded_at", "id", "athlete", "day"}


def test_facts_are_numbered_and_read_back_in_order(block: Path) -> None:
    with Ledger.open(block, create=True) as ledger:
        assert ledger.record_facts(EVERY) == tuple(range(1, len(EVERY) + 1))
    with Ledger.open(block, create=False) as ledger:
        assert ledger.facts() == tuple(replace(x, id=i) for i, x in enumerate(EVERY, start=1))


def test_a_correction_is_a_row_and_may_be_taken_back(block: Path) -> None:
    with Ledger.open(block, create=True) as ledger:
        first = ledger.record_fact(EVERY[0])
        undoing = ledger.record_fact(Undone(recorded_at=NOW, fact=first))
        assert ledger.facts() == ()
        assert [x.id for x in ledger.facts(include_undone=True)] == [first, undoing]
        with pytest.raises(LedgerUnknown, match=f"fact {first} is undone already"):
            ledger.record_fact(Undone(recorded_at=NOW, fact=first))
        ledger.record_fact(Undone(recorded_at=NOW, fact=undoing))
        assert [x.id for x in ledger.facts()] == [first]
        with pytest.raises(LedgerUnknown, match="there is no fact 99"):
            ledger.record_fact(Undone(recorded_at=NOW, fact=99))
        assert len(ledger.facts(include_undone=True)) == 3


def test_a_kind_that_is_not_asked_for_is_left_out(block: Path) -> None:
    with Ledger.open(block, create=True) as ledger:
        numbers = ledger.record_facts(EVERY)
        kinds = [x.kind for x in EVERY]
        ledger.record_facts([Undone(recorded_at=NOW, fact=numbers[kinds.index(k)]) for k in ("done", "ill")])
        every, some = ledger.facts(), ledger.facts(without="late")
        assert some == tuple(x for x in every if x.kind != "late") != every
        assert ledger.facts(without="done") == every, "what is undone stays so, whichever kinds are asked for"


def test_several_facts_are_recorded_all_or_none(block: Path) -> None:
    naive = replace(EVERY[1], recorded_at=datetime(2027, 3, 2))
    with Ledger.open(block, create=True) as ledger:
        with pytest.raises(ValueError, match="a moment with a time zone"):
            ledger.record_facts((EVERY[0], naive))
        assert ledger.facts(include_undone=True) == ()


def test_the_order_of_telling_counts_not_the_number() -> None:
    late, early = replace(EVERY[0], id=1, recorded_at=NOW + timedelta(hours=1)), replace(EVERY[0], id=2)
    assert in_force((late, early)) == (early, late)


# --- who may read what ------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", FACTS.values(), ids=list(FACTS))
def test_every_field_has_an_audience(kind: type[Fact]) -> None:
    assert set(audiences(kind)) == {x.name for x in fields(kind)}
    assert set(audiences(kind).values()) <= set(f.AUDIENCES)


@pytest.mark.parametrize("fact", EVERY, ids=lambda x: x.kind)
def test_no_private_word_reaches_another_audience(fact: Fact) -> None:
    """What may be read shrinks from the coach to people outside; notes and health stay where they belong."""
    coach, own, squad, outside = (canonical(seen_by(fact, a, "Ada")) for a in f.AUDIENCES)
    other = canonical(seen_by(fact, "athlete", "Bo")) if "athlete" in audiences(type(fact)) else squad
    assert coach.count(SECRET) == sum(x.name in PLANTED for x in fields(fact))
    assert f"{SECRET} note" not in own
    for text in (squad, outside, other):
        assert SECRET not in text
    assert other == squad
    if isinstance(fact, f.OF_HEALTH):
        for text in (squad, outside, other):
            assert f'"{fact.kind}"' not in text and "knee" not in text
            assert "2027" not in text or isinstance(fact, f.LighterDayAsked)
        assert outside == "{}"


def test_the_squad_reads_a_word_that_tells_no_cause() -> None:
    assert seen_by(one_of(f.Hurt), "squad") == {"kind": "limited", "athlete": "Ada"}
    assert seen_by(one_of(f.Ill), "squad") == {"kind": "away", "athlete": "Ada"}
    assert seen_by(one_of(f.LighterDayAsked), "athlete", "Bo") == {"kind": "lighter", "athlete": "Ada"}
    assert seen_by(one_of(f.Hurt), "athlete", "Ada")["region"] == "knee"
    assert seen_by(one_of(f.Done), "squad") == {}


# --- restore ----------------------------------------------------------------------------------------------


def test_restore_adds_a_revision_that_equals_an_earlier_one(block: Path) -> None:
    made = ledger_made.world()
    record(block)
    with Ledger.open(block, create=False) as ledger:
        other = replace(ledger_made.outcome(made, "extensive-tempo | - | -"), remarks=("the pit is closed",))
        ledger.record_revision(ledger_made.revision(made, "rain"), other, ledger_made.inputs(made))
        again = ledger.restore(1, NOW + timedelta(hours=1), after=2)
        assert (again.number, again.replaces, again.reason, again.status) == (3, 2, "as revision 1", "draft")
        first, second, third = (ledger.revision(n, made.units) for n in (1, 2, 3))
        assert second.outcome.remarks == ("the pit is closed",)
        assert third.outcome == first.outcome and third.exceptions == first.exceptions
        assert third.revision == again and len(ledger.history()) == 3
        assert ledger.inputs(3) == ledger.inputs(1)
        with pytest.raises(LedgerMoved):
            ledger.restore(1, NOW, after=2)
        with pytest.raises(LedgerUnknown, match="no revision 9"):
            ledger.restore(9, NOW)
    assert damage(block) == ""


def test_a_first_ledger_is_brought_to_the_present_schema(block: Path) -> None:
    """One made before facts were known: its revision stays readable, and facts can be added."""
    record(block)
    path = ledger_path(block)
    with sqlite3.connect(path) as old:
        for kind, name in old.execute("SELECT type, name FROM sqlite_master WHERE sql NOT NULL").fetchall():
            if kind == "trigger" and name.split("_")[0] in ("facts", "rewritings", "seals", "migrations"):
                old.execute(f"DROP TRIGGER {name}")
        for table in ("seals", "facts", "rewritings"):
            old.execute(f"DROP TABLE {table}")
        old.execute("DROP TRIGGER revisions_stay")
        old.execute("ALTER TABLE revisions DROP COLUMN remarks")
        old.execute("DELETE FROM migrations WHERE number >= 2")
        first = resources.files("planner.ledger").joinpath("schema/001_first.sql").read_text(encoding="utf-8")
        for name in ("revisions_stay", "migrations_stay", "migrations_keep"):
            old.execute(re.search(rf"CREATE TRIGGER {name} .*?END;", first, re.S)[0])  # type: ignore[index]
        old.execute("PRAGMA user_version = 1")
    old.close()
    with Ledger.open(block, create=False) as ledger:
        stored = ledger.current(ledger_made.world().units)
        assert stored is not None and stored.outcome == ledger_made.outcome(ledger_made.world())
        assert ledger.record_fact(EVERY[0]) == 1
    assert damage(block) == ""


def test_a_ledger_from_before_shoes_were_named_is_read_as_it_was_meant(block: Path) -> None:
    """Schema 3: a reading with the length alone, a start mark without a shoe. Nothing is rewritten."""
    record(block)
    path = ledger_path(block)
    with Ledger.open(block, create=False) as ledger:
        ledger.record_facts([replace(one_of(f.RunUpReadings), shoe=262), replace(one_of(f.StartMark), shoe=None)])
    with sqlite3.connect(path) as old:
        triggers = old.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            old.execute(f"DROP TRIGGER {name}")
        old.execute("UPDATE facts SET record = json_remove(record, '$.shoe_name')")
        old.execute("DELETE FROM migrations WHERE number >= 4")
        for _, made in triggers:
            old.execute(made)
        old.execute("PRAGMA user_version = 3")
        before = old.execute("SELECT id, record FROM facts ORDER BY id").fetchall()
    old.close()
    assert "shoe_name" not in str(before)
    with Ledger.open(block, create=False) as ledger:
        read, marked = (x for x in ledger.facts() if isinstance(x, f.RunUpReadings | f.StartMark))
        assert (read.worn, marked.worn) == (Shoe("", 262), NO_SHOE)
        named = replace(one_of(f.RunUpReadings), shoe=270, shoe_name="flats")
        number = ledger.record_fact(named)
        (last,) = (x for x in ledger.facts() if x.id == number)
        assert isinstance(last, f.RunUpReadings) and last.worn == Shoe("flats", 270)
    with sqlite3.connect(path) as now:
        assert now.execute("SELECT id, record FROM facts ORDER BY id").fetchall()[:2] == before
        names = [name for (name,) in now.execute("SELECT name FROM migrations ORDER BY number")]
        assert names == ["first", "facts", "attempts", "shoes"]
        assert now.execute("PRAGMA user_version").fetchone() == (4,)
    now.close()
    assert damage(block) == ""


def test_a_run_up_stored_without_the_name_of_a_shoe_comes_back() -> None:
    made = replace(
        ledger_made.world().block, run_ups=(RunUp("Ada", "long jump", 16, 3040, shoe=255, shoe_name="spikes"),)
    )
    stored = json.loads(canonical(block_record(made)))
    assert block_from(stored) == made
    del stored["run_ups"][0]["shoe_name"]
    assert block_from(stored).run_ups[0].worn == Shoe("", 255)


def test_a_stored_block_comes_back_whole(block: Path) -> None:
    made = ledger_made.world()
    record(block)
    with Ledger.open(block, create=False) as ledger:
        back = block_from(ledger.inputs(1))
    assert back == made.block
    own = replace(made.block, own_units=(made.units["flying-sprints"],))
    assert block_from(json.loads(canonical(block_record(own)))) == own
    with pytest.raises(RecordError, match=r"athletes\[0\].level"):
        broken = json.loads(canonical(block_record(made.block)))
        broken["athletes"][0]["level"] = "expert"
        block_from(broken)


# --- forget -----------------------------------------------------------------------------------------------

LIND = "Ada Lind"


def private(block: Path) -> None:
    """A ledger in which one person's name and health stand everywhere they can stand."""
    world = ledger_made.world()
    ada = Athlete(LIND, date(2009, 5, 4), "female", ("long jump",), growth_cm_per_year=9)
    plan = ledger_made.outcome(world).plan
    who = {"Ada": LIND, "Bo": "Bo"}
    moved = [replace(p, athlete=who[p.athlete], partners=(LIND,)) for p in plan.placements]
    found = replace(ledger_made.outcome(world).findings[0], athlete=LIND, facts={"where": "left knee"})
    squad = replace(found, athlete="", facts={"who": ["Bo", LIND]})
    outcome = replace(
        ledger_made.outcome(world),
        plan=replace(plan, placements=tuple(sorted(moved, key=lambda p: p.key))),
        findings=(found, squad),
        remarks=(f"{LIND}: no jumps with this knee", "the pit is small"),
    )
    settings = (replace(ledger_made.EXCEPTION, athlete=LIND, reason="her knee allows both days"),)
    inputs = replace(
        world.block,
        athletes=(ada, *world.block.athletes[1:]),
        limits=(Limit(LIND, "knee", "left", 3), Limit("Bo", "foot", "left", 4)),
        themes=(Theme(LIND, "trust the knee again"),),
        competitions=(Competition("Games", LIND, world.block.begins, world.block.begins,
                                  gap_accepted="her knee needs two hours"),),
        settings=settings,
    )
    told = [replace(x, athlete=LIND) for x in EVERY if "athlete" in audiences(type(x))]
    told.append(replace(one_of(f.CompetitionWithdrawn), athletes=(LIND,), note="her knee"))
    told.append(replace(one_of(f.PersonAway), note="drives lind to the clinic"))
    with Ledger.open(block, create=True) as ledger:
        ledger.record_revision(
            ledger_made.revision(world, f"the knee of {LIND}"), outcome, block_record(inputs), settings
        )
        ledger.hand_out(1, NOW)
        ledger.record_facts(told)
        ledger.record_fact(Undone(recorded_at=NOW, fact=3, note="the knee was fine"))


def test_forgetting_leaves_no_byte_of_name_or_health(block: Path) -> None:
    private(block)
    before = ledger_path(block).read_bytes()
    assert all(word in before for word in (b"Ada Lind", b"knee", SECRET.encode(), b"2009-05-04"))
    with Ledger.open(block, create=False) as ledger:
        gone = ledger.forget(LIND, NOW)
        assert gone.stands_now == "forgotten 1" and gone.rows > 10
        assert ledger.rewritings() == (gone,)
        stored = ledger.current(ledger_made.world().units)
        back = block_from(ledger.inputs(1))
        kept = ledger.facts(include_undone=True)
    after = ledger_path(block).read_bytes()
    for word in ("Ada Lind", "Lind", "lind ", "her knee", "the knee", "left knee", SECRET, "2009-05-04"):
        assert word.encode() not in after, word
    assert stored is not None
    assert [p.athlete for p in stored.placements].count("forgotten 1") == 3
    assert {p.partners for p in stored.placements} == {("forgotten 1",)}
    assert [x.athlete for x in stored.outcome.findings] == [""]
    assert stored.outcome.remarks == ("the pit is small",)
    assert [x.athlete for x in back.limits] == ["Bo"]
    (meet,) = back.competitions
    assert meet.athlete == "forgotten 1" and meet.gap_accepted, "that somebody accepted it stays"
    assert (back.athletes[0].name, back.athletes[0].born, back.athletes[0].sex) == ("forgotten 1", None, "")
    assert not [x for x in kept if isinstance(x, f.OF_HEALTH)]
    body = (f.Hurt, f.StageChanged, f.TestPassed, f.Setback)
    assert len([x for x in kept if isinstance(x, f.Forgotten)]) == len(f.OF_HEALTH) - 1 + len(body)
    assert [x.athlete for x in kept if isinstance(x, f.Done)] == ["forgotten 1"]
    assert damage(block) == ""


def test_after_forgetting_the_ledger_only_grows_again(block: Path) -> None:
    private(block)
    with Ledger.open(block, create=False) as ledger:
        ledger.forget(LIND, NOW)
        with pytest.raises(LedgerUnknown, match="no row names 'Ada Lind'"):
            ledger.forget(LIND, NOW)
        assert ledger.record_fact(EVERY[0])
        assert ledger.forget("Bo", NOW).stands_now == "forgotten 2"
        assert len(ledger.rewritings()) == 2
    outside = sqlite3.connect(ledger_path(block))
    try:
        for table in ("placements", "inputs", "facts", "rewritings", "seals", "revisions"):
            column = outside.execute(f"SELECT name FROM pragma_table_info('{table}')").fetchone()[0]
            for sql in (f"UPDATE {table} SET {column} = {column}", f"DELETE FROM {table}"):
                with pytest.raises(sqlite3.IntegrityError, match=f"only grows: {table}"):
                    outside.execute(sql)
    finally:
        outside.close()


def test_a_name_inside_another_word_is_left_alone(block: Path) -> None:
    with Ledger.open(block, create=True) as ledger:
        ledger.record_fact(replace(one_of(f.Late), athlete="Bo", note="Bo waits for the Bolt van, says Bo"))
        ledger.record_fact(replace(one_of(f.Late), athlete="Ada", note="with Bo and Bobby"))
        ledger.forget("Bo", NOW)
        assert [getattr(x, "note", "") for x in ledger.facts()] == ["", "with forgotten 1 and Bobby"]


# --- damage -----------------------------------------------------------------------------------------------


def scribble(path: Path, page: int, pages: int = 1) -> None:
    data = path.read_bytes()
    begin, end = page * 4096, (page + pages) * 4096
    path.write_bytes(data[:begin] + b"\xa5" * (end - begin) + data[end:])


FACTS_FILLED = 4 * len(EVERY)


def filled(block: Path) -> int:
    """A ledger of twelve revisions and some eighty facts; how many pages it has."""
    for i in range(12):
        record(block, f"number {i}")
    with Ledger.open(block, create=False) as ledger:
        ledger.hand_out(1, NOW)
        for fact in EVERY * 4:
            ledger.record_fact(fact)
    return ledger_path(block).stat().st_size // 4096


def test_whichever_page_is_broken_what_can_still_be_read_comes_back(block: Path, tmp_path: Path) -> None:
    """Where the table of contents itself is hit nothing can be read, and the file is left as it is."""
    made = ledger_made.world()
    pages = filled(block)
    sound = ledger_path(block).read_bytes()
    saved_from = 0
    for page in range(1, pages):
        hit = tmp_path / f"page{page}.yaml"
        ledger_path(hit).write_bytes(sound)
        scribble(ledger_path(hit), page)
        broken = ledger_path(hit).read_bytes()
        if not damage(hit):
            continue  # a page that holds nothing any more
        try:
            saved = rescue(hit)
        except LedgerDamaged:
            assert ledger_path(hit).read_bytes() == broken
            continue
        saved_from += 1
        assert saved.kept.read_bytes() == broken and saved.kept.name == f"page{page}.ledger.damaged-1"
        assert saved.revisions or saved.facts
        assert len(saved.facts) + len(saved.lost_facts) == FACTS_FILLED or saved.lost_facts == ()
        with Ledger.open(hit, create=False) as ledger:
            for row in ledger.history():
                assert ledger.revision(row.revision.number, made.units).outcome == ledger_made.outcome(made)
            assert {x.id for x in ledger.facts()} == set(saved.facts)
            assert ledger.record_fact(EVERY[0]) > max(saved.facts, default=0)
        assert damage(hit) == ""
    assert saved_from > pages // 2


def test_a_copy_made_before_takes_its_place(block: Path, tmp_path: Path) -> None:
    record(block)
    with Ledger.open(block, create=False) as ledger:
        ledger.record_fact(EVERY[0])
        kept = ledger.backup(tmp_path / "kept.ledger")
    ledger_path(block).write_bytes(b"not a ledger at all\n" * 500)
    with pytest.raises(LedgerDamaged, match="nothing in it can be read"):
        rescue(block)
    assert ledger_path(block).read_bytes().startswith(b"not a ledger")  # and left where it was
    saved = rescue(block, kept)
    assert (saved.revisions, saved.facts, saved.kept.name) == ((1,), (1,), "spring.ledger.damaged-2")
    assert damage(block) == ""


def test_a_revision_that_somebody_changed_is_noticed(block: Path) -> None:
    """The file is sound, but a row is not what was sealed."""
    record(block)
    record(block, "second")
    with sqlite3.connect(ledger_path(block)) as outside:
        sql = "SELECT sql FROM sqlite_master WHERE name = 'placements_keep'"
        trigger = outside.execute(sql).fetchone()[0]
        outside.execute("DROP TRIGGER placements_keep")
        outside.execute("DELETE FROM placements WHERE revision = 2 AND unit = 'heavy-strength'")
        outside.execute(trigger)
    outside.close()
    assert damage(block).endswith("revision 2 is not whole.")
    assert rescue(block).revisions == (1,)


def test_a_whole_ledger_is_not_rescued(block: Path) -> None:
    record(block)
    with pytest.raises(LedgerError, match="the ledger is whole"):
        rescue(block)
