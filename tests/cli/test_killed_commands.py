"""Commands killed at random moments, half of them inside a write: nothing that was said to be recorded is lost.

50 kills in the usual run; PLANNER_KILLS=500 for more.
"""

from __future__ import annotations

import json
import os
import random
import re
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from commands import ROOT, planner

from planner.domain.facts import Fact
from planner.ledger import Ledger, damage

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork and SIGKILL")

KILLS = int(os.environ.get("PLANNER_KILLS", "50"))
NAME = "Ada Lindmoor"
# What the same command says when the one that was killed had ended its work: '' for those that may do it twice.
ALREADY = {"log": "", "day": "beside", "restore": "", "forget": "no row names"}
DAYS = tuple(f"2027-03-0{n}" for n in range(1, 8))
# A block so small that planning it takes a moment: what is killed is the recording, not the thinking.
BLOCK = """block: {name: Small, from: 2027-03-01, until: 2027-03-07}
slots:
  - {days: Mon-Sun, name: training, from: "17:00", until: "19:00"}
athletes:
  - {name: Ada Lindmoor, events: long jump, level: developing, take_off_leg: left}
"""


class Server:
    """The warm process; see `fork_server`."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, str(Path(__file__).with_name("fork_server.py"))],
            env={**os.environ, "PYTHONPATH": str(ROOT)}, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
        )  # fmt: skip
        assert self.process.stdout is not None
        assert self.process.stdout.readline() == "ready\n"

    def run(self, **order: Any) -> dict[str, Any]:
        assert self.process.stdin is not None and self.process.stdout is not None
        self.process.stdin.write(json.dumps(order) + "\n")
        self.process.stdin.flush()
        found: dict[str, Any] = json.loads(self.process.stdout.readline())
        return found

    def end(self) -> None:
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.process.wait(30)


@pytest.fixture(scope="module")
def server() -> Iterator[Server]:
    made = Server()
    yield made
    made.end()


@dataclass(frozen=True)
class State:
    """What a reader sees: every revision whole, what was handed out, every fact."""

    revisions: tuple[tuple[Any, ...], ...] = ()
    handed_out: tuple[Any, ...] = ()
    facts: tuple[Fact, ...] = ()


@dataclass
class Folder:
    """One block folder, and what of it was ever confirmed on screen."""

    path: Path
    said: list[str] = field(default_factory=list)

    @property
    def block(self) -> Path:
        return self.path / "block.yaml"

    def state(self) -> State:
        if not self.block.with_suffix(".ledger").is_file():
            return State()
        with Ledger.open(self.block, create=True) as ledger:  # also an empty file, of a first command killed
            rows = ledger.history()
            revisions = [
                (r.revision.number, r.revision.made_at, r.placements, r.findings, ledger.inputs(r.revision.number))
                for r in rows
            ]
            state = State(tuple(revisions), ledger.handed_out(), ledger.facts(include_undone=True))
        assert damage(self.block) == ""  # every revision still has the sum it was sealed with
        return state


def command(folder: Folder, kind: str, chance: random.Random, turn: int) -> list[str]:
    """The words of one command of this kind, possible in the folder as it is."""
    now = ("--now", f"2027-03-{8 + turn // 600:02d} {turn // 60 % 10 + 10}:{turn % 60:02d}")
    of_kind: dict[str, tuple[str, ...]] = {
        "build": ("--budget", "quick"),
        "log": ("weather", f"day={chance.choice(DAYS)}", f"wind={chance.randrange(1, 90) / 10}"),
        "day": (chance.choice(DAYS),),
        "forget": (NAME, "--sure"),
        "restore": ("1",),
    }
    return [kind, str(folder.path), *of_kind.get(kind, ()), *now]


def confirmed(said: str, state: State) -> None:
    """Whatever the screen said before the kill is in the ledger."""
    for number in re.findall(r"Recorded as fact (\d+)[.:]", said):
        assert int(number) in [f.id for f in state.facts]
    for count in re.findall(r"Recorded (\d+) units", said):
        assert len([f for f in state.facts if f.kind == "done"]) >= int(count)
    for number in re.findall(r"[Rr]evision (\d+) is recorded|Revision (\d+): |Revision (\d+) is revision", said):
        assert int(next(filter(None, number))) in [r[0] for r in state.revisions]
    for number in re.findall(r"Revision (\d+) is handed out", said):
        assert int(number) in [h.revision for h in state.handed_out]
    if "no longer knows the name" in said:
        assert NAME not in repr(state)


def grown(before: State, after: State) -> None:
    """All that was there is there, unchanged, and at most one write more."""
    assert after.revisions[: len(before.revisions)] == before.revisions
    assert after.handed_out[: len(before.handed_out)] == before.handed_out
    assert after.facts[: len(before.facts)] == before.facts
    more = (len(after.revisions) - len(before.revisions), len(after.handed_out) - len(before.handed_out))
    assert sum(more) <= 1 and (len(after.facts) == len(before.facts) or more == (0, 0))


def forgotten(before: State, after: State, ledger: Path) -> None:
    """A person is forgotten whole or not at all; what was trained and handed out is there either way."""
    assert [r[:3] for r in after.revisions] == [r[:3] for r in before.revisions]
    assert after.handed_out == before.handed_out and len(after.facts) == len(before.facts)
    if after != before:
        assert NAME.encode() not in ledger.read_bytes() and NAME not in repr(after)


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The block, planned and handed out."""
    folder = tmp_path_factory.mktemp("template")
    (folder / "block.yaml").write_text(BLOCK, encoding="utf-8")
    for words in (("build", "--budget", "quick"), ("hand-out",)):
        ran = planner(words[0], str(folder), *words[1:], "--now", "2027-02-27 09:00")
        assert ran.code in (0, 5), ran.said
    shutil.rmtree(folder / "sheets")
    return folder


