"""What is recorded at the track is a number to train by at once, from its own day on; nothing moves for it."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date
from pathlib import Path

from happened import command

ASTA = "Asta Brunnvik"


def lines(file: Path) -> dict[tuple[str, str, str], str]:
    """(date, slot, unit) -> its lines to train by, of one athlete."""
    found = json.loads(command("export", str(file), "--json").out)["placements"]
    return {(p["date"], p["slot"], p["unit"]): " | ".join(p["lines"]) for p in found if p["athlete"] == ASTA}


def test_a_new_result_is_a_mark_to_train_by_at_once(squad: Path, tmp_path: Path) -> None:
    shutil.copytree(squad, tmp_path / "own")
    file = tmp_path / "own" / "block.yaml"
    before = lines(file)
    told = command(
        "log", str(file), "result", f"athlete={ASTA}", "day=2027-03-08", "event=flying 20 m", "attempts=2.30 s",
        "--now", "2027-03-08 20:00",
    )  # fmt: skip
    assert told.code == 0 and "Nothing has to move for it" in told.text, told.text
    after = lines(file)
    assert before.keys() == after.keys(), "who does what on which day stays as it is"
    changed = {key for key, said in after.items() if said != before[key]}
    flying = {key for key in after if key[2] == "flying-sprints"}
    later = {key for key in flying if date.fromisoformat(key[0]) >= date(2027, 3, 8)}
    assert later and flying - later and changed & flying == later, "from its own day on"
    assert all(date.fromisoformat(key[0]) >= date(2027, 3, 8) for key in changed), "earlier days stay as they were"
    for key in later:
        assert "target: 97-100 % of own best" in before[key]
        assert re.search(r"20 m (in )?2\.\d\d-2\.\d\d s", after[key])


def test_the_printed_page_carries_it_and_says_when_it_changed(squad: Path, tmp_path: Path) -> None:
    shutil.copytree(squad, tmp_path / "own")
    file = tmp_path / "own" / "block.yaml"
    for kind, *words in (
        ("result", "event=flying 20 m", "attempts=2.30 s"),
        ("start-mark", "event=long jump", "steps=18", "start_mark=33.55 m"),
    ):
        given = (f"athlete={ASTA}", "day=2027-03-08", *words)
        said = command("log", str(file), kind, *given, "--now", "2027-03-08 20:00")
        assert said.code == 0, said.text
    out = tmp_path / "out"
    said = command("print", str(file), ASTA, "--sheets", str(out), "--now", "2027-03-08 21:00")
    assert said.code == 0, said.text
    page = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", (out / "athlete-asta-brunnvik-A4.html").read_text("utf-8")))
    first, second = page.split("8–14 Mar 2027", 1)
    assert "still-wind start mark 33.20" in first and "33.55" not in first
    assert "still-wind start mark 33.55" in second and re.search(r"20\sm (in )?2\.\d\d-2\.\d\d\ss", second)
    assert "last changed Mon 8 Mar 2027, 20:00" in page
