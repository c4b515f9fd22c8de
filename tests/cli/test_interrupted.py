"""Ctrl-C at every stage, a killed drawing process, no room, no memory: what is kept is said, and is whole."""

from __future__ import annotations

import errno
import importlib
import os
import resource
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from commands import ROOT, Ran, here

from planner.ledger import Ledger, damage
from planner.sheets import drawing, workers

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs signals of Unix")

NOW = "2027-02-27 09:00"
STAGES = (
    ("planner.intake", "read_block"),
    ("planner.solve.search", "write_rows"),
    ("planner.solve.one_piece", "_one_tier"),
    ("planner.ledger.store", "add_revision"),
    ("planner.sheets.drawing", "_draw"),
)


def before_every(module: str, name: str, first: Callable[[], None], patch: pytest.MonkeyPatch) -> list[int]:
    """Do something once, when a function is about to run; how often it ran."""
    home: Any = importlib.import_module(module)
    plain = getattr(home, name)
    calls: list[int] = []

    def doing(*args: Any, **how: Any) -> Any:
        calls.append(1)
        if len(calls) == 1:
            first()
        return plain(*args, **how)

    patch.setattr(home, name, doing)
    return calls


def press() -> None:
    os.kill(os.getpid(), signal.SIGINT)


def build(folder: Path, *more: object) -> Ran:
    return here("build", folder, "--now", NOW, "--budget", "quick", *more)


def sheets_are_whole(folder: Path) -> list[str]:
    """Names of the sheets; each is whole, and no scrap lies about."""
    found = sorted(p.name for p in (folder / "sheets").iterdir()) if (folder / "sheets").is_dir() else []
    for name in found:
        content = (folder / "sheets" / name).read_bytes()
        if name.endswith(".pdf"):
            assert content.startswith(b"%PDF") and content.rstrip().endswith(b"%%EOF")
        else:
            assert name.endswith(".html") and content.rstrip().endswith(b"</html>")
    return found


def revisions(folder: Path) -> list[int]:
    if not (folder / "block.ledger").is_file():
        return []
    assert damage(folder / "block.yaml") == ""
    with Ledger.open(folder / "block.yaml", create=False) as ledger:
        rows = ledger.history()
        assert all(row.placements for row in rows)
    return [row.revision.number for row in rows]


@pytest.mark.parametrize(("module", "name"), STAGES, ids=[s[1] for s in STAGES])
def test_ctrl_c_at_every_stage_of_a_build(
    block: Path, monkeypatch: pytest.MonkeyPatch, module: str, name: str
) -> None:
    """Once it is pressed the search ends; the best whole plan so far is recorded, and its sheets printed."""
    calls = before_every(module, name, press, monkeypatch)
    ran = build(block)
    assert ran.code == 130 and calls and "Interrupted" in ran.err and "bug" not in ran.err, ran.said
    assert revisions(block) == [1] and "revision 1 is recorded" in ran.err
    printed = sheets_are_whole(block)
    assert (len(printed) == 6) == (name != "_draw"), ran.said
    if name == "_draw":  # what is under way is finished, the rest is named
        assert len(printed) == 2 and "interrupted before it was drawn" in ran.out
    assert ("Stopped early" in ran.out) == (name not in ("add_revision", "_draw"))


@pytest.mark.parametrize(("module", "name"), [STAGES[0], STAGES[1], STAGES[-1]])
def test_pressed_twice_it_ends_at_once_and_says_what_is_kept(
    block: Path, monkeypatch: pytest.MonkeyPatch, module: str, name: str
) -> None:
    def twice() -> None:
        press()
        press()

    before_every(module, name, twice, monkeypatch)
    ran = build(block)
    assert ran.code == 130 and "Interrupted" in ran.err, ran.said
    there = revisions(block)
    assert there == ([1] if name == "_draw" else [])
    assert ("revision 1 is recorded" in ran.err) == bool(there)
    sheets_are_whole(block)


