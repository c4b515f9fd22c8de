"""What is allowed but unusual in a file, told as warnings by `planner check`."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from datetime import timedelta

from planner.catalogue import event, family_in_words, units
from planner.domain.block import Block
from planner.domain.competing import COMPETES_FROM, limits_against
from planner.domain.finding import Line
from planner.domain.who_goes import is_away, nobody_goes
from planner.intake.complaints import Reporter, quoted
from planner.intake.dense_calendar import look_for_dense_calendar
from planner.intake.fields import NAME, TEXT
from planner.intake.judge import Sheets
from planner.intake.people_rows import MINOR
from planner.intake.several_events import look_for_several_events
from planner.intake.tables import columns, kind_of

ANYWHERE = "anywhere"
TWO_DAYS = ("heptathlon", "decathlon")  # World Athletics, Technical Rules: two consecutive days; from memory
MOST_NAMED = 3  # athletes in one warning
WITH_HIGH_JUMP = ("high jump", "heptathlon", "decathlon", "pentathlon", "octathlon", "combined events")


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
        if block.slots and all(is_away(block, athlete.name, s) for s in block.slots):
            report.warn(
                athlete.line,
                f"{quoted(athlete.name)} away in every slot of the block",
                "at least one slot",
                "a date in 'away' is wrong, or the athlete is not in this block",
            )
    _minors(block, report)
    _no_place_for_the_event(block, report)
    _competing_under_a_limit(block, report)
    _two_days_on_one(block, report)
    look_for_several_events(block, report)
    look_for_dense_calendar(block, report)
    _nobody_goes(block, report)


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


def _minors(block: Block, report: Reporter) -> None:
    minors = [a for a in block.athletes if (age := a.age_on(block.begins)) is not None and age < MINOR]
    if not minors or block.adults_present < 2:
        return
    adults: dict[tuple[object, str], set[str]] = {}
    for p in block.presences:
        if p.is_adult:
            adults.setdefault((p.day, p.slot), set()).add(p.name)
    alone = [s for s in block.slots if len(adults.get(s.key, ())) < block.adults_present]
    if alone:
        others = f" and {len(minors) - MOST_NAMED} more" if len(minors) > MOST_NAMED else ""
        report.warn(
            minors[0].line,
            f"athletes under 18 and fewer than {block.adults_present} adults in "
            f"{len(alone)} of {len(block.slots)} slots (first: {alone[0].day} {alone[0].name})",
            f"{block.adults_present} adults when minors train: in those slots no training is planned for "
            f"{', '.join(quoted(a.name) for a in minors[:MOST_NAMED])}{others}",
            "give a helper who is of age the task 'adult' (others are not counted), or set "
            "'adults_present' as your club's rule says",
        )


def _no_place_for_the_event(block: Block, report: Reporter) -> None:
    """An event whose technique has no place: the plan would be silent about it."""
    kinds = {o.place.kind for o in block.openings}
    for athlete in block.athletes:
        families = dict.fromkeys(f for e in athlete.events for f in event(e).families)
        missing = {f: k for f in families if not (k := _kinds_of(f)) & {*kinds, ANYWHERE}}
        if kinds and "bed" not in kinds and any(e in WITH_HIGH_JUMP for e in athlete.events):
            missing["high-jumps"] = frozenset({"bed"})
        if missing and kinds:
            wanted = " and ".join(quoted(sorted(k)[0]) for k in missing.values())
            report.warn(
                athlete.line,
                f"no place for {', '.join(family_in_words(f) for f in missing)} of {quoted(athlete.name)} "
                f"({', '.join(athlete.events)})",
                f"an open place of the kind {wanted}: without it none of this is planned",
                "add it to 'venues'",
            )


def _kinds_of(family: str) -> frozenset[str]:
    return frozenset(k for u in units().values() if u.family == family for k in u.place_kinds)


def _competing_under_a_limit(block: Block, report: Reporter) -> None:
    """Entered, while the body is not to be at full effort on that day: no stage rises by itself until then."""
    for athlete in block.athletes:
        entered = [c for c in block.competitions if c.athlete == athlete.name]
        early = [c for c in entered if limits_against(block, c)]
        if early:
            held = [x for c in early for x in limits_against(block, c)]
            regions = ", ".join(dict.fromkeys(f"{x.region} stage {x.stage}" for x in held))
            days = ", ".join(f"{quoted(c.name)} on {c.first_day}" for c in early)
            report.warn(
                early[0].line,
                f"{quoted(athlete.name)} entered under a limit ({regions}): {days}",
                f"return stage 6 on that day, or {COMPETES_FROM} with a limit of trials",
                "take the athlete out; or add the later stages to 'limits' once a person has decided them",
            )


def _two_days_on_one(block: Block, report: Reporter) -> None:
    """A combined event of seven or ten events on one date: the day after would be planned as free."""
    told = set()
    for c in block.competitions:
        entered = c.events or block.athlete(c.athlete).events
        event = next((e for e in entered if e in TWO_DAYS), None)
        planned = c.first_day < block.ends  # the day after is a day of the block
        if event is not None and planned and c.first_day == c.last_day and (c.line, event) not in told:
            told.add((c.line, event))
            report.warn(
                c.line,
                f"{quoted(c.name)}: {event} of {quoted(c.athlete)} on one date, {c.first_day}",
                f"two days, as a {event} usually takes: training is planned on the second otherwise",
                f"add 'until: {c.first_day + timedelta(days=1)}', or 'events' when only some of them are done",
            )


def _nobody_goes(block: Block, report: Reporter) -> None:
    """Athletes compete while every coach is planned at home."""
    for found in nobody_goes(block):
        report.warn(
            found.meet.line,
            str(found),
            f"somebody who goes with {'that athlete' if found.alone else 'them'}",
            f"add {found.day} to 'away' of a coach, so that nothing with that coach is planned; or another adult "
            "goes, and all is well as it stands",
        )
