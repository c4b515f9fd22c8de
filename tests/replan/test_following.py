"""The next block's file: what was done comes over, nothing is promoted, nothing is overwritten."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from three_weeks import ADA, BLOCK, IVO, three_weeks
from week import Week, at

from planner import known
from planner.cli.back_words import back_lines
from planner.domain.errors import Told
from planner.domain.plan import Placement
from planner.domain.shoe import Shoe
from planner.following import following, next_block
from planner.intake import check_block, write_new, write_next
from planner.looking_back import look_back

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/block.yaml"))
OVER = "2027-03-22 09:00"


@pytest.fixture(scope="module")
def done(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three weeks that are over: results, a hurt knee, a moved start mark, a session missed, a meeting to come."""
    folder = tmp_path_factory.mktemp("done")
    file = three_weeks(folder)
    rows = (
        "marks:\n  - {athlete: Ada Lindmoor, event: long jump, mark: 5.60 m, date: 2026-07-04}\n"
        "  - {athlete: Ivo Marsten, event: 100 m, mark: 11.60 s, date: 2026-07-04}\n"
        "run_ups:\n  - {athlete: Ada Lindmoor, event: long jump, steps: 16, start_mark: 30.40 m, shoe: 25.5 cm}\n"
        "limits:\n  - {athlete: Ivo Marsten, region: hamstring, side: left, stage: 5, from: 2027-03-01}\n"
        "before:\n  - {athlete: Ada Lindmoor, week: 2027-02-22, fast_metres: 200}\n"
    )
    file.write_text(f"# About the old weeks only.\n{BLOCK}{rows}", encoding="utf-8")
    week = Week(folder)
    tell = week.tell
    tell("2027-03-14 18:00", "result", f"athlete={ADA}", "day=2027-03-14", "event=long jump",
         "competition=Spring meeting", "attempts=5.71 m +0.8;foul;5.66 m")  # fmt: skip
    tell("2027-03-15 18:00", "result", f"athlete={ADA}", "day=2027-03-15", "event=long jump", "steps=8",
         "attempts=5.80 m")  # fmt: skip
    tell("2027-03-15 18:10", "result", f"athlete={IVO}", "day=2027-03-15", "event=100 m", "attempts=11.84 s")
    tell("2027-03-15 18:20", "result", f"athlete={IVO}", "day=2027-03-15", "event=100 m", "attempts=11.49 s +2.4")
    tell("2027-03-15 19:00", "start-mark", f"athlete={ADA}", "day=2027-03-15", "event=long jump", "steps=16",
         "start_mark=30.65 m")  # fmt: skip
    tell("2027-03-16 19:00", "hurt", f"athlete={ADA}", "day=2027-03-16", "region=knee", "side=right", "stage=3",
         "entered_by=coach", "note=after the meeting")  # fmt: skip
    tell("2027-03-16 19:10", "stage-changed", f"athlete={IVO}", "day=2027-03-16", "region=hamstring", "side=left",
         "stage=6", "entered_by=clinician")  # fmt: skip
    tell("2027-03-20 19:00", "competition-added", "name=April cup", "first_day=2027-04-10",
         "last_day=2027-04-10", f"athletes={ADA};{IVO}", "importance=main")  # fmt: skip
    for p in week.before:
        if p.athlete == IVO and p.day == date(2027, 3, 20):
            tell("2027-03-20 20:00", "done", f"athlete={IVO}", f"day={p.day}", f"slot={p.slot}",
                 f"unit={p.unit.id}", f"word={p.dose.word}", "remark=missed")  # fmt: skip
    return file


def test_what_was_done_comes_over_and_nothing_is_promoted(done: Path, tmp_path: Path) -> None:
    shutil.copytree(done.parent, tmp_path / "old")
    written, made = next_block(tmp_path / "old" / "block.yaml", tmp_path / "new", at(OVER))
    text = written.read_text(encoding="utf-8")
    block, _ = check_block(written)
    assert (block.begins, block.ends) == (date(2027, 3, 22), date(2027, 4, 11))
    assert block.previous == "../old/block.yaml" and "About the old weeks" not in text
    best = {(m.athlete, m.event): m.value for m in sorted(block.marks, key=lambda m: m.value)}
    assert best[ADA, "long jump"] == 571, "grown by a jump from the full run-up"
    assert best[ADA, "long jump 8 steps"] == 580, "a short run-up is an event of its own"
    assert best[IVO, "100 m"] == 1160, "no slower run takes the place of a mark"
    (run_up,) = block.run_ups
    assert (run_up.start_mark, run_up.shoe) == (3065, 255)
    limits = {(x.athlete, x.region, x.side): x.stage for x in block.limits}
    assert limits == {(ADA, "knee", "right"): 3}, "as last entered; what a person cleared is over"
    assert {(c.name, c.athlete) for c in block.competitions} == {("April cup", ADA), ("April cup", IVO)}
    assert not block.before
    said = " ".join(made.remarks)
    for needed in ("5.71 m", "30.65 m", "knee, right goes on at stage 3", "April cup"):
        assert needed in said and needed in " ".join(text.replace("#", " ").split()), needed