def test_interrupted_while_handing_out_and_re_planning(given: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        before_every("planner.sheets.drawing", "_draw", press, patch)
        ran = here("hand-out", given, "--now", "2027-02-28 10:00")
        assert ran.code == 130 and "Revision 1 is handed out" in ran.out, ran.said
    words = ("log", given, "ill", "athlete=Ada Lindmoor", "begins=2027-03-02", "fever=yes")
    assert here(*words, "--now", "2027-03-02 08:00").code == 0
    with monkeypatch.context() as patch:
        before_every("planner.solve.search", "first_plan", press, patch)
        ran = here("replan", given, "--now", "2027-03-02 09:00")
    assert ran.code == 130 and "nothing new is recorded, revision 1 stands" in ran.err, ran.said
    assert revisions(given) == [1]


def test_with_two_drawing_processes_nobody_is_left(block: Path) -> None:
    """The whole group hears Ctrl-C, as at a terminal; the second process is deaf to it and ends with the first."""
    code = (
        "import os, signal\n"
        "import planner.sheets.drawing as d\n"
        "d.MANY = 1\n"
        "plain = d._draw\n"
        "def draw(*a):\n"
        "    d._draw = plain\n"
        "    os.killpg(0, signal.SIGINT)\n"
        "    return plain(*a)\n"
        "d._draw = draw\n"
        "from planner.cli import main; main()"
    )
    child = subprocess.Popen(
        [sys.executable, "-c", code, "build", str(block), "--now", NOW, "--at-most", "0"],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True, start_new_session=True,
    )  # fmt: skip
    out, err = child.communicate(timeout=120)
    assert child.returncode == 130 and err.count("Interrupted") == 1 and "Traceback" not in err, out + err
    sheets_are_whole(block)
    for _ in range(200):
        if not group_is_there(child.pid):
            return
        signal.sigtimedwait([], 0.05)
    pytest.fail("a process is left behind")


def group_is_there(group: int) -> bool:
    try:
        os.killpg(group, 0)
    except ProcessLookupError:
        return False
    return True


def test_a_drawing_process_killed_from_outside_changes_nothing(
    block: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(drawing, "MANY", 1)
    plain = workers.Worker.__init__
    seen: list[int] = []

    def started(worker: Any, *given: Any) -> None:
        plain(worker, *given)
        seen.append(worker._process.pid)
        os.kill(worker._process.pid, signal.SIGKILL)

    monkeypatch.setattr(workers.Worker, "__init__", started)
    ran = build(block, "--at-most", "0")
    assert ran.code in (0, 5) and "6 sheets" in ran.out, ran.said
    assert len(sheets_are_whole(block)) == 6 and len(seen) == 1
    with pytest.raises(ProcessLookupError):
        os.kill(seen[0], 0)


# --- a squad so large that processes look for a better plan side by side -----------------------------------------

LARGE_STAGES = (
    ("planner.solve.search", "Workers"),
    ("planner.solve.search", "first_plan"),
    ("planner.solve.search", "Bounding"),
    ("planner.solve.search", "Parts"),
    ("planner.solve.search", "kinds_of_parts"),
    ("planner.solve.parts", "take_if_better"),
)


@pytest.fixture
def pair(block: Path) -> Path:
    """The ten-line block with a second athlete: two people's weeks can be solved side by side."""
    second = "  - name: Bo Feldring\n    events: long jump\n    level: developing\n    take_off_leg: right\n"
    with (block / "block.yaml").open("a", encoding="utf-8") as file:
        file.write(second)
    return block


@pytest.fixture
def every_squad_is_large(monkeypatch: pytest.MonkeyPatch) -> None:
    """The ten-line block goes the way of thirty athletes, with two processes."""
    monkeypatch.setattr("planner.solve.search.ONE_PIECE", 1)
    monkeypatch.setattr("planner.solve.search.usual_number", lambda: 2)


@pytest.mark.usefixtures("every_squad_is_large")
@pytest.mark.parametrize(("module", "name"), LARGE_STAGES, ids=[s[1] for s in LARGE_STAGES])
def test_ctrl_c_while_processes_look_for_a_better_plan(
    pair: Path, monkeypatch: pytest.MonkeyPatch, module: str, name: str
) -> None:
    calls = before_every(module, name, press, monkeypatch)
    ran = build(pair)
    assert ran.code == 130 and calls and "Interrupted" in ran.err and "bug" not in ran.err, ran.said
    assert revisions(pair) == [1] and "revision 1 is recorded" in ran.err and "Stopped early" in ran.out


LARGE = (
    "import os, signal\n"
    "import planner.solve.search as s, planner.solve.workers as w\n"
    "s.ONE_PIECE = 1\n"
    "s.usual_number = lambda: 2\n"
    "plain = w._Worker.ask\n"
    "asked = []\n"
    "def ask(worker, *a):\n"
    "    os.write(1, b'\\nprocess %d\\n' % worker.process_id)\n"  # in one piece: threads ask side by side
    "    asked.append(1)\n"
    "    {then}\n"
    "    return plain(worker, *a)\n"
    "w._Worker.ask = ask\n"
    "from planner.cli import main; main()"
)


def large_build(folder: Path, then: str) -> tuple[subprocess.CompletedProcess[str], set[int]]:
    """A build in processes of its own, in which something happens before each question; and the processes."""
    done = subprocess.run(
        [sys.executable, "-c", LARGE.format(then=then), "build", str(folder), "--now", NOW, "--budget", "quick"],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
        start_new_session=True, timeout=300,
    )  # fmt: skip
    lines = [line.split() for line in done.stdout.splitlines()]
    return done, {int(words[1]) for words in lines if words[:1] == ["process"]}


def test_a_solving_process_killed_from_outside_changes_no_plan(pair: Path, tmp_path: Path) -> None:
    """It is said once a process, in a sentence; the plan is that of an undisturbed run."""
    calm = tmp_path / "calm"
    calm.mkdir()
    (calm / "block.yaml").write_bytes((pair / "block.yaml").read_bytes())
    plain, _ = large_build(calm, "pass")
    killed, gone = large_build(pair, "os.kill(worker.process_id, signal.SIGKILL)")
    assert plain.returncode in (0, 5) and "outside" not in plain.stderr, plain
    assert killed.returncode in (0, 5) and len(gone) == 2, killed
    assert killed.stderr.count("ended from outside. The plan is the same") == 2, killed.stderr
    assert "Traceback" not in killed.stderr and revisions(pair) == [1]
    assert plan_of(pair) == plan_of(calm)


def plan_of(folder: Path) -> list[tuple[object, ...]]:
    from planner.known import planned

    return [p.key for p in planned(folder / "block.yaml")[1].outcome.plan.placements]


def test_ctrl_c_leaves_no_solving_process_behind(pair: Path) -> None:
    """The whole group hears it, as at a terminal; those that solve are deaf to it and are ended."""
    done, begun = large_build(pair, "if len(asked) == 1: os.killpg(0, signal.SIGINT)")
    assert done.returncode == 130 and begun and "Traceback" not in done.stderr, done
    assert "Interrupted" in done.stderr and revisions(pair) == [1]
    for process in begun:
        with pytest.raises(ProcessLookupError):
            os.kill(process, 0)


# --- no time, no room, no memory -------------------------------------------------------------------------------


def test_no_time_at_all_gives_the_first_whole_plan(block: Path) -> None:
    ran = build(block, "--at-most", "0")
    assert ran.code in (0, 5) and "Stopped early" in ran.out and "Every must is kept" in ran.out, ran.said
    assert revisions(block) == [1]


@pytest.mark.parametrize(
    "words", [("--budget", "0"), ("--at-most", "-1"), ("--at-most", "nan"), ("--at-most", "soon")]
)
def test_a_budget_that_is_none(block: Path, words: tuple[str, str]) -> None:
    ran = here("build", block, "--now", NOW, *words)
    assert ran.code == 2 and words[0] in ran.err and "Maybe" in ran.err, ran.said
    assert revisions(block) == []


def test_out_of_memory_while_looking_further_keeps_the_plan_in_hand(
    block: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before_every("planner.solve.one_piece", "Written", no_memory, monkeypatch)
    ran = build(block)
    assert ran.code in (0, 5) and "Stopped early" in ran.out and revisions(block) == [1], ran.said


def test_out_of_memory_before_there_is_a_plan(block: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before_every("planner.solve.search", "write_rows", no_memory, monkeypatch)
    ran = build(block)
    assert ran.code == 5 and "not enough memory" in ran.err and "Maybe" in ran.err, ran.said
    assert revisions(block) == []


def no_memory() -> None:
    raise MemoryError


def test_a_full_disk_for_the_sheets_leaves_the_plan_recorded(
    block: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*args: object, **how: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("planner.sheets.press.tempfile.mkstemp", full)
    ran = build(block, "--at-most", "0")
    assert ran.code == 5 and "No space left" in ran.out and "Maybe free some space" in ran.out, ran.said
    assert revisions(block) == [1] and sheets_are_whole(block) == []


def test_no_file_may_grow(block: Path) -> None:
    """A disk that takes a few kilobytes and no more, for the ledger, the sheets and all that is temporary."""

    def few() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))

    done = subprocess.run(
        [sys.executable, "-c", "from planner.cli import main; main()", "build", str(block), "--now", NOW,
         "--at-most", "0"],
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True, check=False,
        preexec_fn=few,
    )  # fmt: skip
    said = " ".join(done.stderr.split())
    assert done.returncode == 5 and "othing was recorded" in said and "Maybe" in said, done
    assert "Traceback" not in done.stderr
    sheets_are_whole(block)
    ran = build(block, "--at-most", "0")
    assert ran.code in (0, 5) and revisions(block) == [1], ran.said
