"""Write what `planner show` says of the ten-line example into the README anew.

    python tests/bench/readme.py
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

README = Path(__file__).parents[2] / "README.md"
CODE = "from planner.cli import main; main()"


def planner(*words: str) -> str:
    """What a command prints."""
    run = [sys.executable, "-c", CODE, *words]
    return subprocess.run(run, check=True, capture_output=True, text=True, cwd=README.parent).stdout


def main() -> None:
    """Plan the example into a temporary folder and put the result between the marks."""
    with tempfile.TemporaryDirectory() as name:
        planner("demo", name + "/demo", "--example", "first-week", "--now", "2027-02-27 09:00")
        shown = planner("show", name + "/demo", "--athlete", "Ada Lindmoor")
    text = README.read_text(encoding="utf-8")
    text = re.sub(r"```text\n.*?```", lambda _: f"```text\n{shown}```", text, flags=re.DOTALL)
    README.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
