"""Sentences of the rules: names as the trade writes them, one and many, none."""

from __future__ import annotations

from datetime import date

import pytest

from planner.catalogue import any_in_words, family_in_words, unit_in_words
from planner.domain.finding import Finding
from planner.domain.units import COUNTERS, FAMILIES, counted, how_often, times
from planner.rules import book

DAY = date(2027, 3, 1)


def test_names_of_the_catalogue_inside_a_sentence() -> None:
    assert unit_in_words("run-up-pop-off") == "full run-ups with pop-off"
    assert unit_in_words("flying sprints") == "flying sprints", "as an older finding holds it"
    assert unit_in_words("beach-runs") == "beach runs", "a coach's own"
    assert [family_in_words(x) for x in ("run-ups", "low multi jumps", "speed-endurance")] == [
        "run-ups", "low multi-jumps", "speed endurance",
    ]  # fmt: skip
    assert any_in_words("full-run-ups") == "full run-ups without jump"
    assert any_in_words("full-jumps") == "full jumps"
    said = " ".join(family_in_words(name) for name in (*FAMILIES, *COUNTERS))
    assert not any(bare in said for bare in ("run ups", "multi jumps", "take offs"))


def test_one_and_many() -> None:
    assert [counted(n, "days") for n in (0, 1, 2)] == ["0 days", "1 day", "2 days"]
    assert [times(n) for n in (1, 2, 3)] == ["once", "twice", "3 times"]
    assert [how_often("run-ups", n) for n in (0, 1, 3)] == ["no run-ups", "run-ups once", "run-ups 3 times"]
    days = [how_often("training days", n) for n in (0, 1, 3)]
    assert days == ["no training days", "1 training day", "3 training days"]


SAID = [
    (
        "adults_present", {"minors": 1, "adults": 1, "needed": 2, "present": 2, "ratio": 8},
        "1 athlete under 18 and 1 adult there, 2 adults must be: the club's rule asks for 2 at least",
    ),
    ("weekly_minimum", {"what": "run ups", "n": 0, "least": 1}, "no run-ups, at least once is needed this week."),
    (
        "weekly_maximum", {"what": "training days", "n": 3, "most": 2},
        "3 training days, the most for this week is 2",
    ),
    (
        "weekly_target", {"what": "low multi jumps", "n": 1, "target": 2},
        "low multi-jumps once, the target is twice",
    ),
    (
        "main_unit_of_the_phase", {"family": "acceleration", "unit": "long accelerations"},
        "no long accelerations in full, the main work of acceleration in this phase.",
    ),
    ("theme_served", {"aim": "tall", "n": 1, "needed": 2}, "the theme 'tall' is met on 1 day, wanted on 2."),
    (
        "companion_units",
        {"unit": "Long jumps", "wanted": "run-up-pop-off|full-run-ups", "times": 1, "back": 10, "done": 0},
        "want full run-ups with pop-off or full run-ups without jump on 1 of the 10 days before",
    ),
    ("rest_day", {"week": DAY, "free": 1, "needed": 2}, "has 1 rest day, needed: 2."),
    ("weekly_caps", {"what": "take offs", "n": 1, "cap": 0}, "1 take-off, the cap is 0."),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "facts", "said"), SAID, ids=[r for r, _, _ in SAID])
def test_a_sentence_as_a_coach_would_say_it(rule: str, facts: dict[str, object], said: str) -> None:
    finding = Finding(rule, "should", 1, "Ada", DAY, "evening", facts=facts)
    assert said in book()[rule].explain(finding)
