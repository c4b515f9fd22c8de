"""The next block's file from what was done: dates, marks, run-ups, limits and competitions as they stand now.

    earlier file + what was recorded -> Following -> intake writes the new file

Nothing is promoted here: a return stage stays as a person entered it last, and no mark comes from a short run-up.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from planner import known
from planner.domain.attempt import best_attempt
from planner.domain.block import Block, Limit, Mark, RunUp
from planner.domain.facts import Fact, Result, in_force
from planner.domain.following import Following, aided_words, mark_words
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import Shoe, worn
from planner.domain.units import Side
from planner.flow import Settings
from planner.science.wind import wind_aided

CLEARED = 6  # return stage: nothing is held any more


def next_block(file: Path, folder: Path, settings: Settings) -> tuple[Path, Following]:
    """Write the next block's file into a folder; nothing is ever overwritten (BadFile when it is there).

    NothingPlanned when the earlier block has no plan: then there is nothing to start from.
    """
    from planner.intake import write_next

    known.planned(file)
    made = following(file, folder, settings)
    return write_next(folder, file, made), made


def following(file: Path, folder: Path, settings: Settings) -> Following:
    """What the next block starts from, after everything that was recorded."""
    from planner.intake import read_block
    from planner.numbers.recorded import run_ups_in_force
    from planner.season.facts import apply_facts

    block = read_block(file)
    facts = in_force(known.facts_of(file))
    now = settings.now(block.time_zone)
    stands = apply_facts(block, facts, now)
    begins, ends = next_dates(block)
    marks = tuple(_grown(block, stands))
    run_ups = tuple(_latest(replace(stands, run_ups=run_ups_in_force(stands, facts))))
    limits = tuple(_held(stands, begins))
    made = Following(
        name=f"{block.name}, next",
        begins=begins,
        ends=ends,
        previous=Path(os.path.relpath(file.resolve(), folder.resolve())).as_posix(),
        legs=_new_legs(block, stands),
        marks=marks,
        run_ups=run_ups,
        competitions=tuple(c for c in stands.competitions if c.last_day >= begins),
        limits=limits,
    )
    return replace(made, remarks=(*_remarks(block, stands, made), *_aided(stands, facts)))


def next_dates(block: Block) -> tuple[date, date]:
    """From the first week's start after the block, as many whole weeks as the block touched."""
    begins = block.ends + timedelta(days=1)
    begins += timedelta(days=(block.week_start - begins.weekday()) % 7)
    weeks = -(-((block.ends - block.begins).days + 1) // 7)
    return begins, begins + timedelta(days=7 * weeks - 1)


def _new_legs(block: Block, stands: Block) -> Mapping[str, Side]:
    old = {a.name: a.take_off_leg for a in block.athletes}
    return {a.name: a.take_off_leg for a in stands.athletes if a.take_off_leg != old[a.name]}


def _grown(block: Block, stands: Block) -> Iterator[Mark]:
    """Recorded marks that beat every one of their event in the file; a short run-up is an event of its own."""
    recorded = [m for m in stands.marks[len(block.marks):] if _counts(m)]
    for key in dict.fromkeys((m.athlete, m.event, m.unit) for m in recorded):
        best = best_of([m for m in recorded if (m.athlete, m.event, m.unit) == key])
        had = best_of([m for m in block.marks if (m.athlete, m.event, m.unit) == key and _counts(m)])
        if best is not None and (had is None or best_of([had, best]) is not had):
            yield best


def _counts(mark: Mark) -> bool:
    return not wind_aided(mark.event, mark.wind)


def _aided(stands: Block, facts: Sequence[Fact]) -> Iterator[str]:
    """Recorded marks that only the wind makes better than every one that counts, the best of each event."""
    legs = {a.name: a.take_off_leg for a in stands.athletes}
    found: dict[tuple[str, str], list[Mark]] = {}
    for f in facts:
        if isinstance(f, Result) and not f.steps and f.leg in (None, legs.get(f.athlete)):
            best = best_attempt(f.attempts)
            if best is not None and best.value is not None and wind_aided(f.event, best.wind):
                mark = Mark(f.athlete, f.event, best.value, best.unit, best.wind, f.day)
                found.setdefault((f.athlete, f.event), []).append(mark)
    for key, marks in found.items():
        aided = best_of(marks)
        had = best_of([m for m in stands.marks if (m.athlete, m.event) == key and _counts(m)])
        if aided is not None and (had is None or best_of([had, aided]) is not had):
            stays = f"; {mark_words(had)} stays the best" if had else ""
            yield f"{aided.athlete}: {aided.event} on {aided.day}, {aided_words(aided)}{stays}."


def best_of(marks: list[Mark]) -> Mark | None:
    """The best mark of one event, the first of equal ones; times are better when smaller."""
    if not marks:
        return None
    return min(marks, key=lambda m: m.value if m.unit == "hundredths" else -m.value)


def _latest(stands: Block) -> Iterator[RunUp]:
    """Of each run-up, in each shoe, the row in force: the latest dated one."""
    legs = {a.name: a.take_off_leg for a in stands.athletes}
    rows: dict[tuple[str, str, int, Side, Shoe], RunUp] = {}
    shoes = {name: own_shoes(name, stands.run_ups) for name in legs}
    for row in sorted(stands.run_ups, key=lambda r: r.day or date.min):
        shoe = worn(row.worn, shoes[row.athlete])
        key = (row.athlete, row.event, row.steps, row.leg or legs[row.athlete], shoe)
        before = rows.get(key)
        whole = replace(row, shoe=shoe.length, shoe_name=shoe.name)
        rows[key] = whole if before is None else _over(before, whole)
    yield from rows.values()


def _over(before: RunUp, row: RunUp) -> RunUp:
    """A later row; what it does not say itself stays as it was, as long as the start mark is the same."""
    same = row.start_mark == before.start_mark
    return replace(
        row,
        check_steps=row.check_steps or before.check_steps,
        check_mark=row.check_mark or before.check_mark,
        coach_mark=row.coach_mark or (before.coach_mark if same else None),
        board=row.board or before.board,
    )


def _held(stands: Block, begins: date) -> Iterator[Limit]:
    """Limits that hold on the new block's first day; illness and lighter days are over with their dates."""
    for x in stands.limits:
        if x.region == "illness" or x.lighter_only or x.stage >= CLEARED:
            continue
        if x.ends is None or x.ends >= begins:
            yield replace(x, begins=max(begins, x.begins or begins))


# --- in words ------------------------------------------------------------------------------------------


def _remarks(block: Block, stands: Block, made: Following) -> Iterator[str]:
    yield (
        f"Dates: {made.begins} to {made.ends}, whole weeks after {block.name} ({block.begins} to {block.ends}). "
        "Maybe set another last day."
    )
    yield f"What was done comes from the earlier block's ledger ({made.previous}); the table 'before' is left out."
    yield "Rows that speak only of days that are over are left out; slots on dates became their weekdays."
    for name, leg in made.legs.items():
        yield f"{name}: the take-off leg is the {leg} one now, as it was recorded."
    for mark in made.marks:
        had = best_of(
            [m for m in block.marks if (m.athlete, m.event) == (mark.athlete, mark.event) and _counts(m)]
        )
        when = f" on {mark.day}" if mark.day else ""
        beside = f"; before: {mark_words(had)}" if had else ""
        yield f"{mark.athlete}: {mark.event} {mark_words(mark)}{when} is the best now{beside}."
    old = {(r.athlete, r.event, r.steps, r.worn): r.start_mark for r in block.run_ups}
    for row in made.run_ups:
        was = old.get((row.athlete, row.event, row.steps, row.worn))
        shoe = f" in {row.worn.label}" if row.worn.said else ""
        if row.start_mark and row.start_mark != was:
            before = f"; before: {was / 100:.2f} m" if was else ""
            yield (
                f"{row.athlete}: {row.event} from {row.steps} steps starts at {row.start_mark / 100:.2f} m{shoe} "
                f"in still wind now{before}."
            )
    for c in dict.fromkeys((c.name, c.first_day) for c in made.competitions):
        yield f"Competition still to come: {c[0]}, {c[1]}."
    if not any(c.importance == "main" for c in made.competitions):
        yield "No main competition is known: maybe add one, or write the phases yourself."
    for x in made.limits:
        what = "a hold-back" if x.hold_back else f"{x.region}, {x.side}"
        yield f"{x.athlete}: {what} goes on at stage {x.stage}, as a person entered it last."
    gone = {(x.athlete, x.region, x.side) for x in stands.limits if not x.hold_back and x.region != "illness"}
    for athlete, region, side in sorted(gone - {(x.athlete, x.region, x.side) for x in made.limits}):
        yield f"{athlete}: the limit of {region}, {side}, is cleared or over and is left out."
