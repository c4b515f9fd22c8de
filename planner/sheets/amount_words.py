"""Amounts in a coach's words: whole, short for the board, and the lighter version."""

from __future__ import annotations

import re
from collections.abc import Mapping

from planner.domain.units import Dose
from planner.sheets.words import clean, times

SHORT_MEASURE: Mapping[str, str] = {"metres": "m", "metre": "m", "minutes": "min", "minute": "min"}
SERIES = ("sets", "rounds")  # measures whose note says what one of them is
SAID_ON_BOARD = ("metres", "minutes", *SERIES)  # everything else is counted one by one and needs no word

# 'half', 'two thirds', '6 jumps (novices 5)', '4 x 30 m (novices 3)': how a lighter text opens
HEAD = re.compile(
    r"(?:half(?: the time)?|two thirds"
    r"|(?P<count>\d+)(?: [x×] (?P<each>\d+))?(?P<word>(?: (?!(?:at|of|from|with) )[a-z-]+)?)"
    r"(?: \(novices (?P<novice>[^)]*)\))?)(?=[ ,]|$)"
)


def measured(amount: int, measure: str) -> str:
    """'240 m', '8 jumps', '1 jump', '20 min'."""
    measure = clean(measure)
    word = SHORT_MEASURE.get(measure, measure)
    if amount == 1 and word == measure and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    return f"{amount} {word}".strip()


def amount(dose: Dose) -> tuple[str, str]:
    """The key number and what stands beside it: ('9 sets', 'of 2-5 at 82-92 %') or ('240 m', '6 × 40 m').

    Sets are followed by their repetitions; a range of sets in the note gives way to the number.
    """
    note = times(dose.note)
    number = measured(dose.amount, dose.measure)
    if dose.measure in SERIES:
        series = re.fullmatch(r"\d+(?:-\d+)? × (.+)", note)  # '3-5 × 4-6 at 75 %': the sets are known now
        each = series[1] if series else note
        if re.match(r"\d", each):
            return number, f"of {each}"
    if note.startswith(f"{dose.measure} "):  # '16 min' and 'minutes of work'
        note = note.removeprefix(f"{dose.measure} ")
    return number, "" if note == number else note


def short_amount(dose: Dose) -> str:
    """The key number for a board's cell: '240 m', '30 min', '9 sets'; what is counted one by one: '15'."""
    if dose.measure.startswith(SAID_ON_BOARD):
        return measured(dose.amount, dose.measure.split(" ")[0])
    return str(dose.amount)


def lighter(dose: Dose, text: str) -> tuple[str, str]:
    """The lighter amount that is counted, and what the catalogue says of it without repeating a number.

    ('6 jumps', ' from 4 steps') from '6 jumps (novices 5) from 4 steps'; the second part joins the first
    as it stands. A series that comes to the same, '4 x 30 m', replaces the amount. A novice's own figure
    stands in brackets in the catalogue; on paper only what is counted for this athlete is said.
    """
    number = measured(dose.amount, dose.measure)
    text = clean(text).rstrip(".")
    text = text[:1].lower() + text[1:]
    head = HEAD.match(text)
    if head is None:
        return number, f": {text}" if text else ""
    rest = text[head.end() :]
    rest = (" " if rest.startswith(" ") else "") + times(rest)
    if head["count"] is None:
        return number, rest
    word = head["word"].strip()
    plain = ("", *dose.measure.split(" ")[:1], SHORT_MEASURE.get(dose.measure, "m"))
    for said in _heads(head):
        count, each = (int(x) for x in re.findall(r"\d+", f"{said} 1")[:2])
        series = re.search(r"\d [x×] \d", said) is not None
        if series and dose.amount in ((count,) if dose.measure in SERIES else (count * each,)):
            own = "" if word in plain else f" {word}"  # '2 x 5 low hurdle hops'
            return times(said.removesuffix(own)), own + rest
    if word in plain:
        return number, rest
    if dose.amount == int(head["count"]):  # '4 full run-ups': its own words say more than the measure
        return f"{dose.amount}{head['word']}", rest
    return number, f":{head['word']}{rest}"


def _heads(head: re.Match[str]) -> tuple[str, ...]:
    """The opening as it stands for most athletes and, when it has one, for novices."""
    plain = head[0].split(" (", maxsplit=1)[0]
    novice = head["novice"]
    if not novice:
        return (plain,)
    whole = re.search(r"\d [x×] \d", novice) is not None
    return (plain, novice if whole else re.sub(r"^\d+", novice, plain))
