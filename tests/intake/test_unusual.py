"""What is allowed but would surprise a coach later is told when the file is read."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from coachs_files import Tables, small, write

from planner.domain.view import PlanView
from planner.intake import check_block, write_new
from planner.intake.complaints import BadFile
from planner.rules import adults_present
from planner.season import make_problem

D = date


def warned(folder: Path, tables: Tables) -> str:
    _, warnings = check_block(write("yaml", folder, tables))
    return "\n".join(str(w) for w in warnings)


def athlete(**cells: Any) -> Tables:
    tables = small()
    tables["athletes"][0].update(cells)
    return tables


def test_who_cannot_train_for_want_of_adults_is_named(tmp_path: Path) -> None:
    said = warned(tmp_path, athlete(born=D(2012, 1, 1)))
    assert "in those slots no training is planned for 'Tove Marn'" in said


@pytest.mark.parametrize(("tasks", "counted"), [("rake", False), ("rake; adult", True), ("adult", True)])
def test_only_helpers_named_as_adults_are_counted_here_and_by_the_rule(
    tmp_path: Path, tasks: str, counted: bool
) -> None:
    tables = athlete(born=D(2012, 1, 1))
    tables["helpers"] = [{"name": "Uma", "tasks": tasks}]
    block, warnings = check_block(write("yaml", tmp_path, tables))
    warning = any("in those slots no training is planned" in str(w) for w in warnings)
    assert warning is not counted

    made = make_problem(block)
    young = next(p for p in made.candidates if p.athlete == "Tove Marn")
    view = PlanView([young], made)
    assert bool(adults_present.check(view, made)) is not counted


def test_an_event_without_a_place_is_told(tmp_path: Path) -> None:
    tables = athlete(events="heptathlon")
    assert "no place" not in warned(tmp_path, tables)  # no 'venues': every kind of place
    tables["venues"] = [{"place": k} for k in ("pit", "straight", "track", "grass", "gym")]
    said = warned(tmp_path, tables)
    assert "no place for hurdles, throws, high jumps of 'Tove Marn'" in said
    assert "of the kind 'hurdles' and 'circle' and 'bed'" in said and "Mirel" not in said


def test_a_competition_under_a_return_stage_is_told_once(tmp_path: Path) -> None:
    meets = [
        {"name": name, "date": day, "athletes": "Tove Marn", "importance": "supporting"}
        for name, day in (("Early", D(2027, 3, 27)), ("Late", D(2027, 4, 3)))
    ]
    low = {"athlete": "Tove Marn", "region": "hamstring", "side": "left", "stage": 4, "from": D(2027, 3, 22)}
    said = warned(tmp_path, small(competitions=meets, limits=[low]))
    assert said.count("entered under a limit (hamstring stage 4)") == 1
    assert "'Early' on 2027-03-27, 'Late' on 2027-04-03" in said
    later = [{**low, "until": D(2027, 3, 30)}, {**low, "stage": 5, "from": D(2027, 3, 31)}]
    said = warned(tmp_path, small(competitions=meets, limits=later))
    (early,) = [line for line in said.splitlines() if "under a limit" in line]
    assert "'Early'" in early and "'Late'" not in early


def test_seven_or_ten_events_on_one_date_are_told_once(tmp_path: Path) -> None:
    """World Athletics, Technical Rules: heptathlon and decathlon take two consecutive days (from memory)."""

    def said(own: str, **cells: Any) -> str:
        tables = athlete(events=own)
        tables["competitions"] = [{"name": "Games", "date": D(2027, 3, 27), "athletes": "Tove Marn", **cells}]
        return warned(tmp_path, tables)

    for event in ("heptathlon", "decathlon"):
        one = said(event)
        assert one.count(f"'Games': {event} of 'Tove Marn' on one date, 2027-03-27") == 1
        assert "add 'until: 2027-03-28'" in one and "line" in one
    assert "on one date" not in said("heptathlon", until=D(2027, 3, 28))
    assert "on one date" not in said("heptathlon", events="long jump"), "only one of them is done"
    assert "on one date" not in said("long jump")
    assert "on one date" not in said("pentathlon")


def test_the_blank_file_says_why_a_junior_needs_a_second_adult(tmp_path: Path) -> None:
    """Following its comment, a junior who could not train for want of an adult can."""
    text = write_new(tmp_path / "new").read_text(encoding="utf-8")
    assert "with one coach alone nothing is planned for that athlete" in text
    text = text.replace("    away: 2027-04-02..2027-04-03\n", "")
    young = text.replace("born: 2006-05-14", "born: 2012-05-14")
    assert young != text and "in those slots no training is planned" in _said_of(tmp_path, young)
    helped = young.replace("# helpers:\n#   - {name: A parent, tasks: rake; adult, days: Tue; Thu}",
                           "helpers:\n  - {name: A parent, tasks: rake; adult}")  # fmt: skip
    assert helped != young and "in those slots no training" not in _said_of(tmp_path, helped)


def _said_of(folder: Path, text: str) -> str:
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    _, warnings = check_block(folder / "own.yaml")
    return "\n".join(str(w) for w in warnings)


def test_which_of_several_events_is_not_known_is_said(tmp_path: Path) -> None:
    def refused(events: str) -> str:
        with pytest.raises(BadFile) as told:
            warned(tmp_path, athlete(events=events))
        return str(told.value)

    said = refused("100m; 200 metres")
    assert "events that are known; '200 metres' is not among them" in said and "'200 m' is meant" in said
    both = refused("100 metres; long jump; 200 metres")
    assert "'100 metres' and '200 metres' are not among them" in both
    assert "among them" not in refused("200 metres"), "alone it is the one that was found"
