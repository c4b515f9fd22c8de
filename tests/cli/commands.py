"""The commands, run as a coach runs them: in a process of their own."""

from __future__ import annotations

import io
import os
import re
import signal
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEN_LINES = (ROOT / "examples" / "first-week" / "block.yaml").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Ran:
    """How a command ended, and what it said; `written` is its error as it was written, in lines of 80 columns."""

    code: int
    out: str
    written: str

    @property
    def err(self) -> str:
        """The sentences of the error, each whole again."""
        return re.sub(r"\n +", " ", self.written)

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


def here(*words: object) -> Ran:
    """Run `planner` with these words in this very process: quick, for commands that only read and record."""
    from planner.cli import main

    out, err, code = io.StringIO(), io.StringIO(), 0
    before = signal.getsignal(signal.SIGINT)
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.setattr(sys, "argv", ["planner", *map(str, words)])
        try:
            main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
        finally:
            signal.signal(signal.SIGINT, before)
    return Ran(code, out.getvalue(), err.getvalue())
