"""What comes after a day that went wrong, and after a block: options, the look back, the next block's file."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

from commands import planner


def test_options_are_shown_and_taken_the_block_is_looked_back_on_and_the_next_one_begins(
    built: Path, tmp_path: Path
) -> None:
    old = tmp_path / "old"
    shutil.copytree(built, old)
    assert planner("hand-out", str(old), "--now", "2027-02-27 10:00").code in (0, 5)
    shown = json.loads(planner("show", str(old), "--json").out)
    for p in (p for p in shown if p["day"] == "2027-03-01"):
        words = [f"{key}={p[key]}" for key in ("athlete", "day", "slot", "unit")]
        told = planner("log", str(old), "done", *words, f"word={p['dose']['word']}", "remark=missed",
                       "--now", "2027-03-01 20:00")  # fmt: skip
        assert told.code == 0, told.said
    ways = planner("replan", str(old), "--options", "--json", "--now", "2027-03-01 20:10")
    found = json.loads(ways.out)["options"]
    assert found[0]["number"] == 1 and found[0]["sentence"].endswith(".")
    assert json.loads(planner("history", str(old), "--json").out)[-1]["revision"] == 1, "looking records nothing"
    taken = planner("replan", str(old), "--option", str(len(found)), "--json", "--now", "2027-03-01 20:20")
    assert taken.code in (0, 5) and json.loads(taken.out)["changes"] == found[-1]["changes"]
    many = planner("replan", str(old), "--option", "9", "--now", "2027-03-01 20:30")
    assert many.code == 2 and "--options" in many.err

    back = planner("show", str(old), "--back", "--now", "2027-03-08 09:00")
    assert back.code == 0 and "effort x min" in back.out and max(map(len, back.out.splitlines())) <= 80
    data = json.loads(planner("show", str(old), "--back", "--json", "--now", "2027-03-08 09:00").out)
    (own,) = data["athletes"]
    assert own["weeks"][0]["done"] < own["weeks"][0]["planned"]
    paper = planner("print", str(old), "look-back", "--now", "2027-03-08 09:00")
    assert paper.code in (0, 5) and list((old / "sheets").glob("look-back-ada-lindmoor-*.html"))
    early = planner("show", str(old), "--back", "--now", "2027-03-01 09:00")
    assert early.code == 2 and "Maybe wait" in early.err

    new = tmp_path / "new"
    made = planner("next", str(old), str(new), "--now", "2027-03-08 09:00")
    assert made.code == 0 and "2027-03-08 to 2027-03-14" in made.out
    assert planner("check", str(new)).code == 0
    again = planner("next", str(old), str(new), "--now", "2027-03-08 09:00")
    assert again.code == 2 and "already" in again.err
