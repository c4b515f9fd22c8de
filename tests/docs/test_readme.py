"""The README keeps its word: its commands run, its file is the shipped one, its table is the real one."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
CODE = "from planner.cli import main; main()"


def planner(*words: str) -> str:
    run = [sys.executable, "-c", CODE, *words]
    done = subprocess.run(run, capture_output=True, text=True, check=False, cwd=ROOT, timeout=300)
    assert done.returncode in (0, 5), done.stdout + done.stderr
    return done.stdout


def test_it_opens_with_the_job() -> None:
    paragraphs = README.split("\n\n")
    assert paragraphs[0].startswith("# ") and paragraphs[1].startswith("A track-and-field coach")


def test_the_ten_lines_are_the_shipped_example() -> None:
    shown = re.search(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert shown is not None
    shipped = (ROOT / "examples" / "first-week" / "block.yaml").read_text(encoding="utf-8")
    kept = [line for line in shipped.splitlines() if not line.startswith("#")]
    assert shown.group(1).split() == "\n".join(kept).split()


def test_the_table_is_what_show_says(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    planner("demo", str(folder), "--example", "first-week", "--now", "2027-02-27 09:00")
    shown = re.search(r"```text\n(.*?)```", README, re.DOTALL)
    assert shown is not None
    out = planner("show", str(folder), "--athlete", "Ada Lindmoor")
    assert shown.group(1).strip() == out.strip()


def test_every_command_of_the_program_stands_in_it() -> None:
    from planner.cli.app import app

    for command in app.registered_commands:
        assert f"`planner {command.name}" in README, command.name


def test_every_picture_is_there() -> None:
    for path in re.findall(r"!\[[^\]]*\]\(([^)]+)\)", README):
        assert (ROOT / path).is_file(), path


def test_the_two_commands_are_made_of_what_the_project_has() -> None:
    """They are run as they stand by .ci/run in fresh environments; here their parts are checked."""
    commands = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
    assert len(commands) == 2
    assert "planner demo" in commands[0] and "pytest" in commands[1] and "'.[test]'" in commands[1]
