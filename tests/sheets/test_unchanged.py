"""What stands in the folder just as it would be written again is left alone; anything else is drawn."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from planner.sheets import PrintReport, drawing, engine, print_sheets
from planner.sheets.assets import assets
from planner.sheets.build_athlete import athlete_view, revision_view
from planner.sheets.drawing import Sheet
from planner.sheets.paper import PAGES
from planner.sheets.stamp import content_sum, stamped, stands
from tests.sheets import world

pytestmark = pytest.mark.needs_pdf
STEM = "athlete-henrik-o-dalby-A4"


def thin(folder: Path, **more: Any) -> PrintReport:
    """Three days of one athlete, in this process."""
    out, problem = world.thin(world.outcome(), world.problem())
    return print_sheets(out, problem, world.REVISION, folder, names=(world.H,), processes=1, **more)


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("once")
    assert thin(folder).complete
    return folder


@pytest.fixture
def there(once: Path, tmp_path: Path) -> Path:
    """A folder that holds the sheet already."""
    return Path(shutil.copytree(once, tmp_path / "sheets"))


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the sheets that are drawn from now on."""
    seen: list[str] = []
    plain = drawing._draw

    def draw(sheet: Sheet, *rest: Any) -> drawing.Drawn:
        seen.append(sheet.name)
        return plain(sheet, *rest)

    monkeypatch.setattr(drawing, "_draw", draw)
    return seen


def test_an_unchanged_sheet_is_not_drawn_and_not_touched(there: Path, drawn: list[str]) -> None:
    before = {p: (p.read_bytes(), p.stat().st_mtime_ns, p.stat().st_ino) for p in there.iterdir()}
    report = thin(there)
    assert drawn == [] and report.written == () and report.complete
    assert {p.name for p in report.unchanged} == {f"{STEM}.pdf", f"{STEM}.html"}
    assert {p: (p.read_bytes(), p.stat().st_mtime_ns, p.stat().st_ino) for p in there.iterdir()} == before


def test_fresh_draws_it_all_the_same(there: Path, drawn: list[str]) -> None:
    before = (there / f"{STEM}.pdf").read_bytes()
    report = thin(there, fresh=True)
    assert drawn == [world.H] and report.unchanged == () and len(report.written) == 2
    assert (there / f"{STEM}.pdf").read_bytes() == before


def _flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(bytes(content))


def _cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-200])


def _more(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"\n")


def _no_stamp(path: Path) -> None:
    lines = path.read_bytes().split(b"\n")
    path.write_bytes(b"\n".join(line for line in lines if not line.startswith(b"%made from")))


def _empty(path: Path) -> None:
    path.write_bytes(b"")


@pytest.mark.parametrize(
    ("ending", "harm"),
    [("pdf", _flip), ("pdf", _cut), ("pdf", _more), ("pdf", _no_stamp), ("pdf", _empty), ("pdf", Path.unlink),
     ("html", _flip), ("html", _empty), ("html", Path.unlink)],
)  # fmt: skip
def test_a_damaged_or_missing_file_is_written_anew(
    there: Path, drawn: list[str], ending: str, harm: Callable[[Path], None]
) -> None:
    path = there / f"{STEM}.{ending}"
    before = path.read_bytes()
    harm(path)
    report = thin(there)
    assert drawn == [world.H] and len(report.written) == 2 and report.unchanged == ()
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "edit",
    [("athlete.html", "as planned", "as  it was planned"), ("athlete.css", "14pt", "13.5pt"),
     # not in the HTML of this sheet: the words of a sheet that does not fit, another sheet's frame, a face
     ("athlete.html", "Ask the coach.", "Ask your coach."), ("fonts/OFL.txt", "PREAMBLE", "Preamble")],
)  # fmt: skip
def test_an_edited_template_draws_the_sheet_again(
    there: Path, drawn: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path, edit: tuple[str, str, str]
) -> None:
    file, old, new = edit
    folder = Path(shutil.copytree(assets(), tmp_path / "templates"))
    path = folder / file
    assert old in path.read_text(encoding="utf-8")
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    monkeypatch.setattr(drawing, "assets", lambda: folder)
    assert len(thin(there).written) == 2 and drawn == [world.H]
    assert len(thin(there).unchanged) == 2 and drawn == [world.H]


