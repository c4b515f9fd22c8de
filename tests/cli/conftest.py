"""Blocks for the commands to work on, built once."""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from commands import TEN_LINES, planner


@pytest.fixture
def block(tmp_path: Path) -> Path:
    """A folder with the ten-line block file."""
    (tmp_path / "block.yaml").write_text(TEN_LINES, encoding="utf-8")
    return tmp_path


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The ten-line block, built once; tests that only look share it."""
    folder = tmp_path_factory.mktemp("built")
    (folder / "block.yaml").write_text(TEN_LINES, encoding="utf-8")
    ran = planner("build", str(folder), "--now", "2027-02-27 09:00", "--budget", "quick")
    assert ran.code in (0, 5), ran.said  # 5: this machine lacks the PDF engine's library
    return folder


@pytest.fixture
def given(built: Path, tmp_path: Path) -> Path:
    """A copy of the built block, handed out; without its sheets."""
    for name in ("block.yaml", "block.ledger"):
        shutil.copyfile(built / name, tmp_path / name)
    from planner.ledger import Ledger

    with Ledger.open(tmp_path / "block.yaml", create=False) as ledger:
        ledger.hand_out(1, datetime(2027, 2, 27, 10, tzinfo=ZoneInfo("UTC")))
    return tmp_path
