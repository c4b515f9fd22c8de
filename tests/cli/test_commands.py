"""Every command, from a coach's file to paper, and how each ending is said."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from commands import ROOT, TEN_LINES, planner

from planner.cli.app import app
from planner.known import understand

NOW = ("--now", "2027-02-27 09:00")


def test_every_command_has_help_with_an_example() -> None:
    for command in app.registered_commands:
        text = command.callback.__doc__ if command.callback else None
        assert text and "Example: planner " in text, command.name


def test_help_names_every_command() -> None:
    ran = planner("--help")
    assert ran.code == 0
    for command in app.registered_commands:
        assert str(command.name) in ran.out


def test_check_says_what_was_assumed(block: Path) -> None:
    ran = planner("check", str(block))
    assert ran.code == 0 and "No mistakes found" in ran.out
    assert "one coach for everything" in ran.out
    assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_check_for_a_program(block: Path) -> None:
    ran = planner("check", str(block), "--json")
    found = json.loads(ran.out)
    assert found["athletes"] == 1 and found["assumptions"]


def test_all_mistakes_of_a_file_at_once(block: Path) -> None:
    text = TEN_LINES.replace("level: developing", "level: expert").replace("events:", "evnts:")
    (block / "block.yaml").write_text(text + "    return_stage: 7\n", encoding="utf-8")
    ran = planner("check", str(block))
    assert ran.code == 2 and "Traceback" not in ran.said
    assert "events" in ran.err and "expert" in ran.err and "return_stage" in ran.err
    assert ran.err.count("Maybe") >= 2 and "line 12" in ran.err
    assert max(map(len, ran.written.splitlines())) <= 80
    assert all(line.startswith("block.yaml, line ") for line in ran.err.splitlines()), "a line for each mistake"


def test_build_records_and_prints(built: Path) -> None:
    assert (built / "block.ledger").is_file()
    assert list((built / "sheets").glob("athlete-*.html"))
    ran = planner("history", str(built))
    assert ran.code == 0 and "Sat 27 Feb 2027 09:00" in ran.out and "findings" not in ran.out


def test_the_same_build_twice_makes_no_new_revision(built: Path) -> None:
    ran = planner("build", str(built), *NOW, "--budget", "quick")
    assert ran.code in (0, 5) and "stands unchanged" in ran.out
    assert len(planner("history", str(built)).out.splitlines()) == 1


def test_show_keeps_to_eighty_columns(built: Path) -> None:
    for words in ((), ("--athlete", "Ada Lindmoor"), ("--day", "2027-03-01")):
        ran = planner("show", str(built), *words)
        assert ran.code == 0 and ran.out.strip()
        assert max(len(line) for line in ran.out.splitlines()) <= 80, ran.out


def test_the_season_at_a_glance_needs_no_plan(block: Path) -> None:
    meet = "competitions:\n  - {name: Games, date: 2027-03-06, athletes: all, importance: main}\n"
    (block / "block.yaml").write_text(TEN_LINES + meet, encoding="utf-8")
    ran = planner("show", str(block), "--season")
    assert ran.code == 0, ran.said
    assert "Ada Lindmoor (weeks: taper 1)" in ran.out
    assert "Mon 1 Mar" in ran.out and "Games (main) Sat 6 Mar" in " ".join(ran.out.split())
    assert max(len(line) for line in ran.out.splitlines()) <= 80
    found = json.loads(planner("show", str(block), "--season", "--json").out)
    (week,) = found["weeks"]["Ada Lindmoor"]
    assert (week["phase"], week["first"], week["competitions"][0]["name"]) == ("taper", "2027-03-01", "Games")


def test_dates_of_the_season_stand_clear_of_the_words() -> None:
    folder = str(ROOT / "examples" / "indoor-to-outdoor")
    ran = planner("show", folder, "--season", "--athlete", "Tobin Estray")
    assert "  Mon 15 Mar general preparation: loading week, 100 % of the peak week" in ran.out
    assert "pre-competition 2, competition 4, taper 2" in ran.out and "Aveline" not in ran.out


def test_the_next_block_starts_from_the_earlier_ones_plan(built: Path) -> None:
    (built / "next").mkdir(exist_ok=True)
    text = TEN_LINES.replace("2027-03-01", "2027-03-08").replace("2027-03-07", "2027-03-14")
    (built / "next" / "block.yaml").write_text(
        text.replace("block:", "block:\n  previous: ../block.yaml", 1), encoding="utf-8"
    )
    earlier = understand(built / "block.yaml")
    problem = understand(built / "next" / "block.yaml")
    first, following = earlier.weeks["Ada Lindmoor"][0], problem.weeks["Ada Lindmoor"][0]
    assert (first.share, following.share) == (90, 100)  # the loading pattern goes on
    assert not first.reference_known and following.reference_known
    assert problem.history and {p.athlete for p in problem.history} == {"Ada Lindmoor"}


def test_two_files_that_name_each_other_are_read(block: Path) -> None:
    (block / "block.yaml").write_text(TEN_LINES.replace("block:", "block:\n  previous: other.yaml", 1))
    (block / "other.yaml").write_text(TEN_LINES.replace("block:", "block:\n  previous: block.yaml", 1))
    assert understand(block / "block.yaml").history == ()


def test_review_of_the_present_plan(built: Path) -> None:
    ran = planner("review", str(built))
    assert ran.code == 0 and "Musts: 0 found" in ran.out


def test_review_of_a_plan_somebody_wrote(built: Path, tmp_path: Path) -> None:
    table = tmp_path / "mine.csv"
    table.write_text(
        "athlete,date,slot,unit,amount\n"
        "Ada Lindmoor,2027-03-02,training,flying-sprints,full\n"
        "Ada Lindmoor,2027-03-03,training,flying-sprints,80 m\n",
        encoding="utf-8",
    )
    ran = planner("review", str(built), str(table))
    assert ran.code == 4 and "Wed 03 Mar is fast and so is Tue 02 Mar" in ran.out.replace("\n    ", " ")
    assert "not judged" in ran.out


def test_review_needs_no_solver(built: Path, tmp_path: Path) -> None:
    """A folder in front of the path that refuses to be imported as the solver."""
    (tmp_path / "ortools").mkdir()
    (tmp_path / "ortools" / "__init__.py").write_text("raise ImportError('no solver here')", encoding="utf-8")
    root = str(Path(__file__).parents[2])
    ran = planner("review", str(built), env={"PYTHONPATH": f"{tmp_path}{os.pathsep}{root}"})
    assert ran.code == 0, ran.said


def test_exports_round_trip(built: Path, tmp_path: Path) -> None:
    made = json.loads(planner("export", str(built), "--json").out)
    assert made["placements"] and made["status"]["word"] in ("proved", "best found")
    table = tmp_path / "plan.csv"
    assert planner("export", str(built), "--csv", "--to", str(table)).code == 0
    ran = planner("review", str(built), str(table))
    assert ran.code == 0, ran.out


def test_exports_are_the_same_bytes_under_another_hash_seed(tmp_path: Path) -> None:
    texts = []
    for seed in ("1", "77"):
        folder = tmp_path / seed
        folder.mkdir()
        (folder / "block.yaml").write_text(TEN_LINES, encoding="utf-8")
        env = {"PYTHONHASHSEED": seed}
        assert planner("build", str(folder), *NOW, "--budget", "quick", env=env).code in (0, 5)
        texts.append(planner("export", str(folder), "--json", env=env).out)
    assert texts[0] == texts[1] and len(texts[0]) > 1000


def test_hand_out_then_build_is_refused(built: Path, tmp_path: Path) -> None:
    folder = tmp_path / "given"
    shutil.copytree(built, folder)
    ran = planner("hand-out", str(folder), "--now", "2027-02-27 10:00")
    assert ran.code in (0, 5) and "is handed out" in ran.out
    page = next((folder / "sheets").glob("athlete-*.html")).read_text(encoding="utf-8")
    assert "Draft" not in page
    ran = planner("build", str(folder), *NOW)
    assert ran.code == 2 and "replan" in ran.err
    assert "handed out Sat 27 Feb 2027 10:00" in planner("history", str(folder)).out


@pytest.mark.parametrize(
    ("words", "code", "needle"),
    [
        (("check", "nowhere.yaml"), 2, "nowhere.yaml"),
        (("build", ".", "--now", "yesterday"), 2, "2027-03-22 08:00"),
        (("build", ".", "--budget", "huge"), 2, "quick, normal or long"),
        (("build", ".", "--at-most", "-3"), 2, "seconds"),
        (("print", ".", "--paper", "A9"), 2, "A4"),
        (("show", "."), 2, "planner build"),
        (("rules", "no_two_fast_day"), 2, "no_two_fast_days_running"),
        (("units", "flying-sprint"), 2, "flying-sprints"),
        (("demo", "x", "--example", "nothing"), 2, "easter-block"),
        (("nonsense",), 2, "--help"),
        ((), 0, "planner"),
    ],
)
def test_wrong_words_are_told(block: Path, words: tuple[str, ...], code: int, needle: str) -> None:
    ran = planner(*words, cwd=block)
    assert ran.code == code and needle in ran.said and "Traceback" not in ran.said, ran.said
    assert not (block / "block.ledger").exists(), "nothing may be recorded"


def test_the_books_open() -> None:
    assert "Haugen" in planner("rules", "no_two_fast_days_running").out.replace("\n", " ")
    assert "stop" in planner("units", "flying-sprints").out
    assert json.loads(planner("schema").out)["$schema"]
    assert len(json.loads(planner("rules", "--json").out)) > 30


def test_new_starts_a_folder_that_checks_clean(tmp_path: Path) -> None:
    for words in ((), ("--workbook",), ("--like", "juniors")):
        folder = tmp_path / f"n{len(words)}{words[-1:] == ('juniors',)}"
        assert planner("new", str(folder), *words).code == 0
        again = planner("new", str(folder), *words)
        assert again.code == 2 and "Maybe" in again.err
        ran = planner("check", str(folder))
        assert ran.code == 0, ran.said


@pytest.mark.skipif(os.geteuid() == 0 and shutil.which("setpriv") is None, reason="needs setpriv to be no root")
def test_a_folder_that_cannot_be_written(block: Path) -> None:
    """As root nothing is read-only, so that right is given up for the command."""
    block.chmod(0o555)
    caps = "-dac_override,-dac_read_search"
    as_anybody = ["setpriv", f"--bounding-set={caps}", f"--inh-caps={caps}"] if os.geteuid() == 0 else []
    code = "from planner.cli import main; main()"
    done = subprocess.run(
        [*as_anybody, sys.executable, "-c", code, "build", str(block), *NOW, "--budget", "quick"],
        capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    said = done.stdout + done.stderr
    assert done.returncode == 5 and "Maybe" in said and "Traceback" not in said, said
    assert not (block / "block.ledger").exists()
    block.chmod(0o755)


def test_a_full_disk_is_told_and_nothing_is_recorded(block: Path) -> None:
    """Writing fails as on a full disk: every file the command writes may hold no more than a few bytes."""
    limit = "import resource, signal; resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000)); "
    code = limit + "signal.signal(signal.SIGXFSZ, signal.SIG_IGN); from planner.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code, "build", str(block), *NOW, "--budget", "quick"],
        capture_output=True, text=True, check=False, timeout=120, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    said = done.stdout + done.stderr
    assert done.returncode == 5 and "Traceback" not in said, said
    assert "planned yet" in planner("show", str(block)).said or not (block / "block.ledger").exists()


def test_printing_a_plan_older_than_the_file_says_so(built: Path, tmp_path: Path) -> None:
    folder = tmp_path / "older"
    shutil.copytree(built, folder)
    assert "has changed since" not in planner("print", str(folder)).said
    (folder / "block.yaml").write_text(TEN_LINES.replace("First week", "Another week"), encoding="utf-8")
    assert "has changed since revision 1" in planner("print", str(folder)).said.replace("\n    ", " ")


def test_single_sheets_are_printed_by_kind_and_day(built: Path, tmp_path: Path) -> None:
    folder = tmp_path / "single"
    shutil.copytree(built, folder)
    shutil.rmtree(folder / "sheets", ignore_errors=True)
    done = planner("print", str(folder), "session", "2027-03-01", *NOW)
    assert done.code == 0, done.said
    names = sorted(p.name for p in (folder / "sheets").glob("*.html"))
    assert names == ["session-2027-03-01-training-A4.html"]
    page = (folder / "sheets" / names[0]).read_text(encoding="utf-8")
    assert "Coach stands at" in page and "No timetable" not in page
    done = planner("print", str(folder), "run-up", "Ada Lindmoor", *NOW)
    assert done.code == 0, done.said
    card = (folder / "sheets" / "run-up-ada-lindmoor-A4.html").read_text(encoding="utf-8")
    assert "First estimate, not measured" in card
    wrong = planner("print", str(folder), "sesion", *NOW)
    assert wrong.code == 5 and "Maybe one of" in wrong.said.replace("\n", " ")
