"""What is allowed but unusual in a file, told as warnings by `planner check`."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from datetime import datetime

from planner.domain.block import Block, Slot
from planner.domain.finding import Line
from planner.intake.complaints import Reporter, quoted
from planner.intake.dense_calendar import look_for_dense_calendar
from planner.intake.fields import NAME, TEXT
from planner.intake.judge import Sheets
from planner.intake.people_rows import MINOR
from planner.intake.tables import columns, kind_of


def look_for_unusual(block: Block, sheets: Sheets, report: Reporter) -> None:
    """Warn of scripts the shipped fonts may lack, athletes in no slot, one adult for minors, dense calendars."""
    for line, text in _own_texts(sheets):
        strange = next((c for c in text if _outside_latin(c)), None)
        if strange is not None:
            script = unicodedata.name(strange, "A SIGN").split()[0].lower()
            report.warn(
                line,
                f"{quoted(text)} with signs beyond Latin letters ({script})",
                "letters the shipped fonts have, or a font of your system that has these",
                "look at the printed sheet: no empty box should stand there",
            )
    for athlete in block.athletes:
        if block.slots and all(_is_away(block, athlete.name, s) for s in block.slots):
            report.warn(
                athlete.line,
                f"{quoted(athlete.name)} away in every slot of the block",
                "at least one slot",
                "a date in 'away' is wrong, or the athlete is not in this block",
            )
    _minors(block, report)
    look_for_dense_calendar(block, report)


def _own_texts(sheets: Sheets) -> Iterator[tuple[Line, str]]:
    for table, raw in sheets.raw.items():
        own = [c for c in columns(table) if kind_of(table, c) in (NAME, TEXT)]
        for row in raw.rows:
            for column in own:
                cell = row.values.get(column)
                if isinstance(cell, str) and not cell.isascii():
                    yield row.at(column), cell


def _outside_latin(sign: str) -> bool:
    if sign.isascii() or unicodedata.category(sign) in ("Mn", "Mc"):
        return False
    if unicodedata.category(sign)[0] == "L":
        return not unicodedata.name(sign, "").startswith(
            ("LATIN", "MODIFIER", "FEMININE", "MASCULINE", "MICRO")
        )
    return ord(sign) > 0x20CF  # arrows, pictures and emoji; punctuation and currency signs lie below


def _is_away(block: Block, athlete: str, slot: Slot) -> bool:
    begins, ends = datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)
    return any(
        a.athlete == athlete and a.kind != "exam" and a.begins < ends and begins < a.ends for a in block.away
    )


def _minors(block: Block, report: Reporter) -> None:
    minors = [a for a in block.athletes if (age := a.age_on(block.begins)) is not None and age < MINOR]
    if not minors or block.adults_present < 2:
        return
    adults: dict[tuple[object, str], int] = {}
    for p in block.presences:
        if p.coach is not None or "adult" in p.tasks:
            adults[p.day, p.slot] = adults.get((p.day, p.slot), 0) + 1
    alone = [s for s in block.slots if adults.get(s.key, 0) < block.adults_present]
    if alone:
        report.warn(
            minors[0].line,
            f"athletes under 18 and fewer than {block.adults_present} adults in "
            f"{len(alone)} of {len(block.slots)} slots (first: {alone[0].day} {alone[0].name})",
            f"{block.adults_present} adults when minors train",
            "add a helper with the task 'adult', or set 'adults_present' as your club's rule says",
        )
