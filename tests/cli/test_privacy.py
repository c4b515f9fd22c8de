"""A word planted in every private field is found in nothing that somebody else may read."""

from __future__ import annotations

import dataclasses
import typing
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from commands import here

from planner.domain.attempt import Attempt
from planner.domain.facts import AUDIENCES, FACTS, Done, Fact, Forgotten, Undone
from planner.ledger import Ledger
from planner.review.changes import reasons

ADA = "Ada Lindmoor"
AT = datetime(2027, 3, 2, 8, tzinfo=ZoneInfo("UTC"))
DAY = date(2027, 3, 2)
PRIVATE = ("coach", "athlete")
# Fields of text whose words are those of the block or the body; all other texts are somebody's own words.
FIXED: dict[str, str] = {
    "athlete": ADA, "slot": "training", "unit": "mobility", "word": "full", "remark": "as planned",
    "region": "hamstring", "side": "left", "venue": "v", "place": "p", "place_kind": "", "name": "Meet",
    "event": "long jump", "competition": "", "leg": "left", "importance": "supporting", "wind_from": "",
}  # fmt: skip


def audience(kind: type[Fact], field: str) -> str:
    hint = typing.get_type_hints(kind, include_extras=True)[field]
    said = getattr(hint, "__metadata__", ())
    assert len(said) == 1 and said[0] in AUDIENCES, f"{kind.__name__}.{field} does not say who may read it"
    return str(said[0])


@pytest.mark.parametrize("kind", FACTS.values(), ids=list(FACTS))
def test_every_field_of_every_fact_says_who_may_read_it(kind: type[Fact]) -> None:
    for field in dataclasses.fields(kind):
        audience(kind, field.name)
    assert kind.kind_audience in AUDIENCES


def planted(kind: type[Fact]) -> tuple[Fact, dict[str, str]]:
    """A fact of this kind, and the words planted in it: word -> who may read it."""
    hints = typing.get_type_hints(kind)
    values: dict[str, Any] = {}
    words: dict[str, str] = {}
    for field in dataclasses.fields(kind):
        hint = hints[field.name]
        needed = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
        if field.name in FIXED and (needed or field.name in ("side", "unit")):
            values[field.name] = FIXED[field.name]
        elif hint is str and field.name not in FIXED:
            word = f"zq{kind.__name__}{field.name}".lower().replace("_", "")
            values[field.name], words[word] = word, audience(kind, field.name)
        elif needed:
            values[field.name] = _some(hint, field.name)
    if kind.kind == "result":
        values["attempts"] = (Attempt("mark", 561),)
    return kind(**values), words


def _some(hint: Any, name: str) -> Any:
    if hint is date:
        return DAY
    if hint is datetime:
        return AT if name == "recorded_at" else AT.replace(tzinfo=None)
    if hint is int:
        return 3
    return ()


def facts() -> tuple[list[Fact], dict[str, str]]:
    made: list[Fact] = []
    words: dict[str, str] = {}
    for kind in FACTS.values():
        if kind not in (Undone, Forgotten) and not kind.kind.startswith(("competition", "venue")):
            fact, own = planted(kind)
            made.append(fact)
            words |= own
    return made, words


@pytest.fixture
def told(given: Path) -> tuple[Path, dict[str, str]]:
    """Every kind of fact of Ada's with its planted words, recorded before anything is printed."""
    made, words = facts()
    done = [f for f in made if isinstance(f, Done)]
    with Ledger.open(given / "block.yaml", create=False) as ledger:
        ledger.record_facts([f for f in made if f not in done] + done)
    assert len(words) >= 15 and set(words.values()) >= {"coach", "athlete"}
    return given, words


def outputs(folder: Path) -> dict[str, str]:
    """Name of an output -> its text, what is said of it included; PDFs with their metadata and bytes."""
    import pypdf

    found: dict[str, str] = {}
    for words in (
        ("replan", folder, "--now", "2027-03-02 09:00"),
        ("print", folder),
        ("show", folder),
        ("show", folder, "--athlete", ADA),
        ("export", folder, "--csv"),
        ("export", folder, "--json"),
        ("history", folder),
        ("check", folder),
        ("review", folder),
    ):
        ran = here(*words)
        assert ran.code in (0, 4, 5), ran.said
        found[" ".join(map(str, words))] = ran.said
    for path in sorted((folder / "sheets").iterdir()):
        text = path.name
        if path.suffix == ".pdf":
            reader = pypdf.PdfReader(path)
            text += str(reader.metadata) + "".join(page.extract_text() for page in reader.pages)
        else:
            text += path.read_text(encoding="utf-8")
        found[path.name] = text
    return found


def test_planted_words_reach_nobody_else(told: tuple[Path, dict[str, str]]) -> None:
    folder, words = told
    found = outputs(folder)
    assert any(name.startswith("squad-board-A4") for name in found)
    for name, text in found.items():
        flat = text.casefold().replace("\n", "").replace("-", "")
        own = name.startswith("athlete-") or "--athlete" in name
        for word, who in words.items():
            if who in PRIVATE and not (own and who == "athlete"):
                assert word not in flat, f"{word} (for the {who}) stands in {name}"


def test_sheets_for_the_squad_name_no_region_of_the_body(told: tuple[Path, dict[str, str]]) -> None:
    folder, _ = told
    for name, text in outputs(folder).items():
        if name.startswith(("squad-board-A4", "squad-board-Letter", "change-notice")):
            for word in ("hamstring", "fever", "other leg"):
                assert word not in text.casefold(), f"{word} stands in {name}"


def test_the_change_notice_says_no_private_kind() -> None:
    made, _ = facts()
    private = {f.kind for f in made if f.kind_audience in PRIVATE}
    assert {"ill", "hurt", "other leg"} <= private
    said = " ".join(reasons(made)).casefold()
    for kind in private - {"lighter day asked", "done"}:
        assert kind not in said, kind
    assert "own work" in said and "zq" not in said
