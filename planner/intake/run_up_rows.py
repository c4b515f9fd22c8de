"""Run-ups, and which of the athlete's shoes each stands for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planner.domain.block import Athlete, RunUp
from planner.domain.shoe import NO_SHOE, Shoe, alike, different, meant_among
from planner.domain.units import Side
from planner.intake.complaints import quoted
from planner.intake.context import Context
from planner.intake.judge import Read, Sheets
from planner.intake.people_tables import RunUpRow
from planner.intake.reach import JUMPS

RUN_UP_EVENTS = (*JUMPS, "javelin")


def make_run_ups(ctx: Context, sheets: Sheets, athletes: Sequence[Athlete]) -> tuple[RunUp, ...]:
    """Run-ups in file order, each with the whole shoe it stands for."""
    leg = {a.name: a.take_off_leg for a in athletes}
    rows: tuple[Read[RunUpRow], ...] = sheets.of("run_ups")
    whose = [ctx.athlete(read.it.athlete, read.at("athlete")) for read in rows]
    shoes = _shoes(ctx, rows, whose)
    found: list[RunUp] = []
    for read, name, shoe in zip(rows, whose, shoes, strict=True):
        row = read.it
        if _fits(ctx, read) and name is not None:
            found.append(
                RunUp(
                    name, row.event, row.steps, row.start_mark, row.check_steps, row.check_mark, row.coach_mark,
                    shoe.length, row.board, row.leg or leg[name], row.on, read.line, shoe.name,
                )
            )  # fmt: skip
    _one_mark_each(ctx, rows, shoes, leg)
    return tuple(found)


def _fits(ctx: Context, read: Read[RunUpRow]) -> bool:
    """Whether the event has a run-up; a check mark past the last step is told too."""
    row = read.it
    if row.event not in RUN_UP_EVENTS:
        ctx.report.error(
            read.at("event"),
            f"a run-up for {quoted(row.event)}",
            "an event with a run-up: " + ", ".join(e for e in RUN_UP_EVENTS if e != "all"),
            "the row belongs to 'marks'",
        )
        return False
    if row.check_steps is not None and row.check_steps >= row.steps:
        ctx.report.error(
            read.at("check_steps"),
            f"a check mark at step {row.check_steps} of {row.steps}",
            "a step before the last",
            "the two numbers have changed places",
        )
    return True


def _shoes(ctx: Context, rows: Sequence[Read[RunUpRow]], whose: Sequence[str | None]) -> list[Shoe]:
    """The shoe of every row: as said, or the athlete's only one; which it is must be clear."""
    found = []
    for read, name in zip(rows, whose, strict=True):
        said = read.it.shoe or NO_SHOE
        if name is None:
            found.append(said)
            continue
        own = [r for r, n in zip(rows, whose, strict=True) if n == name]
        known = different(r.it.shoe for r in own if r.it.shoe is not None and r.it.shoe.said)
        meant = meant_among(said, known)
        _one_length(ctx, read, own)
        if not said.said and len(meant) == 1:
            ctx.assume(name, f"shoe of the {read.it.event} from {read.it.steps} steps not given: {meant[0]}")
        if len(meant) > 1:
            ctx.report.error(
                read.at("shoe"),
                f"{'no shoe' if not said.said else str(said)} where {quoted(read.it.athlete)} has {len(known)}",
                f"the name of one of them: {', '.join(map(str, known))}",
                f"write shoe: {known[0].label}",
            )
        found.append(meant[0] if meant else said)
    return found


def _one_length(ctx: Context, read: Read[RunUpRow], own: Sequence[Read[RunUpRow]]) -> None:
    """A length belongs to its shoe: two rows must not give one shoe two lengths."""
    said = read.it.shoe
    if said is None or not said.name or said.length is None:
        return
    same = (r.it.shoe for r in own if r.it.shoe is not None and alike(r.it.shoe.name, said.name))
    first = next(s for s in same if s.length is not None)
    if first.length != said.length:
        ctx.report.error(
            read.at("shoe"),
            f"{said} beside {first}",
            "one length for one shoe",
            "they are two pairs: give each a name of its own",
        )


def _one_mark_each(
    ctx: Context, rows: Sequence[Read[RunUpRow]], shoes: Sequence[Shoe], leg: Mapping[str, Side]
) -> None:
    """One start mark for one run-up: two rows of one day and shoe must not differ."""
    first: dict[tuple[object, ...], RunUpRow] = {}
    for read, shoe in zip(rows, shoes, strict=True):
        row = read.it
        if row.start_mark is None:
            continue
        key = (row.athlete, row.event, row.steps, row.leg or leg.get(row.athlete), row.on, shoe)
        other = first.setdefault(key, row)
        if other.start_mark != row.start_mark:
            ctx.report.error(
                read.at("start_mark"),
                f"{row.start_mark / 100:.2f} m beside {(other.start_mark or 0) / 100:.2f} m for the same run-up",
                "one start mark for one run-up",
                "date both rows, and the later one holds; or name the shoe of each",
            )
