"""The printed sheets, read back: text, pages, sizes, tags, letters, attacks, faults."""

from __future__ import annotations

import builtins
import errno
import re
import tempfile
from dataclasses import replace
from datetime import timedelta
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from planner.catalogue import units
from planner.domain.finding import Finding
from planner.domain.revision import Revision
from planner.sheets import BOARD, PrintReport, print_sheets
from planner.sheets.paper import LABEL_PT
from tests.sheets import world

A4, LETTER, A3 = (210.0, 297.0), (215.9, 279.4), (297.0, 420.0)
PT_PER_MM = 72 / 25.4


def printed(folder: Path, *names: str, paper: str = "A4", **more: Any) -> PrintReport:
    return print_sheets(world.outcome(), world.problem(), world.REVISION, folder, paper=paper, names=names, **more)


def thin(folder: Path, *names: str, revision: Revision = world.REVISION, **more: Any) -> PrintReport:
    """A print of the first three days only, for what does not need a fortnight."""
    out, problem = world.thin(world.outcome(), world.problem())
    return print_sheets(out, problem, revision, folder, names=names, **more)


def pdf(report: PrintReport, which: int = 0) -> Any:
    from pypdf import PdfReader

    return PdfReader([p for p in report.written if p.suffix == ".pdf"][which])


def text_of(reader: Any) -> str:
    return " ".join("\n".join(page.extract_text() for page in reader.pages).split())


def words_in(path: Path) -> str:
    """The words of an HTML sheet, without style and markup."""
    html = re.sub(r"<style>.*?</style>", "", path.read_text(encoding="utf-8"), flags=re.S)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.fixture(scope="module")
def signe(tmp_path_factory: pytest.TempPathFactory) -> PrintReport:
    return printed(tmp_path_factory.mktemp("signe"), world.S)


@pytest.fixture(scope="module")
def boards(tmp_path_factory: pytest.TempPathFactory) -> PrintReport:
    return printed(tmp_path_factory.mktemp("boards"), BOARD, remarks=("Tuva: a third jump day; the pit is shut",))


@pytest.mark.needs_pdf
def test_an_athlete_page_says_everything_needed_at_the_track(signe: PrintReport) -> None:
    assert signe.complete and not signe.warnings and not signe.overflow
    text = text_of(pdf(signe))
    for needed in (
        "Signe Brattlien",
        "Long jump and 100 m",
        "1 of 2",
        "5–11 Apr 2027",
        "Specific preparation",
        "Revision 3, last changed Sat 3 Apr 2027, 18:40",
        "Replaces revision 2",
        "Draft",
        "Long jumps from the full run-up",
        "6 jumps",
        "4-6 min",
        "jumping spikes",
        "2 failures in a row",
        "4 full run-ups, 3 pop-ups",
        "Warm-up 25 min with running drills, then run-up starts 4",
        "17:00",
        "North pit, Solbakken",
        "Marit Lo",
        "with Ragna",
        "18:30 Gym, Solbakken hall Pål Vinje",
        "8 sets 2 lifts: 4 × 4, 4 × 4",
        "a weight that leaves 2-3 repetitions",
        "Tests that would give the missing numbers:",
        "planned load (effort × minutes)",
        "Hold the last two steps quick and flat.",
        "start mark within 15 cm",
        "Rest. Sleep, eat, walk",
        "Fjordby spring meeting long jump; supporting competition",
        "Next: Fjordby spring meeting, Sun 18 Apr, 13 days from Mon",
        "Less work on purpose",
        "week 1 of 2, continued",
        "Solbakken jumps and sprints, Marit Lo 555 0142",
        "as planned",
        "lighter",
        "missed",
        "effort 0–10",
        "page 1 of",
    ):
        assert needed in text, needed


@pytest.mark.needs_pdf
def test_the_caution_stands_on_every_sheet_of_an_athlete(signe: PrintReport) -> None:
    for page in pdf(signe).pages:
        text = " ".join(page.extract_text().split())
        for said in (
            "Stop on pain",
            "clinician",
            "under 18",
            "ask for a lighter day",
            "Missed work stays missed",
        ):
            assert said in text


@pytest.mark.needs_pdf
def test_a_lighter_placement_prints_what_is_counted(tmp_path: Path) -> None:
    text = text_of(pdf(printed(tmp_path, world.T)))
    assert "Long jumps from 4-8 steps 6 jumps" in text and "novices" not in text
    assert "from 4 steps, or take-off drills" in text


