"""The look-back page: bars as they were counted, room to write, and nothing private on the squad's version."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from planner.cli.back_words import back_lines
from planner.domain.block import Mark
from planner.numbers.look_back import Amounts, Fouls, Load, LookBack, MarkPair, OwnBack, SquadBack, Start
from planner.sheets import print_look_back
from planner.sheets.build_look_back import BAR_MM, own_view, squad_view
from tests.sheets.world import FIRST, LAST, S, problem

DAY = date(2027, 4, 20)


def back(athletes: int = 7) -> LookBack:
    """A look back on the fortnight: one athlete in full, with signs that markup would trip over."""
    units = (
        Amounts("Flying sprints", "metres", 260, 160, 3, 2),
        Amounts("Long jumps from 4-8 steps", "jumps", 30, 36, 2, 3),
        Amounts("Resisted accelerations (sled / hill)", "metres", 1, 0, 1, 0),
    )
    own = OwnBack(
        S, ("a tall last step; measure: <b>film</b> & median",), units, (Load(FIRST, 1800, 1200), Load(DAY, 0, 0)),
        (MarkPair("long jump", None, Mark(S, "long jump", 571, "cm", 8, DAY)),),
        ("long jump from 8 steps, 5.09 m toe to landing: suggests 5.68-5.75 m (3 pairs); jumped: 5.65 m.",),
        ("triple jump, 29 Mar: hop and step 7.45 m come to 10.80-11.20 m by own shares of 3 whole jumps.",),
        (Fouls("long jump", 9, 3),), 4, 11,
    )  # fmt: skip
    families = (Amounts("top-speed", "times", 20, 18, 20, 18), Amounts("strength", "times", 10, 12, 10, 12))
    starts = (Start(S, DAY, "Town match", "long jump", 2),)
    squad = SquadBack(athletes, families, (Load(FIRST, 9000, 8000),), starts)
    return LookBack(FIRST, LAST, (own,), squad)


def test_bars_are_planned_and_done_on_one_scale() -> None:
    view = own_view(back().own[0], back(), problem().block, DAY)
    flying, jumps, sled = view.units
    assert (flying.planned_mm, flying.done_mm) == (BAR_MM, round(BAR_MM * 160 / 260, 1))
    assert jumps.done_mm == BAR_MM > jumps.planned_mm, "more than planned reaches beyond the outline"
    assert (sled.planned, sled.done_mm) == ("1 metre (1 ×)", 0.0)
    assert view.weeks[1].planned_mm == 0.0
    assert view.marks[0].before == "none" and view.marks[0].after == "5.71 m, wind +0.8, 20 Apr 2027"
    assert any("3 of 9 attempts were fouls (33 %)" in s for s in view.said)


def test_what_was_not_planned_is_said_so_on_the_screen() -> None:
    (own,) = back().own
    throws = Amounts("Medicine ball throws", "throws", 0, 20, 0, 1)
    lines = back_lines(back(), [replace(own, units=(*own.units, throws))], squad=False)
    (said,) = [line for line in lines if "Medicine" in line]
    assert said.endswith("  not planned: 20 throws")
    assert any("160 of 260 metres (2 of 3 x)" in line for line in lines)


def test_the_squads_version_holds_sums_and_starts_only() -> None:
    view = squad_view(back(), problem().block, DAY)
    assert view.weeks and view.units and not view.aims and not view.marks
    assert view.said == (f"{S}: long jump, Town match, 20 Apr, place 2.",)
    words = repr(view)
    for private in ("tall last step", "260", "5.71", "fouls", "recorded"):
        assert private not in words, private


def test_sums_of_two_would_tell_what_one_did() -> None:
    view = squad_view(back(athletes=2), problem().block, DAY)
    assert not view.weeks and not view.units and "Sums are left out" in view.said[-1]


@pytest.mark.needs_pdf
def test_it_prints_without_overflow_and_the_same_bytes_again(tmp_path: Path) -> None:
    for name in ("a", "b"):
        report = print_look_back(back(), problem(), DAY, tmp_path / name, paper="A4")
        assert report.complete, report
        assert len(report.written) == 4
    own = next((tmp_path / "a").glob("look-back-signe*.html")).read_text(encoding="utf-8")
    assert "&lt;b&gt;film" in own and "<b>film" not in own and "Start the next block with:" in own
    for made in sorted((tmp_path / "a").iterdir()):
        assert made.read_bytes() == (tmp_path / "b" / made.name).read_bytes()
    named = print_look_back(back(), problem(), DAY, tmp_path / "c", names=("Nobody",))
    assert not named.complete and "Maybe one of" in str(named.not_written[0])
