"""A handed-out Easter block, planned once; each test tells what happened to a copy of it."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from happened import Happens, command, copied
from planned_examples import EXAMPLES, SETTINGS, planned
from three_weeks import three_weeks
from week import Week, at, not_printed

from planner import flow, reissue
from planner.domain.plan import Placement, Plan
from planner.flow import Result
from planner.ledger import Ledger
from planner.sheets.report import PrintReport

Also = Callable[[Placement], bool]


@pytest.fixture(scope="session")
def handed_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the planned and handed-out block; the plan is that of the examples' own tests."""
    folder = tmp_path_factory.mktemp("easter")
    given_out(folder, "easter-block", "2027-03-20 10:00")
    return folder


def given_out(folder: Path, name: str, when: str, also: Also | None = None) -> None:
    """A shipped example in this folder, its plan recorded and handed out; nothing is printed.

    `also` picks candidates that the coach put into the plan by hand.
    """
    file = folder / "block.yaml"
    shutil.copyfile(EXAMPLES / name / "block.yaml", file)
    problem, outcome, _ = planned(name)
    if also is not None:
        by_hand = (*outcome.plan.placements, *(p for p in problem.candidates if also(p)))
        outcome = replace(outcome, plan=replace(outcome.plan, placements=Plan.of(by_hand).placements))
    with Ledger.open(file, create=True) as ledger:
        made = flow.record(ledger, None, problem, outcome, SETTINGS)
        ledger.hand_out(made.revision.number, at(when).now(problem.block.time_zone))


@pytest.fixture
def week(handed_out: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Week:
    monkeypatch.setattr(flow, "publish", not_printed)
    shutil.copytree(handed_out, tmp_path / "own")
    return Week(tmp_path / "own")


SQUAD = Path(__file__).parent / "squad.yaml"


def _nothing_written(file: Path, ledger: object, result: Result, *rest: object, **more: object) -> Result:
    """Paper has tests of its own: a report of no sheets."""
    return replace(result, report=PrintReport())


def unprinted(patch: pytest.MonkeyPatch) -> None:
    """The commands print no sheets and no notice."""
    patch.setattr(flow, "publish", _nothing_written)
    patch.setattr(reissue, "with_notice", lambda file, result, *rest: result)


def made(example: Path, folder: Path, before: str, given: str) -> Path:
    """A folder with a block built and handed out by the commands; nothing is printed."""
    shutil.copyfile(example, folder / "block.yaml")
    with pytest.MonkeyPatch.context() as patch:
        unprinted(patch)
        built = command("build", str(folder), "--budget", "quick", "--now", before)
        assert built.code == 0, built.text
        given_out = command("hand-out", str(folder), "--now", given)
        assert given_out.code == 0, given_out.text
    return folder


@pytest.fixture(scope="session")
def squad(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four athletes, three weeks: planned once for all scenarios."""
    return made(SQUAD, tmp_path_factory.mktemp("squad"), "2027-02-26 09:00", "2027-02-26 10:00")


@pytest.fixture
def happens(squad: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Happens:
    unprinted(monkeypatch)
    return copied(squad, tmp_path)


@pytest.fixture(scope="session")
def three_given(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the three weeks of tests/replan/three_weeks.py, handed out."""
    return three_weeks(tmp_path_factory.mktemp("three-weeks")).parent


@pytest.fixture
def three(three_given: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Week:
    monkeypatch.setattr(flow, "publish", not_printed)
    shutil.copytree(three_given, tmp_path / "own")
    return Week(tmp_path / "own")


@pytest.fixture(scope="session")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two athletes, four weeks, a main competition at the end of the third."""
    example = SQUAD.with_name("season.yaml")
    return made(example, tmp_path_factory.mktemp("season"), "2027-02-26 09:00", "2027-02-26 10:00")


@pytest.fixture
def towards(season: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Happens:
    unprinted(monkeypatch)
    return copied(season, tmp_path)


@pytest.fixture
def easter(handed_out: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Happens:
    """The Easter block, told and planned anew through the commands."""
    unprinted(monkeypatch)
    return copied(handed_out, tmp_path)


@pytest.fixture
def demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Happens]:
    """A shipped example, handed out: the plan is that of the examples' own tests."""
    unprinted(monkeypatch)

    def handed(name: str, also: Also | None = None) -> Happens:
        folder = tmp_path / name
        folder.mkdir()
        given_out(folder, name, "2027-01-05 09:00", also)
        return Happens(folder)

    return handed