def test_no_command_killed_at_any_moment_loses_what_it_confirmed(
    server: Server, template: Path, tmp_path: Path
) -> None:
    chance = random.Random(KILLS)
    kinds = ("log", "day", "replan", "hand-out", "restore", "forget", "build")
    usual: dict[str, tuple[int, float]] = {}  # statements and seconds of a command that nobody killed
    killed: Counter[str] = Counter()
    inside = turn = 0
    folder = Folder(tmp_path / "0")
    while killed.total() < KILLS:
        kind = kinds[turn % len(kinds)]
        if kind in ("log", "build"):  # a fresh start each round; a build begins from nothing
            folder = Folder(tmp_path / str(turn))
            shutil.copytree(template, folder.path)
            if kind == "build":
                folder.block.with_suffix(".ledger").unlink()
        words = command(folder, kind, chance, turn)
        said = folder.path / "said"
        order: dict[str, Any] = {"words": words, "to": str(said)}
        before = folder.state()
        if kind in usual:
            statements, seconds = usual[kind]
            within = statements > 0 and chance.random() < 0.75
            order.update({"statement": chance.randint(1, statements)} if within
                         else {"after": chance.uniform(0.0, seconds)})  # fmt: skip
        ended = server.run(**order)
        text = said.read_text(encoding="utf-8") if said.is_file() else ""
        assert "our bug" not in text and "Traceback" not in text, text
        after = folder.state()
        if not ended["killed"]:
            assert ended["code"] in (0, 2, 5), text
            usual.setdefault(kind, (ended["statements"], ended["seconds"]))
        else:
            killed[kind] += 1
            inside += "statement" in order
            if kind == "forget":
                forgotten(before, after, folder.block.with_suffix(".ledger"))
            else:
                grown(before, after)
        confirmed(text, after)
        if ended["killed"] and kind in ALREADY:  # the next command runs
            again = server.run(words=words, to=str(said))
            text = said.read_text(encoding="utf-8")
            assert again["code"] == 0 or (ALREADY[kind] and ALREADY[kind] in text), text
            confirmed(text, folder.state())
        turn += 1
    assert inside * 2 >= KILLS and set(killed) == set(kinds), (inside, killed)
