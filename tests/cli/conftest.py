"""The commands, run as a coach runs them: in a process of their own."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEN_LINES = (ROOT / "examples" / "first-week" / "block.yaml").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Ran:
    """How a command ended, and what it said."""

    code: int
    out: str
    err: str

    @property
    def said(self) -> str:
        return self.out + self.err


def planner(*words: str, cwd: Path | None = None, env: dict[str, str] | None = None) -> Ran:
    """Run `planner` with these words."""
    code = "from planner.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), **(env or {})},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


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
