"""The change notice: what moved, for whom, what did not; no cause, and no markup of anybody's."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from planner.domain.facts import Done, Ill, PersonAway, VenueClosed
from planner.domain.revision import Revision
from planner.review.changes import Change, reasons
from planner.rules._tiny import World, problem
from planner.sheets import print_notice

WHEN = datetime(2027, 3, 25, 8, tzinfo=UTC)
CHANGES = (
    Change("Ada", date(2027, 3, 2), "long accelerations, 200 metres", "", "left out"),
    Change("Ada", date(2027, 3, 4), "flying sprints, 80 metres", "Fri 5 Mar (evening)", "moved"),
    Change("<script>alert(1)</script>", date(2027, 3, 4), "<b>x</b>", "easy run, 20 minutes", "swapped"),
)


def printed(folder: Path, why: tuple[str, ...] = ()) -> str:
    made, revision = problem(World(("mobility",))), Revision(2, WHEN, "", replaces=1)
    report = print_notice(CHANGES, ("Bo",), why, made, revision, folder)
    assert not report.overflow
    return next(folder.glob("*.html")).read_text(encoding="utf-8")


def test_it_says_what_moved_and_for_whom_nothing_did(tmp_path: Path) -> None:
    text = printed(tmp_path)
    said = ("Long accelerations, 200 metres", "left out", "Fri 5 Mar (evening)", "Replaces revision 1", "Bo")
    for needed in said:
        assert needed in text, needed
    assert "<script>alert" not in text and "<b>x</b>" not in text


def test_reasons_are_shared_words_and_never_a_cause(tmp_path: Path) -> None:
    facts = (
        Ill(recorded_at=WHEN, athlete="Ada", begins=WHEN.date(), fever=True, note="zzprivatezz"),
        VenueClosed(recorded_at=WHEN, venue="track", place="pit", begins=WHEN, ends=WHEN, note="zzprivatezz"),
    )
    why = reasons(facts)
    assert why == ("Ada: away", "pit: closed")
    text = printed(tmp_path, why).lower()
    assert "zzprivatezz" not in text and "fever" not in text and "illness" not in text


def test_what_came_of_a_day_is_no_reason_the_squad_reads() -> None:
    facts = (
        Done(recorded_at=WHEN, athlete="Ada", day=WHEN.date(), slot="evening", unit="mobility", remark="missed"),
        PersonAway(recorded_at=WHEN, name="Coach Kit", begins=WHEN, ends=WHEN),
        VenueClosed(recorded_at=WHEN, venue="track", begins=WHEN, ends=WHEN),
    )
    assert reasons(facts) == ("Coach Kit: away", "track: closed")


@pytest.mark.needs_pdf
def test_the_same_changes_give_the_same_bytes(tmp_path: Path) -> None:
    for name in ("a", "b"):
        printed(tmp_path / name)
    one, other = (next((tmp_path / n).glob("*.pdf")).read_bytes() for n in ("a", "b"))
    assert one == other and one.startswith(b"%PDF")
