"""A mark with more than +2.0 m/s behind it is no best: World Athletics, Competition Rules, rule 31 (memory)."""

from __future__ import annotations

from planner.domain.block import Mark
from planner.numbers.marks import best_mark, best_run


def jump(cm: int, wind: int | None) -> Mark:
    return Mark("Ada", "long jump", cm, "cm", wind)


def test_the_best_is_one_that_counts_and_a_wind_aided_one_only_without_another() -> None:
    aided, legal, unknown = jump(640, 21), jump(621, 20), jump(610, None)
    assert best_mark([aided, unknown, legal], "long jump", "cm") == legal
    assert best_mark([unknown, aided], "long jump", "cm") == unknown
    assert best_mark([aided, jump(630, 30)], "long jump", "cm") == aided


def test_a_run_is_paced_by_a_time_that_counts() -> None:
    slow, fast = Mark("Ada", "100 m", 1240, "hundredths", 20), Mark("Ada", "100 m", 1221, "hundredths", 24)
    found = best_run([fast, slow], 100, "race")
    assert found is not None and found.value == 1240