@pytest.mark.needs_pdf
def test_limits_stand_on_the_owners_page_and_in_the_coachs_copy_only(
    tmp_path: Path, boards: PrintReport, signe: PrintReport
) -> None:
    own = text_of(pdf(printed(tmp_path / "t", world.T)))
    assert "Right knee: event work below full effort; 2 days between sessions that load it" in own
    assert "Right knee until Wed 14 Apr: event work below full effort" in own
    assert "at most 6 landings a session" in own
    wall, coach = text_of(pdf(boards, 0)), text_of(pdf(boards, 1))
    assert "limited" in wall and "knee" not in wall.lower() and "own work" in wall
    assert "Right knee: event work below full effort" in coach
    other = text_of(pdf(signe))
    assert "knee" not in other.lower() and "limited" not in other


@pytest.mark.needs_pdf
def test_a_hold_back_names_no_region_and_no_reason(tmp_path: Path) -> None:
    own = text_of(pdf(printed(tmp_path, world.L)))
    assert "Lighter days for you from Tue 13 Apr until Thu 15 Apr, as agreed with the coach." in own
    assert "whole" not in own.lower().replace("whole squad", "")


@pytest.mark.needs_pdf
def test_the_board_shows_athletes_days_coaches_and_totals(boards: PrintReport) -> None:
    assert boards.complete and not boards.warnings
    text = text_of(pdf(boards))
    for needed in (
        "Spring block, week 1 of 2",
        "Mon 5 Apr",
        "evening, 7 here",
        *(a.name for a in world.ATHLETES),
        "north pit, Marit Lo: J P",
        "free:",
        "short jumps",
        "8 sets",
        "Away",
        "Exam",
        "Fjordby spring meeting: long jump",
        "Bare number",
        "Jumps, full run-up",
        "Competition",
        "3 fast",
        "rest",
        "18:30 gym, Pål Vinje: L",
        "110 m",
        "Mon to Wed",
    ):
        assert needed in text, needed
    for private in ("Exceptions in force", "Cannot be had", "rehearsal", "improved", "points of targets"):
        assert private not in text


@pytest.mark.needs_pdf
def test_the_coachs_own_copy_adds_exceptions_and_what_cannot_be_had(boards: PrintReport) -> None:
    text = text_of(pdf(boards, 1))
    assert "Cannot be had, because Tuva: a third jump day; the pit is shut." in text
    assert "Ragna Fjellstrand, 5 Apr to 6 Apr: no two fast days running, switched off." in text
    assert "Rehearsal of two days in a row." in text
    assert "May be improved, by at most 3 points of targets." in text


@pytest.mark.needs_pdf
@pytest.mark.parametrize(
    ("paper", "name", "size"),
    [
        ("Letter", BOARD, LETTER),
        ("A4", world.H, A4),
        ("Letter", world.H, LETTER),
    ],
)
def test_sizes_and_pages(tmp_path: Path, paper: str, name: str, size: tuple[float, float]) -> None:
    report = printed(tmp_path, name, paper=paper) if paper != "Letter" else thin(tmp_path, name, paper=paper)
    assert report.complete, report
    reader = pdf(report)
    for page in reader.pages:
        got = sorted(float(x) / PT_PER_MM for x in (page.mediabox.width, page.mediabox.height))
        assert got == pytest.approx(size, abs=0.2)
    wide = float(reader.pages[0].mediabox.width) > float(reader.pages[0].mediabox.height)
    assert wide == (name == BOARD)
    assert 1 <= len(reader.pages) <= 9
    last = " ".join(reader.pages[-1].extract_text().split())
    assert f"page {len(reader.pages)} of {len(reader.pages)}" in last


@pytest.mark.needs_pdf
def test_tagged_with_language_title_and_table_heads(signe: PrintReport, boards: PrintReport) -> None:
    for report, title in ((signe, "Signe Brattlien: Spring block"), (boards, "Squad board: Spring block")):
        reader = pdf(report)
        root = reader.trailer["/Root"]
        assert root["/Lang"] == "en"
        assert root["/MarkInfo"]["/Marked"]
        assert reader.metadata.title.startswith(title)
        kinds = _tags(root["/StructTreeRoot"])
        assert {"/Table", "/TR", "/TH", "/TD", "/H1"} <= kinds


def _tags(node: Any) -> set[str]:
    node = node.get_object() if hasattr(node, "get_object") else node
    found: set[str] = set()
    if isinstance(node, dict):
        if "/S" in node:
            found.add(str(node["/S"]))
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            found |= _tags(kid)
    return found


