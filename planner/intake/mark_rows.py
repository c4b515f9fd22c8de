"""Marks: each told apart by what its row says of start, timing, surface and run-up, and believed or not."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planner.domain.block import Athlete, Mark
from planner.domain.mark_names import Run, contradiction, run_of, short_run_up_of
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.people_tables import MarkRow
from planner.intake.reach import HAND, UNIT_WORDS, reach_of

OF_A_RUN = ("start", "timing", "surface", "shoes")


def make_marks(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[Mark, ...]:
    """Every mark under its one name ('30 m blocks hand'); what cannot be is an error, what is odd a warning."""
    sex = {a.name: a.sex for a in athletes}
    found: list[Mark] = []
    rows: tuple[Read[MarkRow], ...] = sheets.of("marks")
    for read in rows:
        row = read.it
        name = ctx.athlete(row.athlete, read.at("athlete"))
        event = _event(ctx, read)
        if event is None or not _believed(ctx, read, event, sex.get(row.athlete, "")):
            continue
        if row.on is not None and ctx.dated and row.on > ctx.ends:
            ctx.report.warn(
                read.at("date"),
                f"a mark dated {row.on}, after the block",
                "a day that has been",
                "the year is wrong",
            )
        if name is not None:
            found.append(Mark(name, event, row.mark[1], row.mark[0], row.wind, row.on, read.line))
    _beside_each_other(ctx, found)
    return tuple(found)


def _event(ctx: Context, read: Read[MarkRow]) -> str | None:
    """The event with what the row's own columns say of it; None, reported, when they do not fit together."""
    row = read.it
    said = {column: str(getattr(row, column)) for column in OF_A_RUN if getattr(row, column)}
    run = run_of(row.event)
    if said and run is None:
        column = next(iter(said))
        ctx.report.error(
            read.at(column), f"'{said[column]}' for the {row.event}", f"no {column}, or a run such as 30 m",
            "the event is another",
        )  # fmt: skip
        return None
    if row.steps is not None:
        return _short(ctx, read)
    if run is None or not said:
        return row.event
    words = [*row.event.split(), *said.values()]
    both = contradiction(words)
    if both is not None:
        column = next(c for c, word in said.items() if word in both)
        ctx.report.error(
            read.at(column), f"'{said[column]}' for {quoted(row.event)}", "one of the two",
            "these are two marks: give each its own row",
        )  # fmt: skip
        return None
    made = run_of(" ".join(words))
    name = made.name if made else row.event
    if reach_of(name) is None:
        ctx.report.error(
            read.at(next(iter(said))), f"'{name}'", "a distance that is tested so", "the distance is another"
        )
        return None
    return name


def _short(ctx: Context, read: Read[MarkRow]) -> str | None:
    row = read.it
    short = short_run_up_of(row.event)
    name = f"{short[0] if short else row.event} {row.steps} steps"
    if short_run_up_of(name) is None or (short and short[1] != row.steps):
        needed = f"{short[1]} steps, as the event says" if short else "no steps, or a long or triple jump"
        found = f"{row.steps} steps for the {row.event}"
        ctx.report.error(read.at("steps"), found, needed, "the event is another")
        return None
    return name


def _believed(ctx: Context, read: Read[MarkRow], event: str, sex: str) -> bool:
    unit, value = read.it.mark
    reach = reach_of(event)
    shown = quoted(read.row.values.get("mark"))
    if reach is None or unit != reach.unit:
        ctx.report.error(
            read.at("mark"),
            f"{shown} for the {event}",
            UNIT_WORDS[reach.unit] if reach else "a mark of a known event",
            "the unit or the event is another",
        )
        return False
    if reach.beyond(value, sex):
        ctx.report.error(
            read.at("mark"),
            f"{shown} for the {event}, beyond human reach",
            "a mark a human can reach",
            "a digit or the decimal point is wrong",
        )
        return False
    if reach.unusual(value):
        ctx.report.warn(
            read.at("mark"),
            f"{shown} for the {event}, far from usual",
            "a mark of that event",
            "a digit or the unit is wrong",
        )
    return True


def _beside_each_other(ctx: Context, marks: Sequence[Mark]) -> None:
    """What no single row shows: splits that do not grow, hand beside gates, a short run-up beyond the full one."""
    by_athlete: dict[str, list[Mark]] = {}
    for mark in marks:
        by_athlete.setdefault(mark.athlete, []).append(mark)
    for own in by_athlete.values():
        runs = [(run, m) for m in own if (run := run_of(m.event)) is not None]
        _splits(ctx, runs)
        _hand_and_gates(ctx, runs)
        _short_and_full(ctx, own)


def _splits(ctx: Context, runs: Sequence[tuple[Run, Mark]]) -> None:
    """Times of one day with the same start and timing are splits: they grow with the distance."""
    for run, mark in runs:
        for other, shorter in runs:
            one_day = mark.day is not None and mark.day == shorter.day
            alike = replace(other, metres=run.metres) == run and run.start != "flying"
            if one_day and alike and other.metres < run.metres and shorter.value >= mark.value:
                ctx.report.error(
                    mark.line,
                    f"{mark.event} in {_seconds(mark)} on the day of {shorter.event} in {_seconds(shorter)}",
                    "more time for the longer distance", "the two have changed places",
                )  # fmt: skip
                return


def _hand_and_gates(ctx: Context, runs: Sequence[tuple[Run, Mark]]) -> None:
    """One run timed both ways: a hand shows about 0.24 s less; anything else says that the two were mixed up."""
    for run, hand in runs:
        for other, gates in runs:
            if not run.hand or other.hand or (run.metres, run.start) != (other.metres, other.start):
                continue
            same_day = hand.day is not None and hand.day == gates.day
            if same_day and not 0 <= gates.value - hand.value <= 2 * HAND:
                ctx.report.error(
                    hand.line,
                    f"{hand.event} in {_seconds(hand)} by hand and {_seconds(gates)} by gates on one day",
                    f"a hand time up to {2 * HAND / 100:.2f} s quicker than the gates'",
                    "the two were mixed up: give each its own timing",
                )  # fmt: skip


def _short_and_full(ctx: Context, marks: Iterable[Mark]) -> None:
    best: dict[str, int] = {}
    marks = tuple(marks)
    for mark in marks:
        best[mark.event] = max(best.get(mark.event, 0), mark.value)
    for mark in marks:
        short = short_run_up_of(mark.event)
        if short is not None and mark.value > best.get(short[0], mark.value):
            ctx.report.warn(
                mark.line,
                f"{mark.value / 100:.2f} m from {short[1]} steps, beyond the best from the full run-up",
                "a jump that is not longer", "the full jump's row is old, or the steps are others",
            )  # fmt: skip


def _seconds(mark: Mark) -> str:
    return f"{mark.value / 100:.2f} s"