def test_a_wind_aided_mark_is_said_and_is_no_best(done: Path, tmp_path: Path) -> None:
    """+2.4 is above 2.0 m/s: World Athletics, Competition Rules, rule 31; Technical Rules 17 and 29."""
    remarks = following(done, tmp_path, at(OVER)).remarks
    said = "11.49 s, wind +2.4: wind-aided, not counted as a best"
    (remark,) = [r for r in remarks if "wind-aided" in r]
    assert remark == f"Ivo Marsten: 100 m on 2027-03-15, {said}; 11.60 s stays the best."
    _, back = look_back(done, at(OVER))
    (ivo,) = [o for o in back.own if o.athlete == IVO]
    assert ivo.aided == (f"100 m: {said}",)
    assert [(m.before and m.before.value, m.after.value) for m in ivo.marks] == [(1160, 1184)]
    assert said in " ".join(" ".join(back_lines(back, back.own, squad=False)).split())


def test_each_shoe_keeps_its_mark_in_the_next_file(tmp_path: Path) -> None:
    """Still air, 20 cm past the board in flats on two days: 30.05 becomes 30.25 m; spikes stay at 30.40 m."""
    file = three_weeks(tmp_path)
    row = "  - {athlete: Ada Lindmoor, event: long jump, steps: 16, date: 2027-02-20, "
    rows = f"{row}start_mark: 30.40 m, shoe: spikes 25.5 cm}}\n{row}start_mark: 30.05 m, shoe: flats 26.3 cm}}\n"
    file.write_text(f"{BLOCK}run_ups:\n{rows}", encoding="utf-8")
    for day in ("2027-03-01", "2027-03-04"):
        Week(tmp_path).tell(f"{day} 20:00", "run-up-readings", f"athlete={ADA}", f"day={day}", "event=long jump",
                            "runs=19 wind=0;20 wind=0;21 wind=0", "shoe=flats")  # fmt: skip
    written, made = next_block(file, tmp_path / "new", at(OVER))
    found = {r.worn: r.start_mark for r in check_block(written)[0].run_ups}
    assert found == {Shoe("spikes", 255): 3040, Shoe("flats", 263): 3025}
    (said,) = [r for r in made.remarks if "starts at" in r]
    assert "starts at 30.25 m in flats in still wind now; before: 30.05 m" in said


def test_the_new_block_looks_back_on_what_was_done_not_on_what_was_planned(done: Path, tmp_path: Path) -> None:
    shutil.copytree(done.parent, tmp_path / "old")
    written, _ = next_block(tmp_path / "old" / "block.yaml", tmp_path / "new", at(OVER))
    problem = known.understand(written)

    def on(who: str, day: date) -> list[Placement]:
        return [p for p in problem.history if p.athlete == who and p.day == day]

    assert on(IVO, date(2027, 3, 17)) and not on(IVO, date(2027, 3, 20)), "what was missed was not done"
    assert all(problem.weeks[name][0].reference_known for name in (ADA, IVO))


def test_nothing_is_overwritten_and_a_block_without_a_plan_is_refused(done: Path, tmp_path: Path) -> None:
    (tmp_path / "block.yaml").write_text("mine", encoding="utf-8")
    with pytest.raises(Told, match="already"):
        next_block(done, tmp_path, at(OVER))
    assert (tmp_path / "block.yaml").read_text(encoding="utf-8") == "mine"
    empty = tmp_path / "unplanned" / "block.yaml"
    empty.parent.mkdir()
    empty.write_text(BLOCK, encoding="utf-8")
    with pytest.raises(known.NothingPlanned):
        next_block(empty, tmp_path / "never", at(OVER))
    assert not (tmp_path / "never").exists()


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda p: p.parent.name)
def test_the_file_after_every_example_reads_clean(example: Path, tmp_path: Path) -> None:
    """Camps with dated slots, own week starts, several venues: the next file passes the same check."""
    made = following(example, tmp_path, at("2027-09-01 09:00"))
    block, unusual = check_block(write_next(tmp_path, example, made))
    old, _ = check_block(example)
    assert not [str(w) for w in unusual if "meets no slot" in str(w)]
    assert [a.name for a in block.athletes] == [a.name for a in old.athletes]
    assert block.begins > old.ends and block.begins.weekday() == block.week_start
    assert {s.rule for s in block.settings if not s.is_exception} == {
        s.rule for s in old.settings if not s.is_exception
    }


def test_a_workbook_is_followed_by_a_yaml_file(tmp_path: Path) -> None:
    book = write_new(tmp_path / "book", like=EXAMPLES[0].parent.parent / "juniors" / "block.yaml", workbook=True)
    made = following(book, tmp_path / "next", at("2027-09-01 09:00"))
    block, _ = check_block(write_next(tmp_path / "next", book, made))
    assert len(block.athletes) == len(check_block(book)[0].athletes)
