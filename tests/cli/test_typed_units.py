"""What is typed and read is in metres, m/s and degrees; the ledger keeps whole smallest steps."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from commands import here

from planner.cli.facts import BadWords, fact_from, told
from planner.cli.told_words import fact_lines
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.facts import Result, RunUpReadings, WeatherFact

NOW = datetime(2027, 3, 3, 20, tzinfo=UTC)
DAY = date(2027, 3, 3)


def weather(*words: str) -> WeatherFact:
    made = fact_from("weather", [f"day={DAY}", *words], NOW)
    assert isinstance(made, WeatherFact)
    return made


@pytest.mark.parametrize(("words", "kept"), [
    (("wind=1.2", "air=6", "wbgt=28.5"), (12, 60, 285)),
    (("wind=1,2 m/s", "air=-6.5 °C", "wbgt=28.5 C"), (12, -65, 285)),
    (("wind=4", "air=0", "wbgt=30"), (40, 0, 300)),
])  # fmt: skip
def test_weather_is_typed_as_the_block_file_takes_it(words: tuple[str, ...], kept: tuple[int, ...]) -> None:
    made = weather(*words)
    assert (made.wind, made.air, made.wbgt) == kept


@pytest.mark.parametrize(("word", "needed"), [
    ("wind=4 Bft", "wind: found '4 Bft', needed m/s, such as 1.2"),
    ("wind=1.25", "to one decimal"),
    ("air=cold", "air: found 'cold', needed degrees Celsius"),
    ("wbgt=90 F", "wbgt: found '90 F', needed degrees Celsius"),
])  # fmt: skip
def test_a_figure_in_another_unit_is_refused_in_the_unit_that_is_typed(word: str, needed: str) -> None:
    with pytest.raises(BadWords) as error:
        weather(word)
    assert needed in str(error.value) and "tenths" not in str(error.value)


def test_what_was_recorded_is_read_over_with_its_units() -> None:
    said = told(weather("wind=1.2", "air=6", "wbgt=28.5"))
    assert {"wind 1.2 m/s", "air 6.0 °C", "wbgt 28.5 °C"} <= set(said.split(", "))


def test_the_history_says_every_figure_with_its_unit() -> None:
    who = {"recorded_at": NOW, "athlete": "Ada", "day": DAY, "event": "long jump"}
    facts = [
        replace(weather("wind=1.2", "air=-6.5"), id=1),
        RunUpReadings(**who, id=2, runs=(RunThrough(12, 8, 3320, 6), RunThrough(-3, -5))),  # type: ignore[arg-type]
        Result(**who, id=3, target=560, attempts=(  # type: ignore[arg-type]
            Attempt("mark", 571, wind=0, gap=4), Attempt("foul"), Attempt("not measured", hop=505,
            ended="bailed out in the step"))),
    ]  # fmt: skip
    said = " ".join(" ".join(fact_lines(facts)).split())
    for needed in (
        "wind 1.2 m/s, air -6.5 °C",
        "board 12 cm, wind +0.8 m/s, start mark 33.20 m, coach mark 6 cm; board -3 cm, wind -0.5 m/s",
        "5.71 m, wind 0.0 m/s, gap 4 cm; foul; not measured, bailed out in the step, hop 5.05 m, target 5.60 m",
    ):
        assert needed in said, said


def test_a_wind_aided_mark_is_said_when_it_is_recorded(given: Path) -> None:
    """+2.4 is above 2.0 m/s: World Athletics, Competition Rules, rule 31; Technical Rules 17 and 29."""
    words = ("result", "athlete=Ada", "day=2027-03-04", "event=long jump", "--now", "2027-03-05 21:00")
    assert "wind-aided" not in here("log", given, *words, "attempts=5.61 m +2.0").out
    ran = here("log", given, *words, "attempts=5.71 m +2.4; foul; 5.60 +0.3")
    assert "5.71 m, wind +2.4: wind-aided, not counted as a best." in ran.out, ran.said
