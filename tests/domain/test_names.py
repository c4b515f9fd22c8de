"""Whom a coach means: the whole name, or a beginning that only one name has."""

from __future__ import annotations

import pytest

from planner.domain.names import meant_by
from planner.domain.units import counted

NAMES = ("Ada Lindmoor", "Adam Holm", "Bo", "Bo Lind")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Ada Lindmoor", "Ada Lindmoor"),
        ("ada l", "Ada Lindmoor"),
        ("adam", "Adam Holm"),
        ("ada", None),  # two begin so
        ("bo", "Bo"),  # a whole name goes first
        ("Cleo", None),
        (" ", None),
    ],
)
def test_whom_is_meant(typed: str, meant: str | None) -> None:
    assert meant_by(typed, NAMES) == meant


def test_one_of_a_measure_is_said_in_the_singular() -> None:
    assert [counted(n, "sets") for n in (0, 1, 2)] == ["0 sets", "1 set", "2 sets"]
