"""A word planted in every private column of the block file is found in nothing that somebody else may read.

Columns are those of the tables' own models: a new column of free words fails here until somebody says who may
read it.
"""

from __future__ import annotations

import json
import re

import pypdf
import pytest
from commands import here, planner

from planner.intake import fields
from planner.intake.tables import TABLES, columns, kind_of

ADA, BO = "Ada Lindmoor", "Bo Carrow"
# Columns of free words that everybody may read: names of things, and texts of units that stand on every page.
OPEN = {
    "block": ("squad", "time_zone", "previous", "contact"),
    "fixed": ("amount",),
    "wishes": ("amount",),
    "units": (
        "name", "short", "purpose", "measure", "limits_note", "lighter_text", "stop_rule", "recovery", "target",
        "shoes", "source",
    ),
}  # fmt: skip
PLANTED = {  # table, column -> the word, and who may read it beside the coach
    ("limits", "note"): ("zqlimitsnote", ""),
    ("exceptions", "reason"): ("zqexceptionsreason", ""),
    ("themes", "aim"): ("zqthemesaim", ADA),
    ("themes", "measure"): ("zqthemesmeasure", ADA),
    ("competitions", "gap_accepted"): ("zqcompetitionsgap", ""),
}
# Private columns whose values are no free words, by what would be read of them.
TELLING = {
    "limits.region": ("shin",),
    "limits.contacts_a_week": ("137",),
    "limits.speed_percent": ("93 %", "93%"),
    "limits.stage": ("return stage",),
    "athletes.born": ("2005-11-17", "17 nov 2005", "november 2005"),
    "athletes.other_sport": ("other sport",),
}
BLOCK = f"""block: {{name: Small, from: 2027-03-01, until: 2027-03-07}}
slots:
  - {{days: Mon-Thu, name: training, from: "17:00", until: "19:30"}}
athletes:
  - {{name: {ADA}, born: 2005-11-17, events: long jump, level: developing, take_off_leg: left, training_years: 6,
     other_sport: {{Wed: 1.5}}}}
  - {{name: {BO}, events: long jump, level: developing, take_off_leg: right}}
run_ups:
  - {{athlete: {ADA}, event: long jump, steps: 16, start_mark: 29.10 m}}
  - {{athlete: {BO}, event: long jump, steps: 16, start_mark: 28.40 m}}
competitions:
  - {{name: Harbour meeting, date: 2027-03-07, importance: supporting, starts: long jump 14:00,
     gap_accepted: zqcompetitionsgap is mine}}
limits:
  - {{athlete: {ADA}, region: shin, side: right, stage: 5, contacts_a_week: 137, speed_percent: 93,
     note: zqlimitsnote of mine}}
  - {{athlete: {ADA}, kind: hold back, stage: 4, from: 2027-03-03, until: 2027-03-03, note: zqlimitsnote again}}
themes:
  - {{athlete: {ADA}, aim: zqthemesaim in short, measure: zqthemesmeasure in film}}
exceptions:
  - {{rule: day_after_competition, athlete: {ADA}, from: 2027-03-02, until: 2027-03-03, off: yes,
     reason: zqexceptionsreason is mine}}
"""
SQUADS = ("squad-board-A4", "measuring", "change-notice", "look-back-squad")  # sheets that several people see
OF_THE_COACH = ("squad-board-coachs-own-copy", "session")


