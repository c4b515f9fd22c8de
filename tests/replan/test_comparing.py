"""Two revisions side by side: only what differs, in the words of the change notice."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from happened import Said, command
from planned_examples import EXAMPLES, SETTINGS, planned

from planner import flow
from planner.domain.plan import Placement, Plan
from planner.ledger import Ledger
from planner.review.changes import changes
from planner.sheets.build_notice import notice_view
from planner.sheets.view_athlete import RevisionView

AVELINE, DARIO, MARIT = "Aveline Skarn", "Dario Penhallick", "Marit Okonvale"
EXAMPLE = "indoor-to-outdoor"


def of(placements: tuple[Placement, ...], athlete: str, number: int) -> Placement:
    return [p for p in placements if p.athlete == athlete][number]


@pytest.fixture(scope="module")
def spring(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Seventeen weeks in four revisions, changed by hand.

    Second: a unit of Dario's is gone. Third: one of Marit's begins half an hour later. Fourth: Dario's is back
    as it was, and two units of Aveline's are gone.
    """
    folder = tmp_path_factory.mktemp("spring")
    file = folder / "block.yaml"
    file.write_bytes((EXAMPLES / EXAMPLE / "block.yaml").read_bytes())
    problem, outcome, _ = planned(EXAMPLE)
    first = outcome.plan.placements
    gone, late = of(first, DARIO, 5), of(first, MARIT, 7)
    out = {of(first, AVELINE, 3).key, of(first, AVELINE, 40).key}
    later = replace(late, begins=late.begins + timedelta(minutes=30))
    second = tuple(p for p in first if p.key != gone.key)
    third = tuple(later if p.key == late.key else p for p in second)
    fourth = tuple(p for p in (*third, gone) if p.key not in out)
    with Ledger.open(file, create=True) as ledger:
        stands = None
        for placements in (first, second, third, fourth):
            made = replace(outcome, plan=replace(outcome.plan, placements=Plan.of(placements).placements))
            flow.record(ledger, stands, problem, made, SETTINGS)
            stands = ledger.current(problem.units)
    return folder


def show(folder: Path, *words: str) -> Said:
    return command("show", str(folder), *words)


def test_revision_four_beside_revision_one_shows_the_affected_rows_only(spring: Path) -> None:
    said = show(spring, "--revision", "4", "--against", "1")
    assert said.code == 0, said.text
    lines = said.text.splitlines()
    assert lines[0] == "Indoor to outdoor: revision 4 beside revision 1, 3 changes."
    named = [line for line in lines[1:] if line and not line.startswith(" ") and not line.startswith("Unchanged")]
    assert named == [AVELINE, MARIT], "an athlete is named once, and only who is affected"
    assert sum(line.startswith("    - ") for line in lines) == 3
    assert max(map(len, lines)) <= 80
    assert lines[-1].startswith("Unchanged: ") and DARIO in lines[-1], "taken out and put back is the same"


def test_the_same_rows_and_words_as_the_change_notice(spring: Path) -> None:
    told = json.loads(show(spring, "--against", "1", "--json").out)
    assert (told["revision"], told["against"]) == (4, 1)
    problem, outcome, _ = planned(EXAMPLE)
    first = outcome.plan.placements
    out = [of(first, AVELINE, 3), of(first, AVELINE, 40)]
    found = changes(out, ())
    mine = [c for c in told["changes"] if c["athlete"] == AVELINE]
    assert [(c["date"], c["was"], c["kind"]) for c in mine] == [(str(c.day), c.was, "left out") for c in found]
    notice = notice_view(found, (), (), problem, RevisionView(4, "", "", draft=False))
    text = " ".join(show(spring, "--against", "1", "--athlete", "Aveline").text.split())
    for row in notice.rows:
        assert row.when in text and f"{row.was[:1].lower()}{row.was[1:]} is {row.now}" in text


@pytest.mark.parametrize(
    ("numbers", "athletes"), [((2, 1), {DARIO}), ((3, 2), {MARIT}), ((4, 3), {DARIO, AVELINE}), ((1, 1), set())]
)
def test_any_two_revisions(spring: Path, numbers: tuple[int, int], athletes: set[str]) -> None:
    revision, against = map(str, numbers)
    told = json.loads(show(spring, "--revision", revision, "--against", against, "--json").out)
    assert {c["athlete"] for c in told["changes"]} == athletes
    assert not athletes & set(told["unchanged"]) and len(told["unchanged"]) == 5 - len(athletes)


def test_one_day_and_an_earlier_plan(spring: Path) -> None:
    _, outcome, _ = planned(EXAMPLE)
    gone = of(outcome.plan.placements, DARIO, 5)
    day = show(spring, "--revision", "2", "--against", "1", "--day", str(gone.day))
    assert "1 change." in day.text and gone.name.lower() in day.text
    none = show(spring, "--revision", "2", "--against", "1", "--day", str(gone.day + timedelta(1)))
    assert "0 changes." in none.text
    had, has = (json.loads(show(spring, "--revision", n, "--json").out) for n in ("1", "2"))
    assert len(had) == len(has) + 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--against", "9"), "there is no revision 9; it has 1 to 4"),
        (("--revision", "9", "--against", "1"), "there is no revision 9"),
        (("--against", "1", "--season"), "--season, --back, --against: found more than one"),
        (("--against", "1", "--athlete", "Zed"), "--athlete: found 'Zed'"),
    ],
)
def test_what_is_not_there_is_said(spring: Path, words: tuple[str, ...], said: str) -> None:
    ran = show(spring, *words)
    assert ran.code == 2 and said in ran.text and "Maybe" in ran.text
