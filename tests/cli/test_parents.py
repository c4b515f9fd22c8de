"""The sheet for parents is printed when a plan is handed out, and again when something changes for the child."""

from __future__ import annotations

import re
from pathlib import Path

from commands import TEN_LINES, here, planner

CHILD = "  - name: Ada Lindmoor\n    born: 2011-05-01\n"


def words(folder: Path) -> str:
    html = (folder / "sheets" / "parents-ada-lindmoor-A4.html").read_text(encoding="utf-8")
    text = re.sub(r"<style>.*?</style>|<[^>]+>", " ", html, flags=re.DOTALL)
    return " ".join(text.replace("\u00a0", " ").split())


def test_it_comes_with_the_hand_out_and_again_with_a_change(tmp_path: Path) -> None:
    text = TEN_LINES.replace("  - name: Ada Lindmoor\n", CHILD)
    text = text.replace("  name: First week\n", "  name: First week\n  adults_present: 1\n")
    (tmp_path / "block.yaml").write_text(text, encoding="utf-8")
    built = planner("build", str(tmp_path), "--budget", "quick", "--now", "2027-02-27 09:00")
    assert built.code in (0, 5), built.said
    assert not list((tmp_path / "sheets").glob("parents-*")), "a draft is nothing for a kitchen wall"
    given = here("hand-out", tmp_path, "--now", "2027-02-27 10:00")
    assert given.code in (0, 5), given.said
    before = words(tmp_path)
    assert "Draft" not in before and re.search(r"Thu 4 Mar 17:\d\d", before), before
    told = here("log", tmp_path, "ill", "athlete=Ada Lindmoor", "begins=2027-03-04", "ends=2027-03-04",
                "fever=yes", "--now", "2027-03-04 08:00")  # fmt: skip
    assert told.code == 0, told.said
    again = here("replan", tmp_path, "--now", "2027-03-04 08:05")
    assert again.code in (0, 5), again.said
    after = words(tmp_path)
    assert not re.search(r"Thu 4 Mar 17:\d\d", after) and "Revision 2" in after
    assert not re.search(r"\b(ill|illness|fever)\b", after.lower())
