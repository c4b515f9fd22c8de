"""Words that must not stand anywhere: promises nobody can keep, and codes nobody can say aloud."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
SPOKEN = ("README.md", "DEVELOPERS.md", "planner", "templates", "examples")
# Words a sheet must not promise; 'proved best' is allowed, 'optimal' is not.
PROMISES = re.compile(r"\b(guaranteed|injury-proof|prevents injuries)\b", re.IGNORECASE)


def texts() -> list[tuple[Path, str]]:
    found = []
    for name in SPOKEN:
        top = ROOT / name
        files = [top] if top.is_file() else sorted(top.rglob("*"))
        for file in files:
            if file.suffix in (".py", ".md", ".toml", ".yaml", ".html", ".css", ".sql") and file.is_file():
                found.append((file, file.read_text(encoding="utf-8")))
    return found


def test_nothing_is_promised_that_nobody_can_keep() -> None:
    wrong = [(f.name, m.group()) for f, text in texts() for m in PROMISES.finditer(text)]
    assert not wrong, wrong


def test_no_codes_nobody_can_say_aloud() -> None:
    code = re.compile(r"\bR\d\d\b|\b(?:LJ|TJ|CE)-[AN]\b|\b(?:lj|tj|hj)_(?:short|mid|full)\b")
    wrong = [(f.name, m.group()) for f, text in texts() for m in code.finditer(text)]
    assert not wrong, wrong