def test_another_engine_draws_the_sheet_again(
    there: Path, drawn: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "weasyprint 7" in engine.engine_versions()
    monkeypatch.setattr(drawing, "engine_versions", lambda: "weasyprint 0")
    assert len(thin(there).written) == 2 and drawn == [world.H]


def test_handed_out_the_page_says_so(there: Path, drawn: list[str]) -> None:
    assert "Draft" in (there / f"{STEM}.html").read_text(encoding="utf-8")
    thin(there, draft=False)
    assert drawn == [world.H] and "Draft" not in (there / f"{STEM}.html").read_text(encoding="utf-8")
    thin(there, draft=False, page_revisions={world.H: replace(world.REVISION, number=9)})
    assert drawn == [world.H] * 2 and "Revision 9" in (there / f"{STEM}.html").read_text(encoding="utf-8")


def test_only_the_sheet_that_changed_is_drawn(there: Path, drawn: list[str]) -> None:
    out, problem = world.thin(world.outcome(), world.problem())
    names = (world.H, world.L)
    print_sheets(out, problem, world.REVISION, there, names=names, processes=1)
    assert drawn == [world.L]
    newer = {world.H: replace(world.REVISION, number=4)}
    report = print_sheets(
        out, problem, world.REVISION, there, names=names, processes=1, page_revisions=newer
    )
    assert drawn == [world.L, world.H]
    assert len(report.written) == 2 and len(report.unchanged) == 2


def test_what_must_be_told_is_told_every_time(
    tmp_path: Path, drawn: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.sheets.fonts.SYSTEM_FOLDERS", ())
    name = "Ng \U0001f3c3"
    out, problem = world.thin(*world.renamed(world.H, name))
    said = [print_sheets(out, problem, world.REVISION, tmp_path, names=(name,)).warnings for _ in range(2)]
    assert said[0] == said[1] and "U+1F3C3" in said[0][0] and drawn == [name] * 2


def test_the_line_in_the_pdf_disturbs_no_reader(once: Path) -> None:
    from pypdf import PdfReader

    pdf = once / f"{STEM}.pdf"
    lines = pdf.read_bytes().split(b"\n")
    assert lines[-1] == b"%%EOF" or lines[-2:] == [b"%%EOF", b""]
    assert sum(line.startswith(b"%made from ") for line in lines) == 1
    reader = PdfReader(pdf, strict=True)
    assert len(reader.pages) == 1 and world.H in (reader.metadata or {}).get("/Title", "")
    assert sorted(p.name for p in once.iterdir()) == [f"{STEM}.html", f"{STEM}.pdf"]


def test_a_stamp_holds_for_its_own_content_only(tmp_path: Path) -> None:
    pdf, html = tmp_path / "a.pdf", tmp_path / "a.html"
    one, other = content_sum("a", "engine 1"), content_sum("a", "engine 2")
    assert len({one, other, content_sum("b", "engine 1")}) == 3
    html.write_bytes(b"<p>")
    pdf.write_bytes(stamped(b"%PDF-1.7\n1 0 obj\nendobj\nstartxref\n9\n%%EOF\n", one, b"<p>"))
    assert stands(pdf, html, one) and not stands(pdf, html, other)
    assert not stands(tmp_path / "none.pdf", html, one) and not stands(html, html, one)


# --- lines for notes -------------------------------------------------------------------------------------------


def _laid_out(
    monkeypatch: pytest.MonkeyPatch, name: str, note_lines: int, *, full: bool, paper: str = "A4"
) -> tuple[int, int]:
    """Pages of one athlete's first week with so many lines for notes, and how often it was laid out."""
    out, problem = world.longest(name) if full else world.thin(world.outcome(), world.problem())
    said = revision_view(world.REVISION, True)
    view = athlete_view(problem.block.athlete(name), out, problem, said)
    view = replace(view, weeks=tuple(replace(w, note_lines=note_lines) for w in view.weeks))
    times: list[str] = []
    plain = engine.Engine.lay_out

    def lay_out(self: engine.Engine, html: str) -> engine.Laid:
        times.append(html)
        return plain(self, html)

    monkeypatch.setattr(engine.Engine, "lay_out", lay_out)
    (done,) = drawing.draw([Sheet(name, "a", PAGES[paper], view)])
    return done.pages, len(times)


def test_lines_for_notes_that_ask_for_a_sheet_of_their_own_are_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _laid_out(monkeypatch, world.H, 3, full=False) == (1, 1)
    assert _laid_out(monkeypatch, world.H, 40, full=False) == (1, 2)  # 40 x 8 mm are more than a sheet


def test_a_week_that_needs_two_sheets_anyway_is_laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    pages, times = _laid_out(monkeypatch, world.S, 1, full=True, paper="Letter")  # its last page has room
    assert pages > 1 and times == 1
