"""`planner numbers`, as a coach types it: readable at 80 columns, JSON, and one sentence for bad input."""

from __future__ import annotations

import contextlib
import io
import json
from pathlib import Path

import pytest

from planner.cli.endings import ending
from planner.cli.numbers import app
from planner.cli.numbers_of_file import Missing
from planner.numbers.answer_load import planned_taper
from planner.numbers.errors import NoNumber
from planner.science.response import shape

EASTER = str(Path(__file__).parents[2] / "examples" / "easter-block")
HEAT = str(Path(__file__).parents[2] / "examples" / "heat-camp")
GOOD = (
    ("run-up", "--mark", "33.20 m", "--steps", "18", "--wind", "+1.5"),
    ("run-up", "--mark", "33.20 m", "--steps", "18", "--run", "12 1.0", "--run", "15 0.5", "--run", "10 0 4"),
    ("run-up", "--file", EASTER, "--athlete", "Tilde Okkarin"),
    ("phases", "--target", "12.50 m", "--shares", "36/29/35"),
    ("phases", "--two", "9.80 m", "--jump-shares", "30 35"),
    ("phases", "--file", EASTER, "--athlete", "Bram Vestergren"),
    ("sprint", "--split", "10=1.89", "--split", "20=2.88", "--split", "30=3.78", "--split", "40=4.64"),
    ("sprint", "--metres", "30", "--best", "4.20 s", "--percent", "95"),
    ("sprint", "--metres", "100", "--start", "race", "--file", EASTER, "--athlete", "Noor Castlebye"),
    ("strength", "--weight", "100 kg", "--repetitions", "5"),
    ("load", *(word for x in (420, 180, 0, 510, 0, 600, 0) for word in ("--day", str(x)))),
    ("taper", "--days", "14", "--cut", "50"),
    ("heat", "--air", "31", "--humidity", "45"),
    ("heat", "--wet-bulb", "25", "--globe", "32", "--air", "20"),
    ("load", *(word for x in (420, 180, 0, 510, 0, 600, 0) * 3 for word in ("--day", str(x)))),
    ("heat", "--file", HEAT, "--athlete", "Mette Ostrand"),
    ("wind", "--event", "100 m", "--mark", "11.92 s", "--wind", "+1.4"),
    ("wind", "--event", "100 m", "--file", EASTER, "--athlete", "Noor Castlebye"),
)
BAD = (
    (("sprint", "--split", "10=1.89", "--split", "20=1.80", "--split", "30=3"), "both grow"),
    (("sprint", "--split", "10=1.89", "--split", "20=2.80 hand", "--split", "30=3.7"), "mix hand and gate"),
    (("sprint", "--split", "10=1", "--split", "20=3", "--split", "30=9"), "no sprint curve fits"),
    (("sprint", "--split", "10=1.89", "--free", "everything"), "--free"),
    (("sprint", "--metres", "30", "--best", "4.20"), "unit is missing"),
    (("sprint", "--metres", "100", "--best", "4.20 s"), "faster than anybody"),
    (("sprint", "--metres", "-30", "--best", "4.20 s"), "needed a distance"),
    (("strength", "--weight", "100 kg", "--repetitions", "0"), "needed 1 to 12"),
    (("strength", "--weight", "100 kg", "--repetitions", "40"), "needed 1 to 12"),
    (("strength", "--weight", "100"), "unit is missing"),
    (("run-up", "--mark", "33.20 m", "--steps", "18", "--wind", "1.5", "--run", "8 +1.2"), "the wind of each run"),
    (("wind", "--mark", "11.92 s", "--wind", "40"), "km/h"),
    (("wind", "--event", "long jump", "--mark", "11.92 s", "--wind", "1"), "needed a length"),
    (("wind", "--event", "javelin", "--mark", "60.00 s", "--wind", "1"), "no wind figures"),
    (("phases", "--target", "nan"), "needed a length"),
    (("phases", "--target", "12.50 m", "--shares", "36/29/45"), "three shares"),
    (("phases", "--two", "9.80 m", "--jump-shares", "30"), "two or more"),
    (("run-up", "--mark", "33.20", "--steps", "18"), "unit is missing"),
    (("run-up", "--mark", "33.20 m", "--steps", "18", "--run", "12"), "write 0 in still air"),
    (("run-up", "--file", EASTER), "needed both"),
    (("run-up", "--file", EASTER, "--athlete", "Nobody"), "needed one of"),
    (("load", "--day", "420", "--day", "-3"), "minus"),
    (("heat", "--air", "nan", "--humidity", "40"), "not a number"),
    (("heat", "--air", "30"), "too few"),
    (("taper", "--cut", "nan"), "not a number"),
)


def run(*given: str) -> str:
    """What the command prints; its errors come through as they are."""
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        app(list(given), standalone_mode=False)
    return said.getvalue()


@pytest.mark.parametrize("given", GOOD, ids=" ".join)
def test_each_answer_is_readable_and_has_formula_source_and_doubt(given: tuple[str, ...]) -> None:
    said = run(*given)
    assert max(len(line) for line in said.splitlines()) <= 80
    for word in ("How: ", "Source: ", "Doubt: "):
        assert word in said
    assert "nan" not in said.lower().split() and ".." not in said
    data = json.loads(run(*given, "--json"))
    assert {"title", "rows", "data", "formula", "source", "doubt"} == set(data)
    assert all(data[k] for k in data)


