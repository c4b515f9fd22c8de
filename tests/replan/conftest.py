"""A handed-out Easter block, planned once; each test tells what happened to a copy of it."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from planner import flow
from planner.cli.facts import fact_from
from planner.flow import Result, Settings
from planner.replan import Replanned, replan, tell

EXAMPLE = Path(__file__).parents[2] / "examples" / "easter-block" / "block.yaml"


def at(text: str) -> Settings:
    """Settings of a command given at this moment in the block's zone."""
    moment = datetime.fromisoformat(text)
    return Settings(lambda zone: moment.replace(tzinfo=ZoneInfo(zone)), budget="quick")


@pytest.fixture(scope="session")
def handed_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the planned and handed-out block; nothing is printed."""
    folder = tmp_path_factory.mktemp("easter")
    shutil.copyfile(EXAMPLE, folder / "block.yaml")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flow, "publish", _not_printed)
        flow.build(folder / "block.yaml", at("2027-03-20 09:00"))
        flow.hand_out(folder / "block.yaml", at("2027-03-20 10:00"))
    return folder


def _not_printed(file: Path, ledger: object, result: Result, *rest: object, **more: object) -> Result:
    """Paper has tests of its own."""
    return result


class Week:
    """The block of one test: facts are told to it, then it is planned anew."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "block.yaml"
        self.before = flow.planned(self.file)[1].placements

    def tell(self, when: str, kind: str, *words: str) -> None:
        settings = at(when)
        fact = fact_from(kind, list(words), settings.now("Europe/London"))
        tell(self.file, [fact], settings)

    def replan(self, when: str) -> Replanned:
        return replan(self.file, at(when))


@pytest.fixture
def week(handed_out: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Week:
    monkeypatch.setattr(flow, "publish", _not_printed)
    shutil.copytree(handed_out, tmp_path / "own")
    return Week(tmp_path / "own")