@pytest.mark.needs_pdf
def test_no_letter_is_smaller_than_a_label_and_the_clip_stays_free(
    signe: PrintReport, boards: PrintReport
) -> None:
    for report in (signe, boards):
        found = letters(report)
        assert min(size for size, _ in found) >= LABEL_PT - 0.01
        assert min(top for _, top in found) > 20
    assert {11.0, 12.5, 14.0} <= {size for size, _ in letters(signe)}


def letters(report: PrintReport) -> list[tuple[float, float]]:
    """Size in points and height above the baseline's place, in mm from the top, of every piece of text."""
    found: list[tuple[float, float]] = []
    for page in pdf(report).pages:
        high = float(page.mediabox.height)

        def seen(*said: Any, high: float = high) -> None:
            text, cm, tm, _, size = said
            if text.strip():
                found.append((round(abs(size * tm[3] * cm[3]), 2), (high - (cm[3] * tm[5] + cm[5])) / PT_PER_MM))

        page.extract_text(visitor_text=seen)
    return found


@pytest.mark.needs_pdf
def test_the_shipped_face_is_the_only_one_used_for_latin(signe: PrintReport) -> None:
    names = {
        str(font.get_object()["/BaseFont"])
        for page in pdf(signe).pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert names and all(
        "IBM-Plex-Sans-Condensed" in n.replace("IBMPlexSansCondensed", "IBM-Plex-Sans-Condensed") for n in names
    ), names


@pytest.mark.needs_pdf
def test_the_same_input_gives_the_same_bytes(tmp_path: Path) -> None:
    one, two = (thin(tmp_path / word, BOARD) for word in ("one", "two"))
    assert len(one.written) == 4 and [p.name for p in one.written] == [p.name for p in two.written]
    assert [p.read_bytes() for p in one.written] == [p.read_bytes() for p in two.written]


@pytest.mark.needs_pdf
def test_an_untouched_page_keeps_its_revision_and_its_bytes(tmp_path: Path) -> None:
    later = Revision(4, world.REVISION.made_at + timedelta(days=2), "rain", replaces=3)
    before = thin(tmp_path / "before", world.S)
    after = thin(tmp_path / "after", world.S, revision=later, page_revisions={world.S: world.REVISION})
    assert [p.read_bytes() for p in after.written] == [p.read_bytes() for p in before.written]
    moved = thin(tmp_path / "moved", world.S, revision=later)
    assert "Revision 4, last changed Mon 5 Apr 2027, 18:40. Replaces revision 3" in text_of(pdf(moved))


@pytest.mark.needs_pdf
def test_a_clean_sheet_carries_no_draft_mark(tmp_path: Path) -> None:
    assert "draft" not in text_of(pdf(thin(tmp_path, world.H, draft=False))).lower()


@pytest.mark.needs_pdf
def test_the_html_twin_says_the_same(signe: PrintReport) -> None:
    html = words_in(next(p for p in signe.written if p.suffix == ".html"))
    for needed in (
        "Signe Brattlien",
        "6 jumps",
        "North pit, Solbakken",
        "Stop on pain",
        "Revision 3",
        "555 0142",
    ):
        assert needed in html
    raw = next(p for p in signe.written if p.suffix == ".html").read_text(encoding="utf-8")
    assert '<html lang="en">' in raw and "src=" not in raw and "http" not in raw.replace("http://www.w3.org", "")


ATTACKS = (
    "<img src=file:///etc/passwd>",
    '"><style>@import url(http://198.51.100.7/x.css);</style>',
    "</style><link rel=stylesheet href=file:///etc/hostname>",
    "{{ 7 * 7 }}{% include '/etc/passwd' %}",
    "url(file:///etc/passwd)",
    "'); content: url(http://198.51.100.7)",
)


@pytest.mark.needs_pdf
def test_no_text_in_a_file_reaches_other_files_or_addresses(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    called: list[str] = []
    monkeypatch.setattr("socket.socket.connect", lambda *a: called.append(str(a)))
    attack = " ".join(ATTACKS)
    out, problem = world.thin(*world.renamed(world.S, attack))
    made = replace(
        problem.block,
        name=attack,
        squad=attack,
        contact=attack,
        athletes=tuple(replace(a, events=(attack,)) if a.name == attack else a for a in problem.block.athletes),
        themes=tuple(replace(t, aim=attack, measure=attack) for t in problem.block.themes),
    )
    report = print_sheets(
        out, replace(problem, block=made), world.REVISION, tmp_path, names=(attack, BOARD), remarks=(attack,)
    )
    assert report.complete, report
    assert not called and not report.warnings
    assert {p.parent for p in report.written} == {tmp_path}
    page = next(p for p in report.written if p.suffix == ".html" and p.name.startswith("athlete"))
    html = page.read_text(encoding="utf-8")
    heading = html.split("<h1>", 1)[1].split("</h1>", 1)[0]
    assert "<" not in heading and unescape(heading) == attack  # nothing was run, nothing was lost
    assert "root:" not in html and html.count("<style>") == 1
    for reader in (pdf(report, i) for i in range(3)):
        assert "root:" not in text_of(reader)


@pytest.mark.needs_pdf
@pytest.mark.parametrize(
    "name", ['Åsa "Flash" O\'Neil/..\\x', "ليلى حداد", "Zoë 🏃‍♀️ Ng", "\u202eeman", "a" * 90, "..", "CON"]
)
def test_any_name_prints_under_a_safe_file_name(tmp_path: Path, name: str) -> None:
    out, problem = world.thin(*world.renamed(world.H, name))
    report = print_sheets(out, problem, world.REVISION, tmp_path, names=(name,))
    assert report.complete, report
    for path in report.written:
        assert path.parent == tmp_path and re.fullmatch(r"athlete-[a-z0-9-]+-A4\.(pdf|html)", path.name)
        assert path.is_file()


@pytest.mark.needs_pdf
def test_a_sign_that_no_font_has_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planner.sheets.fonts.SYSTEM_FOLDERS", ())
    out, problem = world.thin(*world.renamed(world.H, "Ng \U0001f3c3"))
    report = print_sheets(out, problem, world.REVISION, tmp_path, names=("Ng \U0001f3c3",))
    assert any("U+1F3C3" in w and "empty box" in w for w in report.warnings)


@pytest.mark.needs_pdf
def test_a_planted_long_word_is_found_named_and_marked(tmp_path: Path) -> None:
    given = world.outcome()
    long = "x" * 90
    placed = tuple(
        replace(p, dose=replace(p.dose, measure=long))
        if p.athlete == world.H and p.unit.id == "race-hurdles"
        else p
        for p in given.plan.placements
    )
    bad = replace(given, plan=replace(given.plan, placements=placed))
    report = print_sheets(bad, world.problem(), world.REVISION, tmp_path, names=(world.H,))
    assert not report.complete and report.written
    assert {o.cell for o in report.overflow} == {"Wed 7 Apr, hurdles at race marks"}
    assert report.overflow[0].page == 1 and report.overflow[0].beyond_mm > 5
    assert "Does not fit on this sheet: Wed 7 Apr, hurdles at race marks" in text_of(pdf(report))


@pytest.mark.needs_pdf
@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_the_longest_words_of_the_catalogue_fit_every_paper(tmp_path: Path, paper: str) -> None:
    filled, problem = world.longest(world.S)
    report = print_sheets(filled, problem, world.REVISION, tmp_path, paper=paper, names=(BOARD, world.S))
    assert report.complete, report.overflow
    said = words_in(tmp_path / f"squad-board-{paper}.html")
    own = [p for p in filled.plan.placements if p.athlete == world.S and p.unit.id != "own-work"]
    assert {p.unit.id for p in own} == {u.id for u in units().values() if not u.preparation} - {"own-work"}
    for p in own:
        assert p.short in said, p.key


@pytest.mark.needs_pdf
def test_a_usual_week_takes_one_sheet_and_half_a_week_of_the_squad_one_board(
    tmp_path: Path, signe: PrintReport, boards: PrintReport
) -> None:
    assert len(pdf(signe).pages) <= 3  # ten units in six sessions with an aim, and a week of few
    assert len(pdf(boards).pages) <= 4
    wall = pdf(printed(tmp_path, BOARD, paper="A3"))
    assert len(wall.pages) == 2
    sides = sorted(float(x) / PT_PER_MM for x in (wall.pages[0].mediabox.width, wall.pages[0].mediabox.height))
    assert sides == pytest.approx(A3, abs=0.2)


@pytest.mark.needs_pdf
def test_two_processes_print_the_same_bytes_in_the_same_order(tmp_path: Path) -> None:
    one = thin(tmp_path / "one", world.S, world.J, processes=1)
    two = thin(tmp_path / "two", world.S, world.J, processes=2)
    assert [p.name for p in one.written] == [p.name for p in two.written]
    assert [p.read_bytes() for p in one.written] == [p.read_bytes() for p in two.written]


@pytest.mark.needs_pdf
def test_names_without_a_gap_and_long_units_of_a_coach_fit_the_board(tmp_path: Path) -> None:
    given, problem = world.thin(*world.renamed(world.H, "Donaudampfschifffahrtsgesellschaftskapitän O'Dalby"))
    placed = tuple(
        replace(p, unit=replace(p.unit, name="Sprungkraftausdauertrainingseinheit am Hügel", short=""))
        if p.unit.id == "medicine-ball"
        else p
        for p in given.plan.placements
    )
    bad = replace(given, plan=replace(given.plan, placements=placed))
    report = print_sheets(bad, problem, world.REVISION, tmp_path, names=(BOARD,))
    assert report.complete, report.overflow


@pytest.mark.needs_pdf
def test_a_long_title_wraps_instead_of_spilling(tmp_path: Path) -> None:
    made = replace(world.block(), name="Prestasjonsutviklingsprogrammet" * 4, squad="Idrettslag" * 12)
    out, problem = world.thin(world.outcome(), world.problem(made))
    report = print_sheets(out, problem, world.REVISION, tmp_path, names=(BOARD, world.H))
    assert report.complete, report.overflow


def test_the_library_missing_leaves_html_and_names_the_packages(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    real = builtins.__import__

    def without(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.startswith("weasyprint"):
            print("----- could not import some external libraries -----")
            raise OSError("cannot load library 'libgobject-2.0-0'")
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", without)
    report = printed(tmp_path, world.S, BOARD)
    assert not report.complete
    assert {p.suffix for p in report.written} == {".html"} and len(report.written) == 3
    reason = str(report.not_written[0])
    for package in (
        "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "dnf install pango",
        "brew install pango",
        "MSYS2",
    ):
        assert package in reason
    out, err = capfd.readouterr()
    assert out == "" and err == ""


def test_a_full_disk_is_reported_and_leaves_nothing_half_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = tempfile.mkstemp

    def full(*args: Any, **kwargs: Any) -> Any:
        if kwargs.get("suffix") == ".html":
            raise OSError(errno.ENOSPC, "No space left on device")
        return real(*args, **kwargs)

    monkeypatch.setattr(tempfile, "mkstemp", full)
    report = printed(tmp_path, world.H)
    assert [n.path.suffix for n in report.not_written if n.path] == [".html"]
    assert "No space left on device" in str(report.not_written[-1])
    assert not [p for p in tmp_path.iterdir() if p.name.startswith(".planner")]


def test_a_folder_that_cannot_be_made_is_reported(tmp_path: Path) -> None:
    (tmp_path / "sheets").write_text("in the way", encoding="utf-8")
    report = printed(tmp_path / "sheets", world.H)
    assert not report.written and "cannot be made" in str(report.not_written[0])


def test_an_unknown_sheet_or_paper_is_named_with_what_is_known(tmp_path: Path) -> None:
    report = printed(tmp_path, "Nobody At All")
    assert not report.complete and "Signe Brattlien" in str(report.not_written[0])
    report = printed(tmp_path, world.H, paper="A5")
    assert "A3, A4, Letter" in str(report.not_written[0]) and not report.written


def test_no_room_for_temporary_files_still_leaves_html(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*args: Any, **kwargs: Any) -> Any:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(tempfile, "TemporaryDirectory", full)
    report = printed(tmp_path, world.H)
    assert {p.suffix for p in report.written} == {".html"}
    assert "temporary folder" in str(report.not_written[0])


@pytest.mark.needs_pdf
def test_findings_of_the_should_tier_stand_in_their_week_of_the_coachs_copy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.review.findings.sentence", lambda f: f"{f.athlete} {f.rule} by {f.amount}")
    found = (
        Finding("early", "should", 2, world.J, world.FIRST + timedelta(days=2)),
        Finding("late", "should", 1, world.J, world.FIRST + timedelta(days=9)),
        Finding("taste", "prefer", 1, world.J, world.FIRST),
    )
    out, problem = world.thin(world.outcome(), world.problem())
    report = print_sheets(replace(out, findings=found), problem, world.REVISION, tmp_path, names=(BOARD,))
    wall, coach = text_of(pdf(report, 0)), text_of(pdf(report, 1))
    assert "Where this plan gives way Jonas Ekornrud early by 2." in coach
    assert "late" not in coach and "taste" not in coach
    assert "gives way" not in wall


def test_an_athlete_without_a_week_is_reported_not_printed_blank(tmp_path: Path) -> None:
    problem = replace(world.problem(), weeks={})
    report = print_sheets(world.outcome(), problem, world.REVISION, tmp_path, names=(world.H,))
    assert not report.written and "no week" in str(report.not_written[0])