@pytest.mark.parametrize("given,word", BAD, ids=lambda x: " ".join(x) if isinstance(x, tuple) else "")
def test_bad_input_is_one_sentence_with_what_is_needed(given: tuple[str, ...], word: str) -> None:
    with pytest.raises(Exception) as told:
        run(*given)
    code, said = ending(told.value)
    assert code == 2 and word in said and "Maybe" in said and "needed" in said
    assert "Traceback" not in said


def test_published_figures_come_through() -> None:
    """WBGT 25.9 from 25, 32, 20 (ISO 7243); 9.80 m to 14.00-15.08 m (derived)."""
    heat = json.loads(run("heat", "--wet-bulb", "25", "--globe", "32", "--air", "20", "--json"))
    assert heat["data"]["wbgt"] == 25.9
    two = json.loads(run("phases", "--two", "9.80 m", "--jump-shares", "30 35", "--json"))
    assert (two["data"]["low_cm"], two["data"]["high_cm"]) == (1400, 1508)


SPLITS = """
block: {name: Splits, from: 2027-03-01, until: 2027-03-07}
athletes:
  - {name: Ines Tarvik, events: 100 m, level: advanced, take_off_leg: left}
  - {name: Odd Brenna, events: 100 m, level: advanced, take_off_leg: left}
marks:
  - {athlete: Ines Tarvik, event: 10 m, mark: 1.90 s, date: 2027-02-20}
  - {athlete: Ines Tarvik, event: 20 m, mark: 3.05 s, date: 2027-02-20}
  - {athlete: Ines Tarvik, event: 30 m, mark: 4.09 s, date: 2027-02-20}
  - {athlete: Ines Tarvik, event: 40 m, mark: 5.13 s, date: 2027-02-20}
  - {athlete: Ines Tarvik, event: 30 m, mark: 4.02 s, date: 2027-02-24}
  - {athlete: Ines Tarvik, event: 30 m blocks, mark: 4.20 s, date: 2027-02-20}
  - {athlete: Odd Brenna, event: 10 m, mark: 1.90 s, date: 2027-02-20}
  - {athlete: Odd Brenna, event: 20 m, mark: 3.05 s, date: 2027-02-21}
"""


def test_splits_of_one_day_in_the_file_are_fitted_with_their_errors(tmp_path: Path) -> None:
    """The means of eight male sprinters, 10 to 40 m (Haugen, Breitschädel, Seiler 2019, PLoS ONE 14(7):e0215551,
    table 1); their fit, 9.826 m/s and 1.066 s, is derived. Times of other days and starts stay out."""
    file = tmp_path / "block.yaml"
    file.write_text(SPLITS, encoding="utf-8")
    said = run("sprint", "--file", str(file), "--athlete", "Ines Tarvik")
    assert "10 m 1.90 s, 20 m 3.05 s, 30 m 4.09 s" in said and "give or take" in said and "20 Feb 2027" in said
    data = json.loads(run("sprint", "--file", str(file), "--athlete", "Ines Tarvik", "--json"))["data"]
    assert data["top_mps"] == pytest.approx(9.826, abs=0.001) and data["tau_s"] == pytest.approx(1.066, abs=0.001)
    typed = (w for x in ("10=1.90", "20=3.05", "30=4.09", "40=5.13") for w in ("--split", x))
    assert data == json.loads(run("sprint", *typed, "--json"))["data"]
    assert run("sprint", "--file", str(file), "--athlete", "ines") == said, "the beginning of a name will do"
    assert "own 30 m" in run("sprint", "--file", str(file), "--athlete", "Ines", "--metres", "30")
    with pytest.raises(Missing, match="found 'Tove', needed one of: Ines Tarvik, Odd Brenna"):
        run("sprint", "--file", str(file), "--athlete", "Tove")
    for who, start, word in (("Odd Brenna", "standing", "no splits"), ("Ines Tarvik", "blocks", "no splits")):
        with pytest.raises(Missing, match=word):
            run("sprint", "--file", str(file), "--athlete", who, "--start", start)


def test_what_loads_leave_behind_is_a_band_and_no_promise() -> None:
    """Recursion of Morton, Fitz-Clarke, Banister 1990 over published constants; the band is derived."""
    days = [420, 180, 0, 510, 0, 600, 0] * 4
    told = json.loads(run("load", *(w for x in days for w in ("--day", str(x))), "--json"))
    band = told["data"]["shape"]
    assert band == [[pytest.approx(v, abs=0.001) for v in (s.low, s.middle, s.high)] for s in shape(days)]
    assert band[0] == [0, 0, 0] and all(low <= middle <= high for low, middle, high in band)
    assert band[-1][0] < band[-1][2] and "never a promise" in told["doubt"]
    rows = told["rows"]
    assert [label for label in rows if "shape" in label] == [f"shape after day {d}" for d in (7, 14, 21, 28)]


def test_a_planned_taper_is_held_against_the_weeks_before() -> None:
    """Half of the usual load for a week: 50 % less; effects of Bosquet and others 2007 for that band."""
    found = planned_taper([100, 300] * 14, [100] * 7, "Cup")
    assert found.data["usual"] == 200 and found.data["cut_percent"] == 50
    assert ("in all", "50 % less") in found.rows and any("41-60" in label for label, _ in found.rows)
    with pytest.raises(NoNumber, match="needed some to compare with"):
        planned_taper([], [100], "Cup")


def test_every_command_has_help_with_an_example() -> None:
    for command in app.registered_commands:
        text = command.callback.__doc__ if command.callback else None
        assert text and "Example: planner numbers " in text, command.name
