"""Figures from outside the project, each with its source: what a row is, how it is judged, what is left out.

Rows are numbered by subject: 1 and 2 load, 3 taper, 4 response, 5 contacts, 6 strength, 7 sprint, 8 wind, 9
triple jump, 10 long jump, 11 competition, 12 return from injury, 13 heat and travel, 14 recovery, 15 dates,
16 studies. Sources begin with 'from memory' or 'derived' where no published text was seen.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

import pytest


class Row(NamedTuple):
    """One check: number(s) and words, source, function, arguments, expected, precision (None: equal)."""

    id: str
    source: str
    function: Callable[..., Any]
    given: tuple[Any, ...]
    expected: Any
    precision: float | None = None


def judge(row: Row) -> None:
    """Fail unless the function gives what was published, to the precision given."""
    got = row.function(*row.given)
    if row.precision is None:
        assert got == row.expected, row.source
    else:
        assert got == pytest.approx(row.expected, rel=0, abs=row.precision), row.source


def parametrised(rows: Iterable[Row]) -> Any:
    """The rows as parameters of a test, named by their numbers."""
    return pytest.mark.parametrize("row", [pytest.param(row, id=row.id) for row in rows])


def numbers(rows: Iterable[Row]) -> set[str]:
    """The row numbers that a table covers."""
    found = (re.match(r"(?:\d+\.\d+ )*", row.id) for row in rows)
    return {number for leading in found if leading for number in leading.group().split()}


EVERY_ROW: dict[int, Iterable[int]] = {  # subject -> numbers of its rows
    1: (1, 2, 3, 4, 5, 6, 7, 8, 10, 11),
    2: range(1, 12),
    3: (1, 2, 3, 4, 5, 6, 7, 9),
    4: (1, 2, 5, 6, 7, 8, 9, 10, 11, 12),
    6: range(1, 8),
    7: (1, 2, 3, 4, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 19),
    8: (1, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15),
    9: (1, 2, 3, 4, 5, 7, 8, 9, 10, 11, 12, 13),
    10: (1, 2, 3, 4, 5, 7, 8, 9, 10, 11, 12, 13, 14, 15),
    13: range(1, 14),
    14: range(1, 7),
}

NOT_TESTED: dict[str, str] = {
    "2.11": "a remark on one case study (Coyne and others 2019); nothing here computes from it",
    "4.11": "a model fitted to six weightlifters (Busso and others 1990); no figure to compare",
    "4.12": "standard errors of the variable-dose model (Busso 2003), which is not used here",
    "8.11": "a statistics blog's slope for one qualifying round; the regression of 8.8 is used",
    "9.7": "distances simulated by a muscle model (Allen, Yeadon, King 2016) not used here",
    "9.8": "a correlation (Allen, King, Yeadon 2013); nothing here computes from it",
    "9.10": "a direction found in thirteen men (Liu, Mao, Yu 2015); nothing here computes from it",
    "9.11": "a direction found in four athletes (Miller, Hay 1986); nothing here computes from it",
    "10.3": "directions in one man's 71 jumps (Bridgett, Linthorne 2006); no figure to compare",
    "10.5": "an order of magnitude with a scatter of a metre; nothing here computes from it",
    "10.8": "spreads from memory, no exact figures confirmed; nothing here computes from them",
    "10.9": "a finding without a figure (Makaruk, Starzak, Lopez 2015)",
    "10.12": "one champion's count from a news graphic; nothing here computes from it",
    "10.13": "advice without a figure",
    "13.9": "from memory; no function here asks for minutes of heat or urine",
    "13.12": "says that evidence is thin; no figure",
    "14.1": "times of recovery in ten men (Thomas and others 2018); the hours used are those of 14.5",
    "14.2": "times of recovery in rugby players (Johnston and others 2015); the hours used are those of 14.5",
    "14.3": "a comparison of two sessions (Johnston and others 2016); nothing here computes from it",
    "14.4": "times of recovery (Helland and others 2020); the hours used are those of 14.5",
}

PARTLY: dict[str, str] = {
    "2.3": "exponential ratios 1.25, 1.41, 1.55: the 28 daily loads could not be read",
    "4.1": "the continuous steady gain (15; 28 in 4.2) is an approximation of the one by whole days",
    "8.6": "200 m at 2500 m: no published formula for 200 m and altitude was found, so none is offered",
}

SUBJECTS_ELSEWHERE: dict[int, str] = {
    5: "contacts per session are figures of the catalogue and of the rule book, judged in their tests",
    11: "facts of the rules of competition for sheets and settings; 11.6, the rounding, is tested here",
    12: "education only: a clinician decides, and nothing is computed from these figures",
    15: "dates and calendars belong to the parts that read and write them",
    16: "studies without readable figures; the solvable one is rows 4.1 to 4.8",
}