def test_every_column_of_free_words_says_who_may_read_it() -> None:
    free = {(t, c) for t in TABLES for c in columns(t) if kind_of(t, c) is fields.TEXT}
    assert free == {(t, c) for t, cs in OPEN.items() for c in cs} | set(PLANTED)


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Name of an output -> its words: everything a block gives, before and after Ada misses a day."""
    folder = tmp_path_factory.mktemp("private")
    (folder / "block.yaml").write_text(BLOCK, encoding="utf-8")
    found: dict[str, str] = {}
    ran = planner("build", str(folder), "--budget", "quick", "--now", "2027-02-27 09:00")
    assert ran.code == 0, ran.said
    for words in (
        ("hand-out", folder, "--now", "2027-02-27 10:00"),
        ("log", folder, "hurt", f"athlete={ADA}", "day=2027-03-01", "region=hamstring", "side=left", "stage=2",
         "entered_by=Holm", "--now", "2027-03-01 21:00"),
        ("replan", folder, "--now", "2027-03-01 22:00"),
        ("print", folder, "--now", "2027-03-01 22:10"),
        ("print", folder, "look-back", "--now", "2027-03-04 09:00"),
        ("show", folder),
        ("show", folder, "--athlete", BO),
        ("export", folder, "--csv"),
        ("export", folder, "--json"),
        ("history", folder),
    ):  # fmt: skip
        ran = here(*words)
        assert ran.code == 0, ran.said
        found[f"screen {' '.join(map(str, (words[0], *words[2:])))}"] = _flat(ran.said)
    for path in sorted((folder / "sheets").iterdir()):
        if path.suffix == ".pdf":
            reader = pypdf.PdfReader(path)
            text = str(reader.metadata) + " ".join(page.extract_text() for page in reader.pages)
        else:  # fonts and drawings stand in it as long words without sense
            text = re.sub(r"data:[^\"')]*", "", path.read_text(encoding="utf-8"))
        found[path.name] = _flat(f"{path.name} {text}")
    return found


def _flat(text: str) -> str:
    return " ".join(text.casefold().split())


def _may_read(output: str) -> set[str]:
    """Who reads an output: the coach alone, one athlete, or ('squad') anybody."""
    if output.startswith((*OF_THE_COACH, "screen replan")) or "--json" in output:
        return {"coach"}
    own = re.match(r"(?:athlete|run-up|look-back|competition-[\d-]+-harbour-meeting)-(ada|bo)-", output)
    return {ADA if own[1] == "ada" else BO} if own else {"squad"}


def test_every_kind_of_output_is_looked_at(printed: dict[str, str]) -> None:
    for kind in (*SQUADS, *OF_THE_COACH, "athlete-ada", "athlete-bo", "run-up-bo", "competition", "look-back-bo"):
        assert any(name.startswith(kind) for name in printed), kind
    for kind in SQUADS:
        assert all(_may_read(name) == {"squad"} for name in printed if name.startswith(kind))


@pytest.mark.parametrize(("column", "planted"), PLANTED.items(), ids=[".".join(c) for c in PLANTED])
def test_a_planted_word_reaches_nobody_else(
    printed: dict[str, str], column: tuple[str, str], planted: tuple[str, str]
) -> None:
    word, owner = planted
    for name, text in printed.items():
        if not _may_read(name) & {"coach", owner}:
            assert word not in text.replace("-", ""), f"{'.'.join(column)} stands in {name}"


@pytest.mark.parametrize(("column", "words"), TELLING.items(), ids=list(TELLING))
def test_what_a_body_may_take_is_told_to_the_coach_and_to_its_owner(
    printed: dict[str, str], column: str, words: tuple[str, ...]
) -> None:
    for name, text in printed.items():
        for word in words:
            if not _may_read(name) & {"coach", ADA}:
                assert not re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text), f"{column} stands in {name}"


def test_the_words_are_there_for_those_who_may_read_them(printed: dict[str, str]) -> None:
    """Else the tests above would pass on empty pages."""
    coachs = " ".join(t for n, t in printed.items() if n.startswith(OF_THE_COACH))
    own = " ".join(t for n, t in printed.items() if _may_read(n) == {ADA})
    assert "zqexceptionsreason" in coachs and "shin" in coachs
    assert "zqthemesaim" in own and "shin" in own and "137" in own
    document = next(t for n, t in printed.items() if n.endswith("--json"))
    assert "zqexceptionsreason" in document and json.loads(document)["block"]["name"] == "small"


def test_messages_and_the_notice_say_no_region(printed: dict[str, str]) -> None:
    said = [t for n, t in printed.items() if n.startswith(SQUADS)]
    screen = next(t for n, t in printed.items() if n.startswith("screen replan"))
    messages = re.findall(r"- ada, your plan changes\..*?(?:the rest stays\.|new page\.)", screen)
    assert len(messages) == 1 and len(said) > len(SQUADS)
    said += messages
    for text in said:
        assert not any(word in text for word in ("hamstring", "shin", "holm", "hurt", "injur")), text[:200]
