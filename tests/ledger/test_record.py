"""Plain records lose nothing and always come out in the same bytes."""

from __future__ import annotations

import dataclasses
import json
import os
import subprocess
import sys
from datetime import date, datetime, time, timedelta

import ledger_made
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.catalogue import units
from planner.domain.block import Assumption, Athlete, Line
from planner.domain.finding import Finding
from planner.domain.plain import RecordError
from planner.domain.plan import Placement
from planner.domain.record import (
    UnknownUnitError,
    block_record,
    canonical,
    finding_from,
    finding_record,
    inputs_hash,
    placement_from,
    placement_record,
)
from planner.domain.units import REGIONS, SIDES, Dose

WORDS = st.text(max_size=12)
WHOLE = st.integers(0, 10**6)
DOSES = st.builds(
    Dose,
    word=st.sampled_from(["full", "lighter"]),
    amount=WHOLE,
    measure=WORDS,
    neural=st.integers(0, 3),
    metabolic=st.integers(0, 3),
    minutes=WHOLE,
    effort=st.integers(0, 10),
    loads=st.dictionaries(st.tuples(st.sampled_from(REGIONS), st.sampled_from(SIDES)), st.integers(0, 3)),
    counters=st.dictionaries(WORDS, WHOLE, max_size=4),
    take_offs=st.dictionaries(st.sampled_from(SIDES), WHOLE),
    preparation=st.lists(st.tuples(WORDS, WHOLE, WORDS), max_size=3).map(tuple),
    preparation_minutes=WHOLE,
    note=WORDS,
)
PLACEMENTS = st.builds(
    Placement,
    athlete=WORDS,
    day=st.dates(),
    slot=WORDS,
    unit=st.sampled_from([u for _, u in sorted(units().items())]),
    dose=DOSES,
    begins=st.datetimes(),
    place=WORDS,
    venue=WORDS,
    importance=WORDS,
    coach=WORDS,
    partners=st.lists(WORDS, max_size=3).map(tuple),
    fixed=st.booleans(),
)


def unfolded(at: datetime | time) -> datetime | time:
    """Without the mark of an hour that the clock shows twice: facts are clock times of one day."""
    return at.replace(fold=0)


FACTS = st.recursive(
    st.none() | st.booleans() | WHOLE | WORDS | st.dates() | (st.datetimes() | st.times()).map(unfolded),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.lists(inner, max_size=3).map(tuple)
        | st.dictionaries(st.one_of(WORDS, WHOLE, st.dates()), inner, max_size=3)
    ),
    max_leaves=6,
)


@given(PLACEMENTS)
@settings(max_examples=150, deadline=None)
def test_a_placement_comes_back_whole_from_its_json(p: Placement) -> None:
    text = canonical(placement_record(p))
    back = placement_from(json.loads(text), units())
    for f in dataclasses.fields(Placement):  # == looks at the key only
        assert getattr(back, f.name) == getattr(p, f.name), f.name
    assert canonical(placement_record(back)) == text


@given(st.dictionaries(WORDS, FACTS, max_size=4), st.none() | st.dates())
@settings(max_examples=150, deadline=None)
def test_a_finding_keeps_its_facts_with_their_kinds(facts: dict[str, object], day: date | None) -> None:
    finding = Finding("rest_day", "should", 2, "Ada", day, "evening", facts, Line("squad.yaml", 3))
    back = finding_from(json.loads(canonical(finding_record(finding))))
    assert back == finding
    assert dict(back.facts) == facts
    assert repr(sorted(back.facts.items())) == repr(sorted(facts.items(), key=lambda kv: kv[0]))


def test_a_key_order_that_differs_gives_the_same_record() -> None:
    p = ledger_made.outcome(ledger_made.world()).plan.placements[0]
    turned = dataclasses.replace(p.dose, loads=dict(reversed(list(p.dose.loads.items()))))
    other = dataclasses.replace(p, dose=turned)
    assert json.dumps(placement_record(other)) == json.dumps(placement_record(p))


def test_a_record_that_cannot_be_read_says_what_is_missing() -> None:
    record = placement_record(ledger_made.outcome(ledger_made.world()).plan.placements[0])
    with pytest.raises(UnknownUnitError, match="unit 'gone' is neither"):
        placement_from({**record, "unit": "gone"}, units())
    for broken in ({"day": "soon"}, {"dose": {}}, {"dose": None}, {"partners": None}):
        with pytest.raises(RecordError):
            placement_from({**record, **broken}, units())
    with pytest.raises(RecordError):
        finding_from({"rule": "rest_day"})


def test_a_block_becomes_plain_data() -> None:
    made = ledger_made.world()
    record = block_record(made.block)
    assert json.loads(canonical(record)) == record
    assert record["begins"] == "2027-03-01"
    assert record["athletes"][0]["name"] == "Ada"
    assert record["slots"][0]["begins"] == "17:00:00"
    assert record["settings"][0]["reason"] == "rehearsal of both days"
    assert set(record) == {f.name for f in dataclasses.fields(made.block)}


def test_the_hash_is_of_what_is_meant_not_of_where_it_stands() -> None:
    block = ledger_made.world().block
    usual = inputs_hash(block)
    ada = block.athletes[0]

    def with_ada(**fields: object) -> str:
        changed: Athlete = dataclasses.replace(ada, **fields)  # type: ignore[arg-type]
        return inputs_hash(dataclasses.replace(block, athletes=(changed, *block.athletes[1:])))

    assert len(usual) == 64
    assert with_ada(line=Line("elsewhere.yaml", 99, 4)) == usual
    assert inputs_hash(dataclasses.replace(block, assumptions=(Assumption("slots", "evenings"),))) == usual
    changed = [
        with_ada(take_off_leg="right"),
        with_ada(levels={"top-speed": "novice"}),
        with_ada(other_sport_minutes={2: 90}),
        inputs_hash(dataclasses.replace(block, ends=block.ends + timedelta(days=1))),
        inputs_hash(dataclasses.replace(block, settings=())),
        inputs_hash(dataclasses.replace(block, slots=block.slots[1:])),
    ]
    assert len({usual, *changed}) == 1 + len(changed)


def test_the_hash_does_not_depend_on_the_order_of_a_hash_table() -> None:
    code = (
        "import ledger_made; from planner.domain.record import inputs_hash;"
        "print(inputs_hash(ledger_made.world().block))"
    )
    path = os.pathsep.join(p for p in sys.path if p)
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": start},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        for start in ("1", "2")
    }
    assert found == {inputs_hash(ledger_made.world().block)}


def test_clock_times_and_aware_times_survive() -> None:
    facts = {"at": datetime(2027, 3, 1, 17, 5), "opens": time(17, 5), "day": date(2027, 3, 1)}
    back = finding_from(finding_record(Finding("x", "must", 1, facts=facts)))
    assert {k: type(v) for k, v in back.facts.items()} == {"at": datetime, "opens": time, "day": date}
